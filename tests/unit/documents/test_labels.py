"""Labels, directory cards and the comparison sheet: exact data, the clause of each, nothing invented.

Clauses from memory where tables/nec-*/clauses.toml says so; each label's data is compared with the results.
"""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

import pytest
from tests.support.sizing import compile_text

from fedfrom.compile import compile_project
from fedfrom.documents.comparison.view import Comparison, comparison
from fedfrom.documents.comparison.write import comparison_markdown
from fedfrom.documents.labels.directory import directory_cards
from fedfrom.documents.labels.label import BLANK, Label
from fedfrom.documents.labels.view import labels
from fedfrom.documents.labels.write import HEADS, labels_csv, labels_pdf
from fedfrom.rules.registry import Design

SPECS = Path(__file__).parents[3] / "specs"
PROGRAM = """fedfrom 1
project "Test" { code EDITION }
utility UT {
    voltage 480Y/277 V
    FAULT
}
switchboard MSB "Main" {
    fed from UT, 20 ft
    main     breaker 1200 A, LSIG, arc reduction maintenance switch
    place    indoor "Main room"
    spare    100 A 3-pole x 1
}
panelboard LP1 "Hall" {
    fed from MSB, 40 ft, breaker 225 A
    main     lugs
    bus      225 A
    place    indoor "Hall"
    SERIES
    1        lighting "Hall, east bays" 2 kVA, 277 V, 60 ft
    3,5,7    equipment "Press" 20 A, 480 V 3-phase, 40 ft
    spare    20 A 1-pole x 1
}
transformer T1 { fed from MSB, 20 ft
 rating 30 kVA
 secondary 240/120 V high-leg
 place indoor "Hall" }
panelboard HL "High leg" { fed from T1, 10 ft
 main breaker
 place indoor "Hall"
 equipment "Saw" 20 A, 240 V 3-phase, 30 ft }
"""


@cache
def design(edition: str = "NEC 2023", fault: str = "fault 30 kA at service point, X/R 5", series: str = "") -> Design:
    text = PROGRAM.replace("EDITION", edition).replace("FAULT", fault).replace("SERIES", series)
    return compile_text(text)[0]


def of(found: tuple[Label, ...], kind: str, tag: str) -> list[Label]:
    return [label for label in found if label.kind == kind and label.tag == tag]


def test_fault_current_labels_say_what_was_computed_and_leave_the_date_blank() -> None:
    one = design()
    for tag, clause in (("MSB", "NEC 2023, 110.24(A), 408.6"), ("LP1", "NEC 2023, 408.6")):
        (label,) = of(labels(one), "available fault current", tag)
        fault = one.results.gear[tag].fault_a
        assert fault is not None
        assert label.lines == (tag, f"AVAILABLE FAULT CURRENT {fault:,.0f} A", f"DATE OF CALCULATION {BLANK}")
        assert label.clause == clause
        assert not label.needs


def test_before_2020_only_the_service_has_the_fault_label() -> None:
    found = labels(design("NEC 2017"))
    assert of(found, "available fault current", "MSB")
    assert not of(found, "available fault current", "LP1")


def test_an_unknown_fault_is_listed_and_not_printed() -> None:
    (label,) = of(labels(design(fault="")), "available fault current", "MSB")
    assert label.lines[1] == "AVAILABLE FAULT CURRENT NOT ESTABLISHED"
    assert label.needs


def test_source_of_supply_names_the_device_and_where_it_stands() -> None:
    (label,) = of(labels(design()), "source of supply", "LP1")
    feeder = next(row.key for row in design().results.circuits["MSB"] if row.feeder_id == "LP1")
    assert label.lines == ("LP1", f"FED FROM MSB, DEVICE {feeder}, indoor, Main room", "480Y/277 V")
    assert label.clause == "NEC 2023, 408.4(B)"
    (behind,) = of(labels(design()), "source of supply", "HL")
    assert "FED FROM T1, FED FROM MSB" in behind.lines[1]
    assert not of(labels(design()), "source of supply", "MSB")  # fed by the service, not by a feeder


def test_arc_flash_labels_invent_nothing() -> None:
    found = labels(design())
    (warning,) = of(found, "arc-flash warning", "LP1")
    assert (warning.heading, warning.clause) == ("WARNING", "NEC 2023, 110.16(A)")
    (data,) = of(found, "arc-flash data", "MSB")
    assert f"CLEARING TIME {BLANK} (STUDY)" in data.lines
    assert not of(found, "arc-flash data", "LP1")  # 225 A
    assert not any("CAL" in line.upper().split() or "ENERGY" in line.upper() for each in found for line in each.lines)


def test_series_rating_stands_at_both_devices() -> None:
    series = 'series rated 42 kA with MSB because "listed pair"\n    sccr 42 kA'
    found = [label for label in labels(design(series=series)) if label.kind == "series rating"]
    assert {label.tag for label in found} == {"LP1", "MSB"}
    assert all(label.lines[:2] == ("SERIES COMBINATION OF MSB AND LP1", "RATED 42,000 A") for label in found)


def test_disconnects_are_named() -> None:
    found = labels(design())
    service = of(found, "disconnect", "MSB")[0]
    assert service.lines == ("MSB.main", "SERVICE DISCONNECT", "1200 A")
    assert ("MSB.1", "LP1 Hall") in [label.lines for label in found]
    assert any(label.lines[-1] == "SPARE" for label in found)


def test_the_high_leg_is_marked() -> None:
    (label,) = of(labels(design()), "high leg", "HL")
    assert label.lines == ("HL", "PHASE B HAS 208 V TO GROUND")  # 120 V times root three


def test_a_directory_holds_circuit_and_purpose_only() -> None:
    card = next(card for card in directory_cards(design()) if card.tag == "LP1")
    assert card.lines[0] == ("1", "Hall, east bays")
    assert ("3,5,7", "Press") in card.lines
    assert card.source == "MSB"
    rows = design().results.circuits["LP1"]
    assert len(card.lines) == len(rows)


def test_dwellings_have_no_fault_or_source_label() -> None:
    found = compile_project(SPECS / "corner-shop.fed").design()
    tags = {label.tag for label in labels(found) if label.kind in ("available fault current", "arc-flash warning")}
    assert not any(tag.startswith("F-") for tag in tags)
    assert "SP" in tags


def test_list_and_sheets() -> None:
    import pypdf

    one = design()
    found, cards = labels(one), directory_cards(one)
    rows = list(csv.reader(io.StringIO(labels_csv(found, cards).decode())))
    assert tuple(rows[0]) == HEADS
    assert len(rows) == 1 + len(found) + len(cards)
    pdf = labels_pdf(one, found, cards)
    assert pdf == labels_pdf(one, found, cards)
    text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    assert "SERVICE DISCONNECT" in text
    assert "Panel directory cards" in text


@cache
def retrofit() -> Comparison:
    return comparison(compile_project(SPECS / "retrofit.fed").design())


def test_comparison_shows_choices_and_misfits_in_full_and_the_rest_in_a_line() -> None:
    view = retrofit()
    assert [choice.tag for choice in view.choices] == ["DP-E", "DP-W"]
    assert {brief.tag for brief in view.briefs} == {"MDP", "FN-OLD", "LP-A", "LP-W"}
    chosen, pinned = view.choices
    assert chosen.rows[-1] == ("Outcome", "ruled out", "kept", "ruled out")
    assert pinned.rows[0] == ("Mains: 1600 A", "no, stops at 225 A*", "no, stops at 1200 A", "yes, to 6000 A")
    assert pinned.rows[-1] == ("Outcome", "ruled out", "kept, past a limit", "would fit too")
    assert "A panelboard would fit if the mains were 1200 A or less." in pinned.near


def test_comparison_says_no_where_a_class_has_no_such_thing() -> None:
    """Access and large devices: what a class counts as large is its own, and front only is no for front and rear."""
    text = PROGRAM.replace("EDITION", "NEC 2023").replace("FAULT", "fault 20 kA at service point, X/R 5")
    text = text.replace("switchboard MSB", "gear MSB").replace("    spare    100 A 3-pole x 1\n", LARGE)
    view = comparison(compile_text(text.replace("SERIES", ""))[0])
    rows = {row[0]: row[1:] for row in view.choices[0].rows}
    assert rows["Access: front and rear"] == ("no, front only", "no, front only", "yes")
    assert rows["Large branch devices"] == ("no, 5 here, 2 fit*", "yes, 2 here, 5 fit*", "yes, 2 here")


LARGE = "    access front and rear\n    spare 400 A 3-pole x 2\n    spare 100 A 3-pole x 2\n"


@pytest.mark.parametrize("standing", ["published bound", "planning limit, makers differ"])
def test_every_limit_says_what_it_stands_on(standing: str) -> None:
    lines = [line for line in retrofit().limits if line.standing == standing]
    assert lines
    assert all(line.source for line in lines)


def test_comparison_as_markdown() -> None:
    text = comparison_markdown(retrofit())
    assert "## DP\\-W West workshops: panelboard" in text or "## DP-W West workshops: panelboard" in text
    assert "Near miss: A panelboard would fit if the mains were 1200 A or less." in text
    assert "None" not in text
