"""The calculation book as chapters: every thing of the tree in the order of its supply, with all its calculations."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fedfrom.documents.calculations.forms import Form, tabulated
from fedfrom.documents.calculations.overview import circuit_rows, heading
from fedfrom.documents.calculations.subjects import Subjects
from fedfrom.documents.calculations.view import Calculation, calculation
from fedfrom.graph.walk import children_of
from fedfrom.results.derivation import Derivation
from fedfrom.results.types import CircuitResult
from fedfrom.rules.registry import Design


@dataclass(frozen=True, slots=True)
class Chapter:
    """One thing: its heading, its calculations and those of its feeders and circuits that are new here.

    `circuits` (key, name, positions, device and conductors) of each row of its schedule. `forms`: calculations of one
    form, as tables. `repeated` (subject of a
    calculation that stands further up, the subjects here for which it is the same).
    """

    tag: str
    depth: int
    heading: str
    entries: tuple[Calculation, ...]
    circuits: tuple[tuple[str, str, str, str], ...]
    circuit_entries: tuple[Calculation, ...]
    forms: tuple[Form, ...]
    repeated: tuple[tuple[str, tuple[str, ...]], ...]


def chapters(design: Design) -> tuple[Chapter, ...]:
    """The chapters in the order of the tree: a source, what it feeds, what that feeds; then what nothing feeds."""
    subjects = Subjects(design)
    printed: dict[object, str] = {}
    found = []
    for tag, depth in tree_order(design):
        chapter = _chapter(subjects, tag, depth, printed)
        if chapter.entries or chapter.circuits or chapter.repeated:
            found.append(chapter)
    return tuple(found)


def tree_order(design: Design) -> Iterator[tuple[str, int]]:
    """(tag, depth) of every thing, parents first, children in source order; in the normal state, then the others."""
    network = design.network
    seen: set[str] = set()
    for state in design.plan.states:
        children = children_of(network, state)
        waiting = [(tag, 0) for tag in reversed(state.order) if tag not in state.parent and tag not in state.parallel]
        while waiting:
            tag, depth = waiting.pop()
            if tag in seen:
                continue
            seen.add(tag)
            yield tag, depth
            waiting += [(child, depth + 1) for _, child in reversed(children.get(tag, ()))]
    rest = (*network.nodes, *(tie.tag for tie in design.model.ties))
    yield from ((tag, 0) for tag in rest if tag not in seen)


def _chapter(subjects: Subjects, tag: str, depth: int, printed: dict[object, str]) -> Chapter:
    design = subjects.design
    rows = design.results.circuits.get(tag, ())
    texts = {key: text for key, _, text in circuit_rows(rows)}
    circuits = tuple((row.key, row.name or row.kind, _positions(row), texts.get(row.key, "")) for row in rows)
    repeated: dict[str, list[str]] = {}
    own = _new(design, subjects.of_tag(tag), printed, repeated)
    names = [name for row in rows if row.kind != "feeder" for name in subjects.of_circuit(row)]
    # Where a circuit stands is in the table of circuits.
    below = _new(design, [name for name in names if not name.endswith(".position")], printed, repeated)
    again = tuple((first, tuple(here)) for first, here in repeated.items())
    alone, forms = tabulated(below)
    return Chapter(tag, depth, heading(design, tag), own, circuits, alone, forms, again)


def _new(
    design: Design, names: Sequence[str], printed: dict[object, str], repeated: dict[str, list[str]]
) -> tuple[Calculation, ...]:
    """The calculations that were not printed yet; those that were are noted in `repeated`."""
    found = []
    for name in names:
        derivation = design.results.derivations[name]
        key = sameness(derivation)
        if key in printed:
            repeated.setdefault(printed[key], []).append(name)
        else:
            printed[key] = name
            found.append(calculation(design, derivation))
    return tuple(found)


def sameness(it: Derivation) -> object:
    """What makes two calculations the same: all but the subject, the thing's name in the title, and places in the text.

    References to another calculation ("see LP1.demand") do not count either: the value that they give does.
    """
    owner, _, kind = it.subject.rpartition(".")
    title = it.title.replace(owner.removesuffix(".feeder"), "")
    inputs = tuple(
        (each.symbol, each.name, each.value, each.origin, "" if each.source.startswith("see ") else each.source)
        for each in it.inputs
    )
    return kind, title, it.value, it.origin, inputs, it.steps, it.rounding, it.clause, it.rejected, it.state


def _positions(row: CircuitResult) -> str:
    """ "1, 3 on A-B, pinned"; "" on gear without numbered positions."""
    if not row.positions:
        return ""
    places = ", ".join(str(position) for position in row.positions)
    return f"{places} on {'-'.join(row.phases)}{', pinned' if row.pinned else ''}"
