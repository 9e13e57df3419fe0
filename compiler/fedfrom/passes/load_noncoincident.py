"""Loads that do not run together: only the largest group counts at a node (220.60)."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.model.items import Noncoincident
from fedfrom.passes.demand_tables import rule_220
from fedfrom.passes.load_gather import Counted
from fedfrom.tables import Edition


def split_noncoincident(
    loads: Sequence[Counted], statements: Sequence[Noncoincident], edition: Edition
) -> tuple[list[Counted], list[Counted]]:
    """(loads that count, loads left out) at a node. Groups are compared where at least two of them hang below.

    From 2020 on a motor or air-conditioning load that is not the largest is compared at 125 % (220.60).
    """
    left_out: set[int] = set()
    for statement in statements:
        groups = [
            [entry for entry in loads if entry.load.tag and entry.load.tag in group] for group in statement.groups
        ]
        present = [group for group in groups if group]
        if len(present) < 2:
            continue
        sizes = [_compared(group, edition) for group in present]
        largest = max(range(len(present)), key=lambda index: (sizes[index], -index))
        kept = {id(entry) for entry in present[largest]}
        left_out |= {id(entry) for group in present for entry in group if id(entry) not in kept}
    return (
        [entry for entry in loads if id(entry) not in left_out],
        [entry for entry in loads if id(entry) in left_out],
    )


def _compared(group: Sequence[Counted], edition: Edition) -> float:
    total = sum(entry.va for entry in group)
    if edition.year < 2020:
        return total
    motors = [entry.va / max(entry.load.count, 1) for entry in group if entry.load.motor]
    extra = rule_220(edition, "noncoincident_motor_not_largest") / 100 - 1
    return total + extra * max(motors, default=0.0)
