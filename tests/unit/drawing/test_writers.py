"""SVG, PDF and DXF of the same scene: well formed, true to the measured widths, the same bytes every time."""

from __future__ import annotations

import difflib
import hashlib
import io
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path

import ezdxf
import pytest
from pypdf import PdfReader
from tests.support import systems

from fedfrom.drawing.dxf import write_dxf
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.pdf import write_pdf
from fedfrom.drawing.scene import Arc, Circle, Drawing, Label, Sheet
from fedfrom.drawing.shapes import bounds, groups, walk
from fedfrom.drawing.style import LAYERS
from fedfrom.drawing.svg import number, write_svg

SVG = "{http://www.w3.org/2000/svg}"
ROOT = Path(__file__).parents[3]


@cache
def drawn(name: str) -> Drawing:
    return one_line(*getattr(systems, name)().build())


@cache
def read_dxf(name: str) -> ezdxf.document.Drawing:
    return ezdxf.read(io.StringIO(write_dxf(drawn(name).sheets[0]).decode()))


def _labels(sheet: Sheet) -> list[Label]:
    return [shape for shape, _ in walk(sheet.shapes) if isinstance(shape, Label) and shape.text]


# --- SVG -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["small", "retrofit", "forty_feeders"])
def test_svg_holds_every_text_at_its_measured_width(name: str) -> None:
    sheet = drawn(name).sheets[0]
    root = ET.fromstring(write_svg(sheet))
    assert root.get("viewBox") == "0 0 34 22"
    found = [(text.text, float(text.get("textLength", "-1"))) for text in root.iter(f"{SVG}text")]
    expected = [(shape.text, round(shape.width, 3)) for shape in _labels(sheet)]
    assert sorted(text for text, _ in found) == sorted(text for text, _ in expected)
    for (_, one), (_, other) in zip(sorted(found), sorted(expected), strict=True):
        assert one == pytest.approx(other, abs=0.0011)


def test_svg_embeds_its_fonts_and_asks_for_nothing_from_outside() -> None:
    text = write_svg(drawn("small").sheets[0]).decode()
    assert text.count("data:font/woff2;base64,") == 2
    body = re.sub(r"base64,[^)]*", "", text).replace("http://www.w3.org/2000/svg", "")
    assert "http" not in body


def test_svg_numbers_have_three_decimals_at_most() -> None:
    text = re.sub(r"base64,[^)]*", "", write_svg(drawn("small").sheets[0]).decode())
    assert not re.search(r"\d\.\d{4,}", text)
    assert not re.search(r'[ "M]-0[ "]', text)
    assert [number(value) for value in (1.0, -0.0001, 0.12345, -2.5)] == ["1", "0", "0.123", "-2.5"]


def test_svg_escapes_text() -> None:
    s = systems.small()
    s.title = 'A <b> & "c"'
    root = ET.fromstring(write_svg(one_line(*s.build()).sheets[0]))
    assert 'A <B> & "C"' in [text.text for text in root.iter(f"{SVG}text")]


def _compact(added: bool) -> list[str]:
    """The SVG lines of a system that stays on one sheet, with or without one more feeder on a board in its middle."""
    s = systems.System()
    s.utility("UT")
    s.service("MSB", "UT")
    s.panel("HP-1", "MSB", 400, "Hall lighting")
    s.transformer("T-3", "MSB", 112.5)
    s.board("DP-2", "T-3", 400, "Shops")
    for letter in "ABCD" if added else "ABC":
        s.panel(f"LP-2{letter}", "DP-2", 100, f"Shop {letter}")
    s.motors("MCC-1", "MSB", 6)
    drawing = one_line(*s.build())
    assert len(drawing.sheets) == 1
    return write_svg(drawing.sheets[0]).decode().splitlines()


def test_one_more_feeder_changes_few_lines() -> None:
    # Measured in a trial with nested groups: 65 of 664 lines; local coordinates are what keeps this small.
    before, after = _compact(False), _compact(True)
    assert len(before) > 500
    changed = [
        row for row in difflib.unified_diff(before, after, n=0) if row[:1] in "+-" and row[:3] not in ("+++", "---")
    ]
    assert 20 < len(changed) < 120


# --- PDF -----------------------------------------------------------------------------------------------------------


def test_pdf_has_a_page_for_each_sheet_of_its_size() -> None:
    reader = PdfReader(io.BytesIO(write_pdf(drawn("tower"))))
    assert len(reader.pages) == len(drawn("tower").sheets)
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == (34 * 72, 22 * 72)


def test_pdf_holds_only_the_shipped_font_no_images_and_no_date() -> None:
    data = write_pdf(drawn("small"))
    reader = PdfReader(io.BytesIO(data))
    fonts = {str(font["/BaseFont"]) for page in reader.pages for font in
             (entry.get_object() for entry in page["/Resources"]["/Font"].values())}  # fmt: skip
    assert {font.partition("+")[2] for font in fonts} == {"BarlowSemiCondensed-Regular", "BarlowSemiCondensed-Bold"}
    assert "/XObject" not in reader.pages[0]["/Resources"]
    assert reader.metadata is None or "/CreationDate" not in reader.metadata


def test_pdf_text_can_be_searched() -> None:
    text = PdfReader(io.BytesIO(write_pdf(drawn("small")))).pages[0].extract_text()
    for words in ("MAIN SWITCHBOARD", "AFC 38.4 kA, RATED 65 kA", "2000 AF / 2000 AT", "E-601"):
        assert words in text


def test_pdf_writes_quotes_and_backslashes() -> None:
    s = systems.small()
    s.title = 'Shed "A" \\ #1 $x$ [b]'
    text = PdfReader(io.BytesIO(write_pdf(one_line(*s.build())))).pages[0].extract_text()
    assert 'SHED "A" \\ #1 $X$ [B]' in text


# --- DXF -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["small", "retrofit", "forty_feeders", "double_ended"])
def test_dxf_passes_the_audit(name: str) -> None:
    audit = read_dxf(name).audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_dxf_is_in_inches_and_shows_line_weights() -> None:
    doc = read_dxf("small")
    assert (doc.header["$INSUNITS"], doc.header["$LWDISPLAY"]) == (1, 1)


def test_every_dxf_text_is_fitted_to_its_measured_width() -> None:
    doc = read_dxf("small")
    fitted = [entity for entity in doc.modelspace() if entity.dxftype() == "TEXT"]
    letters = [attribute for insert in doc.modelspace().query("INSERT") for attribute in insert.attribs]
    shown = fitted + [attribute for attribute in letters if not attribute.is_invisible]
    assert sorted(e.dxf.text for e in shown) == sorted(shape.text for shape in _labels(drawn("small").sheets[0]))
    widths = sorted((e.dxf.text, round((e.dxf.align_point - e.dxf.insert).magnitude, 3)) for e in shown)
    expected = sorted((shape.text, round(shape.width, 3)) for shape in _labels(drawn("small").sheets[0]))
    assert all(e.dxf.halign == 5 for e in shown)
    for (text, one), (_, other) in zip(widths, expected, strict=True):
        assert one == pytest.approx(other, abs=0.002), text


def test_dxf_symbols_are_blocks_with_attributes() -> None:
    doc = read_dxf("small")
    sheet = drawn("small").sheets[0]
    breakers = [i for i in doc.modelspace().query("INSERT") if i.dxf.name.startswith("BREAKER")]
    drawn_ones = [group for group, _ in groups(sheet.shapes) if group.symbol == "breaker"]
    assert len(breakers) == len(drawn_ones)
    tags = {attribute.dxf.text for insert in breakers for attribute in insert.attribs if attribute.dxf.tag == "TAG"}
    assert {"HP-1", "MCC-1", "CH-1"} <= tags
    ratings = [a.dxf.text for i in breakers for a in i.attribs if a.dxf.tag == "RATING"]
    assert any("400 AF / 400 AT" in rating for rating in ratings)


def test_dxf_uses_the_named_layers_only() -> None:
    doc = read_dxf("retrofit")
    names = {layer.dxf.name for layer in doc.layers} - {"0", "Defpoints"}
    assert names <= set(LAYERS.values())
    assert {entity.dxf.layer for entity in doc.modelspace()} <= names
    assert {"E-1LIN-WIRE-E", "E-1LIN-SYMB-D", "E-1LIN-WIRE-F", "E-ANNO-TTLB"} <= names


def test_dxf_geometry_is_where_the_scene_has_it() -> None:
    doc = read_dxf("small")
    found = set()
    for insert in doc.modelspace().query("INSERT"):
        found |= {
            (e.dxftype(), round(e.dxf.center.x, 2), round(e.dxf.center.y, 2), round(e.dxf.radius, 3))
            for e in insert.virtual_entities()
            if e.dxftype() in ("CIRCLE", "ARC")
        }
    for shape, at in walk(drawn("small").sheets[0].shapes):
        if isinstance(shape, Circle | Arc):
            kind = "CIRCLE" if isinstance(shape, Circle) else "ARC"
            x, y = shape.center[0] + at[0], 22 - shape.center[1] - at[1]
            near = [(x + dx, y + dy) for dx in (0, 0.005, -0.005) for dy in (0, 0.005, -0.005)]
            assert any((kind, round(a, 2), round(b, 2), round(shape.radius, 3)) in found for a, b in near)


# --- the same every time -------------------------------------------------------------------------------------------

_PROGRAM = """
import hashlib, sys
sys.path.insert(0, {root!r})
from tests.support import systems
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.svg import write_svg
from fedfrom.drawing.pdf import write_pdf
from fedfrom.drawing.dxf import write_dxf
drawing = one_line(*systems.double_ended().build())
parts = [write_pdf(drawing), *(write(s) for s in drawing.sheets for write in (write_svg, write_dxf))]
print(*(hashlib.sha256(part).hexdigest() for part in parts))
"""


@pytest.mark.slow
def test_the_bytes_do_not_depend_on_the_hash_seed() -> None:
    program = _PROGRAM.format(root=str(ROOT))
    seen = {
        subprocess.run(
            [sys.executable, "-c", program], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2")
    }
    assert len(seen) == 1


def test_writing_twice_gives_the_same_bytes() -> None:
    sheet = drawn("retrofit").sheets[0]
    for write in (write_svg, write_dxf):
        assert hashlib.sha256(write(sheet)).digest() == hashlib.sha256(write(sheet)).digest()
    assert write_pdf(drawn("retrofit")) == write_pdf(drawn("retrofit"))


def test_no_shape_lies_outside_its_sheet() -> None:
    for sheet in drawn("tower").sheets:
        for shape, at in walk(sheet.shapes):
            left, top, right, bottom = bounds(shape, at)
            assert left >= 0
            assert top >= 0
            assert right <= sheet.width
            assert bottom <= sheet.height


def test_dxf_written_beside_each_other_is_the_same() -> None:
    """The library's switch for fixed metadata is one for the whole process: two writers must not undo each other."""
    from concurrent.futures import ThreadPoolExecutor

    sheet = one_line(*systems.small().build()).sheets[0]
    with ThreadPoolExecutor(4) as workers:
        assert len(set(workers.map(write_dxf, [sheet] * 4))) == 1
