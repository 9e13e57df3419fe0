"""Operating states: what is lost, what transfers, what stands still, what is dead."""

from __future__ import annotations

from tests.support.models import feed, item, model, span, tie

from fedfrom.graph.build import build_network
from fedfrom.graph.network import State, StatePlan
from fedfrom.graph.states import plan_states
from fedfrom.graph.walk import below, children_of, path_to_source, supplies
from fedfrom.model.items import Interlock, Item, Model, StateLine


def plan(project: Model) -> tuple[StatePlan, list[str]]:
    network, _ = build_network(project)
    states, findings = plan_states(project, network)
    return states, [finding.message for finding in findings]


def names(states: StatePlan) -> list[str]:
    return [state.name for state in states.states]


def find(states: StatePlan, name: str) -> State:
    return next(state for state in states.states if state.name == name)


def clinic() -> list[Item]:
    """One utility, one generator, two transfer switches, a panel behind each."""
    return [
        item("utility", "UT", voltage="480Y/277 V"),
        item("switchboard", "MSB", "UT"),
        item("generator", "G1", voltage="480Y/277 V"),
        item("transfer switch", "ATS-1", *transfer("ATS-1", "MSB", "G1")),
        item("transfer switch", "ATS-2", *transfer("ATS-2", "MSB", "G1")),
        item("panelboard", "E1", "ATS-1"),
        item("panelboard", "E2", "ATS-2"),
        item("panelboard", "N1", "MSB"),
    ]


def transfer(tag: str, normal: str, emergency: str) -> tuple[object, ...]:
    return (
        feed(normal, tag, "normal from", "normal"),
        feed(emergency, tag, "emergency from", "emergency"),
    )


def test_generator_is_idle_until_the_utility_is_lost() -> None:
    states, told = plan(model(*clinic()))
    assert told == []
    assert names(states) == ["Normal", "UT lost"]
    assert states.normal.dead == ("G1",)
    assert states.normal.parent["ATS-1"] == "ATS-1.normal"
    lost = find(states, "UT lost")
    assert lost.parent == {"ATS-1": "ATS-1.emergency", "ATS-2": "ATS-2.emergency", "E1": "E1", "E2": "E2"}
    assert lost.dead == ("UT", "MSB", "N1")
    assert lost.order == ("G1", "ATS-1", "ATS-2", "E1", "E2")


def test_prime_power_generator_runs_in_the_normal_state() -> None:
    states, _ = plan(
        model(
            item("generator", "G1", voltage="480Y/277 V"),
            item("panelboard", "P1", "G1"),
            item("panelboard", "P2", "P1"),
        )
    )
    assert states.normal.order == ("G1", "P1", "P2")
    assert names(states) == ["Normal", "G1 lost"]


def test_parents_come_before_children_whatever_the_order_of_the_text() -> None:
    forward = clinic()
    states, _ = plan(model(*reversed(forward)))
    for state in states.states:
        placed: set[str] = set()
        for tag in state.order:
            if tag in state.parent:
                network, _ = build_network(model(*reversed(forward)))
                assert all(parent in placed for _, parent in supplies(network, state, tag))
            placed.add(tag)


def double_ended(*interlocks: Interlock) -> Model:
    return model(
        item("utility", "UT-1", voltage="480Y/277 V"),
        item("utility", "UT-2", voltage="480Y/277 V"),
        item("switchboard", "A", "UT-1"),
        item("switchboard", "B", "UT-2"),
        item("panelboard", "PA", "A"),
        item("panelboard", "PB", "B"),
        ties=[tie("TIE", "A", "B")],
        interlocks=interlocks,
    )


TWO_OF_THREE = Interlock("key", 2, ("A.main", "B.main", "TIE"), span())


def test_double_ended_board() -> None:
    project = double_ended(TWO_OF_THREE)
    states, told = plan(project)
    assert told == []
    assert names(states) == [
        "Normal",
        "UT-1 lost",
        "UT-2 lost",
        "Tie TIE closed, A main open",
        "Tie TIE closed, B main open",
    ]
    closed = find(states, "Tie TIE closed, A main open")
    assert closed.parent["A"] == "TIE"
    network, _ = build_network(project)
    assert path_to_source(network, closed, "PA") == ("PA", "A", "B", "UT-2")
    assert children_of(network, closed)["B"] == (("PB", "PB"), ("TIE", "A"))
    assert list(below(network, closed, "B")) == ["B", "PB", "A", "PA"]


def test_tie_without_interlock_is_told() -> None:
    _, told = plan(double_ended())
    assert told == ["no interlock keeps tie TIE from putting the sources of A and B in parallel"]


def test_normally_closed_tie_runs_in_parallel_and_is_told() -> None:
    project = model(*double_ended().items.values(), ties=[tie("TIE", "A", "B", normally_open=False)])
    states, told = plan(project)
    assert told == ["with tie TIE closed, A and B run in parallel in the normal state"]
    assert states.normal.parallel == {"A": ("A", "TIE"), "B": ("B", "TIE")}


def test_named_state_that_breaks_its_interlock() -> None:
    line = StateLine("All closed", (), (), ("TIE",), span())
    project = model(
        *double_ended().items.values(), ties=[tie("TIE", "A", "B")], interlocks=(TWO_OF_THREE,), states=(line,)
    )
    _, told = plan(project)
    assert told == ['state "All closed" has A.main, B.main, TIE closed; the interlock lets at most 2 of them be']


def test_paralleled_generators() -> None:
    board = item("switchboard", "EPS", feed("G1", "EPS", suffix="G1"), feed("G2", "EPS", suffix="G2"), paralleling=True)
    line = StateLine("One generator fails", ("UT", "G2"), (), (), span())
    project = model(
        item("utility", "UT", voltage="480Y/277 V"),
        item("switchboard", "MSB", "UT"),
        item("generator", "G1", voltage="480Y/277 V"),
        item("generator", "G2", voltage="480Y/277 V"),
        board,
        item("transfer switch", "ATS", *transfer("ATS", "MSB", "EPS")),
        states=(line,),
    )
    states, told = plan(project)
    assert told == []
    assert states.normal.dead == ("G1", "G2", "EPS")
    lost = find(states, "UT lost")
    assert lost.parallel == {"EPS": ("EPS.G1", "EPS.G2")}
    failed = find(states, "One generator fails")
    assert failed.parallel == {}
    assert failed.parent["EPS"] == "EPS.G1"
    assert not failed.derived


def test_bypass_and_alternate_are_states() -> None:
    ups = item("ups", "UPS", feed("MSB", "UPS", "normal from", "normal"), feed("DPC", "UPS", "bypass from", "bypass"))
    board = item("panelboard", "P", "MSB", feed("DPC", "P", "alternate from", "alternate"))
    states, _ = plan(
        model(
            item("utility", "UT", voltage="208Y/120 V"),
            item("switchboard", "MSB", "UT"),
            item("panelboard", "DPC", "MSB"),
            ups,
            board,
        )
    )
    assert names(states) == ["Normal", "UT lost", "UPS on bypass", "P on alternate feed"]
    assert find(states, "UPS on bypass").parent["UPS"] == "UPS.bypass"
    assert find(states, "P on alternate feed").parent["P"] == "P.alternate"


def test_second_transfer_switch_waits_for_the_first() -> None:
    """ATS-2 takes its normal side from a panel behind ATS-1: that comes back, so ATS-2 stays."""
    states, _ = plan(
        model(
            item("transfer switch", "ATS-2", *transfer("ATS-2", "E1", "G1")),
            *clinic()[:4],
            item("panelboard", "E1", "ATS-1"),
        )
    )
    assert find(states, "UT lost").parent["ATS-2"] == "ATS-2.normal"


def test_parallel_source_does_not_carry_the_network() -> None:
    states, _ = plan(
        model(
            item("utility", "UT", voltage="208Y/120 V"),
            item("switchboard", "MSB", "UT"),
            item("pv", "PV1", feed("MSB", "PV1", "connects to")),
        )
    )
    assert states.normal.parent["PV1"] == "PV1"
    assert find(states, "UT lost").dead == ("UT", "MSB", "PV1")


def test_too_many_states_asks_for_a_list() -> None:
    supplies_ = [item("utility", f"U{n}", voltage="480Y/277 V") for n in range(70)]
    boards = [item("switchboard", f"S{n}", f"U{n}") for n in range(70)]
    states, told = plan(model(*supplies_, *boards))
    assert len(states.states) == 64
    assert told == ["71 operating states follow from the sources, ties and bypasses; 64 are computed"]


def test_portable_source_behind_a_generator_runs_when_both_others_are_lost() -> None:
    """The generator board rests in the normal state: being dead there, it calls for nothing."""
    project = model(
        item("utility", "UT", voltage="480Y/277 V"),
        item("switchboard", "MSB", "UT"),
        item("generator", "G1", voltage="480Y/277 V"),
        item("generator connection", "GC1", voltage="480Y/277 V"),
        item("switchboard", "GDB", feed("G1", "GDB"), feed("GC1", "GDB", "alternate from", "alternate")),
        item("transfer switch", "ATS-1", *transfer("ATS-1", "MSB", "GDB")),
        item("panelboard", "E1", "ATS-1"),
    )
    states, _ = plan(project)
    assert {"GC1", "G1", "GDB"} <= set(find(states, "Normal").dead)
    assert "GC1" in find(states, "UT lost").dead
    assert path_to_source(build_network(project)[0], find(states, "UT and G1 lost"), "E1")[-1] == "GC1"
