"""Revision marks: a triangle and a cloud at what the text calls revised, and the mark in the revision block."""

from __future__ import annotations

from fedfrom.compile import compile_texts
from fedfrom.drawing.check import check
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.scene import Group, Label
from fedfrom.drawing.shapes import bounds, groups, walk

TEXT = """fedfrom 1
project "Hall" {
    revision    "A" 2026-05-31 "Larger dock panel"
}
utility UT {
    voltage     480Y/277 V
    fault       22 kA
    revised     "A"
}
switchboard MSB "Main" {
    fed from    UT, 20 ft, revised "A"
    main        breaker 800 A
    revised     "A"
}
panelboard DP1 "Dock" {
    fed from    MSB, 120 ft, breaker 225 A, revised "A"
    lighting    "Dock" 6 kVA, 277 V, 80 ft
    revised     "A"
}
transformer T1 {
    fed from    MSB, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
    revised     "B"
}
panelboard LP1 "Offices" {
    fed from    T1, 20 ft
    receptacles "Offices" 30 outlets, 60 ft
}
"""


def test_marks_clouds_and_rows() -> None:
    design = compile_texts({"hall.fed": TEXT}, "hall.fed").design()
    drawing = one_line(design.results, design.network, design.plan)
    assert check(drawing) == ()
    (sheet,) = drawing.sheets
    body = [shape for shape in sheet.shapes if isinstance(shape, Group) and shape.kind == "piece"]
    marks = [dict(group.attributes)["REVISION"] for group, _ in groups(body) if group.symbol == "revision"]
    assert sorted(marks) == ["A", "A", "A", "A", "A", "B"]
    clouds = [bounds(Group(at, group.shapes)) for group, at in groups(body) if group.kind == "cloud"]
    assert len(clouds) == 6
    texts = {shape.text: bounds(shape, at) for shape, at in walk(body) if isinstance(shape, Label)}
    for words in ("UT", "DP1", "T1", "120 FT, 0.0 % DROP", "45 kVA"):
        left, top, right, bottom = texts[words]
        assert any(c[0] < left and c[1] < top and right < c[2] and bottom < c[3] for c in clouds), words
    left, top, right, bottom = texts["LP1"]
    assert not any(c[0] < left and c[1] < top and right < c[2] and bottom < c[3] for c in clouds)
    strip = [shape.text for shape, _ in walk(sheet.shapes) if isinstance(shape, Label)]
    assert "LARGER DOCK PANEL" in strip
    assert "NOT DESCRIBED IN THE PROJECT" in strip, "mark B stands in no revision"
