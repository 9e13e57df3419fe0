"""`explain`: every name finds its values, near misses are offered, every value of the samples has a history."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from tests.support.samples import sample_design, sample_names

from fedfrom.documents.calculations.explain import explanation
from fedfrom.documents.calculations.subjects import Subjects
from fedfrom.results.types import CircuitResult, ConductorResult, DeviceResult
from fedfrom.rules.registry import Design

WORKS = "bottling-works"


def answered(name: str) -> tuple[str, ...]:
    return Subjects(sample_design(WORKS)).answer(name).subjects


def text_of(name: str, form: str = "text", *, whole: bool = False) -> str:
    subjects = Subjects(sample_design(WORKS))
    return explanation(subjects, subjects.answer(name), form, "plant.fed", whole=whole)


@pytest.mark.parametrize(
    ("asked", "meant"),
    [
        ("DP1.class", "DP1.class"),
        ("DP1.phase", "DP1.feeder.phase"),
        ("DP1.wire", "DP1.feeder.phase"),
        ("dp1.RACEWAY", "DP1.feeder.raceway"),
        ("DP1.ground", "DP1.feeder.ground"),
        ("DP1.raceway", "DP1.feeder.raceway"),
        ("DP1.device", "DP1.feeder.device"),
        ("DP1.drop", "DP1.feeder.drop"),
        ("DP1.load", "DP1.demand"),
        ("T1.rating", "T1.kva"),
        ("T1.gec", "T1.electrode"),
        ("ATS1.emergency.phase", "ATS1.emergency.feeder.phase"),
        ("LP1/2.device", "LP1.2.device"),
        ("LP1.4.device", "LP1.2.device"),  # the second position of a 2-pole circuit
        ("BW-1.device", "DP1.1.device"),  # by the tag of its load
    ],
)
def test_a_property_by_the_words_of_the_trade(asked: str, meant: str) -> None:
    assert answered(asked) == (meant,)


def test_a_circuit_gives_all_its_values() -> None:
    found = answered("LP1/2")
    assert {name.rpartition(".")[2] for name in found} >= {"device", "phase", "ground", "raceway", "drop", "position"}
    assert answered("LP1.2,4") == answered("LP1 2") == found


def test_several_feeders_give_one_each() -> None:
    assert answered("LP1.neutral") == ("LP1.neutral", "LP1.feeder.neutral")  # its load, and the conductor
    assert answered("ATS1.phase") == ("ATS1.normal.feeder.phase", "ATS1.emergency.feeder.phase")


def test_a_tag_alone_lists_what_can_be_explained() -> None:
    text = text_of("DP1")
    assert text.startswith("DP1: Bottling line 1, panelboard, 480Y/277 V")
    for part in ("DP1.class", "DP1.feeder.phase", "DP1.1  Bottle washer", "fedfrom explain plant.fed DP1.class"):
        assert part in text
    assert "Calculation" not in text
    assert text_of("DP1", whole=True).count("Calculation\n") > 20


@pytest.mark.parametrize(
    ("asked", "close"), [("DP1.clas", "DP1.class"), ("DP11", "DP1"), ("drop-brnch", "drop-branch"), ("LP1.99", "LP1.9")]
)
def test_unknown_names_get_near_misses(asked: str, close: str) -> None:
    answer = Subjects(sample_design(WORKS)).answer(asked)
    assert (answer.subjects, answer.tag, answer.rule) == ((), "", "")
    assert close in answer.close


def test_a_rule_and_a_finding() -> None:
    finding = next(each for each in sample_design(WORKS).results.findings if each.rule == "rating-margin")
    rule = text_of("rating-margin")
    assert rule.startswith("rating-margin (note): ")
    assert "found in this design" in rule
    assert finding.message in rule
    one = text_of(f"rating-margin on {finding.subject}")
    assert finding.message in one
    assert f"{finding.subject}.sccr" in one
    answer = Subjects(sample_design(WORKS)).answer("rating-margin on XX")
    assert not answer.findings
    assert answer.close[0].startswith("rating-margin on ")


def test_a_calculation_reads_like_one_by_hand() -> None:
    text = text_of("T1.feeder.phase")
    order = ["Given", "demand of T1  [see T1.demand]", "[NEC 2023, Table 310.16]", "Calculation", "Rounding", "Not "]
    places = [text.index(part) for part in order]
    assert places == sorted(places)
    assert "state: Normal" in text
    assert "1-1/4 inch EMT" in text  # no capitals of drawings in running text
    assert max(map(len, text.splitlines())) <= 100


def test_the_place_that_pinned_a_value_is_named() -> None:
    line = next(
        number
        for number, text in enumerate(sample_design(WORKS).files["bottling-works.fed"].text.splitlines(), 1)
        if "lighting" in text and "Packing hall offices" in text
    )
    assert f"as written at bottling-works.fed:{line}" in text_of("LP1.1.position")


def test_markdown_has_a_table_and_the_lines() -> None:
    text = text_of("DP1.feeder.drop", "markdown")
    assert text.startswith("### `DP1.feeder.drop`: Voltage drop of the feeder to DP1\n")
    assert "| L | 180 ft | length, one way | bottling-works.fed:" in text
    assert "```text\na = I (R cos + X sin) L / 1000" in text
    assert text_of("DP1", "markdown").startswith("### DP1: Bottling line 1")


# --- every value has a history -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sample_names())
def test_every_chosen_value_has_a_derivation(name: str) -> None:
    design = sample_design(name)
    wanted = list(values(design))
    assert len(wanted) > 100
    assert [subject for subject in wanted if subject not in design.results.derivations] == []


def values(design: Design) -> Iterator[str]:
    """The subject of every value of the results that a pass chose, checked or computed."""
    results = design.results
    for tag, gear in results.gear.items():
        yield from _if(
            tag,
            ("bus", gear.bus_a),
            ("sccr", gear.sccr_a),
            ("main", gear.main),
            ("enclosure", gear.enclosure),
            ("electrode", gear.grounding_electrode_conductor),
            ("jumper", gear.main_bonding_jumper),
            ("imbalance", gear.imbalance_pct),
        )
        if gear.gear_class in ("load center", "panelboard", "switchboard"):
            yield f"{tag}.class"
    for tag, transformer in results.transformers.items():
        yield from _if(
            tag,
            ("kva", transformer.kva),
            ("impedance", transformer.impedance_pct),
            ("electrode", transformer.grounding_electrode_conductor),
            ("jumper", transformer.system_bonding_jumper),
        )
    for tag, transfer in results.transfers.items():
        yield from _if(tag, ("rating", transfer.rating_a), ("withstand", transfer.withstand_a))
    for tag, tie in results.ties.items():
        yield from _wiring(tag, tie.device, tie.conductors)
    for key, feeder in results.feeders.items():
        yield from _wiring(f"{key}.feeder", feeder.device, feeder.conductors)
        yield from _if(f"{key}.feeder", ("drop", feeder.drop_pct))
    for rows in results.circuits.values():
        for row in rows:
            yield from _circuit(row)
    yield from (f"{tag}.demand" for tag in results.loads)
    yield from (f"{tag}.fault" for tag in results.faults)


def _circuit(row: CircuitResult) -> Iterator[str]:
    yield from _if(row.key, ("position", row.positions))
    if row.kind != "feeder":
        yield from _wiring(row.key, row.device, row.conductors)
        yield from _if(row.key, ("drop", row.drop_pct))


def _wiring(owner: str, device: DeviceResult | None, wires: ConductorResult | None) -> Iterator[str]:
    if device is not None:
        yield f"{owner}.device"
        yield from _if(owner, ("interrupting", device.interrupting_a))
    if wires is not None:
        yield from _if(
            owner,
            ("phase", wires.phase),
            ("neutral", wires.neutral),
            ("ground", wires.ground),
            ("raceway", wires.raceway_size),
        )


def _if(owner: str, *pairs: tuple[str, object]) -> Iterator[str]:
    """The subjects of values that are there."""
    yield from (f"{owner}.{name}" for name, value in pairs if value not in (None, "", ()))
