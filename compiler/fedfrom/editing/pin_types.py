"""What `pin` works with: a chosen value, the words that write it down, and its one home in the text."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from fedfrom.source import Span
from fedfrom.syntax.tree import Site


class How(enum.Enum):
    """Where in its home a value is written."""

    OPTION = "after a comma"  # `fed from MSB, 180 ft, sets 2`
    RATING = "after the word of the device"  # `breaker 350 A, LSI`
    POSITIONS = "before the kind"  # `1,3 equipment "Kiln" 9 kW`
    PROPERTY = "on a line of its own"  # `bus 225 A`
    KIND = "in the place of `gear`"  # `panelboard DP1`


class Reach(enum.Enum):
    """What must be asked for to pin a value."""

    ITEM = "the item"  # `pin LP1`
    CIRCUIT = "the circuit"  # `pin LP1.3`
    NAME = "its own name"  # `pin LP1.sccr`


@dataclass(frozen=True, slots=True)
class Home:
    """The line that a value belongs to: of an item (its head), a feed, a load, a reserve, a main, a tie.

    `item`: the tag that it is part of. `span`: where the line stands. `device`: where its device stands, if it has one.
    """

    item: str
    span: Span
    trail: tuple[Site, ...] = ()
    device: Span | None = None


@dataclass(frozen=True, slots=True)
class Candidate:
    """One value that may be pinned.

    `subject`: what it is called ("LP1.feeder.phase"). `words`: how it is written ("phase 3/0 AWG"), "" where it cannot
    be: then `reason` says why. `also`: a fact that the words need beside them ("120 V"). `written`: where it stands
    already. `reach`: what asks for it. `shares`: the other subjects that the same words settle (the circuits of a line
    with `x 4`).
    """

    subject: str
    words: str
    how: How
    home: Home | None
    written: Span | None = None
    reason: str = ""
    reach: Reach = Reach.ITEM
    shares: tuple[str, ...] = ()
    also: str = ""


@dataclass(frozen=True, slots=True)
class Unpinned:
    """A value that cannot be pinned where it stands, and why."""

    subject: str
    reason: str


@dataclass(frozen=True, slots=True)
class Pinned:
    """A value that the new texts hold."""

    subject: str
    words: str
    place: Span
