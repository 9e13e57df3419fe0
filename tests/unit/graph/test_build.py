"""The network: systems, circles, stranded gear, status, and loads that do not fit their gear."""

from __future__ import annotations

import pytest
from tests.support.models import feed, item, load, model, tie

from fedfrom.findings import Severity
from fedfrom.graph.build import build_network
from fedfrom.graph.voltages import available
from fedfrom.model.items import Status, Value
from fedfrom.quantity import SYSTEMS

UT = item("utility", "UT", voltage="480Y/277 V")


def rules(network_findings: tuple[object, ...]) -> list[tuple[str, str]]:
    return [(finding.rule, finding.subject) for finding in network_findings]  # type: ignore[attr-defined]


def test_system_is_inherited_and_changed_by_a_transformer() -> None:
    network, findings = build_network(
        model(
            item("panelboard", "LP1", "T1"),
            item("transformer", "T1", "MSB", secondary="208Y/120 V"),
            item("switchboard", "MSB", "UT"),
            UT,
        )
    )
    assert findings == ()
    assert network.nodes["MSB"].system is SYSTEMS["480Y/277 V"]
    assert network.nodes["T1"].line_system is SYSTEMS["480Y/277 V"]
    assert network.nodes["T1"].system is network.nodes["LP1"].system is SYSTEMS["208Y/120 V"]
    assert network.outgoing["MSB"] == ("T1",)
    assert all(node.reachable for node in network.nodes.values())


@pytest.mark.parametrize(
    ("parent", "child", "fits"),
    [
        ("208Y/120 V", "120/208 V", True),
        ("208Y/120 V", "120/240 V", False),
        ("208Y/120 V", "120 V", True),
        ("208Y/120 V", "208 V", True),
        ("120/240 V", "208Y/120 V", False),
        ("240/120 V high-leg", "120/240 V", True),
        ("240/120 V high-leg", "240 V", True),
        ("240/120 V high-leg", "120/208 V", False),
        ("480Y/277 V", "480 V", True),
        ("480Y/277 V", "277 V", True),
        ("480Y/277 V", "480 V ungrounded", False),
        ("480 V", "480Y/277 V", False),
        ("480 V ungrounded", "480 V ungrounded", True),
        ("480Y/277 V", "208Y/120 V", False),
        ("125/250 V DC", "125 V DC", True),
        ("125/250 V DC", "250 V DC", True),
        ("250 V DC", "125/250 V DC", False),
        ("208Y/120 V", "120 V isolated", False),
    ],
)
def test_which_systems_can_be_taken_without_a_transformer(parent: str, child: str, fits: bool) -> None:
    assert available(SYSTEMS[parent], SYSTEMS[child]) is fits


def test_wrong_volts_on_gear_names_both_places() -> None:
    panel = item("panelboard", "LP1", "UT", voltage="208Y/120 V")
    _, findings = build_network(model(UT, panel))
    assert rules(findings) == [("voltage-match", "LP1")]
    assert findings[0].message == "LP1 is 208Y/120 V, and UT that feeds it is 480Y/277 V"
    assert findings[0].span == panel.system.span  # type: ignore[union-attr]
    assert findings[0].related[0].span == UT.system.span  # type: ignore[union-attr]
    assert "480 V" in findings[0].help
    assert findings[0].clause == "NEC 2023, 110.4"


def test_volts_on_a_feed() -> None:
    supply = item("utility", "U2", voltage="208Y/120 V")
    fed = feed("U2", "IP1", volts=Value(208.0), phases=1)
    network, findings = build_network(
        model(supply, item("isolated power panel", "IP1", fed, secondary="120 V isolated"))
    )
    assert findings == ()
    line = network.nodes["IP1"].line_system
    assert line is not None
    assert (line.line_to_line_v, line.phases, line.wires) == (208, 1, 2)
    wrong = feed("U2", "IP1", volts=Value(240.0), phases=1)
    _, findings = build_network(model(supply, item("isolated power panel", "IP1", wrong, secondary="120 V isolated")))
    assert rules(findings) == [("voltage-match", "IP1")]


def test_circle_is_named_in_full_and_once() -> None:
    network, findings = build_network(
        model(
            UT,
            item("panelboard", "A", "C"),
            item("panelboard", "B", "A"),
            item("panelboard", "C", "B"),
            item("panelboard", "D", "C"),
        )
    )
    assert rules(findings) == [("radial-states", "A")]
    assert findings[0].message == "A feeds itself: A -> B -> C -> A"
    assert not network.nodes["D"].reachable


@pytest.mark.parametrize("verb", ["fed from", "alternate from"])
def test_gear_that_names_itself_as_its_source_is_an_error(verb: str) -> None:
    _, findings = build_network(model(UT, item("panelboard", "A", "UT", feed("A", "A", verb))))
    assert [(each.rule, each.message, each.severity) for each in findings] == [
        ("radial-states", "A feeds itself", Severity.ERROR)
    ]


def test_circle_through_an_alternate_feed_is_no_circle() -> None:
    first = item("switchboard", "A", "UT", feed("B", "A", "alternate from", "alternate"))
    second = item("switchboard", "B", "UT", feed("A", "B", "alternate from", "alternate"))
    _, findings = build_network(model(UT, first, second))
    assert findings == ()


def test_stranded_branch_is_not_reachable() -> None:
    """That a piece of gear has no feed is told by the reading; what hangs on it is not told again."""
    network, findings = build_network(
        model(UT, item("panelboard", "B", "A"), item("panelboard", "A"), item("panelboard", "C", "B"))
    )
    assert findings == ()
    assert [tag for tag, node in network.nodes.items() if not node.reachable] == ["B", "A", "C"]


@pytest.mark.parametrize("status", [Status.DEMOLISH, Status.FUTURE])
def test_live_gear_on_gear_that_goes_or_is_not_there(status: Status) -> None:
    _, findings = build_network(model(UT, item("panelboard", "A", "UT", status=status), item("panelboard", "B", "A")))
    assert rules(findings) == [("status-consistent", "B")]
    assert findings[0].severity is Severity.ERROR


def test_loads_that_do_not_fit() -> None:
    supply = item("utility", "U2", voltage="208Y/120 V")
    good = [
        load("motor", "5 hp"),
        load("motor", "5 hp", volts=200, phases=3),
        load("hvac", "mca 20 A", volts=208, phases=1),
        load("lighting", "1 kVA"),
        load("equipment", "3.1 kVA", volts=208, positions=(2, 4)),
        load("receptacles", "4 outlets", volts=115),
        load("range", "8 kW"),
    ]
    bad = [
        load("motor", "5 hp", volts=460, phases=3, tag="M1"),
        load("hvac", "mca 20 A", volts=240, phases=1, tag="M2"),
        load("equipment", "3 kVA", volts=208, positions=(2,), tag="M3"),
    ]
    _, findings = build_network(model(supply, item("panelboard", "P", "U2", loads=[*good, *bad])))
    assert rules(findings) == [("voltage-match", "P M1"), ("voltage-match", "P M2"), ("voltage-match", "P M3")]


def test_nothing_written_on_gear_without_neutral_is_told() -> None:
    supply = item("utility", "U2", voltage="480 V")
    _, findings = build_network(model(supply, item("panelboard", "P", "U2", loads=[load("lighting", "1 kVA")])))
    assert [finding.message for finding in findings] == [
        'lighting "lighting" says neither volts nor phases, and 480 V has no neutral'
    ]


def test_tie_between_two_systems() -> None:
    other = item("utility", "U2", voltage="208Y/120 V")
    _, findings = build_network(
        model(UT, other, item("switchboard", "A", "UT"), item("switchboard", "B", "U2"), ties=[tie("T", "A", "B")])
    )
    assert rules(findings) == [("voltage-match", "T")]


def test_a_transformer_without_its_secondary_gives_no_known_volts() -> None:
    """Its primary volts are not those behind it: what hangs there would be judged by a wrong system."""
    network, findings = build_network(
        model(
            UT,
            item("transformer", "T1", "UT"),
            item("panelboard", "L1", "T1", loads=(load("heating", volts=208.0, phases=3),)),
        )
    )
    assert network.nodes["T1"].line_system is SYSTEMS["480Y/277 V"]
    assert network.nodes["T1"].system is None
    assert network.nodes["L1"].system is None
    assert findings == ()
