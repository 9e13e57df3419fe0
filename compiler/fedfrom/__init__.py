"""Fedfrom: a compiler for electrical power distribution in buildings.

Data flows one way: text -> syntax tree -> model -> network -> passes -> results -> documents.
A package imports only the packages before it; `source`, `findings`, `quantity` and `tables` are leaves.
"""

__version__ = "0.1.0"
LANGUAGE_VERSION = 1
