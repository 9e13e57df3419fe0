"""Driving-point impedances of a network of sources, motors and branches: exact for trees and for closed loops alike.

The admittance matrix of a building is almost a tree. It is factored sparsely in an order that eliminates leaves first
(minimum degree), and only the entries of the inverse that lie on that pattern are computed back, so the work grows with
the number of buses and not with its square.
Source: sparse inverse by K. Takahashi, J. Fagan and M. Chen (1973), as used for short-circuit studies.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush


class NetworkError(ValueError):
    """A branch or shunt without impedance: buses joined without impedance must be given as one bus."""


@dataclass(frozen=True, slots=True)
class Branch:
    """Impedance between two buses (numbers from 0), any one base for the whole network."""

    first: int
    second: int
    z: complex


def driving_point_impedances(
    buses: int, branches: Sequence[Branch], shunts: Mapping[int, Sequence[complex]]
) -> list[complex | None]:
    """Thevenin impedance at every bus, same base as the input; None where no source reaches the bus.

    `shunts[bus]` are the impedances of sources and motors there, to the common reference. Raises NetworkError.
    """
    live = _reached(buses, branches, shunts)
    diagonal, rows = _admittance(buses, branches, shunts)
    order, factors, pivots = _factor(sorted(live), diagonal, rows)
    return _inverse_diagonal(buses, order, factors, pivots)


def _admittance(
    buses: int, branches: Sequence[Branch], shunts: Mapping[int, Sequence[complex]]
) -> tuple[list[complex], list[dict[int, complex]]]:
    diagonal = [0j] * buses
    rows: list[dict[int, complex]] = [{} for _ in range(buses)]
    for branch in branches:
        y = _admittance_of(branch.z)
        diagonal[branch.first] += y
        diagonal[branch.second] += y
        rows[branch.first][branch.second] = rows[branch.first].get(branch.second, 0j) - y
        rows[branch.second][branch.first] = rows[branch.second].get(branch.first, 0j) - y
    for bus, impedances in shunts.items():
        for z in impedances:
            diagonal[bus] += _admittance_of(z)
    return diagonal, rows


def _admittance_of(z: complex) -> complex:
    if z == 0:
        raise NetworkError("a branch or source without impedance")
    return 1.0 / z


def _reached(buses: int, branches: Sequence[Branch], shunts: Mapping[int, Sequence[complex]]) -> set[int]:
    """Buses that are connected to some source or motor."""
    neighbours: list[list[int]] = [[] for _ in range(buses)]
    for branch in branches:
        neighbours[branch.first].append(branch.second)
        neighbours[branch.second].append(branch.first)
    waiting = [bus for bus, impedances in shunts.items() if impedances]
    seen = set(waiting)
    while waiting:
        for neighbour in neighbours[waiting.pop()]:
            if neighbour not in seen:
                seen.add(neighbour)
                waiting.append(neighbour)
    return seen


def _factor(
    live: Sequence[int], diagonal: list[complex], rows: list[dict[int, complex]]
) -> tuple[list[int], dict[int, dict[int, complex]], dict[int, complex]]:
    """L D L^T of the live buses: order of elimination, columns of L by bus, and D."""
    heap = [(len(rows[bus]), bus) for bus in live]
    heapify(heap)
    gone: set[int] = set()
    order: list[int] = []
    factors: dict[int, dict[int, complex]] = {}
    pivots: dict[int, complex] = {}
    while heap:
        degree, bus = heappop(heap)
        if bus in gone or degree != len(rows[bus]):
            continue
        gone.add(bus)
        order.append(bus)
        pivots[bus] = diagonal[bus]
        column = {other: value / diagonal[bus] for other, value in rows[bus].items()}
        factors[bus] = column
        _eliminate(bus, column, diagonal, rows)
        for other in column:
            heappush(heap, (len(rows[other]), other))
    return order, factors, pivots


def _eliminate(
    bus: int, column: Mapping[int, complex], diagonal: list[complex], rows: list[dict[int, complex]]
) -> None:
    entries = rows[bus]
    neighbours = list(column)
    for position, first in enumerate(neighbours):
        del rows[first][bus]
        diagonal[first] -= column[first] * entries[first]
        for second in neighbours[position + 1 :]:
            change = column[first] * entries[second]
            rows[first][second] = rows[first].get(second, 0j) - change
            rows[second][first] = rows[second].get(first, 0j) - change


def _inverse_diagonal(
    buses: int, order: Sequence[int], factors: Mapping[int, Mapping[int, complex]], pivots: Mapping[int, complex]
) -> list[complex | None]:
    inverse: dict[tuple[int, int], complex] = {}
    result: list[complex | None] = [None] * buses
    for bus in reversed(order):
        column = factors[bus]
        for other in column:
            value = -sum((factor * inverse[third, other] for third, factor in column.items()), start=0j)
            inverse[bus, other] = inverse[other, bus] = value
        own = 1.0 / pivots[bus] - sum((factor * inverse[other, bus] for other, factor in column.items()), start=0j)
        inverse[bus, bus] = own
        result[bus] = own
    return result
