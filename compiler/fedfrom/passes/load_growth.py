"""Room for growth at the node where it stands: never compounded up the tree, never on managed loads."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.graph.network import Node
from fedfrom.model.items import Status
from fedfrom.passes.load_demand import Demand
from fedfrom.passes.load_totals import even_a
from fedfrom.passes.work import Work
from fedfrom.quantity import Quantity


def written_growth_pct(node: Node, of: str) -> float | None:
    """The percentage of `growth load …, poles …` written at a node, or None."""
    fact = node.item.facts.first("growth")
    value = fact.values.get(of) if fact is not None else None
    return float(value) if isinstance(value, Quantity) else None


def growth_poles_pct(work: Work, node: Node) -> float:
    """Spare places asked for at a node in percent: its own figure, else the project's for what is not existing."""
    own = written_growth_pct(node, "poles")
    if own is not None:
        return own
    stated = work.model.defaults.growth_poles_pct
    return stated.value if stated is not None and node.item.status is not Status.EXISTING else 0.0


def growth_load_pct(work: Work, node: Node) -> float:
    """The growth of load at a node in percent: its own, else the project's for what is not existing; 0 for none.

    A source has no growth of its own: its gear has.
    """
    own = written_growth_pct(node, "load")
    if own is not None:
        return own
    stated = work.model.defaults.growth_load_pct
    if stated is None or node.item.status is Status.EXISTING or node.role == "source":
        return 0.0
    return stated.value


def with_growth(
    work: Work, node: Node, demands: Sequence[Demand], design_a: float, design_with_future_a: float
) -> float:
    """The design current in A with growth: the percentage on what is not managed, or the future loads that the text
    names, whichever is more (a future load is part of the growth, not on top of it).

    Growth comes on top of the load spread evenly, because it finds its place on the phases that carry less; the phase
    that carries most today is held as it is.
    """
    total = sum(line.demand_va for line in demands)
    managed = sum(va for line in demands for entry, va in line.parts if entry.load.managed)
    growing = 1.0 - managed / total if total else 1.0
    evenly_a = even_a(demands, node.system, 0.25)
    return max(design_a, evenly_a * (1 + growth_load_pct(work, node) / 100 * growing), design_with_future_a)
