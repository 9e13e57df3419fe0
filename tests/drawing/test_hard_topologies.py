"""Hard topologies, from text to every drawing of the set: the checker finds nothing, nothing is left out."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from tests.drawing.programs import PROGRAMS

from fedfrom.compile import compile_project
from fedfrom.documents.registry import all_outputs
from fedfrom.drawing.check import check
from fedfrom.drawing.scene import Drawing, Label
from fedfrom.drawing.shapes import groups, walk
from fedfrom.rules.registry import Design


@pytest.fixture(scope="module")
def designs(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Design]:
    folder = tmp_path_factory.mktemp("hard")

    @cache
    def compiled(name: str) -> Design:
        path = Path(folder) / f"{name}.fed"
        path.write_text(PROGRAMS[name]())
        return compile_project(path).design()

    return compiled


_DRAWN: dict[int, dict[str, Drawing]] = {}


def drawings(design: Design) -> dict[str, Drawing]:
    """Every drawing by its output; drawn once, the fixture keeps the design."""
    if id(design) not in _DRAWN:
        _DRAWN[id(design)] = {each.name: each.draw(design) for each in all_outputs() if each.draw is not None}
    return _DRAWN[id(design)]


def words(drawing: Drawing) -> list[str]:
    return [shape.text for sheet in drawing.sheets for shape, _ in walk(sheet.shapes) if isinstance(shape, Label)]


@pytest.mark.parametrize("name", PROGRAMS)
def test_every_drawing_is_clean(name: str, designs: Callable[[str], Design]) -> None:
    found = drawings(designs(name))
    assert {"one-line", "riser", "grounding", "schedule-sheets", "drawing-index"} <= set(found)
    for drawing in found.values():
        assert check(drawing) == ()


@pytest.mark.parametrize("name", PROGRAMS)
def test_everything_stands_on_the_one_line(name: str, designs: Callable[[str], Design]) -> None:
    design = designs(name)
    shown = " ".join(words(drawings(design)["one-line"]))
    for tag in design.network.nodes:
        assert tag in shown, tag


def test_a_double_ended_board_names_its_tie_and_interlock(designs: Callable[[str], Design]) -> None:
    shown = " ".join(words(drawings(designs("double_ended"))["one-line"]))
    assert "TIE, N.O." in shown
    assert "AT MOST 2 OF" in shown


def test_the_index_lists_every_sheet_once(designs: Callable[[str], Design]) -> None:
    found = drawings(designs("forty_feeders"))
    cells = words(found["drawing-index"])
    for drawing in found.values():
        for sheet in drawing.sheets:
            in_table = cells.count(sheet.number) - (1 if drawing.name == "drawing-index" else 0)
            assert in_table == 1, sheet.number


def test_a_riser_stands_on_its_storeys(designs: Callable[[str], Design]) -> None:
    """Boards of the storeys 1 to 3 in boxes on lines of their storeys, the higher storey above."""
    sheet = drawings(designs("radial"))["riser"].sheets[0]
    boxes = {group.id: at[1] for group, at in groups(sheet.shapes) if group.kind == "box"}
    assert set(boxes) == {"UT", "MSB", *(f"DP{n}" for n in (1, 2, 3)), *(f"LP{n}{x}" for n in (1, 2, 3) for x in "AB")}
    assert boxes["DP3"] < boxes["DP2"] < boxes["DP1"] == boxes["MSB"]


def test_no_riser_where_storeys_are_not_known(designs: Callable[[str], Design]) -> None:
    assert drawings(designs("lone_panel"))["riser"].sheets == ()


def test_the_grounding_diagram_shows_sizes_of_the_results(designs: Callable[[str], Design]) -> None:
    design = designs("generator_board")
    shown = words(drawings(design)["grounding"])
    gear = design.results.gear["MSB"]
    assert gear.grounding_electrode_conductor
    assert any(text.startswith(f"GEC {gear.grounding_electrode_conductor}") for text in shown)
    assert "NEUTRAL BOND: NONE" in shown
