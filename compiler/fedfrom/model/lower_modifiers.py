"""What may end any run (`by utility`, `assumed because "…"`, `because "…"`, `x 4`), and the status words before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fedfrom.model.items import Status
from fedfrom.model.lower_values import COUNT, word_at
from fedfrom.model.lowered import Modifiers
from fedfrom.syntax.tree import Part, Text

_MARKS = frozenset({"because", "assumed", "by", "x"})  # one of the last two words of a run that ends in a modifier
STATUS_WORDS = frozenset(status.value for status in Status)


@dataclass(frozen=True, slots=True)
class Stripped:
    """The parts that are left, and what was taken off.

    `bad_by`: a word after `by` that names no one; `bare_assumed`: `assumed` without a reason; `times_part`: the number
    of an `x N`; `bad`: one of them is wrong.
    """

    parts: tuple[Part, ...]
    modifiers: Modifiers
    bad_by: Part | None = None
    bare_assumed: Part | None = None
    times_part: Part | None = None
    bad: bool = False


def strip_status(parts: Sequence[Part]) -> tuple[Status | None, tuple[Part, ...]]:
    """A leading `existing`, `new` …, when something follows it."""
    word = word_at(parts, 0)
    if word in STATUS_WORDS and len(parts) > 1:
        return Status(word), tuple(parts[1:])
    return None, tuple(parts)


def strip_modifiers(parts: Sequence[Part], providers: Sequence[str], *, times: bool = True) -> Stripped:
    """Takes the modifiers off the end of a run, in whatever order they stand; `x 4` only with `times`."""
    if not any(word_at(parts, index) in _MARKS for index in range(max(0, len(parts) - 2), len(parts))):
        return Stripped(tuple(parts), Modifiers())
    left = list(parts)
    found = Stripped((), Modifiers())
    while left:
        step = _strip_one(left, found, providers, times)
        if step is None:
            break
        left, found = step
    return replace(found, parts=tuple(left))


def _strip_one(
    left: list[Part], found: Stripped, providers: Sequence[str], times: bool
) -> tuple[list[Part], Stripped] | None:
    modifiers = found.modifiers
    if len(left) >= 2 and isinstance(left[-1], Text) and word_at(left, len(left) - 2) == "because":
        cut = len(left) - 2
        assumed = word_at(left, cut - 1) == "assumed" if cut else False
        start = cut - 1 if assumed else cut
        span = left[start].span.to(left[-1].span)
        taken = replace(modifiers, reason=left[-1].text, assumed=modifiers.assumed or assumed, span=span)
        return left[:start], replace(found, modifiers=taken)
    if word_at(left, len(left) - 1) == "assumed":
        taken = replace(modifiers, assumed=True, span=left[-1].span)
        return left[:-1], replace(found, modifiers=taken, bare_assumed=left[-1])
    if len(left) >= 2 and word_at(left, len(left) - 2) == "by":
        who = word_at(left, len(left) - 1)
        if who is not None and who in providers:
            return left[:-2], replace(found, modifiers=replace(modifiers, by=who))
        if who is not None:
            return left[:-2], replace(found, bad_by=left[-1])
    if times and len(left) >= 2 and word_at(left, len(left) - 2) == "x":
        count = word_at(left, len(left) - 1)
        if count is not None and COUNT.match(count):
            number = int(count.replace("_", ""))
            return left[:-2], replace(found, modifiers=replace(modifiers, times=number), times_part=left[-1])
    return None
