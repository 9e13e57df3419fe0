"""The one-line of every sample and language program: nothing touches what it must not, and every writer takes it.

`drawing.check` finds texts on texts, on lines and on curves, wires that meet without a dot or cross a box, what lies
outside the border, flags without a partner, and symbols that the legend lacks.
"""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import pytest

from fedfrom.compile import compile_project
from fedfrom.documents.registry import all_outputs
from fedfrom.drawing.check import check
from fedfrom.drawing.dxf import write_dxf
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.pdf import write_pdf
from fedfrom.drawing.scene import Drawing, Group, Label, Shape
from fedfrom.drawing.svg import write_svg
from fedfrom.rules.registry import Design

ROOT = Path(__file__).parents[2]
PROGRAMS = [
    *sorted((ROOT / "specs").glob("*.fed")),
    ROOT / "specs" / "office-tower",
    *sorted((ROOT / "tests" / "language" / "programs").glob("*.fed")),
]


@cache
def drawn(path: Path) -> tuple[Design, Drawing]:
    design = compile_project(path).design()
    return design, one_line(design.results, design.network, design.plan)


def labels(shapes: tuple[Shape, ...]) -> list[str]:
    found = []
    for shape in shapes:
        if isinstance(shape, Label):
            found.append(shape.text)
        elif isinstance(shape, Group):
            found += labels(shape.shapes)
    return found


@pytest.mark.parametrize("path", PROGRAMS, ids=lambda path: path.stem)
def test_nothing_touches_what_it_must_not(path: Path) -> None:
    assert check(drawn(path)[1]) == ()


@pytest.mark.parametrize("path", PROGRAMS, ids=lambda path: path.stem)
def test_every_piece_of_gear_is_on_some_sheet(path: Path) -> None:
    design, drawing = drawn(path)
    texts = " ".join(text for sheet in drawing.sheets for text in labels(sheet.shapes))
    for tag in [*design.results.gear, *design.results.transformers, *design.results.sources, *design.results.transfers]:
        assert tag.upper() in texts.upper(), tag
    assert "None" not in texts
    assert "LICENSED ENGINEER" in texts


@pytest.mark.parametrize("path", PROGRAMS[:2], ids=lambda path: path.stem)
def test_writers(path: Path) -> None:
    import ezdxf.filemanagement
    import ezdxf.recover
    import pypdf

    _, drawing = drawn(path)
    reader = pypdf.PdfReader(io.BytesIO(write_pdf(drawing)))
    assert len(reader.pages) == len(drawing.sheets)
    assert [float(size) for size in reader.pages[0].mediabox[2:]] == pytest.approx([34 * 72, 22 * 72], abs=1)
    fonts = {
        str(font["/BaseFont"])
        for page in reader.pages
        for font in (entry.get_object() for entry in page["/Resources"]["/Font"].values())
    }  # type: ignore[index]
    assert fonts
    assert all("Barlow" in font for font in fonts), fonts
    for sheet in drawing.sheets[:2]:
        assert write_svg(sheet) == write_svg(sheet)
        document, auditor = ezdxf.recover.read(io.BytesIO(write_dxf(sheet)))
        assert not auditor.errors
        assert len(document.blocks) > 3 or sheet.number == "E-600"  # the overview has boxes only


@pytest.mark.parametrize("name", ["office-tower", "clinic", "retrofit"])
def test_every_drawing_of_the_set_is_clean(name: str) -> None:
    path = ROOT / "specs" / name
    design, _ = drawn(path if path.is_dir() else path.with_suffix(".fed"))
    for output in all_outputs():
        if output.draw is not None and output.name in ("riser", "grounding", "schedule-sheets"):
            assert check(output.draw(design)) == (), output.name
