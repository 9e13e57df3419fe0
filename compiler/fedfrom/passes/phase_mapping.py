"""How a load behind a feed is seen from the source's side of it."""

from __future__ import annotations

from fedfrom.formulas.load_phases import PhaseLoad, on_pair, through_delta_wye, through_single_phase
from fedfrom.graph.network import Node
from fedfrom.quantity import VoltageSystem


def letters_of(system: VoltageSystem | None) -> str:
    """The phases of a system in order: "ABC", "AB" for single-phase and DC, "A" for two wires to the neutral."""
    if system is None or system.phases == 3:
        return "ABC"
    return "A" if system.kind == "two-wire" and system.line_to_neutral_v else "AB"


def seen_from_source(load: PhaseLoad, node: Node, phases: str) -> PhaseLoad:
    """A load at the outgoing side of `node`, in the phases of the gear that feeds it.

    `phases`: those that its feeder takes there ("BC"), "" for all of them.
    """
    if node.role == "transformer" and node.item.secondary is not None:
        load = _through_transformer(load, node, phases)
        if node.line_system is not None and node.line_system.phases == 3:
            return load
        return through_single_phase(load, phases or "AB")
    if phases and phases != "ABC":
        return on_pair(load, phases)
    return load


def _through_transformer(load: PhaseLoad, node: Node, phases: str) -> PhaseLoad:
    """Three-phase: a delta primary; a rectifier draws from all phases alike.

    A neutral on the secondary puts its loads between two lines of the primary.
    """
    secondary = node.system
    if secondary is None or secondary.phases != 3:
        is_rectifier = node.line_system is not None and node.line_system.phases == 3
        return (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, sum(load)) if is_rectifier else load
    if secondary.kind == "high-leg delta":
        a, b, c, ab, bc, ca, abc = load
        return (0.0, 0.0, 0.0, ab + b / 2, bc + b / 2, ca + a + c, abc)
    if secondary.has_neutral:
        return through_delta_wye(load)
    return load
