"""Syntax tree -> typed model.

Input: the trees of a project. Output: `Model` and findings. `expand` resolves include, typical, use, for, change, omit,
splices and CSV rows; `lower` turns lines into facts by the vocabulary; `build` makes the typed items and resolves tags.
Every value knows whether it was written, is a default, or is to be chosen, and its span. Not its job: to compute.
"""
