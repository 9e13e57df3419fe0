"""The class decision: one test for each fact that rules a class out, near misses, pinned classes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from tests.support.electrical import circuit, device, fact, feeder, work_of
from tests.support.models import item, model, span, tie

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Device, Fact, Main, Value
from fedfrom.passes import fault, gear, line_up, ratings
from fedfrom.passes.gear_class import ClassDecision, decide
from fedfrom.passes.work import Work
from fedfrom.results.types import CircuitResult, DeviceResult, GearResult

METERING = fact("metering", {"kind": "utility"})
REAR = fact("access", {"sides": "front and rear"})
FLOOR = fact("mounting", {"mounting": "floor"})


def build(
    kind: str = "gear",
    facts: Iterable[Fact] = (),
    main: DeviceResult | None = None,
    branches: Iterable[DeviceResult] = (),
    voltage: str = "208Y/120 V",
    kiloamperes: str = "8 kA",
    lugs: bool = False,
    **fields: object,
) -> Work:
    source = item(
        "utility", "UT", voltage=voltage, facts=[fact("fault", {"amperes": kiloamperes}, xr={"ratio": "1.5"})]
    )
    board = item(kind, "MSB", "UT")
    dp = replace(item(kind, "DP", "MSB", facts=facts), main=Main(lugs, None, span()) if lugs else None)
    rows: tuple[CircuitResult, ...] = tuple(
        circuit("DP", number, poles=entry.poles, device=entry, load_a=10.0, name=f"Load {number}")
        for number, entry in enumerate(branches, 1)
    )
    work = work_of(
        source,
        replace(board, kind="switchboard"),
        dp,
        feeders=[feeder("UT", "MSB", 0, None, None), feeder("MSB", "DP", 0, None, None)],
        circuits={"DP": rows},
        mains={"DP": main} if main is not None else {},
        **fields,  # type: ignore[arg-type]
    )
    return fault.run(work)


def decision(**fields: object) -> ClassDecision:
    work = build(**fields)  # type: ignore[arg-type]
    return decide(work, work.model.items["DP"])


def test_a_small_plain_panel_is_a_load_center() -> None:
    result = decision(main=device(100), branches=[device(20, 1)] * 6)
    assert result.gear_class == "load center"
    assert [verdict.fits for verdict in result.verdicts] == [True, True, True]


@pytest.mark.parametrize(
    ("fields", "expected", "words"),
    [
        ({"main": device(400)}, "panelboard", "The mains are 400 A"),
        ({"main": device(1600)}, "switchboard", "The mains are 1600 A"),
        ({"main": device(225), "voltage": "480Y/277 V"}, "panelboard", "480Y/277 V is above the 240 V"),
        ({"main": device(225), "facts": [METERING]}, "switchboard", "current transformers"),
        ({"main": device(225, options=("drawout",))}, "switchboard", "drawn out are asked for (the main)"),
        ({"main": device(225), "facts": [fact("devices", {"mounting": "individual"})]}, "switchboard", "individually"),
        ({"main": device(1000, kind="bolted-pressure switch")}, "switchboard", "bolted-pressure switch of 1000 A"),
        ({"main": device(400, kind="fused switch")}, "panelboard", "fused main switch of 400 A"),
        ({"main": device(400), "branches": [device(1200, kind="fused switch")]}, "switchboard", "fused branch switch"),
        ({"main": device(225), "facts": [REAR]}, "switchboard", "front and rear"),
        ({"main": device(225), "facts": [FLOOR]}, "switchboard", "mounted on or in a wall"),
        ({"main": device(225), "branches": [device(225)]}, "panelboard", "takes branch devices to 125 A"),
        ({"main": device(1200), "branches": [device(400)] * 6}, "switchboard", "6 devices of 400 A or more"),
        ({"main": device(225), "branches": [device(20, 1)] * 43}, "panelboard", "43 poles"),
        ({"main": device(225), "facts": [fact("sections", {"sections": 3})]}, "switchboard", "3 sections"),
        ({"main": device(225), "kiloamperes": "30 kA"}, "panelboard", "available fault current is 30 kA"),
        ({"main": device(225), "branches": [device(100, functions="LSI")]}, "panelboard", "Electronic trips"),
    ],
)  # fmt: skip
def test_what_rules_a_class_out(fields: dict[str, object], expected: str, words: str) -> None:
    result = decision(**fields)
    assert result.gear_class == expected
    lighter = [verdict for verdict in result.verdicts if not verdict.fits]
    assert any(words in reason for verdict in lighter for reason in verdict.reasons), lighter
    assert result.why[-1].endswith(("from stock.", "to order.", "factory.")) or "stock" in result.why[-1]


@pytest.mark.parametrize(
    ("conditions", "type_"),
    [((), "1"), (("dusty",), "12"), (("washdown",), "4"), (("corrosive",), "4X"), (("damp",), "2"), (("oily",), "13")],
)
def test_enclosure_follows_the_place(conditions: tuple[str, ...], type_: str) -> None:
    # source: NEC Table 110.28 as transcribed in tables/nec-2023 (Type 12 dust, 4 hosedown, 4X corrosion, 13 oil spray)
    place = fact("place", {"where": "indoor"}, environment={"where": conditions} if conditions else {})
    result = decision(main=device(400), facts=[place])
    assert result.facts is not None
    assert result.facts.enclosure == type_
    assert result.gear_class == "panelboard"


def test_outdoor_is_3r_and_may_be_a_switchboard() -> None:
    place = fact("place", {"where": "outdoor", "name": "Roof"})
    assert decision(main=device(1600), facts=[place]).gear_class == "switchboard"


def test_near_miss_tells_what_would_let_it_fit() -> None:
    result = decision(main=device(1600))
    panelboard = next(verdict for verdict in result.verdicts if verdict.gear_class == "panelboard")
    assert panelboard.near_miss == "A panelboard would fit if the mains were 1200 A or less."


def test_the_hardest_fact_comes_first() -> None:
    place = fact("place", {"where": "indoor"}, environment={"where": ("washdown",)})
    result = decision(main=device(1600), facts=[place, fact("metering", {"kind": "utility"})])
    panelboard = next(verdict for verdict in result.verdicts if verdict.gear_class == "panelboard")
    assert panelboard.reasons[0].startswith("The mains are 1600 A")
    assert panelboard.reasons[1].startswith("The utility's current transformers")


def test_a_tie_needs_compartments() -> None:
    ends = [item("gear", tag, source) for tag, source in (("A", "U1"), ("B", "U2"))]
    letter = fact("fault", {"amperes": "20 kA"}, xr={"ratio": "4"})
    sources = [item("utility", tag, voltage="480Y/277 V", facts=[letter]) for tag in ("U1", "U2")]
    work = work_of(
        whole=model(*sources, *ends, ties=[tie("TIE", "A", "B")]),
        feeders=[feeder("U1", "A", 0, None, None), feeder("U2", "B", 0, None, None)],
        mains={"A": device(800), "B": device(800)},
    )
    assert decide(fault.run(work), work.model.items["A"]).gear_class == "switchboard"


def test_direct_current_fits_nothing_by_itself() -> None:
    source = item("battery", "BT", voltage="250 V DC", facts=[fact("rating", {"rating": "100 kW"})])
    work = work_of(
        source, item("gear", "DC1", "BT"), feeders=[feeder("BT", "DC1", 0, None, None)], mains={"DC1": device(400)}
    )
    result = decide(work, work.model.items["DC1"])
    switchboard = next(verdict for verdict in result.verdicts if verdict.gear_class == "switchboard")
    assert result.gear_class == "panelboard"
    assert "DC rating" in switchboard.reasons[0]


def findings(work: Work) -> list[Finding]:
    return [finding for finding in gear.run(ratings.run(work)).findings if finding.rule == "class-limits"]


def test_a_pinned_class_is_checked_at_the_place_of_the_fact() -> None:
    place = span()
    found = findings(build("panelboard", main=device(1600, span=place)))
    assert [(finding.severity, finding.span) for finding in found] == [(Severity.ERROR, place)]
    assert "1600 A" in found[0].message
    assert "1200 A" in found[0].message
    assert "make it a switchboard" in found[0].help


def test_a_practice_bound_is_a_warning() -> None:
    found = findings(build("panelboard", main=device(1200), branches=[device(400)] * 6))
    assert [finding.severity for finding in found] == [Severity.WARNING]
    assert "makers differ" in found[0].notes[0]


def test_a_pinned_class_that_fits_says_nothing() -> None:
    assert findings(build("switchboard", main=device(400))) == []
    assert findings(build("panelboard", main=device(400))) == []


def result_of(work: Work, tag: str = "DP") -> GearResult:
    return line_up.run(gear.run(ratings.run(work))).gear[tag]


def test_bus_main_and_rating_of_the_gear() -> None:
    result = result_of(build("panelboard", main=device(350), branches=[device(20, 1)] * 3, kiloamperes="19 kA"))
    assert result.bus_a == 400
    assert result.sccr_a == 22_000
    assert result.sccr_basis == "fully rated"
    assert result.enclosure == ""  # no place is stated


def test_a_written_bus_is_kept() -> None:
    result = result_of(
        build("panelboard", main=device(350), facts=[fact("bus", {"amperes": "600 A", "material": "Cu"})])
    )
    assert (result.bus_a, result.bus_material) == (600, "Cu")


def test_without_a_fault_current_nothing_is_established() -> None:
    source = item("utility", "UT", voltage="208Y/120 V")
    work = work_of(
        source, item("panelboard", "DP", "UT"), feeders=[feeder("UT", "DP", 10, 0.1, 0.05)], mains={"DP": device(225)}
    )
    result = result_of(fault.run(work))
    assert result.sccr_a is None
    assert result.sccr_basis == "not established"
    assert result.main is not None
    assert result.main.interrupting_a is None


def test_sections_of_a_switchboard() -> None:
    metering = fact("metering", {"kind": "utility"})
    result = result_of(
        build("switchboard", facts=[metering], main=device(2000), branches=[device(400)] * 8 + [device(1600)])
    )
    assert [section.kind for section in result.sections][:2] == ["utility metering", "main"]
    keys = [key for section in result.sections for key in section.circuit_keys]
    assert sorted(keys) == sorted(f"DP.{number}" for number in range(1, 10))
    assert all(section.bus_a is None or section.bus_a <= 3000 for section in result.sections)


def test_service_disconnects_without_a_main() -> None:
    source = item("utility", "UT", voltage="208Y/120 V", facts=[fact("fault", {"amperes": "8 kA"}, xr={"ratio": "2"})])
    board = replace(item("gear", "MDP", "UT"), main=Main(True, None, span()))
    rows = tuple(circuit("MDP", number, poles=3, device=device(200), load_a=10.0) for number in (1, 2, 3))
    work = fault.run(work_of(source, board, feeders=[feeder("UT", "MDP", 0, None, None)], circuits={"MDP": rows}))
    # source: NEC 230.71(B), 2020 on: two to six disconnects in enclosures or compartments of their own
    assert decide(work, board).gear_class == "switchboard"


def test_a_written_main_counts_before_it_is_sized() -> None:
    place = span()
    work = build()
    written = replace(work.model.items["DP"], main=Main(False, Device("breaker", place, rating_a=Value(800.0)), place))
    assert decide(work, written).gear_class == "panelboard"
