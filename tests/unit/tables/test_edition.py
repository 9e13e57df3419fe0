"""The tables as data: every file is described, in order, and every edition answers."""

import tomllib
from importlib.resources import files
from pathlib import Path

import pytest

from fedfrom.tables import load_edition
from fedfrom.tables.check import check_folder
from fedfrom.tables.edition import TableError, editions, holds_for


@pytest.mark.parametrize("folder", ["nec-2023", "nec-2020", "nec-2017", "practice"])
def test_every_table_keeps_what_its_side_file_states(folder: str) -> None:
    assert check_folder(folder) == ()


def test_editions_inherit() -> None:
    assert editions() == ("NEC 2017", "NEC 2020", "NEC 2023")
    assert load_edition("NEC 2017").folders == ("nec-2017", "nec-2020", "nec-2023")
    assert load_edition("NEC 2017").rows("ampacity_310_16") == load_edition("NEC 2023").rows("ampacity_310_16")


def test_unknown_edition_table_and_clause_are_refused() -> None:
    edition = load_edition("NEC 2023")
    with pytest.raises(TableError, match="NEC 1999"):
        load_edition("NEC 1999")
    with pytest.raises(TableError, match="no table"):
        edition.rows("no_such_table")
    with pytest.raises(TableError, match="no clause"):
        edition.clause("1.2.3")


@pytest.mark.parametrize(
    ("edition", "key", "text"),
    [
        ("NEC 2023", "310.16", "NEC 2023, Table 310.16"),
        ("NEC 2017", "310.16", "NEC 2017, Table 310.15(B)(16)"),  # renumbered in 2020
        ("NEC 2020", "215.2(A)", "NEC 2020, 215.2(A)(1)"),
        ("NEC 2017", "310.12", "NEC 2017, 310.15(B)(7)"),
        ("NEC 2017", "240.6(A)", "NEC 2017, 240.6(A)"),
        ("NEC 2023", "practice", "common practice, no source"),
        ("NEC 2023", "UL 891", "UL 891"),
    ],
)
def test_clauses_have_the_number_of_their_edition(edition: str, key: str, text: str) -> None:
    assert load_edition(edition).clause(key) == text


def test_rows_of_other_editions_are_left_out() -> None:
    assert {row["edition"] for row in load_edition("NEC 2017").rows("demand_lighting")} == {"2017"}
    assert holds_for({"editions": "2017-2020"}, 2020)
    assert not holds_for({"editions": "2017-2020"}, 2023)
    assert not holds_for({"since_edition": "2023"}, 2020)
    # source: NEC 2023, 220.57 is new in 2023
    assert not [r for r in load_edition("NEC 2020").rows("unit_loads_220") if r["key"] == "evse_minimum"]


def test_lighting_loads_differ_by_edition() -> None:
    # source: NEC Table 220.12 (2017, 2020), Table 220.42(A) (2023): office 3.5, 1.3, 1.3; school 3, 3, 1.5 VA/ft2
    def value(edition: str, key: str) -> float:
        return next(float(r["va_per_ft2"]) for r in load_edition(edition).rows("lighting_220") if r["key"] == key)

    assert [value(f"NEC {year}", "office") for year in (2017, 2020, 2023)] == [3.5, 1.3, 1.3]
    assert [value(f"NEC {year}", "school_university") for year in (2017, 2020, 2023)] == [3.0, 3.0, 1.5]


@pytest.mark.parametrize(
    ("words", "table", "column"),
    [("insulation", "insulation_310_4", "insulation"), ("raceway-kind", "raceway_kinds", "kind")],
)
def test_every_word_of_the_language_has_a_row(words: str, table: str, column: str) -> None:
    known = {row[column] for row in load_edition("NEC 2023").rows(table)}
    lists = tomllib.loads((files("fedfrom.grammar") / "vocabulary" / "lists.toml").read_text(encoding="utf-8"))["list"]
    assert set(lists[words]["words"]) <= known


def test_the_check_sees_an_address_and_a_standard_left_out(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    folder = tmp_path / "made"
    folder.mkdir()
    side = 'edition = "2023"\n[sizes]\nstatus = "checked"\ncolumns = ["size_a"]\nrising = ["size_a"]\n'
    (folder / "tables.toml").write_text(side + 'note = "https://example.invalid"\n', encoding="utf-8")
    (folder / "sizes.csv").write_text("size_a\n20\n15\n", encoding="utf-8")
    monkeypatch.setattr("fedfrom.tables.check.files", lambda _: tmp_path)
    assert check_folder("made") == (
        "made/sizes: row 3: size_a falls",
        "made/sizes: its standard is not stated",
        "made/sizes: its table is not stated",
        "made/tables.toml: holds an address",
    )


def test_temperature_of_the_greatest_fault_is_a_stated_practice() -> None:
    rows = {row["key"]: row for row in load_edition("NEC 2023").rows("fault_assumptions")}
    assert (rows["greatest_fault_c"]["value"], rows["greatest_fault_c"]["status"]) == ("20", "from memory")
    assert "IEC 60909-0" in rows["greatest_fault_c"]["note"]
