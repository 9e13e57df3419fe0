"""The bill for readers: CSV and workbook, and the user's own catalogue joined by key."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import openpyxl
from tests.support.bill_fixture import with_bill
from tests.support.results_fixture import works

from fedfrom.documents.bill import write
from fedfrom.documents.bill.catalog import parse_catalog, read_catalog
from fedfrom.documents.bill.sheets import bill_view, number_or_text
from fedfrom.rules.registry import Design
from fedfrom.source import SourceFile

PRICES = "key,number,price\nconductor/Cu/THHN-THWN-2/350,00417,12.40\nno/such/key,9,1\n"


def with_catalog(text: str) -> Design:
    design = with_bill(works())
    files = {**design.files, "prices.csv": SourceFile("prices.csv", text)}
    return replace(design, model=replace(design.model, catalog="prices.csv"), files=files)


def rows_of(design: Design) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(write(design)["bill.csv"].decode(), newline="")))


def test_csv_has_one_row_a_line() -> None:
    rows = rows_of(with_bill(works()))
    assert [row["item"] for row in rows[:3]] == ["G1", "G1.1", "G1.2"]
    wire = next(row for row in rows if row["key"] == "conductor/Cu/THHN-THWN-2/350")
    assert (wire["net"], wire["allowance"], wire["quantity"], wire["unit"]) == ("1080", "207", "1287", "ft")


def test_demolition_is_a_list_of_its_own() -> None:
    rows = rows_of(with_bill(works()))
    work = [row for row in rows if row["list"] == "work on what is there"]
    assert [row["description"] for row in work] == ["Remove: branch circuit LP1.6 Old oven"]


def test_catalogue_columns_are_joined_by_key() -> None:
    design = with_catalog(PRICES)
    wire = next(row for row in rows_of(design) if row["key"] == "conductor/Cu/THHN-THWN-2/350")
    assert (wire["number"], wire["price"]) == ("00417", "12.4")
    remarks = " ".join(bill_view(design).remarks)
    assert "Keys of prices.csv that match no line: no/such/key." in remarks
    assert "Lines without an entry in prices.csv: switchboard" in remarks


def test_catalogue_problems_are_said() -> None:
    assert "no column `key`" in parse_catalog("p.csv", "number,price\n1,2\n").problem
    assert "twice" in parse_catalog("p.csv", "key,price\na,1\na,2\n").problem
    design = replace(with_bill(works()), model=replace(works().model, catalog="absent.csv"))
    assert "could not be read" in read_catalog(design).problem
    assert any("absent.csv could not be read" in remark for remark in bill_view(design).remarks)


def test_catalogue_is_read_from_the_project_folder_and_nowhere_else(tmp_path: Path) -> None:
    project = tmp_path / "project"
    project.mkdir()
    (project / "prices.csv").write_text(PRICES, encoding="utf-8")
    (tmp_path / "outside.csv").write_text(PRICES, encoding="utf-8")
    base = with_bill(works())
    files = {"plant.fed": SourceFile("plant.fed", "", str(project / "plant.fed"))}
    inside = replace(base, files=files, model=replace(base.model, catalog="prices.csv"))
    assert len(read_catalog(inside).rows) == 2
    outside = replace(inside, model=replace(base.model, catalog="../outside.csv"))
    assert read_catalog(outside).problem


def test_texts_that_look_like_formulas_are_defused() -> None:
    design = with_catalog("key,number\nconductor/Cu/THHN-THWN-2/350,=1+1\n")
    wire = next(row for row in rows_of(design) if row["key"] == "conductor/Cu/THHN-THWN-2/350")
    assert wire["number"] == "'=1+1"
    book = openpyxl.load_workbook(io.BytesIO(write(design)["bill.xlsx"]))
    cells = [cell for row in book["Field material"].iter_rows() for cell in row if cell.value == "=1+1"]
    assert [cell.data_type for cell in cells] == ["s"]


def test_part_numbers_keep_their_zeros() -> None:
    assert number_or_text("00417") == "00417"
    assert number_or_text("12.40") == 12.4
    assert number_or_text("0.5") == 0.5
    assert number_or_text("QX-1") == "QX-1"
    assert number_or_text("") == ""


def test_workbook_has_a_worksheet_a_list_and_numbers_as_numbers() -> None:
    book = openpyxl.load_workbook(io.BytesIO(write(with_bill(works()))["bill.xlsx"]))
    assert book.sheetnames == ["Factory gear", "Field material", "Work on what is there", "Remarks"]
    values = [cell.value for row in book["Field material"].iter_rows() for cell in row]
    assert 1287 in values
    remarks = " ".join(str(cell.value) for row in book["Remarks"].iter_rows() for cell in row if cell.value)
    assert "conductors of feeder MSB by utility" in remarks
    assert "NOT COUNTED, conductors not known: feeder MCC1" in remarks
