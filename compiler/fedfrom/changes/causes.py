"""Why a value changed: a chain of changed values down to something that is written differently."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from fedfrom.changes.types import Cause, Edit, Fact, Written

# Keys that are no tags: everything below them belongs to them.
SECTIONS = frozenset({"defaults", "project", "tie", "state", "room", "noncoincident", "interlock", "contactor"})
# What an item says of itself, beside what stands inside it.
_OWN = ("kind", "system", "secondary", "phases", "status", "by", "paralleling", "enclosing")
# Nothing is computed from these.
_NAMING = frozenset({"title", "name", "tag", "drawn by", "number"})
# Settings of the whole project explain a change only where nothing nearer does.
_GENERAL = ("defaults", "project/code")


@dataclass(frozen=True)
class Pair:
    """A value on both sides, None where a side does not have it."""

    before: Fact | None
    after: Fact | None

    @property
    def shows(self) -> bool:
        """Whether a reader sees a difference; a change below the last digit shown is none."""
        return self.before is None or self.after is None or self.before.text != self.after.text

    @property
    def differs(self) -> bool:
        """Whether it can be the cause of something, seen or not."""
        if self.shows or self.before is None or self.after is None:
            return self.shows
        one, other = self.before.number, self.after.number
        return one is not None and other is not None and abs(one - other) > 1e-9 * max(abs(one), abs(other), 1.0)

    @property
    def direction(self) -> int:
        """1 for more, -1 for less, 0 where that means nothing. What is new is more, what is gone is less."""
        if self.before is None or self.after is None:
            return 1 if self.before is None else -1
        one, other = self.before.number, self.after.number
        return 0 if one is None or other is None else (other > one) - (other < one)

    @property
    def is_minor(self) -> bool:
        """Whether the difference is too small to be told by itself."""
        one, other = (fact.number if fact is not None else None for fact in (self.before, self.after))
        return one is not None and other is not None and abs(one - other) < self.any_side.least

    @property
    def any_side(self) -> Fact:
        fact = self.after or self.before
        assert fact is not None
        return fact

    @property
    def size(self) -> float:
        """How much it changed, for choosing among several causes."""
        numbers = [fact.number or 0.0 for fact in (self.before, self.after) if fact is not None]
        return abs(numbers[-1] - numbers[0]) if len(numbers) == 2 else sum(numbers)

    @property
    def parents(self) -> tuple[str | Written, ...]:
        found = [*(self.after.parents if self.after else ()), *(self.before.parents if self.before else ())]
        return tuple(dict.fromkeys(found))


@dataclass(frozen=True)
class Causes:
    """The changed values of both sides and what was written differently; answers why."""

    pairs: Mapping[str, Pair]
    edits: Sequence[Edit]

    @cached_property
    def _by_key(self) -> dict[str, list[int]]:
        """The numbers of the edits by their keys and by everything that holds them."""
        index: dict[str, list[int]] = {}
        for number, edit in enumerate(self.edits, 1):
            for key in edit.keys:
                prefixes = [key[:at] for at, character in enumerate(key) if character == "/"]
                for prefix in dict.fromkeys((key, key.partition("#")[0], *prefixes)):
                    numbers = index.setdefault(prefix, [])
                    if number not in numbers:
                        numbers.append(number)
        return index

    def written(self, cause: Written) -> list[int]:
        """The numbers of the edits that are this cause."""
        if "/" in cause.key or cause.key in SECTIONS:
            found = self._by_key.get(cause.key, [])
        else:
            keys = {cause.key, *(f"{cause.key}/{name}" for name in _OWN)}
            found = [n for n in self._by_key.get(cause.key, []) if keys & set(self.edits[n - 1].keys)]
        return [n for n in found if self._matters(self.edits[n - 1], cause.fields)]

    @staticmethod
    def _matters(edit: Edit, fields: frozenset[str]) -> bool:
        return not edit.fields <= _NAMING and (not fields or bool(fields & edit.fields))

    def chain(self, key: str, start: Iterable[str | Written] = ()) -> tuple[tuple[Cause, ...], tuple[int, ...]]:
        """The links from the value `key` (or from `start`) to the text, and the numbers of all edits that reach it."""
        first = tuple(start) or (self.pairs[key].parents if key in self.pairs else ())
        child = self.pairs.get(key)
        for general in (False, True):
            links = self._search(first, general, {key}, child)
            if links:
                return links, self._reaching(key, first)
        return (), ()

    def _search(
        self, parents: Sequence[str | Written], general: bool, seen: set[str], child: Pair | None
    ) -> tuple[Cause, ...]:
        """The first of the parents, in their order, that leads to the text. Each value is looked at once."""
        for parent in self._sorted(parents, child):
            if isinstance(parent, Written):
                numbers = self.written(parent) if general or parent.key not in _GENERAL else []
                if numbers:
                    return (self._edit(numbers),)
            elif parent not in seen:
                seen.add(parent)
                pair = self.pairs[parent]
                links = self._search(pair.parents, general, seen, pair)
                if links:
                    return (Cause(said(pair)), *links) if pair.shows else links
        return ()

    def _sorted(self, parents: Sequence[str | Written], child: Pair | None) -> list[str | Written]:
        """The parents in their order without values that did not change; several loads by how much they changed.

        A value that moved against the child cannot be what moved it (it only takes part): such values come last.
        """
        changed = [each for each in parents if isinstance(each, Written) or self._differs(each)]
        loads = [each for each in changed if isinstance(each, str) and each.startswith("load/")]
        by_size = iter(sorted(loads, key=lambda key: -self.pairs[key].size))
        ordered = [next(by_size) if isinstance(each, str) and each.startswith("load/") else each for each in changed]
        return sorted(ordered, key=lambda each: child is not None and self._against(each, child))

    def _against(self, parent: str | Written, child: Pair) -> bool:
        if isinstance(parent, Written):
            return False
        pushes = self.pairs[parent].direction * child.direction
        less_drop = child.any_side.key.endswith("/drop") and parent.endswith("/conductors")
        return pushes > 0 if less_drop else pushes < 0

    def _differs(self, key: str) -> bool:
        return key in self.pairs and self.pairs[key].differs

    def _edit(self, numbers: Sequence[int]) -> Cause:
        edit = self.edits[numbers[0] - 1]
        more = f", and {len(numbers) - 1} more" if len(numbers) > 1 else ""
        return Cause(f"{edit.short or edit.text}{more}", edit.place)

    def _reaching(self, key: str, first: Sequence[str | Written]) -> tuple[int, ...]:
        found: set[int] = set()
        seen, queue = {key}, deque([first])
        while queue:
            for parent in queue.popleft():
                if isinstance(parent, Written):
                    found.update(self.written(parent))
                elif parent not in seen and parent in self.pairs and self.pairs[parent].differs:
                    seen.add(parent)
                    queue.append(self.pairs[parent].parents)
        return tuple(sorted(found))


def said(pair: Pair) -> str:
    """ "DP1 demand 148 A -> 171 A"; a value that is new or gone says so."""
    label = pair.any_side.label
    if pair.before is None or pair.after is None:
        word = "new" if pair.before is None else "gone"
        return f"{label} {pair.any_side.text} ({word})"
    return f"{label} {pair.before.text} -> {pair.after.text}"
