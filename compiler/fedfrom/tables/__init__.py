"""Code and practice tables as data, one folder an edition, and the one loader that checks them.

Input: CSV and TOML files in this package. Output: `Edition`. Not its job: to apply a rule.
"""

from fedfrom.tables.edition import Edition, TableError, editions, load_edition

__all__ = ["Edition", "TableError", "editions", "load_edition"]
