"""The outcome of the review: what is passed, failed, accepted, not checked, not applicable; who may accept what."""

from __future__ import annotations

import pytest
from tests.support.texts import compiled

from fedfrom.findings import Severity
from fedfrom.rules.acceptance import names_who_and_when
from fedfrom.rules.registry import all_rules
from fedfrom.rules.review import review_counts, review_text

SKETCH = """fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage 208Y/120 V
    fault   9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from UT, 20 ft
    main     breaker 225 A
    place    indoor "Electrical room"
LINES
}
"""


def text(lines: str, more: str = "") -> str:
    return SKETCH.replace("LINES", "\n".join(f"    {line}" for line in lines.splitlines())) + more


PLAIN = text('equipment "Kiln" 30 A, 208 V 3-phase, 60 ft')


def test_what_the_design_has_not_is_not_applicable() -> None:
    review = compiled(PLAIN).results.review
    for rule in ("xfmr-loading", "fire-pump-path", "neutral-switching", "afci-required", "busbar-120", "dc-rated"):
        assert review[rule].outcome == "not applicable", rule
    assert review["sccr-gear"].outcome == "passed"


def test_what_is_not_known_is_never_passed() -> None:
    """A sketch has no room, no electrode, no meter: counted as not checked, with what is needed; no finding yet."""
    outcome = compiled(PLAIN)
    for rule in (
        "work-depth",
        "two-entrances",
        "panic-hardware",
        "electrode-system",
        "utility-metering",
        "title-block",
    ):
        assert outcome.results.review[rule].outcome == "not checked", rule
        assert outcome.results.review[rule].needs
        assert outcome.of_rule(rule) == ()


def test_a_text_for_issue_is_asked_for_what_it_lacks() -> None:
    outcome = compiled(PLAIN.replace("code NEC 2023", 'code NEC 2023, number "E-17", revision "1"'))
    for rule in ("working-space-unknown", "electrode-system", "utility-metering", "label-date", "title-block"):
        assert len(outcome.of_rule(rule)) == 1, rule


def test_without_fault_data_no_rating_passes() -> None:
    review = compiled(PLAIN.replace("    fault   9 kA at service point, X/R 5\n", "")).results.review
    assert review["sccr-gear"].outcome == "not checked"
    assert "available fault current" in review["sccr-gear"].needs


def test_what_could_not_be_read_is_not_passed() -> None:
    review = compiled(PLAIN.replace("breaker 225 A", "breaker 225")).results.review
    assert review["sccr-gear"].outcome == "not checked"
    assert "errors in the text" in review["gfp-service"].needs
    assert not [name for name in ("panel-overload", "sccr-gear", "work-depth") if review[name].outcome == "passed"]


def test_counts_and_their_sentence() -> None:
    review = compiled(text('receptacles "Roof" 2 outlets, wet, 60 ft')).results.review
    counts = review_counts(review)
    assert counts["failed"] == 1
    assert counts["checked"] + counts["not checked"] + counts["not applicable"] == len(all_rules())
    assert review_text(review).startswith(f"{counts['checked']} checks made: {counts['passed']} passed, 1 failed; ")


# --- acceptances of findings about life safety ----------------------------------------------------------------------

NAMED = "R. Ashdown, 2026-05-31: locked roof"


@pytest.mark.parametrize(
    ("reason", "enough"),
    [
        (NAMED, True),
        ("agreed with Ruth M. Ashdown, fire marshal, 2026-05-31", True),
        ("R. Ashdown: locked roof", False),
        ("agreed on 2026-05-31", False),
        ("owner letter of 2026-05-31", False),
        ("R. Ashdown, 31 May", False),
        ("R. Ashdown, 2026-13-31", False),
    ],
)
def test_who_and_when(reason: str, enough: bool) -> None:
    assert names_who_and_when(reason) is enough


def test_life_safety_needs_a_name_and_a_date() -> None:
    roof = 'receptacles "Roof" 2 outlets, wet, 60 ft'
    nameless = compiled(text(roof, 'accept gfci-required on MDP "Roof" because "owner letter"\n'))
    assert len(nameless.of_rule("gfci-required")) == 1
    assert [finding.rule for finding in nameless.of_rule("accept-unnamed")] == ["accept-unnamed"]
    assert nameless.results.accepted == ()
    named = compiled(text(roof, f'accept gfci-required on MDP "Roof" because "{NAMED}"\n'))
    assert named.of_rule("gfci-required") == named.of_rule("accept-unnamed") == ()
    assert named.results.review["gfci-required"].outcome == "accepted"
    assert [reason for _, reason in named.results.accepted] == [NAMED]


def test_an_acceptance_that_misses_says_where_the_rule_has_findings() -> None:
    board = text("", 'accept arc-energy on MDP because "R. Ashdown, 2026-05-31: dead work only"\n')
    board = board.replace("breaker 225 A", "fused switch 1600 A, fuse 1600 A class L, GFPE")
    (unused,) = compiled(board).of_rule("accept-unused")
    assert unused.help.startswith("arc-energy is found on MDP.main: name that")


# --- cases beside the programs of the rules ---------------------------------------------------------------------------


def found(rule: str, lines: str, more: str = "") -> list[str]:
    return [finding.message for finding in compiled(text(lines, more)).of_rule(rule)]


@pytest.mark.parametrize(
    ("line", "count"),
    [
        # source: NEC 2023, 210.8(B): 150 V to ground or less, single-phase to 50 A, three-phase to 100 A
        ('receptacles "Kitchen 12" 2 outlets, 60 ft', 1),
        ('receptacles "Kitchen 12" 2 outlets, 60 ft, outlets GFCI', 0),
        ('receptacles "Kitchen 12" 2 outlets, 60 ft, dual function', 0),
        ('receptacles "Office 12" 2 outlets, 60 ft, place outdoor "Wall"', 1),
        ('receptacles "Office 12" 2 outlets, 60 ft, damp', 1),
        ('receptacles "Office 12" 2 outlets, 60 ft', 0),
        ('receptacles "Bathymetry office" 2 outlets, 60 ft', 0),
    ],
)
def test_receptacles_near_water(line: str, count: int) -> None:
    assert len(found("gfci-required", line)) == count


@pytest.mark.parametrize(
    ("line", "severity"),
    [
        ('receptacles "Kitchen 12" 2 outlets, 60 ft', Severity.WARNING),  # a name only suggests it
        ('receptacles "Prep 12" 2 outlets, 60 ft, counts as kitchen', Severity.ERROR),
        ('receptacles "Roof" 2 outlets, 60 ft, wet', Severity.ERROR),
        ('receptacles "Kitchen showroom" 2 outlets, 60 ft, counts as ordinary space', None),
        ('receptacles "Shop" 2 outlets, 60 ft, counts as ordinary space, wet', Severity.ERROR),
    ],
)
def test_a_name_only_suggests_water(line: str, severity: Severity | None) -> None:
    findings = compiled(text(line)).of_rule("gfci-required")
    assert [finding.severity for finding in findings] == ([severity] if severity is not None else [])
    if severity is Severity.WARNING:
        assert 'reads "kitchen"' in findings[0].message
        assert "`counts as ordinary space`" in findings[0].help


PV = """pv PV1 "Roof" {
    connects to MDP, 60 ft, breaker 60 A POINT
    output      36 A
    rating      12 kW
    place       outdoor "Roof"
}
"""


PRESSES = '\nequipment "Press" 70 A, 208 V 3-phase, 60 ft, breaker 90 A'


@pytest.mark.parametrize(
    ("bus", "point", "presses", "fits"),
    [(225, "", 2, False), (270, "", 3, True), (225, ", opposite end", 3, True), (225, "", 1, True)],
)
def test_bus_with_two_sources(bus: int, point: str, presses: int, fits: bool) -> None:
    """source: NEC 2023, 705.12(B): 225 A + 125 % of 36 A = 270 A; 120 % of a 225 A bus = 270 A.

    Or all devices together: 90 A and 60 A are within 225 A, two of 90 A and 60 A are not.
    """
    messages = found("busbar-120", f"bus {bus} A" + PRESSES * presses, PV.replace(" POINT", point))
    assert (messages == []) is fits


@pytest.mark.parametrize(
    ("rating", "circuit", "fits"), [(15, 20, True), (20, 15, False), (40, 40, True), (50, 40, True), (30, 40, False)]
)
def test_several_receptacles_on_a_circuit(rating: int, circuit: int, fits: bool) -> None:
    """source: NEC 2023, Table 210.21(B)(3)."""
    line = f'receptacles "Hall" 4 outlets, 60 ft, breaker {circuit} A, receptacle rating {rating} A'
    assert (found("receptacle-circuit", line) == []) is fits


def test_unknown_output_of_a_source_is_not_checked() -> None:
    more = PV.replace(" POINT", "").replace("    output      36 A\n", "").replace("    rating      12 kW\n", "")
    review = compiled(text("bus 225 A", more)).results.review
    assert review["busbar-120"].outcome == "not checked"
    assert "`output` of PV1" in review["busbar-120"].needs


@pytest.mark.parametrize(("edition", "asked"), [("NEC 2017", 0), ("NEC 2020", 1), ("NEC 2023", 1)])
def test_emergency_disconnect_of_a_house_by_edition(edition: str, asked: int) -> None:
    """source: NEC 230.85, new in 2020 (from memory)."""
    house = text("dwelling 900 ft2, small-appliance 2, laundry 1\nsurge device 50 kA").replace("NEC 2023", edition)
    assert len(compiled(house.replace("208Y/120", "120/240")).of_rule("dwelling-emergency-disconnect")) == asked
