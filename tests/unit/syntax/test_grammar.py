"""The grammar files: no conflict, no two terminals for one text, small enough to stay readable."""

from __future__ import annotations

from importlib.resources import files

import pytest

pytest.importorskip("interegular")


@pytest.mark.parametrize(("name", "starts"), [("fedfrom.lark", ["file", "alone"]), ("arithmetic.lark", ["start"])])
def test_no_conflict_and_no_collision(name: str, starts: list[str]) -> None:
    """`strict=True` raises on every shift/reduce conflict and, with interegular, on terminals that collide."""
    from lark import Lark

    text = files("fedfrom.grammar").joinpath(name).read_text(encoding="utf-8")
    parser = Lark(text, parser="lalr", start=starts, strict=True)
    assert len(parser.rules) < 150


def test_the_collision_checker_is_on() -> None:
    """The test above would pass for any grammar if the checker were not installed."""
    from lark import Lark
    from lark.exceptions import LexError

    with pytest.raises(LexError):
        Lark('start: A | B\nA: /ab?/\nB: /a+/\n', parser="lalr", strict=True)
