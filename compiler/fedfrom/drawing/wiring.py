"""Which runs are drawn straight down, which beside, which in channels; and the rigid items that follow from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fedfrom.drawing.layout import Layout
from fedfrom.drawing.outline import Bond, Run


@dataclass(frozen=True, slots=True)
class Item:
    """A rigid piece: one root with its tree, or several boards joined by ties, left to right.

    `roots` are keys of parts; `boards[i]` is the tied board in the tree of `roots[i]`, `ties[i]` stands between boards
    i and i + 1.
    """

    roots: tuple[str, ...]
    boards: tuple[str, ...] = ()
    ties: tuple[Bond, ...] = ()


def sort_runs(layout: Layout) -> None:
    """Decide `links` and `beside` anew from the runs that are not cut."""
    links: set[str] = set()
    beside: dict[str, tuple[Run, ...]] = {}
    for key in layout.outline.parts:
        inputs = layout.inputs(key)
        if len(inputs) > 1:
            near, far = _several(inputs, layout)
            if near:
                beside[key] = near
            links |= {run.id for run in (*near, *far)}
        elif inputs and _is_tied(key, layout) and not exclusive(inputs[0], layout) and inputs[0].id not in layout.cut:
            links.add(inputs[0].id)
    changed = links ^ layout.links
    before = {run.id for runs in layout.beside.values() for run in runs}
    after = {run.id for runs in beside.values() for run in runs}
    layout.links, layout.beside = links, beside
    for run in layout.outline.runs.values():
        if run.id in changed or (run.id in before) != (run.id in after):
            layout.forget(run.source)
            layout.forget(run.target)


def _several(inputs: tuple[Run, ...], layout: Layout) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    """(runs whose source stands beside, runs wired through channels) of a part with several inputs."""
    kept = [run for run in inputs if run.id not in layout.cut]
    extras = [run for run in kept if run is not inputs[0]]
    near = tuple(run for run in extras if exclusive(run, layout))
    far = tuple(run for run in extras if run not in near)
    if inputs[0].id in layout.cut:
        return near, far
    if exclusive(inputs[0], layout):
        return ((inputs[0], *near) if extras else near), far
    return (near, (inputs[0], *far)) if far or _is_tied(inputs[0].target, layout) else (near, ())


def _is_tied(key: str, layout: Layout) -> bool:
    return any(key in tie.ends for tie in layout.outline.ties if f"{tie.tag}|tie" not in layout.cut)


def exclusive(run: Run, layout: Layout) -> bool:
    """Whether a run comes from a source, perhaps through transformers, that feeds nothing else."""
    seen: set[str] = set()
    while run.id not in layout.cut and run.source not in seen:
        seen.add(run.source)
        part = layout.outline.parts[run.source]
        if layout.outlets(part.key) != (run,) or part.kind not in ("source", "transformer"):
            return False
        inputs = layout.inputs(part.key)
        if not inputs:
            return part.kind == "source"
        if len(inputs) > 1:
            return False
        run = inputs[0]
    return False


def items(layout: Layout) -> list[Item]:
    """All rigid pieces in declared order; those joined by ties are one."""
    roots = [key for key in layout.outline.parts if _is_root(key, layout)]
    reached: set[str] = set()
    for root in roots:
        reached.update(tree(root, layout))
    for key in layout.outline.parts:  # parts of a circle of feeds, which has no top
        if key not in reached and not _is_beside(key, layout):
            layout.cut.update(run.id for run in layout.inputs(key)[:1])
            layout.forget(key)
            roots.append(key)
            reached.update(tree(key, layout))
    return _tied(roots, layout)


def _is_root(key: str, layout: Layout) -> bool:
    inputs = layout.inputs(key)
    if inputs and layout.is_tree(inputs[0]):
        return False
    return not _is_beside(key, layout)


def _is_beside(key: str, layout: Layout) -> bool:
    """Whether a part is a source (or its transformer) that is drawn beside what it feeds."""
    seen: set[str] = set()
    while key not in seen:
        seen.add(key)
        runs = layout.outlets(key)
        if len(runs) != 1 or layout.outline.parts[key].kind not in ("source", "transformer"):
            return False
        if any(run.id == runs[0].id for run in layout.beside.get(runs[0].target, ())):
            return True
        key = runs[0].target
    return False


def tree(root: str, layout: Layout) -> Iterator[str]:
    """The parts of a tree, parents first, in order."""
    pending = [root]
    seen: set[str] = set()
    while pending:
        key = pending.pop()
        if key in seen:
            continue
        seen.add(key)
        yield key
        pending += [run.target for run in reversed(layout.outlets(key)) if _hangs(run, layout)]


def _hangs(run: Run, layout: Layout) -> bool:
    return layout.is_tree(run) and layout.inputs(run.target)[:1] == (run,)


@dataclass(slots=True)
class _Row:
    roots: list[str]
    boards: list[str]
    ties: list[Bond]

    def turned(self) -> _Row:
        return _Row(self.roots[::-1], self.boards[::-1], self.ties[::-1])


def _tied(roots: list[str], layout: Layout) -> list[Item]:
    """Join roots whose boards are tied side by side. A tie that closes a ring, or branches, ends in flags."""
    home: dict[str, str] = {}
    for root in roots:
        for key in tree(root, layout):
            home.setdefault(key, root)
    rows: dict[str, _Row] = {root: _Row([root], [], []) for root in roots}
    for tie in layout.outline.ties:
        if f"{tie.tag}|tie" in layout.cut:
            continue
        joined = _join(tie, rows, home)
        if joined is None:
            layout.cut.add(f"{tie.tag}|tie")
            for end in tie.ends:
                layout.forget(end)
            continue
        for root in joined.roots:
            rows[root] = joined
    found: list[Item] = []
    done: set[str] = set()
    for root in roots:
        if root not in done:
            row = rows[root]
            done.update(row.roots)
            found.append(Item(tuple(row.roots), tuple(row.boards), tuple(row.ties)))
    return found


def _join(tie: Bond, rows: dict[str, _Row], home: dict[str, str]) -> _Row | None:
    """The row that a tie makes of two, None where its boards cannot stand side by side at one height."""
    left, right = tie.ends
    one, other = rows.get(home.get(left, "")), rows.get(home.get(right, ""))
    if one is None or other is None or one is other:
        return None
    one = one if not one.boards or one.boards[-1] == left else one.turned()
    other = other if not other.boards or other.boards[0] == right else other.turned()
    if (one.boards and one.boards[-1] != left) or (other.boards and other.boards[0] != right):
        return None
    return _Row(
        [*one.roots, *other.roots],
        [*(one.boards or [left]), *(other.boards or [right])],
        [*one.ties, tie, *other.ties],
    )
