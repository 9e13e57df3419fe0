"""`loads from "file.csv"`: a sender's schedule, its headings kept, becomes plain load lines."""

from __future__ import annotations

import pytest
from tests.support.expansion import Shown, expanded

from fedfrom.findings import Severity

COLUMNS = 'tag "Item No", name "Equipment"\n volts "V", phases "Ph"\n load "kW"\n kind kitchen'
HEADINGS = "Item No,Equipment,V,Ph,kW"


def loads(csv: str, columns: str = COLUMNS, gear: str = "panelboard KP1", into: str = "KP1") -> Shown:
    text = f'{gear}\nloads from "k.csv" into {into} {{\n{columns}\n}}\n'
    return expanded(text, {"k.csv": csv})


def lines(shown: Shown) -> list[str]:
    """The lines in the gear."""
    return [line.strip() for line in shown.text.splitlines() if line.startswith("  ")]


def one(columns: str, headings: str, row: str) -> str:
    """The line that one row makes, without findings."""
    shown = loads(f"{headings}\n{row}\n", columns)
    assert shown.findings == (), [finding.message for finding in shown.findings]
    return lines(shown)[0]


def test_rows_become_lines_in_the_order_of_the_file_after_those_written() -> None:
    shown = loads(
        f'\ufeff{HEADINGS}\nKE-1,"Oven, ten pans",208,3,18.70\n\nKE-2,Warmer,120,1,1.5\n',
        gear="panelboard KP1 { fed from M, 9 ft\n lighting 400 VA }",
    )
    assert shown.findings == ()
    assert lines(shown) == [
        "fed from M, 9 ft",
        "lighting 400 VA",
        'kitchen KE-1 "Oven, ten pans" 18.7 kW, 208 V 3-phase',
        'kitchen KE-2 "Warmer" 1.5 kW, 120 V 1-phase',
    ]


def test_the_line_has_its_place_in_the_table() -> None:
    shown = loads(f"{HEADINGS}\nKE-1,Oven,208,3,18.7\n")
    line = shown.line("kitchen")
    assert shown.marked(line.span) == "KE-1,Oven,208,3,18.7"
    assert shown.marked(line.runs[0].parts[2].span) == "Oven"
    assert shown.marked(line.runs[0].span) == "KE-1,Oven,208,3,18.7"  # tag to load
    assert shown.marked(line.runs[1].span) == "208,3"
    (site,) = line.trail
    assert (site.text, shown.marked(site.span)) == ("line 2 of k.csv", 'loads from "k.csv" into KP1')


@pytest.mark.parametrize(
    ("columns", "headings", "row", "line"),
    [
        ('load "kW"', "Load,kW", "x,9", "9 kW"),
        ('load "Power" kW', "Power", "9", "9 kW"),
        ('load "Connected (KVA)"', "Connected (KVA)", "9", "9 kVA"),
        ('load "FLA"', "FLA", "9", "9 A"),
        ('load "Power"', "Power", "9 kW", "9 kW"),
        ('kw "Power"', "Power", "9", "9 kW"),
        ('kva "Power"', "Power", "9", "9 kVA"),
        ('amps "Current"', "Current", "9.5", "9.5 A"),
        ('hp "Motor"', "Motor", "7-1/2", "7.5 hp"),
        ('hp "Motor"', "Motor", "7 1/2", "7.5 hp"),
        ('hp "HP"', "HP", "1/2", "0.5 hp"),
        ('mca "MCA", mocp "MOP"', "MCA,MOP", "31,50", "mca 31 A, mocp 50 A"),
        ('outlets "Outlets"', "Outlets", "8", "8 outlets"),
        ('load "kW", length "Run ft"', "kW,Run ft", "9,65", "9 kW, 65 ft"),
        ('load "kW", length "Run (m)"', "kW,Run (m)", "9,20", "9 kW, 20 m"),
        ('load "kW", length "Run" ft', "kW,Run", "9,65", "9 kW, 65 ft"),
        ('load "kW", length "Run" ft', "kW,Run", "9,", "9 kW"),
        ('load "kW", count "Qty"', "kW,Qty", "9,2", "9 kW x 2"),
        ('load "kW", count "Qty"', "kW,Qty", "9,1", "9 kW"),
        ('load "kW", volts "Volts", phases "Phase"', "kW,Volts,Phase", "9,208 V,3PH", "9 kW, 208 V 3-phase"),
        ('load "kW", phases "Phase"', "kW,Phase", "9,1", "9 kW, 1-phase"),
        ('load "kW", 208 V 3-phase', "kW", "9", "9 kW, 208 V 3-phase"),
        ('load "kW", volts 208 V, phases 3', "kW", "9", "9 kW, 208 V 3-phase"),
        ('load "kW", breaker "Trip"', "kW,Trip", "9,50", "9 kW, breaker 50 A"),
        ('load "kW", breaker "Trip"', "kW,Trip", "9,-", "9 kW"),
        ('load "kW", breaker 50 A, shunt trip', "kW", "9", "9 kW, breaker 50 A, shunt trip"),
        ('load "kW", sccr "SCCR kA"', "kW,SCCR kA", "9,10", "9 kW, sccr 10 kA"),
        ('load "kW", note "Remarks"', "kW,Remarks", "9,By owner", '9 kW, note "By owner"'),
        ('load "kW", continuous "Cont."', "kW,Cont.", "9,Yes", "9 kW, continuous"),
        ('load "kW", continuous "Cont."', "kW,Cont.", "9,no", "9 kW"),
        ('load "kW", continuous', "kW", "9", "9 kW, continuous"),
        ('kw "kW", hp "HP"', "kW,HP", "9,", "9 kW"),
        ('kw "kW", hp "HP"', "kW,HP", ",5", "5 hp"),
    ],
)
def test_columns(columns: str, headings: str, row: str, line: str) -> None:
    made = one(f'name "Name", kind equipment, {columns}', f"Name,{headings}", f"Fan,{row}")
    assert made == f'equipment "Fan" {line}'


def test_semicolons_and_tabs() -> None:
    for separator in ";\t":
        csv = f"{HEADINGS}\nKE-1,Oven,208,3,12\n".replace(",", separator)
        assert lines(loads(csv)) == ['kitchen KE-1 "Oven" 12 kW, 208 V 3-phase']


def test_the_kind_may_stand_in_a_column() -> None:
    csv = "Name,Type,kW\nFan,Motor,3\nOven,kitchen,9\n"
    shown = loads(csv, 'name "Name", kind "Type", load "kW"')
    assert lines(shown) == ['motor "Fan" 3 kW', 'kitchen "Oven" 9 kW']


def test_rows_go_to_the_gear_in_a_column() -> None:
    csv = "Panel,Name,kW\nP2,B,2\nP1,A,1\nP2,C,3\n"
    shown = loads(csv, 'name "Name", kind equipment, load "kW"', "panelboard P1\npanelboard P2", '"Panel"')
    assert shown.findings == ()
    assert shown.text.split("\n") == [
        "panelboard P1 {", '  equipment "A" 1 kW', "}",
        "panelboard P2 {", '  equipment "B" 2 kW', '  equipment "C" 3 kW', "}",
    ]  # fmt: skip


def test_an_import_may_stand_inside_its_gear_or_a_typical() -> None:
    body = 'tag "Item No", name "Equipment", volts "V", phases "Ph", load "kW", kind kitchen'
    text = f'panelboard KP1 {{ loads from "k.csv" {{ {body} }} }}'
    assert 'kitchen KE-1 "Oven" 12 kW' in expanded(text, {"k.csv": f"{HEADINGS}\nKE-1,Oven,208,3,12\n"}).text
    text = f'typical K(n) {{ panelboard K[n]\n loads from "k.csv" into K[n] {{ {body} }} }}\nuse K(n: 1)'
    assert 'kitchen KE-1 "Oven" 12 kW' in expanded(text, {"k.csv": f"{HEADINGS}\nKE-1,Oven,208,3,12\n"}).text


def test_nested_gear_can_be_a_target_together_with_the_gear_around_it() -> None:
    csv = "Panel,Name,kW\nPP1,A,1\nPDU1,B,2\n"
    gear = "pdu PDU1 { secondary 208Y/120 V\n panelboard PP1 { main lugs } }"
    shown = loads(csv, 'name "Name", kind equipment, load "kW"', gear, '"Panel"')
    assert shown.text.split("\n") == [
        "pdu PDU1 {", "  secondary 208Y/120 V", "  panelboard PP1 {", "    main lugs", '    equipment "A" 1 kW',
        "  }", '  equipment "B" 2 kW', "}",
    ]  # fmt: skip


# --- an existing panel schedule ---------------------------------------------------------------------------------------

SCHEDULE = 'position "Ckt", name "Description", breaker "Trip", poles "P", status "Status", kind equipment'


def test_an_existing_panel_schedule() -> None:
    shown = loads(
        "Ckt,Description,Trip,P,Status\n"
        "1,Kiln,60,3,existing\n"
        "2,Lights room 4,20,1,existing\n"
        "3,,,,\n"
        "4,Old pump,30,2,demolish\n"
        "5,,,,\n"
        "6,,,,\n"
        "8,SPARE,20,1,existing\n"
        "9,Space,,,\n"
        '"11,13",Heater,30,2,existing\n'
        "15/17/19,Chiller,70,3,new\n",
        SCHEDULE,
    )
    assert shown.findings == ()
    assert lines(shown) == [
        '1,3,5 existing equipment "Kiln", breaker 60 A',
        '2 existing equipment "Lights room 4", breaker 20 A',
        '4,6 demolish equipment "Old pump", breaker 30 A',
        "8 existing spare 20 A 1-pole",
        "9 space 1-pole",
        '11,13 existing equipment "Heater", breaker 30 A',
        '15,17,19 new equipment "Chiller", breaker 70 A',
    ]


def test_poles_say_the_phases_where_no_positions_do() -> None:
    columns = 'name "Description", breaker "Trip", poles "P", kind equipment, load "kVA"'
    shown = loads("Description,Trip,P,kVA\nA,20,1,1\nB,30,2,4\nC,30,3,9\n", columns)
    assert lines(shown) == [
        'equipment "A" 1 kVA, breaker 20 A',
        'equipment "B" 4 kVA, 1-phase, breaker 30 A',
        'equipment "C" 9 kVA, 3-phase, breaker 30 A',
    ]


# --- findings ---------------------------------------------------------------------------------------------------------

CELLS = [
    # a row after the headings Item No,Equipment,V,Ph,kW; rule; what is marked; words
    ("KE-1,Oven,208,3,", "csv-cell-empty", "", "column `kW`, holds no value"),
    ("KE-1,Oven,208,3,TBD", "csv-cell-empty", "TBD", "holds no value (`TBD`)"),
    ("KE-1,Oven,,3,12", "csv-cell-empty", "", "column `V`"),
    (",Oven,208,3,12", "csv-cell-empty", "", "column `Item No`"),
    ("KE-1,Oven,208,3,twelve", "csv-cell", "twelve", "holds `twelve`, not a number"),
    ('KE-1,Oven,208,3,"1,200"', "csv-cell", '"1,200"', "without commas: 1200"),
    ('KE-1,Oven,208,3,"1,2"', "csv-cell", '"1,2"', "decimal point: 1.2"),
    ("KE-1,Oven,208/120,3,12", "csv-cell", "208/120", "those between lines"),
    ("KE-1,Oven,208,2,12", "csv-cell", "2", "phases are 1 or 3"),
    ("KE-1,Oven,208,3,12 ft", "csv-cell", "12 ft", "a length"),
    ("KE 1,Oven,208,3,12", "csv-cell", "KE 1", "not a tag"),
    ("KE-0,Oven,208,3,12", "csv-tag-twice", "KE-0", "stands twice"),
    ("KE-1,Oven,208,3,12,extra", "csv-row", "extra", "more cells than there are headings"),
]


@pytest.mark.parametrize(("row", "rule", "letters", "words"), CELLS, ids=[row[0] for row in CELLS])
def test_a_cell_that_cannot_be_read(row: str, rule: str, letters: str, words: str) -> None:
    shown = loads(f"{HEADINGS}\nKE-0,Kettle,208,3,9\n{row}\n")
    finding = shown.only(rule)
    assert finding.severity is Severity.ERROR
    assert finding.span is not None
    assert finding.span.file == "k.csv"
    assert shown.expanded.files["k.csv"].place(finding.span.start).line == 3
    assert shown.marked(finding.span) == letters
    assert words in finding.message + finding.help
    unread = [line for line in lines(shown) if line.endswith("# unreadable")]
    assert len(unread) == (0 if rule == "csv-row" else 1)  # it stays, and its gear is not known


STATEMENTS = [
    ('tag "Item", name "Equipment", kind kitchen', "csv-heading", '"Item"', "has no column `Item`"),
    ('tag "Item No", name "Equipmnt", kind kitchen', "csv-heading", '"Equipmnt"', "`Equipment` is close"),
    ('name "Equipment", load "kW"', "csv-column", 'loads from "k.csv" into KP1', "write `kind kitchen`"),
    ('load "kW", kind kitchen', "csv-column", 'loads from "k.csv" into KP1', 'name "Description"'),
    ('name "Equipment", kind kitchen, laod "kW"', "csv-column", 'laod "kW"', "`load` is close"),
    ('name "Equipment", kind kitchen, kind range', "csv-column", "kind range", "said twice"),
    ('name "Equipment", kind kitchen, load "kW" ft', "csv-unit", "ft", "not a unit of `load`"),
    ('name "Equipment", kind kitchen, load "Ph"', "csv-unit", 'load "Ph"', "write it after the heading"),
    ('name "Equipment", kind kitchen, name', "csv-column", "name", "said twice"),
    ('name "Equipment", kind kitchin', "csv-cell", "kind kitchin", "`kitchen` is close"),
]


@pytest.mark.parametrize(("columns", "rule", "letters", "words"), STATEMENTS, ids=[row[0] for row in STATEMENTS])
def test_an_import_that_cannot_be_read(columns: str, rule: str, letters: str, words: str) -> None:
    shown = loads(f"{HEADINGS}\nKE-1,Oven,208,3,12\n", columns)
    finding = shown.only(rule)
    assert shown.marked(finding.span) == letters
    assert words in finding.message + finding.help
    assert any(line.endswith("# unreadable") for line in lines(shown))


def test_a_missing_heading_lists_those_there_are() -> None:
    finding = loads(f"{HEADINGS}\n", 'tag "Item", name "Equipment", kind kitchen').only("csv-heading")
    assert finding.notes == ("its headings: Item No, Equipment, V, Ph, kW",)


def test_two_units_in_a_heading() -> None:
    finding = loads("Name,kW or kVA\nA,3\n", 'name "Name", kind equipment, load "kW or kVA"').only("csv-unit")
    assert finding.help == 'write the one that holds: `load "kW or kVA" kW`'


def test_a_load_said_twice_in_a_row() -> None:
    shown = loads("Name,kW,HP\nA,3,4\n", 'name "Name", kind equipment, kw "kW", hp "HP"')
    assert shown.marked(shown.only("csv-cell").span) == "4"


def test_a_count_of_none_leaves_the_row_out() -> None:
    shown = loads("Name,kW,Qty\nA,3,0\n", 'name "Name", kind equipment, load "kW", count "Qty"')
    assert shown.only("csv-count-zero").severity is Severity.NOTE
    assert lines(shown) == []


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("1-3,Heater,30,3,new", "`1-3` could be a range or a list of positions"),
        ("1 to 3,Heater,30,2,new", "`1 to 3` is not a position"),
        ('"1,3",Heater,30,3,new', "2 positions and 3 poles do not go together"),
        ("1,Heater,30,4,new", "line 2 of `k.csv`, column `P`, holds `4`: a circuit has 1 to 3 poles"),
        ("1,Heater,30,2,exisitng", "`exisitng` is not a status"),
        ("1,,30,2,existing", "line 2 of `k.csv`, column `Description`, holds no value"),
        ("1,SPARE,,1,existing", "a spare has no rating"),
    ],
)
def test_a_schedule_row_that_cannot_be_read(row: str, message: str) -> None:
    shown = loads(f"Ckt,Description,Trip,P,Status\n{row}\n", SCHEDULE)
    assert [finding.message for finding in shown.findings] == [message]


def test_poles_and_phases_that_disagree() -> None:
    shown = loads("Name,kW,Ph,P\nA,3,1,3\n", 'name "Name", kind equipment, load "kW", phases "Ph", poles "P"')
    assert shown.only("csv-cell").message == "3 poles and 1-phase do not go together"


def test_where_rows_cannot_go() -> None:
    assert loads(f"{HEADINGS}\n", into="KP2").only("loads-target").help == "`KP1` is close"
    shown = loads("Panel,Name,kW\nP3,B,2\n", 'name "Name", kind equipment, load "kW"', "panelboard P1", '"Panel"')
    assert shown.marked(shown.only("loads-target").span) == "P3"
    assert loads("Panel,Name\n,B\n", 'name "Name", kind equipment', into='"Panel"').only("csv-cell-empty")
    assert loads("Panel,Name\nP1,B\n", 'name "Name", kind equipment', into='"Panle"').only("csv-heading")
    assert loads(f"{HEADINGS}\n", into="KP1 now").only("loads-form")


def test_forms_of_the_statement() -> None:
    assert expanded("loads from kitchen into KP1 { kind kitchen }").only("loads-form")
    assert expanded('loads from "k.csv" { kind kitchen }', {"k.csv": "A\n1\n"}).rules == ["csv-column", "loads-form"]
    body = 'name "A", kind kitchen'
    assert expanded(f'loads from "k.csv" {{ {body} }}', {"k.csv": "A\n1\n"}).only("loads-form")
    text = f'panelboard P1 {{ loads from "k.csv" into P2 {{ {body} }} }}\npanelboard P2'
    assert expanded(text, {"k.csv": "A\n1\n"}).only("loads-form").message == "these loads stand in P1 and go into P2"


def test_a_file_that_is_missing_leaves_its_gear_unknown() -> None:
    shown = expanded(f'panelboard KP1\nloads from "k.csv" into KP1 {{\n{COLUMNS}\n}}')
    shown.only("file-missing")
    assert lines(shown) == ['loads from "k.csv" into KP1  # unreadable']


def test_a_table_without_rows_is_a_warning() -> None:
    assert loads(f"{HEADINGS}\n").only("csv-empty").severity is Severity.WARNING


# --- the rows of a `for` ----------------------------------------------------------------------------------------------

UNITS = "unit,run,Name of tenant\n012,64 ft,North wing\nB-2,72,Studio\n"
APT = 'for row in "u.csv" { panelboard A-[row.unit] "[row.Name_of_tenant]" { fed from M, [row.run] } }'


def test_for_over_rows() -> None:
    shown = expanded(APT, {"u.csv": UNITS.replace("72", "72 ft")})
    assert shown.findings == ()
    assert shown.text.split("\n") == [
        'panelboard A-012 "North wing" {', "  fed from M, 64 ft", "}",
        'panelboard A-B-2 "Studio" {', "  fed from M, 72 ft", "}",
    ]  # fmt: skip
    assert shown.line("panelboard A-B-2").trail[0].text == "for row, line 3 of u.csv"


@pytest.mark.parametrize(
    ("body", "rule", "letters", "words"),
    [
        ("panelboard A-[row.unti]", "csv-heading", "row.unti", "`unit` is close"),
        ("panelboard A-[row]", "csv-column", "row", "name a column of it: `[row.unit]`"),
        ("panelboard A-[row.unit] { bus [row.unit * 2] A }", "not-a-number", "B-2", "`row.unit` is `B-2`"),
        ("panelboard A-[row.empty]", "csv-cell-empty", "", "line 2 of `u.csv` has nothing under `empty`"),
        ('panelboard A { lighting [row.name] 400 VA\n fed from M, [row.name] }', "", "", ""),
    ],
)
def test_faults_in_rows(body: str, rule: str, letters: str, words: str) -> None:
    csv = "unit,empty,name\n101,,a\nB-2,x,b\n"
    shown = expanded(f'for row in "u.csv" {{ {body} }}', {"u.csv": csv})
    if not rule:
        assert shown.findings == ()
        return
    finding = shown.only(rule)
    assert shown.marked(finding.span) == letters
    assert words in finding.message + finding.help


def test_a_column_of_what_is_no_row() -> None:
    assert expanded("for n in 1..2 { panelboard A-[n.unit] }").only("csv-column").help == "write `[n]`"


def test_a_table_without_rows_makes_nothing_and_says_so() -> None:
    assert expanded(APT, {"u.csv": "unit,run\n"}).only("range-empty").message.startswith("`u.csv` has no rows")
