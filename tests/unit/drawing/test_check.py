"""The checker finds each fault that it is there for: a drawing with one fault gives exactly that fault."""

from __future__ import annotations

import pytest

from fedfrom.drawing.check import check
from fedfrom.drawing.equipment import flag
from fedfrom.drawing.scene import Arc, Circle, Drawing, Group, Polyline, Shape, Sheet
from fedfrom.drawing.shapes import label, line, rectangle
from fedfrom.drawing.style import FRAME_THICK, pen
from fedfrom.drawing.symbols import breaker, dot
from fedfrom.model.items import Status

INK = pen(Status.NEW)
WIRE = INK.wire


def _problems(*shapes: Shape, kind: str = "piece") -> list[str]:
    border = Group((0, 0), (rectangle(1, 1, 33, 21, FRAME_THICK), line(29, 1, 29, 21, FRAME_THICK)), "border", "frame")
    body = Group((5.0, 5.0), shapes, "X", kind)
    drawing = Drawing("one-line", "Test", (Sheet("E-601", "Test", 34.0, 22.0, (border, body)),))
    return sorted({problem.kind for problem in check(drawing)})


def test_a_clean_piece_has_no_problem() -> None:
    assert _problems(line(0, 0, 0, 2, WIRE), label("CLEAR OF IT", (0.2, 1.0))) == []


@pytest.mark.parametrize(
    ("shapes", "kind"),
    [
        ((label("ONE", (0, 0)), label("TWO", (0.05, 0.03))), "text on text"),
        ((label("ACROSS", (-0.2, 1.0)), line(0, 0, 0, 2, WIRE)), "text on line"),
        ((label("TURNED", (0.05, 1.5), turn=90), line(0, 0, 0, 2, WIRE)), "text on line"),
        ((label("ON A CIRCLE", (0, 0)), Circle((0.2, 0.0), 0.3, INK.symbol)), "text on curve"),
        ((label("ON AN ARC", (0, 0)), Arc((0.2, 0.2), 0.25, 180, 360, INK.symbol)), "text on curve"),
        ((line(0, 0, 1, 1, WIRE),), "diagonal wire"),
        ((line(0, 0, 0, 2, WIRE), line(0, 1, 0, 3, WIRE)), "wire on wire"),
        ((line(0, 0, 0, 2, WIRE), line(-1, 1, 1, 1, WIRE)), "wires cross"),
        ((line(0, 0, 0, 2, WIRE), line(0, 1, 1, 1, WIRE)), "tee without dot"),
        ((line(0, -1, 0, 2, WIRE), rectangle(-0.5, 0, 0.5, 1, INK.box)), "wire through box"),
        ((line(0, 0, 40, 0, WIRE),), "off the paper"),
        ((line(0, 0, 26, 0, WIRE),), "out of the border"),
        ((flag(("DP1",), "DP1|out"),), "flag without partner"),
        ((breaker(INK).group,), "not in the legend"),
    ],
)
def test_a_fault_is_found(shapes: tuple[Shape, ...], kind: str) -> None:
    assert kind in _problems(*shapes)


def test_a_dot_makes_a_tee_or_a_crossing_right() -> None:
    assert _problems(line(0, 0, 0, 2, WIRE), line(0, 1, 1, 1, WIRE), dot(0, 1, WIRE)) == []
    assert _problems(line(0, 0, 0, 2, WIRE), line(-1, 1, 1, 1, WIRE), dot(0, 1, WIRE)) == []


def test_wires_between_blocks_may_cross_without_a_dot() -> None:
    link = Group((0.0, 0.0), (Polyline(((-1.0, 1.0), (1.0, 1.0)), WIRE),), "L", "link")
    assert _problems(line(0, 0, 0, 2, WIRE), link) == []


def test_a_wire_in_two_pieces_is_one_wire() -> None:
    link = Group((0.0, 0.0), (Polyline(((-1.0, 1.0), (1.0, 1.0)), WIRE),), "L", "link")
    assert _problems(line(0, 0, 0, 1, WIRE), line(0, 1, 0, 2, WIRE), link) == []


def test_a_flag_used_twice_is_found() -> None:
    pair = (flag(("A",), "DP1|out"), Group((3.0, 0.0), (flag(("B",), "DP1|in"),)))
    again = Group((6.0, 0.0), (flag(("C",), "DP1|in"),))
    assert "flag twice" not in _problems(*pair)
    assert "flag twice" in _problems(*pair, again)
