"""Which of several operating states governs a node, and which feeders end there: look-ups for every reader."""

from __future__ import annotations

from fedfrom.results.types import FaultResult, FeederResult, NodeLoad, Results


def governing_load(results: Results, tag: str) -> NodeLoad | None:
    """The load of a node in the state where its design current is greatest (the first of equals), None = not known."""
    by_state = results.loads.get(tag)
    return max(by_state.values(), key=lambda load: load.design_a) if by_state else None


def governing_fault(results: Results, tag: str) -> FaultResult | None:
    """The fault at a node's bus in the state where it is greatest (the first of equals), None = not known."""
    by_state = results.faults.get(tag)
    return max(by_state.values(), key=lambda fault: fault.greatest_a) if by_state else None


def feeders_to(results: Results, tag: str) -> tuple[FeederResult, ...]:
    """The feeders that end at a node, in source order."""
    return tuple(feeder for feeder in results.feeders.values() if feeder.target == tag)


def adequacy(rating_a: float | None, fault_a: float | None) -> str:
    """ "adequate", "not adequate" or "not established" for a rating against the fault current available at it.

    Clause: NFPA 70, 110.9 (interrupting ratings) and 110.10 (short-circuit current ratings).
    """
    if rating_a is None or fault_a is None:
        return "not established"
    return "adequate" if rating_a >= fault_a else "not adequate"
