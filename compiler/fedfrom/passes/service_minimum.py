"""The least rating of a service disconnect (230.79)."""

from __future__ import annotations

from fedfrom.passes.feeder_plan import FeederPlan
from fedfrom.passes.work import Work
from fedfrom.tables import Edition


def least_service_a(work: Work, plan: FeederPlan) -> tuple[float, str]:
    """(amperes, clause key) that the disconnect of a service must be rated for at least; (0, "") for other feeders."""
    if plan.kind != "service" or plan.source.item.kind != "utility":
        return 0.0, ""
    item = plan.target.item
    rows = work.circuits.get(plan.target.tag, ())
    return least_for(work.edition, item.facts.first("dwelling") is not None, len(rows))


def least_for(edition: Edition, one_family: bool, circuits: int) -> tuple[float, str]:
    """(amperes, clause key) of 230.79 for a one-family dwelling, or by the number of circuits, spaces counted."""
    key = "one_family_dwelling" if one_family else {0: "one_circuit", 1: "one_circuit", 2: "two_circuits"}.get(circuits)
    for row in edition.rows("service_230_79"):
        if row["key"] == (key or "others"):
            return float(row["least_a"]), row["clause"]
    return 0.0, ""
