"""The one-line diagram of fixed samples: clean, complete, in order, nothing unknown shown as known."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import floor
from pathlib import Path

import pytest
from tests.support import systems

from fedfrom.drawing.check import check
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.scene import Drawing, Label, Polyline, Sheet
from fedfrom.drawing.shapes import bounds, groups, walk
from fedfrom.findings import Finding, Severity

SAMPLES = (
    "small", "tower", "clinic", "double_ended", "forty_feeders", "lone_panel", "deep", "retrofit",
)  # fmt: skip


@cache
def drawn(name: str) -> Drawing:
    sample = getattr(systems, name)()
    return one_line(*sample.build())


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for sheet in drawing.sheets for shape, _ in walk(sheet.shapes) if isinstance(shape, Label)]


def of_system(sample: systems.System) -> Drawing:
    return one_line(*sample.build())


@pytest.mark.parametrize("name", SAMPLES)
def test_the_checker_finds_nothing(name: str) -> None:
    assert check(drawn(name)) == ()


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sheet_is_ansi_d_and_numbered_in_order(name: str) -> None:
    sheets = drawn(name).sheets
    first = 600 if len(sheets) > 4 else 601  # an overview stands before more than three sheets
    assert [sheet.number for sheet in sheets] == [f"E-{first + index}" for index in range(len(sheets))]
    assert {(sheet.width, sheet.height) for sheet in sheets} == {(34.0, 22.0)}  # source: ANSI/ASME Y14.1, size D
    for index, sheet in enumerate(sheets, 1):
        assert f"{index} OF {len(sheets)}" in texts(Drawing("", "", (sheet,)))


@pytest.mark.parametrize("name", SAMPLES)
def test_everything_in_the_network_is_drawn_once(name: str) -> None:
    sample = getattr(systems, name)()
    shown = [
        shape.text
        for sheet in drawn(name).sheets
        for group, _ in groups(sheet.shapes)
        if group.kind == "piece"
        for shape, _ in walk([group])
        if isinstance(shape, Label) and shape.bold
    ]
    names = [text.split(" ")[0] for text in shown if re.fullmatch(r"\S+( \([ERFD]\))?", text)]
    for tag in sample.items:
        assert tag in names or any(text.startswith(f"{tag} ") for text in shown), tag


def _feeder_tags(sheet: Sheet) -> Iterator[tuple[str, float, float]]:
    for group, at in groups(sheet.shapes):
        if group.symbol == "feeder-tag" and group.attributes != (("TAG", "DP1"),):
            yield dict(group.attributes)["TAG"], at[0], at[1]


@pytest.mark.parametrize("name", ["small", "tower", "clinic", "double_ended", "forty_feeders"])
def test_feeders_stand_in_the_order_of_the_schedule(name: str) -> None:
    sample = getattr(systems, name)()
    results, _, _ = sample.build()
    places: dict[str, list[tuple[int, float, float]]] = {}
    for number, sheet in enumerate(drawn(name).sheets):
        for tag, x, y in _feeder_tags(sheet):
            places.setdefault(tag, []).append((number, round(y, 2), x))
    for rows in results.circuits.values():
        level = [row.feeder_id for row in rows if row.feeder_id in places]
        for one, other in pairwise(level):
            for sheet, y, x in places[one]:
                beside = [far for far_sheet, far_y, far in places[other] if far_sheet == sheet and far_y == y]
                assert not beside or max(beside) > x, (one, other)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_wire_stands_on_the_grid(name: str) -> None:
    for sheet in drawn(name).sheets:
        for _, x, _ in _feeder_tags(sheet):
            assert abs(x / 0.05 - round(x / 0.05)) < 1e-4


@pytest.mark.parametrize("name", ["tower", "forty_feeders", "deep"])
def test_flags_name_the_sheet_and_zone_of_their_partner(name: str) -> None:
    places = {}
    shown = {}
    for sheet in drawn(name).sheets:
        for group, at in groups(sheet.shapes):
            if group.kind == "flag":
                box = bounds(replace(group, at=at))
                x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
                # Columns 8 to 1 from the left border at 1.5 in to 33.5 in, rows D to A downward from 0.5 in to 21.5 in.
                zone = "DCBA"[floor((y - 0.5) / (21.0 / 4))] + str(8 - floor((x - 1.5) / (32.0 / 8)))
                places[group.id] = f"{sheet.number} {zone}"
                last = group.shapes[-1]
                assert isinstance(last, Label)
                shown[group.id] = last.text
    assert len(places) >= 2
    for flag_id, text in shown.items():
        name_part, _, end = flag_id.rpartition("|")
        if end == "out":
            assert text == f"SEE {places[f'{name_part}|in']}"
        else:
            assert text == f"FROM {places[f'{name_part}|out']}"


def test_buses_of_a_tied_line_up_stand_at_one_height() -> None:
    sheet = drawn("double_ended").sheets[0]
    tie = next((group, at) for group, at in groups(sheet.shapes) if group.kind == "tie")
    ends = [
        (x + at[0], y + at[1])
        for shape, at in walk(tie[0].shapes, tie[1])
        if isinstance(shape, Polyline) and shape.stroke.layer == "wire"
        for x, y in shape.points
    ]
    level = {round(y, 3) for _, y in ends}
    bars = [
        [(x + at[0], round(y + at[1], 3)) for x, y in shape.points]
        for shape, at in walk(sheet.shapes)
        if isinstance(shape, Polyline) and shape.stroke.layer == "bus"
    ]
    touched = [
        bar for bar in bars if {bar[0][1]} == level and {round(x, 3) for x, _ in bar} & {round(x, 3) for x, _ in ends}
    ]
    assert len(level) == 1
    assert len(touched) == 2
    assert "TIE, N.O." in texts(drawn("double_ended"))


def test_an_unknown_fault_current_and_rating_are_written_loudly() -> None:
    shown = texts(drawn("retrofit"))
    assert "AFC NOT KNOWN" in shown
    assert any("RATING NOT ESTABLISHED" in text for text in shown)
    assert "CONDUCTORS NOT KNOWN" in shown
    assert "LENGTH NOT KNOWN" in shown


def test_known_values_are_those_of_the_results() -> None:
    shown = texts(drawn("small"))
    assert "AFC 38.4 kA, RATED 65 kA" in shown
    assert "2000 AF / 2000 AT" in shown
    assert "MCA 412 A" in shown
    assert "100 A SW / 80 A FUSE" in " ".join(shown)
    assert "LOAD 412.0 kVA CONN., 360.0 kVA DEMAND" in shown


def test_a_series_rating_is_named_as_such() -> None:
    s = systems.small()
    s.gear["HP-1"] = replace(s.gear["HP-1"], sccr_basis="series rated with MSB")
    assert any("SERIES RATED" in text for text in texts(of_system(s)))


def test_a_lower_bound_load_says_so() -> None:
    s = systems.small()
    results, network, plan = s.build()
    load = replace(results.loads["MSB"]["Normal"], complete=False)
    results = replace(results, loads={**results.loads, "MSB": {"Normal": load}})
    assert any(text.startswith("LOAD AT LEAST") for text in texts(one_line(results, network, plan)))


def test_each_status_is_told_by_text_and_by_the_legend() -> None:
    drawing = drawn("retrofit")
    shown = texts(drawing)
    for mark in ("(E)", "(D)", "(R)", "(F)"):
        assert any(mark in text and not text.startswith(mark) for text in shown), mark
        assert any(text.startswith(mark) for text in shown), mark
    assert [g for sheet in drawing.sheets for g, _ in groups(sheet.shapes) if g.kind == "removal"]


def test_the_strip_says_what_state_the_design_is_in() -> None:
    results, network, plan = systems.small().build()
    finding = Finding("r", Severity.ERROR, "MSB", "m", None)
    other = Finding("s", Severity.NOT_CHECKED, "DP", "m", None)
    shown = texts(one_line(replace(results, findings=(finding, finding, other)), network, plan))
    assert "CHECKS: 2 ERRORS, 1 NOT CHECKED" in shown
    assert "DESIGN 4c1f90ab" in shown
    assert "2026-05-31" in shown
    assert any("LICENSED ENGINEER" in text for text in shown)


def test_branch_circuits_of_panelboards_are_left_to_schedules() -> None:
    s = systems.System()
    s.utility("UT")
    s.panel("LP", "UT", 225, "Offices")
    s.load("LP", "Desk outlets", category="receptacles")
    s.load("LP", "Large fan", hp=10.0)
    shown = texts(of_system(s))
    assert "LARGE FAN" in shown
    assert "DESK OUTLETS" not in shown


def test_starters_and_drives_stand_under_a_motor_control_center() -> None:
    used = {group.symbol for group, _ in groups(drawn("small").sheets[0].shapes)}
    assert {"contactor", "overload", "drive", "motor"} <= used


def test_equal_spares_are_drawn_once_with_their_number() -> None:
    shown = texts(drawn("small"))
    assert "SPARE, 2 ALIKE" in shown
    assert "SPACE 3P" in shown


def test_a_dense_board_keeps_full_size_text() -> None:
    heights = {
        shape.height
        for shape, _ in walk(drawn("forty_feeders").sheets[0].shapes)
        if isinstance(shape, Label) and shape.turn == 90
    }
    assert heights == {0.10}


def test_without_the_layout_program_the_drawing_is_still_clean() -> None:
    drawing = one_line(*systems.double_ended().build(), engine=Path("/nonexistent/dot"))
    assert check(drawing) == ()


def test_feeds_in_a_circle_still_make_a_drawing() -> None:
    s = systems.System()
    s.board("A")
    s.board("B", "A")
    s.feed("B", "A", 100.0)
    assert check(of_system(s)) == ()


def test_an_empty_design_gives_one_sheet() -> None:
    assert len(of_system(systems.System()).sheets) == 1


def test_several_supplies_of_one_transformer_meet_above_it() -> None:
    s = systems.System()
    s.utility("U1")
    s.utility("U2")
    s.board("B1", "U1")
    s.board("B2", "U2")
    s.transformer("T", "B1")
    s.feed("B2", "T", 100.0, verb="alternate from", feeder_id="T.alternate")
    s.panel("P", "T")
    drawing = of_system(s)
    assert check(drawing) == ()
    assert "T.alternate" in texts(drawing)


def test_letters_that_the_font_lacks_are_announced() -> None:
    s = systems.small()
    s.title = "Shed \u6771"
    shown = texts(of_system(s))
    assert any("SHED ?" in text for text in shown)
