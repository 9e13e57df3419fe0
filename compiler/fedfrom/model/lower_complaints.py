"""The findings of lowering: what is wrong with a run, in words, with the form that is right."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.findings import Edit, Finding, Fix, Severity
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.lower_match import Miss
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
from fedfrom.syntax.tree import Part, Text, Word
from fedfrom.vocabulary import Bound, Element, Entry, Scope, Vocabulary

_ARTICLE = {"utility": "a", "ups": "a"}


def error(rule: str, subject: str, message: str, span: Span, label: str = "", advice: str = "") -> Finding:
    """An error at a place of the text."""
    return Finding(rule, Severity.ERROR, subject, message, span, label=label, help=advice)


def a(kind: str) -> str:
    """`kind` with its article: "a panelboard", "an isolated power panel"."""
    if kind in _ARTICLE:
        return f"{_ARTICLE[kind]} {kind}"
    return f"{'an' if kind[:1] in 'aeio' else 'a'} {kind}"


def scope_words(scope: Scope) -> str:
    """The scope for a sentence."""
    known = {
        "top": "at the top of a file",
        "feed": "in a feed",
        "load": "on a load line",
        "circuit": "in a circuit",
        "main": "in a `main`",
        "defaults": "in `defaults`",
        "project": "in `project`",
        "tie": "in a tie",
        "reserve": "on a spare or space",
    }
    return known.get(scope.kind, f"in {a(scope.kind)}")


class Complaints:
    """Makes findings for one subject. It holds no state but the vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary

    # --- names ---------------------------------------------------------------------------------------------------

    def unknown_name(self, parts: Sequence[Part], scopes: Sequence[Scope], subject: str) -> Finding:
        """The first words of a run name nothing in these scopes (the innermost first)."""
        words = _leading_words(parts)
        first, span = words[0], parts[0].span
        where = scope_words(scopes[0])
        near = self.near_names(words, scopes)
        elsewhere = self._known_elsewhere(words, scopes)
        if near:
            wrong = " ".join(words[: len(near[0].split())])
            at = span.to(parts[len(wrong.split()) - 1].span)
            return error(
                "unknown-word", subject, f"`{wrong}` is not known {where}", at, "not known here",
                f"write {listed(near)}",
            )  # fmt: skip
        instead = self.vocabulary.instead.get(" ".join(words[:2])) or self.vocabulary.instead.get(first)
        if instead:
            message, advice = f"`{first}` is not known {where}", f"the word is `{instead}`"
            return error("unknown-word", subject, message, span, "not known here", advice)
        if elsewhere:
            name, kinds = elsewhere
            message = f"`{name}` is not known {where}: it belongs {listed_kinds(kinds)}"
            return error("unknown-word", subject, message, span, "not here", f"move it, or see {_page(kinds[0])}")
        message = f"`{first}` is not known {where}"
        return error("unknown-word", subject, message, span, "not known here", _what_may_stand(scopes[0]))

    def near_names(self, words: Sequence[str], scopes: Sequence[Scope]) -> tuple[str, ...]:
        """Names of these scopes that the first words are close to, the nearest first."""
        found: dict[str, None] = {}
        for scope in scopes:
            by_length: dict[int, list[str]] = {}
            for name in scope.names:
                by_length.setdefault(len(name.split()), []).append(name)
            for length in sorted(by_length, reverse=True):
                if length <= len(words):
                    found.update(dict.fromkeys(nearest(" ".join(words[:length]), by_length[length])))
            joined = "-".join(words[:2])
            found.update({name: None for name in scope.names if name == joined})
        return tuple(found)[:3]

    def _known_elsewhere(self, words: Sequence[str], scopes: Sequence[Scope]) -> tuple[str, tuple[str, ...]] | None:
        here = {scope.kind for scope in scopes}
        found = [(kind, entry) for kind, entry in self.vocabulary.where_known(words) if kind not in here]
        if not found:
            return None
        return found[0][1].name, tuple(dict.fromkeys(kind for kind, _ in found))

    # --- values --------------------------------------------------------------------------------------------------

    def bad_value(self, entry: Entry, parts: Sequence[Part], miss: Miss, subject: str, after: Span) -> Finding:
        """The parts after the name of `entry` fit none of its patterns. `after`: the span of the name."""
        example = f"write it like `{entry.example}`"
        if miss.reached >= len(parts):
            needs = needed(miss.expected, self.vocabulary)
            message = f"`{entry.name}` needs {needs}" if needs else f"`{entry.name}` is not complete"
            return error("missing-value", subject, message, after, "something is missing here", example)
        part = parts[miss.reached]
        found = (
            self._bad_system(miss, parts, subject)
            or self._bad_quantity(entry, miss, parts, subject)
            or self._bad_word(entry, miss, parts, subject)
        )
        if found:
            return found
        span = part.span.to(parts[-1].span)
        shown = _shown(parts[miss.reached :])
        if not miss.expected:
            message = f"{shown} cannot follow here" if miss.reached else f"`{entry.name}` takes nothing after it"
            return error("unexpected-words", subject, message, span, "not understood here", example)
        message = f"`{entry.name}` takes {needed(miss.expected, self.vocabulary)}, not {shown}"
        return error("unexpected-words", subject, message, span, "not understood here", example)

    def _bad_system(self, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        if not any(element.type == "system" for element in miss.expected):
            return None
        words: list[str] = []
        for offset in range(miss.reached, len(parts)):
            text = word_at(parts, offset)
            if text is None:
                break
            words.append(text)
        if not words or not words[0][0].isdigit():
            return None
        literal = " ".join(words)
        span = parts[miss.reached].span.to(parts[miss.reached + len(words) - 1].span)
        known = system_literals()
        near = _systems_near(literal, known)
        advice = f"write {listed(near)}" if near else f"the systems are {listed(known)}"
        message = f"`{literal}` is not a voltage system"
        return error("unknown-voltage", subject, message, span, "no such system", advice)

    def _bad_quantity(self, entry: Entry, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        """A number where a quantity of certain dimensions, a size or a count is expected."""
        wanted = [element for element in miss.expected if element.type == "quantity"]
        at = miss.reached
        text = word_at(parts, at)
        if text is None:
            return None
        sized = [element for element in miss.expected if element.type in {"size", "trade"}]
        if sized and (read_number(text, fractions=True) is not None or GLUED.match(text) or is_like_size(parts, at)):
            return self._bad_size(entry, sized[0], parts, at, subject)
        if not wanted:
            return self._not_plain(entry, miss, parts, subject)
        read = read_quantity(parts, at)
        span = parts[at].span
        right = _right_form(entry)
        if read is not None and isinstance(read.value, Quantity):
            span = span.to(parts[at + read.used - 1].span)
            takes = needed(tuple(wanted), self.vocabulary)
            shown = _shown_plain(parts[at : at + read.used])
            message = f"`{entry.name}` takes {takes}; `{shown}` is {_dimension(read.value)}"
            return error("wrong-dimension", subject, message, span, f"{_dimension(read.value)}", right)
        glued = GLUED.match(text)
        follows = word_at(parts, at + 1)
        number = read_number(text, fractions=True)
        if number is None and not glued:
            return None
        unit = glued[2] if glued else follows
        if unit is None or (not glued and NUMBER.match(unit)):
            message = f"`{text}` has no unit"
            return error("missing-unit", subject, message, span, "a number without a unit", right)
        known = self.vocabulary.units_instead.get(unit)
        end = span if glued else parts[at + 1].span
        if unit in UNITS:
            message = f"only hp is written as a fraction, not `{text} {unit}`"
            return error("unknown-unit", subject, message, span.to(end), "", f"write a decimal: {right}")
        near = (known,) if known else nearest(unit, UNITS)
        if not known and not near and unit in _continuations(entry, self.vocabulary):
            message = f"`{text}` has no unit"
            return error("missing-unit", subject, message, span, "a number without a unit", right)
        message = f"`{unit}` is not a unit"
        advice = f"write {listed(near)}; {right}" if near else right
        finding = error("unknown-unit", subject, message, span if glued else end, "not a unit", advice)
        if known and not glued:
            return _with_fix(finding, f"write `{known}`", end, known)
        return finding

    def _bad_size(self, entry: Entry, element: Element, parts: Sequence[Part], at: int, subject: str) -> Finding:
        span = parts[at].span
        unit = word_at(parts, at + 1)
        text = word_at(parts, at) or ""
        if element.type == "trade":
            kind, units, forms = "a trade size", {"inch"}, "`1-1/4 inch`, `4 inch`"
        else:
            kind, units, forms = "a conductor size", {"AWG", "kcmil"}, "`12 AWG`, `3/0 AWG`, `250 kcmil`"
        if unit in units:
            message = f"`{text} {unit}` is not {kind} of the tables"
            span = span.to(parts[at + 1].span)
            return error("unknown-size", subject, message, span, "no such size", f"sizes are like {forms}")
        known = self.vocabulary.units_instead.get(unit or "")
        if unit is None or known in units or unit not in UNITS:
            message = f"`{text}` needs a unit to be {kind}"
            return error("missing-unit", subject, message, span, "which size is this?", f"write {forms}")
        message = f"`{entry.name}` takes {kind}, not `{text} {unit}`"
        return error("wrong-dimension", subject, message, span.to(parts[at + 1].span), "", f"write {forms}")

    def _not_plain(self, entry: Entry, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        """A quantity where a plain number or count is expected."""
        plain = [element for element in miss.expected if element.type in {"count", "number"}]
        read = read_quantity(parts, miss.reached)
        if not plain or read is None or not isinstance(read.value, Quantity):
            return None
        span = parts[miss.reached].span.to(parts[miss.reached + read.used - 1].span)
        shown = _shown_plain(parts[miss.reached : miss.reached + read.used])
        message = f"`{entry.name}` takes a plain number; `{shown}` is {_dimension(read.value)}"
        return error("wrong-dimension", subject, message, span, "", _right_form(entry))

    def _bad_word(self, entry: Entry, miss: Miss, parts: Sequence[Part], subject: str) -> Finding | None:
        """A word that is not of the closed list expected, or a malformed tag."""
        part = parts[miss.reached]
        if not isinstance(part, Word):
            return None
        lists = [self.vocabulary.lists[element.list] for element in miss.expected if element.type == "list"]
        words = _leading_words(parts[miss.reached :])
        if any(element.type in {"tag", "part"} for element in miss.expected) and not lists:
            message = f"`{part.text}` cannot be a tag"
            advice = "a tag has letters, digits, `-` and `_`; a dot means part of, as in `LP1.3`"
            return error("malformed-tag", subject, message, part.span, "not a tag", advice)
        known = [word for found in lists for word in found.words]
        literals = [element.literal for element in miss.expected if element.type == "word"]
        near = _near_list(words, [*known, *literals])
        instead = self.vocabulary.instead.get(words[0]) or self.vocabulary.instead.get(words[0].lower())
        if not near and instead in known:
            near = (instead,)
        if not known or (not near and not miss.expected):
            return None
        if not near and miss.reached and any(e.type == "quantity" for e in miss.expected):
            return None
        shown = listed(known) if len(known) <= 14 else listed(known[:10]) + " …"
        message = f"`{words[0]}` is not {a_word_of(lists[0].help)}"
        advice = f"write {listed(near)}" if near else f"the words are {shown}"
        return error("unknown-word", subject, message, part.span, "not a word of this list", advice)

    def out_of_range(self, entry: Entry, bound: Bound, span: Span, written: str, subject: str) -> Finding:
        """A value of the right dimension that is out of every sensible range (a slip of unit or digit)."""
        message = f"`{written}` is out of range for `{entry.name}`: {bound.text} is what is built"
        advice = f"look at the unit and the digits; {_right_form(entry)}"
        return error("out-of-range", subject, message, span, "is this the right unit?", advice)

    def missing_comma(self, parts: Sequence[Part], at: int, subject: str) -> Finding:
        """Two facts without a comma between them; `at` is where the second begins."""
        span = parts[at].span.to(parts[-1].span)
        before = parts[at - 1].span
        shown = _shown_plain(parts[at:])
        message = f"a comma is missing before `{shown}`"
        finding = error("missing-comma", subject, message, span, "another fact", "a comma stands between two facts")
        return _with_fix(finding, "put a comma there", Span(before.file, before.end, before.end), ",")

    def written_twice(self, name: str, first: Span, again: Span, subject: str, where: str = "in one block") -> Finding:
        """A fact said twice at one level."""
        from dataclasses import replace

        from fedfrom.findings.finding import Label

        message = f"`{name}` is written twice {where}"
        finding = error("written-twice", subject, message, again, "again here", "keep one of them")
        return replace(finding, related=(Label(first, "first here"),))


def _with_fix(finding: Finding, title: str, span: Span, text: str) -> Finding:
    from dataclasses import replace

    return replace(finding, fix=Fix(title, (Edit(span, text),), safe=True))


def _leading_words(parts: Sequence[Part]) -> list[str]:
    words: list[str] = []
    for part in parts:
        if not isinstance(part, Word):
            break
        words.append(part.text)
    return words or [_shown_plain(parts[:1])]


def _shown_plain(parts: Sequence[Part]) -> str:
    return " ".join(f'"{part.text}"' if isinstance(part, Text) else getattr(part, "text", "( … )") for part in parts)


def _shown(parts: Sequence[Part]) -> str:
    return f"`{_shown_plain(parts)}`"


def _dimension(quantity: Quantity) -> str:
    return quantity.dimension.value


def _right_form(entry: Entry) -> str:
    return f"write it like `{entry.example}`"


def _page(kind: str) -> str:
    return f"the words of `{kind}` in the language reference"


def listed_kinds(kinds: Sequence[str]) -> str:
    """Where a name belongs: "to `panelboard` or `switchboard`", with the rest counted."""
    shown = listed(kinds[:3])
    return f"to {shown}" + (f" and {len(kinds) - 3} others" if len(kinds) > 3 else "")


def _what_may_stand(scope: Scope) -> str:
    names = scope.names
    shown = listed(names) if len(names) <= 16 else listed(names[:12]) + " …"
    return f"{shown[:1].lower()}{shown[1:]} may stand here" if names else ""


def needed(expected: Sequence[Element], vocabulary: Vocabulary) -> str:
    """What may stand in a place, in words: "a current or a word such as `Cu`"."""
    said: dict[str, None] = {}
    for element in expected:
        match element.type:
            case "quantity":
                said.update(dict.fromkeys(dimension.value for dimension in element.dimensions))
            case "list":
                words = list(vocabulary.lists[element.list].words)
                few = listed(words) if len(words) <= 5 else f"{listed(words[:3])} …"
                said[few] = None
            case "word":
                said[f"`{element.literal}`"] = None
            case kind:
                said[_PLAIN[kind]] = None
    names = list(said)
    return ", ".join(names[:-1]) + " or " + names[-1] if len(names) > 1 else "".join(names)


_PLAIN = {
    "text": 'a text in quotes ("…")',
    "tag": "a tag",
    "part": "a tag",
    "count": "a whole number",
    "number": "a plain number",
    "system": "a voltage system such as `480Y/277 V`",
    "size": "a conductor size such as `3/0 AWG`",
    "trade": "a trade size such as `2 inch`",
    "date": "a date such as `2026-05-31`",
}


def a_word_of(help_text: str) -> str:
    """A list's help as a noun: "Kind of raceway." -> "a kind of raceway"."""
    noun = help_text.split(":")[0].rstrip(".")
    lowered = noun[:1].lower() + noun[1:]
    return lowered if lowered.startswith(("a ", "an ", "whether", "which", "where", "how", "who")) else f"a {lowered}"


def _near_list(words: Sequence[str], known: Sequence[str]) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for length in range(min(3, len(words)), 0, -1):
        same_length = [word for word in known if len(word.split()) == length]
        found.update(dict.fromkeys(nearest(" ".join(words[:length]), same_length)))
    joined = "-".join(words[:2])
    found.update({word: None for word in known if word == joined or word.split()[0] == words[0]})
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
