"""Findings about values: what stands after a name and does not fit it, with the form that is right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fedfrom.findings import Edit, Finding, Fix
from fedfrom.findings.finding import Label
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.lower_match import Miss
from fedfrom.model.lower_phrases import error, example, leading_words, needed, with_unit, written
from fedfrom.model.lower_values import (
    GLUED,
    NUMBER,
    is_like_size,
    read_number,
    read_quantity,
    system_literals,
    word_at,
)
from fedfrom.quantity import UNITS, Quantity
from fedfrom.source import Span
from fedfrom.syntax.tree import Part, Word
from fedfrom.vocabulary import Bound, Element, Entry, Vocabulary, WordList

_MOST_WORDS = 14
GREATEST_AC_V = 1000.0  # above it is medium voltage, which is out of the method


class Complaints:
    """Makes findings from a failed match. It holds no state but the vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary

    def bad_value(self, entry: Entry, parts: Sequence[Part], miss: Miss, subject: str, after: Span) -> Finding:
        """The parts after the name of `entry` fit none of its patterns. `after`: the span of the name."""
        if miss.reached >= len(parts):
            needs = needed(miss.expected, self.vocabulary)
            where = f" after `{written(parts)}`" if parts else ""
            message = f"`{entry.name}` needs {needs}{where}" if needs else f"`{entry.name}` is not complete"
            span = after if not parts else after.to(parts[-1].span)
            return error("missing-value", subject, message, span, "something is missing here", example(entry))
        if word_at(parts, miss.reached) == "x" and len(parts) == miss.reached + 2:
            message = f"`{written(parts[miss.reached :])}` does not belong to `{entry.name}`"
            advice = "`x 4` stands on loads, spares, spaces and electrodes, for four of them"
            span = parts[miss.reached].span.to(parts[-1].span)
            return error("unexpected-words", subject, message, span, "", advice)
        found = (
            self._metal(entry, miss, parts, subject)
            or self._bad_system(miss, parts, subject)
            or self._bad_quantity(entry, miss, parts, subject)
            or self._bad_word(entry, miss, parts, subject)
        )
        if found:
            return found
        part = parts[miss.reached]
        shown = f"`{written(parts[miss.reached :])}`"
        if not miss.expected:
            message = f"{shown} cannot follow here" if miss.reached else f"`{entry.name}` takes nothing after it"
        else:
            message = f"`{entry.name}` takes {needed(miss.expected, self.vocabulary)}, not {shown}"
        span = part.span.to(parts[-1].span)
        advice = example(entry) + self._words_there_are(miss, part)
        return error("unexpected-words", subject, message, span, "not understood here", advice)

    def _metal(self, entry: Entry, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        """A metal after a size (`phase 4/0 AWG Cu`): it is stated once for all conductors of a run."""
        size, metal = metal_after(parts, self.vocabulary)
        if not metal or not size or miss.reached != len(parts) - 1:
            return None
        message = f"`{written(parts[-1:])}` does not belong to the size: `wire` states the metal of all conductors"
        advice = f"write `{entry.name} {size}, wire {metal}`"
        return error("unexpected-words", subject, message, parts[-1].span, "the metal", advice)

    # --- systems, quantities, sizes ------------------------------------------------------------------------------

    def _bad_system(self, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        if not any(element.type in {"system", "pair"} for element in miss.expected):
            return None
        words = leading_words(parts[miss.reached :])
        if not words[0][0].isdigit():
            return None
        literal = " ".join(words)
        span = parts[miss.reached].span.to(parts[miss.reached + len(words) - 1].span)
        known = system_literals()
        if _volts_of(literal) > GREATEST_AC_V:
            return _above_the_method(literal, subject, span)
        near = _systems_near(literal, known)
        advice = f"write {listed(near)}" if near else f"the systems are {listed(known)}"
        return error("unknown-voltage", subject, f"`{literal}` is not a voltage system", span, "no such system", advice)

    def _bad_quantity(self, entry: Entry, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        """A number where a quantity of certain dimensions, a size or a count is expected."""
        at = miss.reached
        text = word_at(parts, at)
        if text is None:
            return None
        if at and text in self.vocabulary.units_instead and read_number(word_at(parts, at - 1) or "") is not None:
            return self._bad_unit(entry, (), parts, at - 1, subject)  # `2000 sqft`: the number was read as a tag
        sized = [element for element in miss.expected if element.type in {"size", "trade"}]
        if sized and text[:1].isdigit():
            return self._bad_size(entry, sized[0], parts, at, subject)
        wanted = [element for element in miss.expected if element.type == "quantity"]
        if not wanted:
            return self._not_plain(entry, miss, parts, subject)
        read = read_quantity(parts, at)
        if read is not None and isinstance(read.value, Quantity):
            span = parts[at].span.to(parts[at + read.used - 1].span)
            shown, kind = written(parts[at : at + read.used]), read.value.dimension.value
            message = f"`{entry.name}` takes {needed(wanted, self.vocabulary)}; `{shown}` is {kind}"
            return error("wrong-dimension", subject, message, span, kind, example(entry))
        return self._bad_unit(entry, wanted, parts, at, subject)

    def _bad_unit(
        self, entry: Entry, wanted: Sequence[Element], parts: Sequence[Part], at: int, subject: str
    ) -> Finding | None:
        """A number without a unit, or with a word after it that is none."""
        text = word_at(parts, at) or ""
        span = parts[at].span
        glued = GLUED.match(text)
        if read_number(text, fractions=True) is None and not glued:
            return None
        digits = glued[1] if glued else text
        unit = glued[2] if glued else word_at(parts, at + 1)
        right = f"write {with_unit(digits, wanted, entry)}"
        known = self.vocabulary.units_instead.get(unit or "")
        near = (known,) if known else nearest(unit or "", UNITS)
        stands_alone = unit is None or (not glued and bool(NUMBER.match(unit)))
        if stands_alone or (not near and unit in _continuations(entry, self.vocabulary)):
            return error("missing-unit", subject, f"`{text}` has no unit", span, "a number without a unit", right)
        end = span if glued else parts[at + 1].span
        if unit in UNITS:
            message = f"only hp is written as a fraction, not `{written(parts[at : at + 2])}`"
            return error("unknown-unit", subject, message, span.to(end), "", "write a decimal number")
        advice = f"write {listed(f'{digits} {unit}' for unit in near)}" if near else right
        advice = self.vocabulary.explain.get(unit or "", advice)
        finding = error("unknown-unit", subject, f"`{unit}` is not a unit", end, "not a unit", advice)
        if known and known in UNITS and not glued:
            return with_fix(finding, f"write `{known}`", end, known)
        return finding

    def _bad_size(self, entry: Entry, element: Element, parts: Sequence[Part], at: int, subject: str) -> Finding:
        span, unit, text = parts[at].span, word_at(parts, at + 1), word_at(parts, at) or ""
        kind, units, forms = "a conductor size", {"AWG", "kcmil"}, "`12 AWG`, `3/0 AWG`, `250 kcmil`"
        if element.type == "trade":
            kind, units, forms = "a trade size", {"inch"}, "`1-1/4 inch`, `4 inch`"
        if unit in units:
            message = f"`{text} {unit}` is not {kind} of the tables"
            at_both = span.to(parts[at + 1].span)
            return error("unknown-size", subject, message, at_both, "no such size", f"sizes are like {forms}")
        known = self.vocabulary.units_instead.get(unit or "")
        if unit is None or known in units or unit not in UNITS:
            message = f"`{text}` needs a unit to be {kind}"
            return error("missing-unit", subject, message, span, "which size is this?", f"write it like {forms}")
        message = f"`{entry.name}` takes {kind}, not `{text} {unit}`"
        return error("wrong-dimension", subject, message, span.to(parts[at + 1].span), "", f"write it like {forms}")

    def _not_plain(self, entry: Entry, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        """A quantity where a plain number or count is expected."""
        plain = [element for element in miss.expected if element.type in {"count", "number"}]
        read = read_quantity(parts, miss.reached)
        if not plain or read is None or not isinstance(read.value, Quantity):
            return None
        span = parts[miss.reached].span.to(parts[miss.reached + read.used - 1].span)
        shown = written(parts[miss.reached : miss.reached + read.used])
        message = f"`{entry.name}` takes a plain number; `{shown}` is {read.value.dimension.value}"
        return error("wrong-dimension", subject, message, span, "", example(entry))

    # --- words ---------------------------------------------------------------------------------------------------

    def _bad_word(self, entry: Entry, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        """A word that is not of the closed list expected, or a malformed tag."""
        part = parts[miss.reached]
        if not isinstance(part, Word):
            return None
        lists = [self.vocabulary.lists[element.list] for element in miss.expected if element.type == "list"]
        if any(element.type in {"tag", "part"} for element in miss.expected) and not lists:
            message = f"`{part.text}` cannot be a tag"
            advice = "a tag has letters, digits, `-` and `_`; a dot means part of, as in `LP1.3`"
            return error("malformed-tag", subject, message, part.span, "not a tag", advice)
        words = leading_words(parts[miss.reached :])
        known = [word for found in lists for word in found.words]
        literals = [element.literal for element in miss.expected if element.type == "word"]
        near = _near_words(words, [*known, *literals])
        instead = self.vocabulary.instead.get(words[0]) or self.vocabulary.instead.get(words[0].lower())
        if not near and instead in known:
            near = (instead,)
        if not near and any(words[0] in self.vocabulary.lists[name].words for name in _other_lists(entry, lists)):
            return None
        quantity_too = any(element.type == "quantity" for element in miss.expected)
        if not known or (not near and miss.reached and quantity_too):
            return None
        shown = listed(known) if len(known) <= _MOST_WORDS else f"{listed(known[:10])} …"
        nouns = list(dict.fromkeys(found.noun for found in lists))
        length = min(len(words), *(len(word.split()) for word in known))  # `NEC 2026` is one word of its list
        message = f"`{' '.join(words[:length])}` is not {' or '.join(nouns)}"
        advice = f"write {listed(near)}" if near else f"the words are {shown}"
        at = part.span.to(parts[miss.reached + length - 1].span)
        return error("unknown-word", subject, message, at, "not known here", advice)

    def _words_there_are(self, miss: Miss, part: Part) -> str:
        """The closed list that a word was looked for in, for the end of an advice; "" where it was no word."""
        lists = [self.vocabulary.lists[element.list] for element in miss.expected if element.type == "list"]
        if len(lists) != 1 or not isinstance(part, Word) or not part.text[:1].isalpha():
            return ""
        return f"; {lists[0].noun} is one of {', '.join(lists[0].words)}"

    # --- other slips ---------------------------------------------------------------------------------------------

    def out_of_range(self, entry: Entry, bound: Bound, span: Span, value: str, subject: str) -> Finding:
        """A value of the right dimension that is out of every sensible range (a slip of unit or digit)."""
        message = f"`{value}` is out of range for `{entry.name}` ({bound.text})"
        advice = f"look at the unit and the digits; {example(entry)}"
        return error("out-of-range", subject, message, span, "is this the right unit?", advice)

    def missing_comma(self, parts: Sequence[Part], at: int, subject: str) -> Finding:
        """Two facts without a comma between them; `at` is where the second begins."""
        span = parts[at].span.to(parts[-1].span)
        end = parts[at - 1].span.end
        message = f"a comma is missing before `{written(parts[at:])}`"
        finding = error("missing-comma", subject, message, span, "another fact", "a comma stands between two facts")
        return with_fix(finding, "put a comma there", Span(span.file, end, end), ",")

    def written_twice(self, name: str, first: Span, again: Span, subject: str, where: str = "in one block") -> Finding:
        """A fact said twice at one level."""
        message = f"`{name}` is written twice {where}"
        finding = error("written-twice", subject, message, again, "again here", "keep one of them")
        return replace(finding, related=(Label(first, "first here"),))


def with_fix(finding: Finding, title: str, span: Span, text: str) -> Finding:
    """The finding with a safe edit that mends it."""
    return replace(finding, fix=Fix(title, (Edit(span, text),), safe=True))


def _other_lists(entry: Entry, but: Sequence[WordList]) -> list[str]:
    names = [element.list for pattern in entry.patterns for element in pattern.elements if element.type == "list"]
    return [name for name in dict.fromkeys(names) if name not in {found.name for found in but}]


def _near_words(words: Sequence[str], known: Sequence[str]) -> tuple[str, ...]:
    joined = "-".join(words[:2])
    found: dict[str, None] = {word: None for word in known if word == joined}
    for length in range(min(3, len(words)), 0, -1):
        same_length = [word for word in known if len(word.split()) == length]
        found.update(dict.fromkeys(nearest(" ".join(words[:length]), same_length)))
    found.update({word: None for word in known if len(word.split()) > 1 and word.split()[0] == words[0]})
    return tuple(found)[:3]


def _systems_near(literal: str, known: Sequence[str]) -> tuple[str, ...]:
    def pieces(name: str) -> list[str]:
        return name.replace("Y", "/").replace(" ", "/").split("/")

    digits = [piece for piece in pieces(literal) if piece.isdigit()]
    same = [name for name in known if digits and all(digit in pieces(name) for digit in digits)]
    return tuple(dict.fromkeys((*same, *nearest(literal, known))))[:3]


def _continuations(entry: Entry, vocabulary: Vocabulary) -> frozenset[str]:
    """Words that may follow a value in the patterns of an entry, so that they are not taken for misspelt units."""
    words: set[str] = set()
    for pattern in entry.patterns:
        for element in pattern.elements:
            if element.type == "word":
                words.add(element.literal)
            elif element.type == "list":
                words.update(word.split()[0] for word in vocabulary.lists[element.list].words)
    return frozenset(words)


def _volts_of(literal: str) -> float:
    """The first volts of what was written for a system, 0.0 where it is no number; `4160Y/2400 V` or `13.8 kV`."""
    number, scale = "", 1000.0 if literal.endswith("kV") else 1.0
    for sign in literal:
        if not (sign.isdigit() or sign in "._"):
            break
        number += sign
    try:
        return float(number.replace("_", "")) * scale
    except ValueError:
        return 0.0


def _above_the_method(literal: str, subject: str, span: Span) -> Finding:
    message = f"`{literal}` is above {GREATEST_AC_V:.0f} V AC, which is out of the method: nothing is computed there"
    advice = (
        "state what lies above as facts of the `utility`: "
        "`transformer 1500 kVA, 5.75 %` and `primary 13.8 kV, fault 500 MVA`"
    )
    return error("unknown-voltage", subject, message, span, "above the limit", advice)


def metal_after(parts: Sequence[Part], vocabulary: Vocabulary) -> tuple[str, str]:
    """(what stands before it, "Cu" or "Al") where a conductor size ends in its metal, else the whole and ""."""
    last = (word_at(parts, len(parts) - 1) or "").lower()
    named = {word.lower(): word for word in vocabulary.lists["metal"].words}
    named.update({help_text.rstrip(".").lower(): word for word, help_text in vocabulary.lists["metal"].words.items()})
    if last not in named or not is_like_size(parts, 0):
        return written(parts), ""
    return written(parts[:-1]), named[last]
