"""Sheet sizes, zones, pins, stable places, the overview, small differences."""

from __future__ import annotations

import difflib
from dataclasses import replace
from functools import cache

import pytest
from tests.support import systems

from fedfrom.drawing.check import check
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.papers import PAPERS, paper_named
from fedfrom.drawing.scene import Drawing, Group, Label
from fedfrom.drawing.shapes import groups, walk
from fedfrom.drawing.svg import write_svg
from fedfrom.model.items import Fact, FactTable

# source: ANSI/ASME Y14.1, sizes B and D; ISO 216, A1 and A3; ARCH D common practice, no source
SIZES = {
    "ANSI B": (17.0, 11.0),
    "ANSI D": (34.0, 22.0),
    "ARCH D": (36.0, 24.0),
    "A1": (841 / 25.4, 594 / 25.4),
    "A3": (420 / 25.4, 297 / 25.4),
}


@cache
def tower(floors: int) -> Drawing:
    return one_line(*systems.tower(floors).build())


def homes(drawing: Drawing) -> dict[str, str]:
    """Piece -> the number of its sheet."""
    return {
        shape.id: sheet.number
        for sheet in drawing.sheets
        for shape in sheet.shapes
        if isinstance(shape, Group) and shape.kind == "piece" and shape.id != "overview"
    }


def pinned(sample: systems.System, tag: str, sheet: int) -> None:
    fact = Fact("sheet", {"sheet": sheet}, {}, systems.HERE)
    sample.items[tag] = replace(sample.items[tag], facts=FactTable((*sample.items[tag].facts.facts, fact)))


def test_every_size_of_the_language_has_a_paper() -> None:
    assert set(PAPERS) == set(SIZES)
    assert paper_named("") is PAPERS["ANSI D"]


@pytest.mark.parametrize("size", SIZES)
def test_a_drawing_fits_every_size(size: str) -> None:
    results, network, plan = systems.small().build()
    results = replace(results, project=replace(results.project, sheet_size=size))
    drawing = one_line(results, network, plan)
    assert check(drawing) == ()
    for sheet in drawing.sheets:
        assert (sheet.width, sheet.height) == pytest.approx(SIZES[size], abs=1e-3)


def test_zones_run_from_the_lower_right_corner() -> None:
    large, small = PAPERS["ANSI D"], PAPERS["ANSI B"]
    assert large.zone(33.4, 21.4) == "A1"
    assert large.zone(1.6, 0.6) == "D8"
    assert small.zone(16.5, 10.5) == "A1"
    assert small.zone(0.8, 0.5) == "B4"


def test_a_pin_holds_a_piece_on_its_sheet() -> None:
    sample = systems.tower(6)
    pinned(sample, "DP-2", 5)
    drawing = one_line(*sample.build())
    assert homes(drawing)["DP-2"] == "E-605"
    assert check(drawing) == ()
    numbers = [sheet.number for sheet in drawing.sheets]
    assert numbers == sorted(numbers)
    assert "E-605" in numbers  # sheets between that stay empty are not drawn, and the others keep their numbers


def test_a_pin_without_room_is_said_on_the_sheet() -> None:
    sample = systems.tower(14)
    for number in range(1, 13):
        pinned(sample, f"DP-{number}", 2)
    drawing = one_line(*sample.build())
    assert check(drawing) == ()
    for number in range(1, 13):
        home = next(sheet for sheet in drawing.sheets if sheet.number == homes(drawing)[f"DP-{number}"])
        words = " ".join(shape.text for shape, _ in walk(home.shapes) if isinstance(shape, Label))
        assert (f"DP-{number} IS PINNED TO SHEET 2" in words) is (home.number != "E-602"), number
    assert any(homes(drawing)[f"DP-{number}"] != "E-602" for number in range(1, 13))


def test_a_pinned_board_is_cut_from_a_sheet_that_had_room() -> None:
    sample = systems.small()
    pinned(sample, "DP-2", 2)
    drawing = one_line(*sample.build())
    assert homes(drawing)["DP-2"] == "E-602"
    assert check(drawing) == ()


@pytest.mark.parametrize("where", ["RDP-4", "DP-5", "LP-4A"])
def test_a_feeder_added_on_a_floor_moves_nothing_to_another_sheet(where: str) -> None:
    before = homes(tower(6))
    sample = systems.tower(6)
    sample.panel("NEW", where, 100, "New")
    after = homes(one_line(*sample.build()))
    assert {key: after.get(key) for key in before} == before


def _lines(drawing: Drawing) -> list[str]:
    return [line for sheet in drawing.sheets for line in write_svg(sheet).decode().split("\n")]


@pytest.mark.parametrize("where", ["MSB", "RDP-6"])
def test_one_feeder_more_changes_few_lines(where: str) -> None:
    """Under 5 % of the lines of a system of 135 nodes (123 and its loads), the feeder in the middle of the board."""
    before = _lines(tower(12))
    sample = systems.tower(12)
    sample.panel("NEW", where, 100, "New")
    new = sample.edges.pop("NEW")
    order = list(sample.edges.items())
    own = [index for index, (_, edge) in enumerate(order) if edge.source == where]
    order.insert(own[len(own) // 2], ("NEW", new))
    sample.edges = dict(order)
    after = _lines(one_line(*sample.build()))
    changed = [
        x for x in difflib.unified_diff(before, after, n=0, lineterm="") if x[:1] in "+-" and x[1:3] not in ("++", "--")
    ]
    assert len(changed) < 0.05 * len(before)


def test_an_overview_from_four_sheets_on() -> None:
    drawing = tower(12)
    assert [sheet.number for sheet in drawing.sheets][:2] == ["E-600", "E-601"]
    places = {}
    for sheet in drawing.sheets[1:]:
        for group, (x, y) in groups(sheet.shapes):
            if group.kind == "piece":
                places[group.id] = f"{sheet.number} {PAPERS['ANSI D'].zone(x, y)}"
    shown = " ".join(shape.text for shape, _ in walk(drawing.sheets[0].shapes) if isinstance(shape, Label))
    for key in ("DP-3", "DP-12", "MCC-R"):
        assert f"{key} 400 A {places[key]}" in shown or f"{key} 600 A {places[key]}" in shown
    assert all(sheet.number != "E-600" for sheet in one_line(*systems.clinic().build()).sheets)


def test_general_notes_and_parties_of_the_project_are_in_the_strip() -> None:
    results, network, plan = systems.small().build()
    project = replace(
        results.project, address="12 Mill Lane, Ostrel", owner="Works", notes=("Verify lengths on site.",)
    )
    sheet = one_line(replace(results, project=project), network, plan).sheets[0]
    shown = " ".join(shape.text for shape, _ in walk(sheet.shapes) if isinstance(shape, Label))
    for words in ("12 MILL LANE, OSTREL", "WORKS", "VERIFY LENGTHS ON SITE.", "REV A", "2026-05-31", "SEAL"):
        assert words in shown
