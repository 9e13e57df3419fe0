"""Loads that do not run together: only the largest group counts at a node (220.60)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fedfrom.model.items import Noncoincident
from fedfrom.passes.demand_tables import rule_220
from fedfrom.passes.load_demand import LARGEST_MOTOR, Demand
from fedfrom.passes.load_gather import Counted
from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class Split:
    """Loads that count at a node and loads left out. `raised`: motors that count at 125 %, with the VA that this adds:
    their group is the larger only so."""

    counted: list[Counted]
    left_out: list[Counted]
    raised: tuple[tuple[Counted, float], ...] = ()


def split_noncoincident(loads: Sequence[Counted], statements: Sequence[Noncoincident], edition: Edition) -> Split:
    """Which loads count at a node. Groups are compared where at least two of them hang below.

    A motor or air conditioner whose group is not the largest is compared, and counted, at 125 %: in the 2020 edition
    where it is the largest motor here, from 2023 on always (220.60).
    """
    left_out: set[int] = set()
    raised: list[tuple[Counted, float]] = []
    for statement in statements:
        groups = [
            [entry for entry in loads if entry.load.tag and entry.load.tag in group] for group in statement.groups
        ]
        present = [group for group in groups if group]
        if len(present) < 2:
            continue
        inside = {id(entry) for group in present for entry in group}
        outside = [entry for entry in loads if id(entry) not in inside]
        extras = [_extra(group, outside, edition) for group in present]
        plain = [sum(entry.va for entry in group) for group in present]
        largest = max(range(len(present)), key=lambda index: (plain[index] + extras[index][1], -index))
        entry, more = extras[largest]
        if entry is not None and plain[largest] < max(plain):
            raised.append((entry, more))
        left_out |= inside - {id(entry) for entry in present[largest]}
    return Split(
        [entry for entry in loads if id(entry) not in left_out],
        [entry for entry in loads if id(entry) in left_out],
        tuple((entry, more) for entry, more in raised if id(entry) not in left_out),
    )


def _extra(group: Sequence[Counted], outside: Sequence[Counted], edition: Edition) -> tuple[Counted | None, float]:
    """The largest motor of a group and the 25 % that it may count more; nothing where the edition adds nothing."""
    motors = [entry for entry in group if entry.load.motor]
    if edition.year < 2020 or not motors:
        return None, 0.0
    largest = max(motors, key=_one_piece)
    beside = max((_one_piece(entry) for entry in outside if entry.load.motor), default=0.0)
    if edition.year < 2023 and _one_piece(largest) < beside:
        return None, 0.0
    share = rule_220(edition, "noncoincident_motor_not_largest") / 100 - 1
    return largest, share * _one_piece(largest)


def _one_piece(entry: Counted) -> float:
    return entry.va / max(entry.load.count, 1)


def raise_motors(demands: list[Demand], split: Split) -> list[Demand]:
    """Counts the raised motors of noncoincident groups at 125 %, save the one that the largest-motor line raises."""
    for motor, more in split.raised:
        if any(line.category == LARGEST_MOTOR and line.parts[0][0] is motor for line in demands):
            continue
        for index, line in enumerate(demands):
            if line.added or all(entry is not motor for entry, _ in line.parts):
                continue
            parts = tuple((entry, va + more if entry is motor else va) for entry, va in line.parts)
            name = motor.load.tag or motor.load.name
            demands[index] = replace(line, parts=parts, factor=f"{line.factor}, {name} at 125 % (220.60)")
    return demands
