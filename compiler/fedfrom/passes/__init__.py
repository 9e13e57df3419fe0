"""The calculation, as an ordered tuple of passes; each is a function from typed inputs to typed results.

Input: `Model`, `Network`, `StatePlan`, tables. Output: `Results`. Passes never print; documents never compute.
"""
