"""The parsers, built once from the grammar files. Everything of lark that the rest of `syntax` touches is here."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lark import Lark


def _grammar_text(name: str) -> str:
    return files("fedfrom.grammar").joinpath(name).read_text(encoding="utf-8")


@cache
def file_parser() -> Lark:
    """The parser of files (start rules `file` and `alone`, the latter for one statement)."""
    from lark import Lark

    return Lark(_grammar_text("fedfrom.lark"), parser="lalr", start=["file", "alone"])


@cache
def arithmetic_parser() -> Lark:
    """The parser of what stands inside a splice."""
    from lark import Lark

    return Lark(_grammar_text("arithmetic.lark"), parser="lalr")
