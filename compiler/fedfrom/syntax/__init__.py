"""Text -> syntax tree.

Input: `SourceFile`. Output: frozen nodes with spans (`tree`), and findings for what could not be read.
Not its job: what a word means (that is `vocabulary` and `model`).
"""
