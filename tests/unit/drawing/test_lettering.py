"""Lettering: widths against the shipped font files, characters, line breaks."""

from __future__ import annotations

from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fedfrom.drawing.lettering import CAP_HEIGHT, capitals, lettered, measure, printable, wrap

FONTS = resources.files("fedfrom.drawing").joinpath("fonts")


@pytest.mark.parametrize(("weight", "bold"), [(400, False), (700, True)])
def test_widths_are_those_of_the_shipped_font(weight: int, bold: bool) -> None:
    # source: the font file itself, tables hmtx, cmap and OS/2, read by an independent library
    ttlib = pytest.importorskip("fontTools.ttLib")
    with resources.as_file(FONTS.joinpath(f"barlow-semi-condensed-{weight}.ttf")) as path:
        font = ttlib.TTFont(path)
    cmap, advances, units = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    assert font["OS/2"].sCapHeight / units == CAP_HEIGHT
    text = '400 AF / 350 AT 3P LSI, 4-350 KCMIL, 1-1 AWG G, 3" kVA %'
    expected = sum(advances[cmap[ord(letter)]][0] for letter in text) / units * 0.10 / CAP_HEIGHT
    assert measure(text, 0.10, bold) == pytest.approx(expected, abs=1e-4)


def test_the_licence_of_the_font_is_shipped() -> None:
    text = FONTS.joinpath("OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert text.startswith("Copyright")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Caf\u00e9 \u2013 \u201ceast\u201d", 'Caf\u00e9 - "east"'),
        ("\u0141\u00f3d\u017a", "L\u00f3dz"),
        ("\u6771", "?"),
        ("two\n lines\t here", "two lines here"),
    ],
)
def test_every_text_becomes_printable(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_capitals_keep_no_small_letter() -> None:
    assert capitals("Main stra\u00dfe, wing \u00e9") == "MAIN STRASSE, WING \u00c9"


@given(st.text(max_size=60), st.booleans())
def test_any_printable_text_can_be_measured(text: str, bold: bool) -> None:
    assert measure(printable(text), 0.10, bold) >= 0
    assert measure(capitals(text), 0.10, bold) >= 0


@given(st.text("ABCDEFGH -,", max_size=80), st.floats(0.3, 3.0), st.integers(0, 3))
def test_no_line_is_wider_than_asked(text: str, width: float, most: int) -> None:
    lines = wrap(printable(text), width, 0.10, most=most)
    assert all(measure(line, 0.10) <= width + 1e-9 for line in lines)
    assert not most or len(lines) <= most
    if not most:
        assert "".join(lines).replace(" ", "") == text.replace(" ", "")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("TP-1a Restaurant, ground floor", "TP-1a RESTAURANT, GROUND FLOOR"),
        ("50 kA, fully rated", "50 kA, FULLY RATED"),
        ("MSB.main", "MSB.main"),
        ("indoor, Closet 3W (wet-location)", "INDOOR, CLOSET 3W (WET-LOCATION)"),
    ],
)
def test_words_in_capitals_units_and_tags_as_written(text: str, shown: str) -> None:
    assert lettered(text) == shown
