"""The parsers, built once from the grammar files. Everything of lark that the rest of `syntax` touches is here."""

from __future__ import annotations

import os
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lark import Lark


@cache
def file_parser() -> Lark:
    """The parser of files (start rules `file` and `alone`, the latter for one statement)."""
    return _parser("fedfrom.lark", ("file", "alone"))


@cache
def arithmetic_parser() -> Lark:
    """The parser of what stands inside a splice."""
    return _parser("arithmetic.lark", ("start",))


def _parser(name: str, start: tuple[str, ...]) -> Lark:
    """The grammar's parser, from the tables kept by an earlier run where there are any.

    Building the tables takes ten times as long as reading thirty lines, so they are kept in the user's own cache
    folder. Lark compares grammar, options, its own version and Python's before it trusts a kept file.
    """
    from lark import Lark

    text = files("fedfrom.grammar").joinpath(name).read_text(encoding="utf-8")
    kept = _kept_tables(name)
    return Lark(text, parser="lalr", start=list(start), cache=str(kept) if kept else False)


def _kept_tables(name: str) -> Path | None:
    """Where the tables of a grammar are kept; None where the user has no folder that can be written."""
    base = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    try:
        folder = (Path(base) if base else Path.home() / ".cache") / "fedfrom"
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except (OSError, RuntimeError):
        return None
    return folder / f"{Path(name).stem}.tables" if os.access(folder, os.W_OK) else None
