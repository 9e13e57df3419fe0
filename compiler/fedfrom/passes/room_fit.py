"""Whether what stands in a room fits it: total wall length, depth, height, doors and entrances, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from fedfrom.formulas.working_space import entrances_needed, working_height_ft
from fedfrom.passes.room_contents import WORST_CONDITION, Content, rule
from fedfrom.passes.room_layout import Block, Placed, Rect, RoomGrid, in_order
from fedfrom.results.assembly import RoomDoor, RoomItem
from fedfrom.tables import Edition

Size = tuple[float, float, float | None]


@dataclass(frozen=True, slots=True)
class Fit:
    """The outcome: sentences on what surely does not fit, on what stays open, and on what the plan assumed."""

    misfits: tuple[str, ...]
    open_points: tuple[str, ...]
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Filled:
    """The things and doors with their places in the plan, and the outcome."""

    items: tuple[RoomItem, ...]
    doors: tuple[RoomDoor, ...]
    fit: Fit


def fill(edition: Edition, size: Size, found: Sequence[Content], doors: Sequence[RoomDoor]) -> Filled:
    """Place everything in a room of `size` (length, width, height in feet) and judge it."""
    length, width, _ = size
    grid = RoomGrid(length, width)
    blocks = _blocks(found)
    placed = {block.key: grid.place(block) for block in in_order(list(blocks.values()))}
    items = tuple(_with_place(edition, grid, content, found, placed) for content in found)
    set_doors = tuple(_with_door(grid, door) for door in doors)
    misfits = tuple(_misfits(edition, size, found, doors))
    open_points = tuple(_open_points(blocks, placed, set_doors, bool(misfits)))
    return Filled(items, set_doors, Fit(misfits, open_points, tuple(_assumed(items, set_doors))))


def _blocks(found: Sequence[Content]) -> dict[str, Block]:
    """Blocks by the tag of their first thing; a joined line-up is one block."""
    blocks: dict[str, Block] = {}
    for content in found:
        block = content.block
        if block is None:
            continue
        first = blocks.get(content.joined)
        if first is None:
            blocks[block.key] = block
            continue
        blocks[content.joined] = replace(
            first,
            width=first.width + block.width,
            depth=max(first.depth, block.depth),
            work=max(first.work, block.work),
            work_width=first.width + block.width,
            rear=max(first.rear, block.rear),
        )
    return blocks


def _with_place(
    edition: Edition, grid: RoomGrid, content: Content, found: Sequence[Content], placed: dict[str, Placed | None]
) -> RoomItem:
    """The item with its footprint and working space; of a joined line-up its own share of them."""
    item = content.item
    spot = placed.get(content.joined) or placed.get(item.tag)
    if spot is None or content.block is None:
        return item
    start, share = _share_of(content, found)
    left, top, right, bottom = _part(spot.footprint, spot.wall, start, share)
    entrances = item.two_entrances
    if entrances and item.work_depth_ft is not None:
        twice = rule(edition, "double_depth")
        entrances = entrances_needed(True, grid.clear_depth(spot), item.work_depth_ft, twice) == 2
    worked = item.work_depth_ft is not None
    condition = WORST_CONDITION if grid.faces_another(spot) and worked else item.condition
    return replace(
        item,
        wall=spot.wall,
        left_ft=left,
        top_ft=top,
        right_ft=right,
        bottom_ft=bottom,
        work=_part(spot.work, spot.wall, start, share) if spot.work is not None else None,
        two_entrances=entrances,
        condition=condition,
        work_depth_ft=spot.block.facing_work if condition == WORST_CONDITION else item.work_depth_ft,
    )


def _share_of(content: Content, found: Sequence[Content]) -> tuple[float, float]:
    """Where a thing begins in its block and how much it takes of it: fractions from the left, seen from the front."""
    first = content.joined or content.item.tag
    members = [each for each in found if each.item.tag == first or (each.joined and each.joined == first)]
    members = [each for each in members if each.block is not None]
    total = sum(each.block.width for each in members if each.block is not None)
    before = 0.0
    for each in members:
        width = each.block.width if each.block is not None else 0.0
        if each is content:
            return before / total, width / total
        before += width
    return 0.0, 1.0


def _part(rect: Rect, wall: str, start: float, share: float) -> Rect:
    """A share of a rectangle along its wall. From the front, left is west at the north wall, north at the east wall."""
    left, top, right, bottom = rect
    if wall in ("south", "west"):
        start = 1.0 - start - share
    if wall in ("west", "east"):
        length = bottom - top
        return left, top + start * length, right, top + (start + share) * length
    length = right - left
    return left + start * length, top, left + (start + share) * length, bottom


def _with_door(grid: RoomGrid, door: RoomDoor) -> RoomDoor:
    found = grid.door(door.width_ft, door.wall)
    return door if found is None else replace(door, wall=found[0], start_ft=found[1])


def _misfits(edition: Edition, size: Size, found: Sequence[Content], doors: Sequence[RoomDoor]) -> Iterator[str]:
    """What cannot fit however it is turned; certain, not a failure of the search."""
    length, width, height = size
    long, short = max(length, width), min(length, width)
    total = 0.0
    for content in found:
        item, block = content.item, content.block
        if block is None:
            continue
        total += block.width
        deep = block.depth + block.rear + _least_work(content)
        if block.width > long + 1e-6:
            yield f"{item.tag} is {feet(block.width)} long; the longest wall is {feet(long)}"
        elif deep > (short if block.width > short + 1e-6 else long) + 1e-6:
            across = short if block.width > short + 1e-6 else long
            yield f"{item.tag} with its working space needs {feet(deep)} across the room; there are {feet(across)}"
        if height is not None and item.height_in is not None:
            if item.height_in / 12 > height:
                yield f"{item.tag} is {feet(item.height_in / 12)} high; the room is {feet(height)} high"
            elif item.work_depth_ft is not None:
                clear = working_height_ft(item.height_in / 12, rule(edition, "working_height"))
                if clear > height:
                    yield f"the working space of {item.tag} is {feet(clear)} high; the room is {feet(height)} high"
    around = 2 * (length + width) - sum(door.width_ft for door in doors)
    if total > around + 1e-6:
        yield f"the equipment takes {feet(total)} of wall; the room has {feet(around)} beside its doors"


def _least_work(content: Content) -> float:
    """The working depth that is surely needed: that of condition 1, at least 3 ft, where the wall is not known."""
    item = content.item
    if item.work_depth_ft is None:
        return 0.0
    return item.work_depth_ft if item.condition is not None else min(item.work_depth_ft, 3.0)


def _open_points(
    blocks: dict[str, Block], placed: dict[str, Placed | None], doors: Sequence[RoomDoor], misfit: bool
) -> Iterator[str]:
    if misfit:
        return
    left_out = [key for key in blocks if placed.get(key) is None]
    if left_out:
        yield f"an arrangement by hand: the plan found no place for {', '.join(left_out)} with its working space free"
    if any(door.start_ft is None for door in doors):
        yield "a place for each door: the plan found no free stretch of wall for one"


def _assumed(items: Sequence[RoomItem], doors: Sequence[RoomDoor]) -> Iterator[str]:
    if any(item.work_depth_ft is not None and item.condition is None for item in items):
        yield "`facing` is not stated: the working space is drawn for condition 3, the deepest"
    if any(item.left_ft is not None and not item.pinned for item in items):
        yield "walls are chosen by the plan where the text names none"
    if any(not door.pinned for door in doors):
        yield "the walls of the doors are chosen by the plan"
    if doors:
        yield "the places of doors along their walls are chosen by the plan"


def feet(value: float) -> str:
    """A length for a sentence: "12 ft 6 in"."""
    inches = round(value * 12)
    whole, rest = divmod(inches, 12)
    return f"{whole} ft {rest} in" if rest else f"{whole} ft"
