"""Elevations and room plans of samples and of a hard program: clean, to scale, with what a reader needs."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from tests.support.gear_programs import UGLY, crowded
from tests.support.texts import compiled, computed

from fedfrom.compile import compile_project
from fedfrom.documents.drawing_files import drawing_files
from fedfrom.drawing.check import check
from fedfrom.drawing.elevation import elevations
from fedfrom.drawing.papers import ANSI_D, PAPERS
from fedfrom.drawing.room_plan import room_plans
from fedfrom.drawing.scaled import SCALES, feet_text, scale_for
from fedfrom.drawing.scene import Drawing, Label, Polyline
from fedfrom.drawing.shapes import walk
from fedfrom.results.types import Results

SPECS = Path(__file__).parents[3] / "specs"
NAMES = ("ugly", "bottling-works.fed", "clinic.fed", "retrofit.fed")


@cache
def results(name: str) -> Results:
    if name == "ugly":
        return compiled(UGLY).results
    found = compile_project(SPECS / name).results
    assert found is not None
    return found


@cache
def drawings(name: str) -> tuple[Drawing, Drawing]:
    return elevations(results(name)), room_plans(results(name))


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for sheet in drawing.sheets for shape, _ in walk(sheet.shapes) if isinstance(shape, Label)]


@pytest.mark.parametrize("name", NAMES)
def test_nothing_touches_what_it_must_not(name: str) -> None:
    for drawing in drawings(name):
        assert check(drawing) == ()
        assert drawing.sheets


@pytest.mark.parametrize("name", NAMES)
def test_everything_is_on_some_sheet(name: str) -> None:
    elevation, rooms = (" ".join(texts(drawing)).upper() for drawing in drawings(name))
    for gear in results(name).gear.values():
        if gear.gear_class in ("switchboard", "motor control center", "meter center"):
            assert gear.tag.upper() in elevation
    for room in results(name).rooms.values():
        if room.items and room.length_ft is not None:
            assert all(item.tag.upper() in rooms for item in room.items), room.tag
    assert "NONE" not in elevation.replace("NONE /", "")
    assert "FOR PLANNING ONLY" in elevation
    assert "NO MORE" in rooms  # a plan says what it claims


@pytest.mark.parametrize("size", ["ANSI B", "A1"])
def test_every_paper(size: str) -> None:
    found = results("ugly")
    found = replace(found, project=replace(found.project, sheet_size=size))
    for drawing in (elevations(found), room_plans(found)):
        assert check(drawing) == ()
        assert all((sheet.width, sheet.height) == (PAPERS[size].width, PAPERS[size].height) for sheet in drawing.sheets)


@pytest.mark.parametrize(("size", "fits"), [("8 ft x 6 ft", False), ("12 ft x 9 ft", None), ("24 ft x 16 ft", True)])
def test_a_crowded_room(size: str, fits: bool | None) -> None:
    """What has no place is said and not drawn; a search that failed is no proof of a misfit."""
    found = computed(crowded(size)).results
    room = found.rooms["E1"]
    assert room.fits is fits, (room.misfits, room.needs)
    drawing = room_plans(found)
    assert check(drawing) == ()
    words = " ".join(texts(drawing))
    assert {True: "FITS:", False: "DOES NOT FIT:", None: "NOT CHECKED: NEEDS AN ARRANGEMENT BY HAND"}[fits] in words
    unplaced = [item.tag for item in room.items if item.left_ft is None]
    assert bool(unplaced) is (fits is not True)


def test_an_elevation_is_to_scale() -> None:
    """The outline of a section of 36 in is three feet of the view's scale wide on paper."""
    board = results("ugly").gear["MSB-A"]
    sheet = drawings("ugly")[0].sheets[0]
    factor = next(factor for words, factor in SCALES if any(words in text for text in texts(drawings("ugly")[0])))
    boxes = {
        (round(max(x for x, _ in shape.points) - min(x for x, _ in shape.points), 3),
         round(max(y for _, y in shape.points) - min(y for _, y in shape.points), 3))
        for shape, _ in walk(sheet.shapes)
        if isinstance(shape, Polyline) and shape.closed
    }  # fmt: skip
    for section in board.sections:
        assert section.width_in is not None
        assert section.height_in is not None
        scaled = (round(section.width_in / 12 * 0.75, 3), round(section.height_in / 12 * 0.75, 3))
        assert any(abs(w - scaled[0]) < 0.002 and abs(h - scaled[1]) < 0.002 for w, h in boxes), section
    assert factor <= 1.0


def test_a_room_that_is_not_checked_says_what_it_needs() -> None:
    words = " ".join(texts(drawings("ugly")[1]))
    assert "NOT CHECKED: NEEDS DOOR IN ROOM E003" in words
    assert "FITS: WALL LENGTH, DEPTH, HEIGHT." in words


def test_the_largest_scale_that_fits() -> None:
    assert scale_for(10, 8, (1, 3), ANSI_D)[0] == "1 IN = 1 FT"
    assert scale_for(30, 8, (1, 3), ANSI_D)[0] == "3/4 IN = 1 FT"
    assert scale_for(30, 8, (1, 3), PAPERS["ANSI B"])[1] < 0.375
    assert feet_text(13.5) == "13 FT 6 IN"
    assert feet_text(2.9999) == "3 FT"


def test_files_of_a_drawing() -> None:
    import ezdxf.recover
    import pypdf

    files = drawing_files(drawings("ugly")[1])
    assert sorted(files) == sorted(
        ["rooms.pdf", *(f"rooms-{n}.{kind}" for n in (1, 2) for kind in ("svg", "dxf"))]
    )  # fmt: skip
    assert len(pypdf.PdfReader(io.BytesIO(files["rooms.pdf"])).pages) == 2
    _, auditor = ezdxf.recover.read(io.BytesIO(files["rooms-1.dxf"]))
    assert not auditor.errors


def test_a_design_without_rooms_or_boards_has_no_sheets() -> None:
    text = """fedfrom 1
utility UT { voltage 208Y/120 V }
panelboard LP { fed from UT, 20 ft }
"""
    found = compiled(text).results
    assert elevations(found).sheets == ()
    assert room_plans(found).sheets == ()
    assert drawing_files(room_plans(found)) == {}
