"""The schedules show what the results hold: every row, every unknown loudly, nothing cut off, numbers as numbers."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import openpyxl
import pytest
from pypdf import PdfReader
from tests.support.results_fixture import breaker, circuit, dwelling, ugly, works

from fedfrom.documents.schedules import write
from fedfrom.documents.schedules.board_form import BoardSchedule
from fedfrom.documents.schedules.duty_tables import rating_table
from fedfrom.documents.schedules.feeder_tables import feeder_table
from fedfrom.documents.schedules.packing import USABLE, height_of, packed
from fedfrom.documents.schedules.panel_form import PanelSchedule
from fedfrom.documents.schedules.pdf import schedules_data, schedules_pdf
from fedfrom.documents.schedules.sheets import gear_schedules, table_sheets
from fedfrom.documents.tables import NOT_KNOWN, cell_text
from fedfrom.documents.words import CATEGORY_MARKS, LEGEND, STATUS_MARKS, category_mark
from fedfrom.model.items import Status
from fedfrom.quantity import SYSTEMS
from fedfrom.results.notation import OPTION_MARKS
from fedfrom.results.types import CategoryLoad, TieResult
from fedfrom.rules.registry import Design

DESIGNS = [works, dwelling, ugly]
# Headings that are one program's, not the trade's.
FORBIDDEN = ("SUPPLY FROM", "MAINS TYPE", "A.I.C.", "LOAD CLASSIFICATION", "ESTIMATED DEMAND", "PANEL TOTALS")
OURS = ("FED FROM", "MAINS", "SHORT-CIRCUIT RATING", "LOAD CATEGORY", "DEMAND")


def panel(design: Design, tag: str) -> PanelSchedule:
    found = next(each for each in gear_schedules(design) if each.tag == tag)
    assert isinstance(found, PanelSchedule)
    return found


def board(design: Design, tag: str) -> BoardSchedule:
    found = next(each for each in gear_schedules(design) if each.tag == tag)
    assert isinstance(found, BoardSchedule)
    return found


@cache
def pdf_of(make: Callable[[], Design]) -> bytes:
    return schedules_pdf(make())


def pdf_text(data: bytes) -> str:
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
    return re.sub(r"\s+", " ", text.replace("\u200b", ""))


def test_odd_left_even_right_and_phases_by_row_pairs() -> None:
    """source: common practice, no source: 1,2 = A; 3,4 = B; 5,6 = C; single-phase A B."""
    pairs = panel(works(), "LP1").pairs
    assert [(odd.number, letter, even.number) for odd, letter, even in pairs[:4]] == [
        (1, "A", 2),
        (3, "B", 4),
        (5, "C", 6),
        (7, "A", 8),
    ]
    assert len(pairs) == 21
    assert [letter for _, letter, _ in panel(dwelling(), "LC1").pairs[:3]] == ["A", "B", "A"]


def test_a_two_pole_circuit_takes_one_side_and_prints_its_load_on_each_phase() -> None:
    pairs = panel(works(), "LP1").pairs
    first, second = pairs[0][2], pairs[1][2]
    assert (first.name, first.rows, first.va) == ("Label printer", 2, 1550)
    assert (second.name, second.rows, second.va) == ("", 0, 1550)


def test_spare_space_and_open_positions_are_told_apart() -> None:
    pairs = panel(works(), "LP1").pairs
    assert (pairs[3][0].name, pairs[3][0].amperes) == ("SPARE", 20)
    assert (pairs[4][0].name, pairs[4][0].amperes) == ("SPACE", "")
    assert pairs[20][2].name == "OPEN"


def test_a_removed_circuit_gives_its_position_to_the_new_one_and_is_noted() -> None:
    design = works()
    new = circuit("LP1", (6,), "C", "Laptop carts", 1_080, category="receptacles")
    circuits = {**design.results.circuits, "LP1": (*design.results.circuits["LP1"], new)}
    schedule = panel(replace(design, results=replace(design.results, circuits=circuits)), "LP1")
    assert schedule.pairs[2][2].name == "Laptop carts"
    assert "Position 6, DEMO: Old oven, 20 A." in schedule.loads.notes


def test_unknown_load_is_not_zero() -> None:
    bath = panel(dwelling(), "LC1").pairs[1][2]
    assert bath.va is None
    assert cell_text(bath.va) == NOT_KNOWN


def test_header_says_what_is_not_known() -> None:
    fields = dict(panel(dwelling(), "LC1").header)
    assert fields["SHORT-CIRCUIT RATING"] == "NOT ESTABLISHED"
    assert fields["AVAILABLE FAULT"] == "NOT KNOWN"
    assert fields["FEEDER DEVICE"] == "NONE (SERVICE)"
    assert dict(board(works(), "MCC1").header)["FEEDER"] == "CONDUCTORS NOT KNOWN, LENGTH NOT KNOWN"


def test_load_block_prints_factor_clause_and_the_two_quarters() -> None:
    rows = board(works(), "MSB").loads.categories.rows
    by_name = {row[0]: row for row in rows}
    assert by_name["RECEPTACLES"][2:] == ("10 kVA at 100 %, rest at 50 %", "NEC 2023, 220.47", 17_000)
    assert by_name["25 % OF LARGEST MOTOR"][4] == 20_000
    assert by_name["25 % OF CONTINUOUS LOAD"][4] == 15_500
    assert by_name["TOTAL"][1] == 536_000


def test_an_incomplete_load_is_a_lower_bound() -> None:
    loads = board(works(), "MCC1").loads
    assert dict(loads.sums)["DEMAND"].startswith(">= ")
    assert any("lower bounds" in note for note in loads.notes)


def test_board_rows_are_the_main_the_ties_and_every_device() -> None:
    design = works()
    tie = TieResult("TIE", ("MSB", "MSB-B"), breaker(1600, 3, "LSI"), True, None, None)
    rows = board(replace(design, results=replace(design.results, ties={"TIE": tie})), "MSB").devices.rows
    assert [row[2] for row in rows] == ["MSB.main", "TIE", "MSB.1", "MSB.2", "MSB.3", "MSB.4", "MSB.5"]
    assert rows[1][3] == "TIE TO MSB-B, normally open"
    assert rows[2][0] == "3 distribution"
    assert rows[2][7:12] == (600, 600, 3, "LSI", 65.0)


def test_rating_check_has_three_results_and_no_silent_pass() -> None:
    results = {(row[0], str(row[1]).split(",")[0]): row[9] for row in rating_table(works()).rows}
    assert results[("MSB", "ASSEMBLY")] == "ADEQUATE"
    assert results[("LP1", "MAIN: BREAKER")] == "NOT ADEQUATE"
    assert {row[9] for row in rating_table(dwelling()).rows if row[1] == "ASSEMBLY, BUS"} == {"NOT ESTABLISHED"}


def test_a_feeder_without_a_device_says_why() -> None:
    device = {row[0]: row[4] for row in feeder_table(works()).rows}
    assert device["MSB"] == "none (service)"
    assert device["LP1"] == "none (secondary)"
    assert device["EP1"] == "none (transfer switch)"
    assert {row[0]: row[4] for row in feeder_table(ugly()).rows} == {"LP-NORTH-EAST-WING-LEVEL-12-B": None}


def test_every_abbreviation_stands_in_the_legend() -> None:
    explained = {mark.strip() for marks, _ in LEGEND for mark in marks.split(",")}
    used = {mark for mark in (*CATEGORY_MARKS.values(), *STATUS_MARKS.values()) if mark}
    used |= {mark for mark in OPTION_MARKS.values() if mark.isalpha() and len(mark) < 4}
    plain_words = {"DRYER", "RANGE", "SIGN", "TRACK", "X-RAY", "HVAC"}
    assert used - plain_words - explained == set()
    assert category_mark("lighting, receptacles") == "LTG, RECPT"


@pytest.mark.parametrize("make", DESIGNS)
def test_the_form_is_ours(make: Callable[[], Design]) -> None:
    text = pdf_text(pdf_of(make)).upper()
    for heading in OURS:
        assert heading in text
    for heading in FORBIDDEN:
        assert heading not in text


@pytest.mark.parametrize("make", DESIGNS)
def test_pdf_holds_every_circuit_and_only_the_shipped_font(make: Callable[[], Design]) -> None:
    design = make()
    data = pdf_of(make)
    text = pdf_text(data)
    letters = text.replace(" ", "")
    for circuits in design.results.circuits.values():
        for each in circuits:
            assert each.name.replace(" ", "") in letters
    assert "None" not in text.replace("None.", "")
    assert "nan" not in text
    for page in PdfReader(io.BytesIO(data)).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == (17 * 72, 11 * 72)
        fonts = page["/Resources"].get("/Font", {})  # type: ignore[union-attr]
        assert all("BarlowSemiCondensed" in font.get_object()["/BaseFont"] for font in fonts.values())


def test_sheets_are_numbered_and_carry_caution_and_findings() -> None:
    data = pdf_of(works)
    pages = PdfReader(io.BytesIO(data)).pages
    for number, page in enumerate(pages, 1):
        text = re.sub(r"\s+", " ", page.extract_text())
        assert f"{number} OF {len(pages)}" in text
        assert "LICENSED ENGINEER" in text
        assert "1 WARNING, 1 NOT CHECKED, 1 NOTE" in text


def test_a_tag_that_equals_a_sheet_title_is_no_trouble() -> None:
    design = works()
    gear = {("REVIEW" if tag == "EP1" else tag): replace(item, tag="REVIEW") if tag == "EP1" else item
            for tag, item in design.results.gear.items()}  # fmt: skip
    assert schedules_pdf(replace(design, results=replace(design.results, gear=gear)))


def test_schedules_share_sheets_in_their_order() -> None:
    schedules = gear_schedules(works())
    sheets = packed(schedules)
    assert [each for sheet in sheets for each in sheet] == list(schedules)
    assert len(sheets) < len(schedules)
    assert all(sum(height_of(each) for each in sheet) <= USABLE for sheet in sheets if len(sheet) > 1)
    gear_pages = sum(1 for sheet in schedules_data(works())["sheets"] if sheet["form"] == "gear")
    assert gear_pages == len(sheets)


def test_removed_gear_with_nothing_in_it_has_no_schedule() -> None:
    design = works()
    gear = {**design.results.gear, "EP1": replace(design.results.gear["EP1"], status=Status.DEMOLISH)}
    results = replace(design.results, gear=gear, circuits={**design.results.circuits, "EP1": ()})
    assert "EP1" not in [each.tag for each in gear_schedules(replace(design, results=results))]


@pytest.mark.parametrize("make", DESIGNS)
def test_every_table_row_has_its_columns(make: Callable[[], Design]) -> None:
    for sheet in table_sheets(make()):
        for table in sheet.tables:
            assert {len(row) for row in table.rows} == {len(table.columns)}, table.title


def test_workbook_keeps_numbers_and_prints_on_11x17() -> None:
    book = openpyxl.load_workbook(io.BytesIO(write(works())["schedules.xlsx"]))
    sheet = book["LP1"]
    assert sheet.page_setup.orientation == "landscape"
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.page_setup.paperSize == 17
    assert sheet.freeze_panes is not None
    values = [cell.value for row in sheet.iter_rows() for cell in row]
    assert 2400 in values
    assert 1550 in values
    feeder = next(row for row in book["Feeder schedule"].iter_rows(values_only=True) if row[0] == "DP1")
    assert (feeder[5], feeder[11], feeder[13]) == (2, 180, 620)
    unknown = next(row for row in book["Feeder schedule"].iter_rows(values_only=True) if row[0] == "MCC1")
    assert unknown[11] == NOT_KNOWN


def test_a_text_that_looks_like_a_formula_stays_a_text() -> None:
    design = works()
    evil = circuit("LP1", (11,), "C", "=HYPERLINK(1)", 100)
    circuits = {**design.results.circuits, "LP1": (*design.results.circuits["LP1"], evil)}
    data = write(replace(design, results=replace(design.results, circuits=circuits)))["schedules.xlsx"]
    cells = [cell for row in openpyxl.load_workbook(io.BytesIO(data))["LP1"].iter_rows() for cell in row]
    assert [cell.data_type for cell in cells if cell.value == "=HYPERLINK(1)"] == ["s"]


def test_worksheet_names_survive_long_and_equal_tags() -> None:
    design = works()
    base = design.results.gear["EP1"]
    tags = ["A" * 40, "A" * 39 + "b", "a" * 40, "History"]
    gear = {tag: replace(base, tag=tag) for tag in tags}
    names = openpyxl.load_workbook(
        io.BytesIO(write(replace(design, results=replace(design.results, gear=gear)))["schedules.xlsx"])
    ).sheetnames
    assert len({name.lower() for name in names}) == len(names)
    assert all(len(name) <= 31 for name in names)


@pytest.mark.parametrize("literal", sorted(SYSTEMS))
def test_every_voltage_system_gets_a_schedule(literal: str) -> None:
    design = works()
    gear = {"LP1": replace(design.results.gear["LP1"], system=SYSTEMS[literal])}
    schedule = panel(replace(design, results=replace(design.results, gear=gear)), "LP1")
    assert dict(schedule.header)["VOLTAGE"].startswith(literal)
    letters = {letter for _, letter, _ in schedule.pairs}
    expected = {3: {"A", "B", "C"}, 1: {"A", "B"}, 0: {"+", "-"}}
    assert letters == expected[SYSTEMS[literal].phases]


def test_a_design_with_nothing_in_it_still_writes() -> None:
    design = works()
    empty = replace(
        design.results,
        sources={}, gear={}, transformers={}, transfers={}, feeders={}, circuits={}, loads={}, faults={}, bill=(),
        findings=(), accepted=(), assumptions=(), expectations=(), rule_counts={}, states=(),
    )  # fmt: skip
    assert set(write(replace(design, results=empty))) == {"schedules.pdf", "schedules.xlsx"}


def test_a_category_without_load_is_printed_as_zero_not_as_unknown() -> None:
    design = works()
    load = design.results.loads["EP1"]["Normal"]
    line = CategoryLoad("kitchen", 0.0, 0.0, "100 %", "NEC 2023, 220.56")
    loads = {**design.results.loads, "EP1": {"Normal": replace(load, categories=(line,))}}
    rows = panel(replace(design, results=replace(design.results, loads=loads)), "EP1").loads.categories.rows
    assert rows[0] == ("KITCHEN", 0.0, "100 %", "NEC 2023, 220.56", 0.0)
