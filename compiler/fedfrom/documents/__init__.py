"""Results -> written documents: one folder or module an output.

Input: `Results` (with the model for titles and notes). Output: bytes by file name. A document gathers a view and gives
it to a template; it never computes.
"""
