"""Pure functions: quantities in, quantity out, with the clause or source in the docstring.

No network, no model, no tables by global name (a table or a value from it is an argument), no I/O.
"""
