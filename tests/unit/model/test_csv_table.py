"""CSV texts: the cells of the `csv` module, with places."""

from __future__ import annotations

import csv
import io

from hypothesis import given
from hypothesis import strategies as st

from fedfrom.model.csv_table import CsvTable, read_table, separator_of, split_cells
from fedfrom.source import SourceFile

CELL = st.text(alphabet='ab ,;"\n\r\tü', max_size=6)


def table(text: str) -> CsvTable:
    result, findings = read_table(SourceFile("a.csv", text))
    assert findings == ()
    return result


def rules(text: str) -> list[str]:
    return [finding.rule for finding in read_table(SourceFile("a.csv", text))[1]]


@given(st.lists(st.lists(CELL, min_size=1, max_size=4), min_size=1, max_size=4), st.sampled_from(",;\t"))
def test_cells_are_those_that_the_csv_module_writes(rows: list[list[str]], separator: str) -> None:
    stream = io.StringIO(newline="")
    csv.writer(stream, delimiter=separator).writerows(rows)
    cells = [[value for value, _, _ in record] for record, _ in split_cells(stream.getvalue(), separator)]
    assert cells == rows


@given(st.text(alphabet='ab,"\n \r', max_size=20))
def test_cells_are_those_that_the_csv_module_reads(text: str) -> None:
    expected = list(csv.reader(io.StringIO(text, newline="")))
    cells = [[value for value, _, _ in record] for record, _ in split_cells(text, ",")]
    assert [row or [""] for row in cells] == [row or [""] for row in expected]  # an empty line has one empty cell


@given(st.text(alphabet='ab,"\n ', max_size=20))
def test_places_cover_the_text_of_the_cell(text: str) -> None:
    for record, _ in split_cells(text, ","):
        for value, start, end in record:
            assert value.replace('"', "") == text[start:end].replace('"', "")


def test_a_cell_has_the_place_of_its_text() -> None:
    source = SourceFile("a.csv", 'Item No,Equipment\r\nKE-1, "x"\r\nKE-2,"Oven, ten pans"\r\n')
    result, _ = read_table(source)
    cell = result.rows[1].cells[1]
    assert cell.text == "Oven, ten pans"
    assert source.text[cell.span.start : cell.span.end] == '"Oven, ten pans"'
    assert [(row.line, [c.text for c in row.cells]) for row in result.rows] == [
        (2, ["KE-1", '"x"']),
        (3, ["KE-2", "Oven, ten pans"]),
    ]


def test_the_separator_is_that_of_the_heading_line() -> None:
    texts = ("a;b;c\n1,2;3;4", "a\tb\n", '"x,y";z', "a", "\n\na;b")
    assert [separator_of(text) for text in texts] == [";", "\t", ";", ",", ";"]


def test_blank_rows_and_blank_lines_above_the_headings_are_left_out() -> None:
    result = table("\n\nA,B\n,\n1,2\n\n , \n3\n")
    assert [cell.text for cell in result.headings] == ["A", "B"]
    assert [[cell.text for cell in row.cells] for row in result.rows] == [["1", "2"], ["3", ""]]


def test_a_line_end_in_a_quoted_cell_is_a_blank() -> None:
    assert table('Name\n"Walk-in\ncooler"\n').rows[0].cells[0].text == "Walk-in cooler"


def test_headings_as_names_for_brackets() -> None:
    assert table("Item No,kW (total)\n").plain_columns == {"Item No": 0, "kW (total)": 1, "Item_No": 0, "kW_total": 1}


def test_what_stands_for_no_value() -> None:
    cells = table("A\n-\nN/A\nTBD\n0\n").rows
    assert [row.cells[0].has_value for row in cells] == [False, False, False, True]


def test_findings() -> None:
    assert rules("A,A\n1,2\n") == ["csv-heading"]
    assert rules("A,B\n1,2,3\n") == ["csv-row"]
    assert rules("A,B\n1,2,\n") == []
    assert rules('A,B\n1,"2\n3,4\n') == ["csv-quote"]
    assert rules('A,B\n1,"2\n3,"4\n') == ["csv-quote"]
    assert rules('A,B\n"2 "" pipe",""\n') == []
    assert rules("") == []
