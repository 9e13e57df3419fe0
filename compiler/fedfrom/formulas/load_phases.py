"""Loads on phases: a load as VA between the conductors that it hangs on, and the currents that follow.

A `PhaseLoad` holds VA from A, B, C to neutral, from A to B, B to C, C to A, and balanced three-phase: seven numbers.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable

PhaseLoad = tuple[float, float, float, float, float, float, float]
NOTHING: PhaseLoad = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
_PLACES = {"A": 0, "B": 1, "C": 2, "AB": 3, "BC": 4, "CA": 5, "ABC": 6}
_PAIRS = ("AB", "BC", "CA")
THREE_PAIRS = (3, 4, 5)  # the places of AB, BC and CA


def place_on(phases: str, va: float, to_neutral: bool) -> PhaseLoad:
    """A load of `va` on these poles: "A" and, to the neutral, "AB" share it; line to line "AB" or "CA"; "ABC".

    Poles that were wrongly pinned to one phase ("AA") count once.
    """
    found = [0.0] * 7
    phases = "".join(dict.fromkeys(phases))
    if to_neutral or len(phases) == 1:
        for letter in phases:
            found[_PLACES[letter]] += va / len(phases)
    else:
        found[_PLACES[ordered_pair(phases)]] += va
    return as_load(found)


def ordered_pair(phases: str) -> str:
    """The pair in its own order: "BA" -> "AB", "AC" -> "CA"; one and three letters as they are."""
    if len(phases) == 3:
        return "ABC"
    return phases if phases in _PLACES else phases[::-1]


def as_load(values: Iterable[float]) -> PhaseLoad:
    a, b, c, ab, bc, ca, abc = values
    return (a, b, c, ab, bc, ca, abc)


def add(loads: Iterable[PhaseLoad]) -> PhaseLoad:
    """The sum of loads."""
    a = b = c = ab = bc = ca = abc = 0.0
    for load in loads:
        a += load[0]
        b += load[1]
        c += load[2]
        ab += load[3]
        bc += load[4]
        ca += load[5]
        abc += load[6]
    return (a, b, c, ab, bc, ca, abc)


def scale(load: PhaseLoad, factor: float) -> PhaseLoad:
    """A load times a factor."""
    a, b, c, ab, bc, ca, abc = load
    return (a * factor, b * factor, c * factor, ab * factor, bc * factor, ca * factor, abc * factor)


def evenly(load: PhaseLoad, letters: str = "", pairs: tuple[int, ...] = ()) -> PhaseLoad:
    """A load divided evenly: its line-to-neutral part over `letters`, its line-to-line part over `pairs` (places in a
    `PhaseLoad`); over those that it uses where none are given (NEC 210.11(B))."""
    found = list(load)
    singles = [_PLACES[letter] for letter in letters] or [index for index in range(3) if load[index]]
    across = list(pairs) or [index for index in range(3, 6) if load[index]]
    for places, total in ((singles, sum(load[:3])), (across, sum(load[3:6]))):
        if not total:
            continue
        for index in range(3) if places is singles else range(3, 6):
            found[index] = total / len(places) if index in places else 0.0
    return as_load(found)


def by_phase(load: PhaseLoad) -> tuple[float, float, float]:
    """VA on A, B and C: a line-to-line load is shared by its two phases. The three add up to the load."""
    a, b, c, ab, bc, ca, abc = load
    third = abc / 3
    return (a + (ab + ca) / 2 + third, b + (ab + bc) / 2 + third, c + (bc + ca) / 2 + third)


def on_pair(load: PhaseLoad, phases: str) -> PhaseLoad:
    """A load on a single-phase panel (A, B) seen from the three-phase side where the panel takes `phases` ("BC")."""
    found = [0.0] * 7
    if len(phases) == 1:
        found[_PLACES[phases]] = sum(load)
        return as_load(found)
    first, second = phases[0], phases[1]
    found[_PLACES[first]] += load[0]
    found[_PLACES[second]] += load[1]
    found[_PLACES[ordered_pair(phases)]] += load[3] + load[6] + load[2] + load[4] + load[5]
    return as_load(found)


def through_delta_wye(load: PhaseLoad) -> PhaseLoad:
    """A load on a wye secondary seen from the delta primary of its transformer.

    A line-to-neutral load hangs on one winding, between two primary lines; a line-to-line load on two windings.
    """
    a, b, c, ab, bc, ca, abc = load
    return (0.0, 0.0, 0.0, a + (ab + ca) / 2, b + (ab + bc) / 2, c + (bc + ca) / 2, abc)


def through_single_phase(load: PhaseLoad, phases: str) -> PhaseLoad:
    """A load behind a single-phase transformer whose primary takes `phases` ("AB" or "A")."""
    found = [0.0] * 7
    found[_PLACES[ordered_pair(phases)]] = sum(load)
    return as_load(found)


def terminals(kind: str, line_to_line_v: float, line_to_neutral_v: float) -> tuple[complex, complex, complex]:
    """The potentials of A, B and C against the neutral (or the middle) of a voltage system, in V."""
    if kind == "high-leg delta":
        half = line_to_line_v / 2
        return complex(-half, 0), complex(0, half * math.sqrt(3)), complex(half, 0)
    if kind in ("single-phase", "dc"):
        half = line_to_line_v / 2
        return complex(half, 0), complex(-half, 0), 0j
    if kind in ("two-wire", "isolated"):
        if line_to_neutral_v:
            return complex(line_to_neutral_v, 0), 0j, 0j
        return complex(line_to_line_v / 2, 0), complex(-line_to_line_v / 2, 0), 0j
    star = line_to_line_v / math.sqrt(3)
    third = 2 * math.pi / 3
    return complex(star, 0), cmath.rect(star, -third), cmath.rect(star, third)


def line_currents(load: PhaseLoad, points: tuple[complex, complex, complex]) -> tuple[float, float, float]:
    """The current in each line in A, loads of one power factor added as phasors.

    `points`: `terminals`. A place without a potential of its own carries nothing.
    """
    currents = [0j, 0j, 0j]
    for index, va in enumerate(load[:3]):
        if va and points[index]:
            currents[index] += (va / points[index]).conjugate()
    for pair, va in zip(_PAIRS, load[3:6], strict=True):
        first, second = _PLACES[pair[0]], _PLACES[pair[1]]
        across = points[first] - points[second]
        if va and across:
            current = (va / across).conjugate()
            currents[first] += current
            currents[second] -= current
    if load[6]:
        middle = sum(points) / 3
        for index, point in enumerate(points):
            currents[index] += (load[6] / 3 / (point - middle)).conjugate()
    return (abs(currents[0]), abs(currents[1]), abs(currents[2]))


def component_current(
    load: PhaseLoad, each_va: float, points: tuple[complex, complex, complex]
) -> tuple[float, float, float]:
    """The line currents in A of one piece of `each_va` wherever pieces of it hang: the greatest on each line."""
    found = [0.0, 0.0, 0.0]
    for index, va in enumerate(load):
        if not va:
            continue
        alone = as_load(each_va if place == index else 0.0 for place in range(7))
        for line, current in enumerate(line_currents(alone, points)):
            found[line] = max(found[line], current)
    return (found[0], found[1], found[2])
