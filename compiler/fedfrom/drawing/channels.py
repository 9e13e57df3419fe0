"""Wires between two ranks: down, across on a track of its own, down. Tracks are ordered so that few wires cross."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

STRAIGHT = 0.03
SAME = 0.09


@dataclass(frozen=True, slots=True)
class Link:
    """A wire that leaves the upper rank at `out` and enters the lower one at `into` (x, inches)."""

    run: str
    out: float
    into: float

    @property
    def straight(self) -> bool:
        return abs(self.out - self.into) <= STRAIGHT

    def covers(self, x: float) -> bool:
        """Whether its horizontal part passes x."""
        return min(self.out, self.into) < x < max(self.out, self.into)


@dataclass(frozen=True, slots=True)
class Channel:
    """The track of every wire that jogs (0 is the topmost), and how many tracks there are."""

    tracks: Mapping[str, int]
    count: int


def route(links: Sequence[Link]) -> Channel | None:
    """Give every jogging wire a track; None where two wires would have to run on top of each other."""
    jogging = [link for link in links if not link.straight]
    order = _in_order(jogging)
    if order is None:
        return None
    _untangle(order)
    tracks: dict[str, int] = {}
    levels: list[list[Link]] = []
    for link in order:
        level = _first_free(link, levels, order, tracks)
        if level == len(levels):
            levels.append([])
        levels[level].append(link)
        tracks[link.run] = level
    return Channel(tracks, len(levels))


def _must_be_above(one: Link, other: Link) -> bool:
    """One's upper part stands on the same x as the other's lower part: it must turn off first."""
    return one is not other and abs(one.out - other.into) < SAME


def _in_order(links: list[Link]) -> list[Link] | None:
    """Left to right, but every wire after those that must turn off above it."""
    waiting = sorted(links, key=lambda link: (min(link.out, link.into), link.run))
    ordered: list[Link] = []
    while waiting:
        free = next((link for link in waiting if not any(_must_be_above(other, link) for other in waiting)), None)
        if free is None:
            return None
        waiting.remove(free)
        ordered.append(free)
    return ordered


def crossings(upper: Link, lower: Link) -> int:
    """How often two wires cross when `upper` has the higher track."""
    return int(lower.covers(upper.into)) + int(upper.covers(lower.out))


def _untangle(order: list[Link]) -> None:
    """Swap neighbours while that removes a crossing. At most as many rounds as there are wires."""
    for _ in range(len(order)):
        swapped = False
        for index in range(len(order) - 1):
            one, other = order[index], order[index + 1]
            if not _must_be_above(one, other) and crossings(other, one) < crossings(one, other):
                order[index], order[index + 1] = other, one
                swapped = True
        if not swapped:
            return


def _first_free(link: Link, levels: list[list[Link]], order: Sequence[Link], tracks: Mapping[str, int]) -> int:
    """The first track below everything that must stay above it; wires that do not touch share a track."""
    least = 0
    for other in order:
        if other is link:
            break
        if _touch(link, other):
            least = max(least, tracks[other.run] + 1)
    for level in range(least, len(levels)):
        if not any(_touch(link, other) for other in levels[level]):
            return level
    return len(levels)


def _touch(one: Link, other: Link) -> bool:
    """Whether two horizontal parts would meet or nearly meet on one track, or must keep their order."""
    low, high = min(one.out, one.into) - SAME, max(one.out, one.into) + SAME
    return not (max(other.out, other.into) < low or min(other.out, other.into) > high)
