"""What stands after a comma and is none of the facts that may stand there: what it looks like decides the sentence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fedfrom.findings import Finding
from fedfrom.findings.nearest import listed
from fedfrom.model.lower_complaints import metal_after
from fedfrom.model.lower_match import Miss, match_patterns
from fedfrom.model.lower_names import unknown_name
from fedfrom.model.lower_phrases import error, leading_words, needed, scope_words, written
from fedfrom.model.lower_values import GLUED, is_like_size, read_number, read_quantity, read_trade, word_at
from fedfrom.quantity import Quantity
from fedfrom.syntax.tree import Part, Word
from fedfrom.vocabulary import Element, Entry, Scope, Vocabulary

if TYPE_CHECKING:
    from fedfrom.model.lower_runs import RunLowering

_POLES_FOLLOW = frozenset({"feed", "load", "main", "tie"})


@dataclass(frozen=True, slots=True)
class Allowed:
    """What may stand after the head of a line: its entry's own options and those of `scopes`.

    `outer`: the scope that the line stands in; `times`: `x 4` may be said; `head` as it reads; `needs_amount`: a load
    without its load yet.
    """

    entry: Entry
    scopes: tuple[Scope, ...]
    outer: Scope | None
    times: bool = False
    head: str = ""
    needs_amount: bool = False

    @property
    def own(self) -> tuple[Entry, ...]:
        return self.entry.options

    @property
    def unnamed(self) -> list[Entry]:
        """The facts known by their value alone."""
        return [entry for entry in self.own if entry.unnamed] + [e for scope in self.scopes for e in scope.unnamed]

    @property
    def named_scopes(self) -> tuple[Scope, ...]:
        """The scopes for near misses, own options first; never empty."""
        own = Scope(f"after `{self.entry.name}`", {entry.name: entry for entry in self.own})
        return (own, *self.scopes) if self.own and not self.scopes else (*self.scopes, own)


def poles_written(
    vocabulary: Vocabulary, parts: Sequence[Part], scopes: Iterable[Scope], subject: str
) -> Finding | None:
    """Poles on a feed or load, where volts and phases say them."""
    text = word_at(parts, 0)
    kinds = {scope.kind for scope in scopes}
    if text not in vocabulary.lists["pole-count"].words or not kinds & _POLES_FOLLOW:
        return None
    message = f"poles are not written here (`{text}`): they follow from volts and phases"
    advice = "take it out; write `208 V 1-phase` or `3-phase` where the volts and phases are not clear"
    return error("poles-written", subject, message, parts[0].span, "not here", advice)


def unknown_option(runs: RunLowering, parts: Sequence[Part], allowed: Allowed, subject: str) -> list[Finding]:
    """The finding for such a run ([] where a missing comma has been reported already)."""
    poles = poles_written(runs.vocabulary, parts, allowed.scopes, subject)
    if poles is not None:
        return [poles]
    own_line = _in_braces(parts, allowed, subject) or _own_line(parts, allowed, subject)
    if own_line is not None:
        return [own_line]
    text = word_at(parts, 0) or ""
    if text[:1].isdigit() or text[:1] == "-":
        for entry in allowed.unnamed:
            split = match_patterns(entry.patterns, parts, runs.vocabulary)
            if isinstance(split, Miss) and runs.comma_missing(entry, parts, split, allowed.scopes, subject):
                return []
        bare = _half_read(runs, parts, allowed, subject) or _bare_value(runs, parts, allowed, subject)
        if bare is not None:
            return [bare]
    scopes = _with_listed_words(runs.vocabulary, allowed)
    return [unknown_name(runs.vocabulary, parts, scopes, subject)]


def _in_braces(parts: Sequence[Part], allowed: Allowed, subject: str) -> Finding | None:
    """A fact after the head of an item: facts of an item stand in its braces."""
    if allowed.entry.kind != "item":
        return None
    message = f"`{written(parts)}` stands after the head of the {allowed.entry.name}"
    advice = "what belongs to it stands in its braces, one fact a line"
    return error("separate-line", subject, message, parts[0].span.to(parts[-1].span), "not here", advice)


def _own_line(parts: Sequence[Part], allowed: Allowed, subject: str) -> Finding | None:
    """A property or load of the same block after a comma: one fact a line."""
    outer = allowed.outer
    words = leading_words(parts)
    entry = outer.match(words) if outer is not None and isinstance(parts[0], Word) else None
    if entry is None or entry is allowed.entry or entry.kind == "option":
        return None
    message = f"`{entry.name}` is no part of `{allowed.entry.name}`"
    advice = f"put `{written(parts)}` on a line of its own"
    return error("separate-line", subject, message, parts[0].span.to(parts[-1].span), "a fact of its own", advice)


def _half_read(runs: RunLowering, parts: Sequence[Part], allowed: Allowed, subject: str) -> Finding | None:
    """A value that may stand alone, with something after it that does not belong to it (`208 V 3phase`)."""
    read = read_quantity(parts, 0)
    if read is None or read.used == len(parts):
        return None
    for entry in allowed.unnamed:
        miss = match_patterns(entry.patterns, parts, runs.vocabulary)
        if isinstance(miss, Miss) and miss.reached >= read.used and miss.expected:
            return runs.complaints.bad_value(entry, parts, miss, subject, parts[0].span)
    return None


def _bare_value(runs: RunLowering, parts: Sequence[Part], allowed: Allowed, subject: str) -> Finding | None:
    """A number, perhaps with a unit, that is none of the values that may stand alone."""
    vocabulary = runs.vocabulary
    span = parts[0].span.to(parts[-1].span)
    shown = written(parts)
    wanted = _alone(allowed)
    if is_like_size(parts, 0) or read_trade(parts, 0) is not None:
        form = vocabulary.bare["size" if is_like_size(parts, 0) else "trade"]
        word = form.split()[0]
        message = f"`{shown}` does not say which conductor or raceway"
        size, metal = metal_after(parts, vocabulary)
        right = f"{word} {size}, wire {metal}" if metal else f"{word} {shown}"
        return error("unnamed-value", subject, message, span, "of what?", f"write `{right}`")
    read = read_quantity(parts, 0)
    if read is not None and isinstance(read.value, Quantity):
        dimension = read.value.dimension
        if allowed.needs_amount and _takes_amount(allowed.entry, read.value):
            message = f"the load of `{allowed.head}` stands after a comma"
            advice = f"the load stands before the first comma: write `{allowed.head} {shown}`"
            return error("unnamed-value", subject, message, span, "the load", advice)
        form = vocabulary.bare.get(dimension.name.lower(), "")
        if read.value.unit == "kA":  # kiloamperes are of a fault
            form = vocabulary.bare["fault_current"]
        message = f"`{shown}` is {dimension.value} that does not say what it is of"
        rest = parts[read.used :]
        if rest and any(scope.match(leading_words(rest)) for scope in allowed.scopes):
            advice = f"write `{written(rest)} {written(parts[: read.used])}`"  # `1600 A breaker`
            return error("unnamed-value", subject, message, span, "of what?", advice)
        if form and any(scope.match(form.split()) for scope in allowed.scopes):
            return error("unnamed-value", subject, message, span, "of what?", f"write `{form.split()[0]} {shown}`")
        named = [f"{entry.name} {shown}" for entry in allowed.own if _takes(entry, read.value)]
        if named:
            message = f"`{shown}` after `{allowed.entry.name}` does not say what it is of"
            return error("unnamed-value", subject, message, span, "of what?", f"write {listed(named)}")
        alone = f"; {needed(wanted, vocabulary)} may stand alone" if wanted else ""
        message = f"`{shown}` is not known {scope_words(allowed.named_scopes[0].kind)}"
        return error("wrong-dimension", subject, message, span, dimension.value, f"say what it is{alone}")
    number = read_number(word_at(parts, 0) or "", fractions=True) is not None or GLUED.match(word_at(parts, 0) or "")
    if number and wanted:
        facts = Entry("a value after a comma", "option", (), "", "", patterns=())
        return runs.complaints.bad_value(facts, parts, Miss(0, wanted), subject, parts[0].span)
    return None


def _alone(allowed: Allowed) -> tuple[Element, ...]:
    """The quantities that may stand alone."""
    first = (pattern.elements for entry in allowed.unnamed for pattern in entry.patterns if len(pattern.elements) == 1)
    return tuple(dict.fromkeys(elements[0] for elements in first if elements[0].type == "quantity"))


def _takes(entry: Entry, quantity: Quantity) -> bool:
    first = (pattern.elements for pattern in entry.patterns if len(pattern.elements) == 1)
    return bool(entry.words) and any(quantity.dimension in elements[0].dimensions for elements in first)


def _takes_amount(entry: Entry, quantity: Quantity) -> bool:
    elements = (element for pattern in entry.patterns for element in pattern.elements)
    return any(element.name == "amount" and quantity.dimension in element.dimensions for element in elements)


def _with_listed_words(vocabulary: Vocabulary, allowed: Allowed) -> tuple[Scope, ...]:
    """The scopes, with the words of facts that are known by their value alone as names, for near misses."""
    lists = [e.list for entry in allowed.unnamed for p in entry.patterns for e in p.elements[:1] if e.type == "list"]
    words = [word for name in lists for word in vocabulary.lists[name].words]
    scopes = allowed.named_scopes
    if not words:
        return scopes
    named = {word: Entry(word, "option", (), "", word) for word in words}
    first = scopes[0] if scopes[0].entries else Scope(scopes[0].kind, named)
    return (first, *scopes[1:], Scope(scopes[0].kind, named))
