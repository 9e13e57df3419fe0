"""Changes to source text that an engineer asks for: one canonical layout, chosen values written in, editor files.

Input: source text, syntax trees, the vocabulary, results. Output: new text, or findings that say why there is none.
Not its job: to read or write files, or to compute anything.
"""
