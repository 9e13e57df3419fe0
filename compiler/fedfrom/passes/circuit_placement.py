"""Numbered positions of a panel: odd left, even right, phases by rows; pinned ones kept, open ones for balance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

# Panel interiors are not bought larger than this; more positions take a second section.
LARGEST_INTERIOR = 84


@dataclass
class Panel:
    """The positions of one panel while circuits take their places.

    `letters` the phases in the order of the rows ("ABC", "AB", "A"); `sizes` the standard numbers of positions;
    `no_neutral` the letters that no line-to-neutral load may take (the high leg). `va` by letter, as placed so far.
    """

    letters: str
    sizes: Sequence[int]
    no_neutral: str = ""
    taken: dict[int, int] = field(default_factory=dict)
    poles_placed: int = 0
    va: dict[str, float] = field(default_factory=dict)

    def phase(self, position: int) -> str:
        """The phase of a position: by rows of two, from the top."""
        return self.letters[((position - 1) // 2) % len(self.letters)]

    def phases(self, positions: Sequence[int]) -> str:
        """The phases of positions, in order."""
        return "".join(self.phase(position) for position in positions)

    def is_free(self, positions: Sequence[int]) -> bool:
        return all(position not in self.taken for position in positions)

    def take(self, positions: Sequence[int], row: int, va_by_letter: dict[str, float]) -> None:
        """Gives positions to a row and counts its load."""
        for position in positions:
            self.taken[position] = row
        self.poles_placed += len(positions)
        for letter, va in va_by_letter.items():
            self.va[letter] = self.va.get(letter, 0.0) + va

    def open_positions(self, poles: int, to_neutral: bool, limit: int = 0) -> tuple[int, ...]:
        """Free positions for an open circuit: on the phases that carry least so far, the lowest number first.

        Only the smallest standard panel that holds what is placed up to here, with a choice of phases left, is looked
        at: the panel fills from the top, and nothing added after this circuit can move it.
        """
        for size in self._windows(poles, limit):
            best: tuple[int, ...] = ()
            least = 0.0
            carried: dict[str, float] = {}
            for start in range(1, size - 2 * (poles - 1) + 1):
                if start in self.taken:
                    continue
                positions = _run(start, poles)
                if not self.is_free(positions):
                    continue
                phases = self.phases(positions)
                if to_neutral and self.no_neutral and set(phases) & set(self.no_neutral):
                    continue
                if phases not in carried:
                    carried[phases] = self._carried(phases)
                if not best or carried[phases] < least:
                    best, least = positions, carried[phases]
            if best:
                return best
        return ()

    def from_below(self, poles: int, size: int, phases: str = "") -> tuple[int, ...]:
        """The lowest free places of a panel of `size` positions for a feeder, on `phases` if given."""
        for start in range(size - 2 * (poles - 1), 0, -1):
            positions = _run(start, poles)
            here = set(self.phases(positions))
            fits = here == set(phases) if phases else poles > 1 or not here & set(self.no_neutral)
            if fits and self.is_free(positions):
                return positions
        return ()

    def _carried(self, phases: str) -> float:
        """What these phases carry, to a whole volt-ampere so that rounding decides nothing."""
        letters = dict.fromkeys(phases)
        return round(sum(self.va.get(letter, 0.0) for letter in letters) / len(letters))

    def _windows(self, poles: int, limit: int) -> list[int]:
        """Numbers of positions to look in: room for what is placed and a row more, or nothing is left to choose."""
        needed = len(self.taken) + poles
        with_choice = needed + 2 * len(self.letters)
        sizes = [size for size in self.sizes if size >= with_choice]
        if limit:
            return [*[size for size in sizes if size < limit], limit]
        beyond = max([*self.taken, *self.sizes], default=0) + 2 * poles + 2
        return [*sizes, beyond + needed]


def _run(start: int, poles: int) -> tuple[int, ...]:
    """Positions of one device: down the same side."""
    return tuple(range(start, start + 2 * poles, 2))


def is_one_side(positions: Sequence[int]) -> bool:
    """Whether positions are neighbours on one side (1,3,5 or 2,4)."""
    return all(later - earlier == 2 for earlier, later in pairwise(positions))


def smallest_size(needed: int, sizes: Sequence[int]) -> int:
    """The smallest standard number of positions that is enough; above the last, whole interiors more."""
    for size in sizes:
        if size >= needed:
            return size
    interiors = -(-needed // LARGEST_INTERIOR)
    return interiors * LARGEST_INTERIOR
