"""Numbers and words as readers see them."""

from __future__ import annotations

import io
import zipfile

import pytest

from fedfrom.documents.office_zip import fixed_zip
from fedfrom.documents.tables import cell_text, number_text
from fedfrom.documents.typst_pdf import softened
from fedfrom.documents.words import enclosure_text, system_text
from fedfrom.quantity import SYSTEMS


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (1234.5, 0, "1,235"),
        (2.5, 0, "3"),
        (0.125, 2, "0.13"),
        (-0.04, 1, "0.0"),
        (-46.9, 0, "-47"),
        (1e6, 0, "1,000,000"),
    ],
)
def test_numbers(value: float, digits: int, text: str) -> None:
    assert number_text(value, digits) == text


def test_cells() -> None:
    assert cell_text(None) == "N/K"
    assert cell_text("") == ""
    assert cell_text(3) == "3"


def test_systems_and_enclosures() -> None:
    assert system_text(SYSTEMS["480Y/277 V"]) == "480Y/277 V, 3 PHASE, 4 WIRE"
    assert system_text(SYSTEMS["250 V DC"]) == "250 V DC, 2 WIRE"
    assert system_text(None) == "NOT KNOWN"
    assert enclosure_text("3R") == enclosure_text("Type 3R") == "Type 3R"
    assert enclosure_text("") == ""


def test_only_long_words_get_places_to_break() -> None:
    assert softened("LP-2 and T-1") == "LP-2 and T-1"
    assert softened(["LP-NORTH-EAST-WING", 3]) == ["LP-\u200bNORTH-\u200bEAST-\u200bWING", 3]
    assert softened({"a": "12,345.6 kVA"}) == {"a": "12,345.6 kVA"}


def test_office_files_do_not_depend_on_date_and_order() -> None:
    def archive(names: list[str], year: int) -> bytes:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as target:
            for name in names:
                target.writestr(zipfile.ZipInfo(name, (year, 1, 2, 3, 4, 6)), name)
        return out.getvalue()

    names = ["word/document.xml", "[Content_Types].xml", "a.xml"]
    assert fixed_zip(archive(names, 2001)) == fixed_zip(archive(names[::-1], 2020))
    entries = zipfile.ZipFile(io.BytesIO(fixed_zip(archive(names, 2001)))).namelist()
    assert entries[0] == "[Content_Types].xml"
