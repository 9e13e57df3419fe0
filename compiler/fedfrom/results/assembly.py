"""What gear is built of and what stands in a room: records of line-ups, cabinets, sizes and room plans.

Sizes are inches, rooms are feet. `basis` says whether a size is a planning figure or the user's own; None = not known.
"""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.source import Span

PLANNING = "planning dimensions, makers differ"


@dataclass(frozen=True, slots=True)
class ClassMeasure:
    """One fact held against one limit of a class, for the comparison sheet.

    `label` names the criterion, `value` the fact in words ("1600 A"; "" where asking is all), `limit` the limit in
    words ("" where the class sets none). `severity` "error" (a published bound), "warning" (practice) or "" (no limit);
    `source` where the limit comes from, or how far it is vouched for.
    """

    criterion: str
    label: str
    kept: bool
    value: str
    limit: str
    severity: str
    source: str


@dataclass(frozen=True, slots=True)
class MountedDevice:
    """A device, or a place for one, in a section.

    `key`: the circuit's key, "TAG.main", the tag of a tie, or "" for what is none of these (metering, surge device).
    `role`: "main", "tie", "feeder", "load", "spare", "space", "tap", "metering", "surge device", "unit".
    `mounting`: "group", "individual", "drawout", "" where it does not apply. `top_in` is measured from the top of the
    space for devices, `height_in` is the height taken there; `across` 2: half the width, `side` "left" or "right".
    """

    key: str
    role: str
    mounting: str
    top_in: float
    height_in: float
    across: int = 1
    side: str = ""
    frame_a: float | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class Assembly:
    """A piece of gear as it is built.

    `width_in` of the whole line-up or cabinet; `mounting` "floor" or "wall"; `interiors` positions of each panel
    interior, () where there are no positions; `mains` "main breaker", "main lugs only" …; `feed_through` and `sub_feed`
    the tags fed from those lugs; `shipping` section numbers that travel together; `pad` width, depth and height of the
    pad, None without one; `joined` the tag of the gear on the same through bus (a tie without length).
    """

    width_in: float | None
    depth_in: float | None
    height_in: float | None
    weight_lb: float | None
    mounting: str
    basis: str
    access: str = ""
    entry: str = ""
    feed_entry: str = ""
    mains: str = ""
    interiors: tuple[int, ...] = ()
    feed_through: tuple[str, ...] = ()
    sub_feed: tuple[str, ...] = ()
    shipping: tuple[tuple[int, ...], ...] = ()
    pad: tuple[float, float, float] | None = None
    joined: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RoomItem:
    """Equipment in a room, where the plan puts it.

    `wall`: "north", "east", "south", "west", "center", or "" where no wall has room for it; `pinned` when the text
    names the wall. `left_ft`, `top_ft`, `right_ft`, `bottom_ft`: its footprint, from the room's north-west corner
    (x east, y south); None when not placed. `work_*`: depth and width of the working space; `work` its rectangle;
    `rear_ft` the depth of the space behind. `volts_to_ground` and `condition` (1, 2, 3; None: not stated) decide the
    depth, `rated_a` the entrances.
    """

    tag: str
    title: str
    kind: str
    width_in: float | None
    depth_in: float | None
    height_in: float | None
    mounting: str
    basis: str
    rated_a: float | None = None
    volts_to_ground: float | None = None
    condition: int | None = None
    work_depth_ft: float | None = None
    work_width_ft: float | None = None
    rear_ft: float = 0.0
    wall: str = ""
    pinned: bool = False
    left_ft: float | None = None
    top_ft: float | None = None
    right_ft: float | None = None
    bottom_ft: float | None = None
    work: tuple[float, float, float, float] | None = None
    two_entrances: bool = False
    panic_hardware: bool = False
    status: str = "new"
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class RoomDoor:
    """A door: width, which way it swings ("in", "out", "" not stated), hardware, and where the plan draws it."""

    width_ft: float
    swings: str
    panic_hardware: bool
    wall: str
    start_ft: float | None
    pinned: bool
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class RoomResult:
    """A room held against what stands in it: wall length, depth, height, doors and entrances, and nothing else.

    `length_ft` runs east, `width_ft` south; None where the text states no size. `fits` True, False, or None = not
    checked: `needs` says what is missing; `misfits` are sentences that say what does not fit and by how much.
    `assumed` are sentences on what the plan takes where the text is silent.
    """

    tag: str
    title: str
    level: str
    length_ft: float | None
    width_ft: float | None
    height_ft: float | None
    facing: str
    items: tuple[RoomItem, ...]
    doors: tuple[RoomDoor, ...]
    entrances_needed: int
    panic_hardware_needed: bool
    wall_needed_ft: float | None
    fits: bool | None
    needs: tuple[str, ...] = ()
    misfits: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    span: Span | None = None
