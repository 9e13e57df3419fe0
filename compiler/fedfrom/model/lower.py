"""Expanded tree -> lowered lines: every line becomes an entry of the vocabulary with typed values, or a finding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fedfrom.findings import Finding, Severity
from fedfrom.findings.finding import Label
from fedfrom.model.items import Status
from fedfrom.model.lower_modifiers import Stripped, strip_status
from fedfrom.model.lower_names import near_names, other_word, unknown_name
from fedfrom.model.lower_phrases import a, error
from fedfrom.model.lower_runs import RunLowering, shown
from fedfrom.model.lower_unknown import Allowed
from fedfrom.model.lower_values import COUNT, TAG, split_percent, word_at
from fedfrom.model.lowered import LoweredLine, LoweredRun, Modifiers
from fedfrom.quantity import Quantity
from fedfrom.source import Span
from fedfrom.syntax.tree import Accept, Expect, Line, ListValue, Part, Statement, Text, Tree, Word
from fedfrom.vocabulary import Entry, Scope, Vocabulary, load_vocabulary

_LISTS_IN_BRACES = frozenset({"feed", "load", "tie"})


@dataclass(frozen=True, slots=True)
class Lowered:
    """All lines of a project in order, the statements with a shape of their own, and findings.

    `lost_words`: words of heads that could not be read; a tag among them is not reported as unknown a second time.
    """

    lines: tuple[LoweredLine, ...]
    accepts: tuple[Accept, ...]
    expects: tuple[Expect, ...]
    findings: tuple[Finding, ...]
    lost_words: frozenset[str]
    incomplete: bool


def lower(tree: Tree, vocabulary: Vocabulary | None = None) -> Lowered:
    """Lowers every statement of an expanded tree. Never raises on bad text: what is wrong is a finding."""
    lowering = LineLowering(vocabulary or load_vocabulary())
    lines, broken = lowering.block(tree.statements, lowering.vocabulary.scope("top"), "")
    accepts = tuple(statement for statement in tree.statements if isinstance(statement, Accept))
    expects = tuple(statement for statement in tree.statements if isinstance(statement, Expect))
    findings = (*lowering.runs.findings, *lowering.not_computed_notes())
    incomplete = broken or any(line.anything_broken for line in lines)
    return Lowered(lines, accepts, expects, findings, frozenset(lowering.lost_words), incomplete)


@dataclass(frozen=True, slots=True)
class _Head:
    """The start of a line: status, positions, place along a busway, and the run that is left."""

    status: Status | None
    positions: tuple[int, ...]
    positions_span: Span | None
    along: LoweredRun | None
    parts: tuple[Part, ...]
    good: bool


class LineLowering:
    """Lowers lines, block by block."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.runs = RunLowering(vocabulary)
        self.lost_words: set[str] = set()

    # --- blocks --------------------------------------------------------------------------------------------------

    def block(
        self, statements: Sequence[Statement], scope: Scope, subject: str
    ) -> tuple[tuple[LoweredLine, ...], bool]:
        """The lines of a block, and whether some of it could not be read."""
        lowered: list[LoweredLine] = []
        broken = False
        for statement in statements:
            if isinstance(statement, Line):
                found = self.line(statement, scope, subject)
                lowered.extend(found)
                broken = broken or not found or any(line.broken for line in found)
            elif isinstance(statement, (Accept, Expect)) and scope.kind != "top":
                word = "accept" if isinstance(statement, Accept) else "expect"
                message = f"`{word}` stands inside a block"
                advice = "move it to the top of the file, outside of all braces"
                self.runs.report(error("misplaced-statement", subject, message, statement.span, "not here", advice))
        self._written_twice(lowered, subject)
        return tuple(lowered), broken

    def _written_twice(self, lines: Sequence[LoweredLine], subject: str) -> None:
        first: dict[str, LoweredLine] = {}
        for line in lines:
            if line.entry.kind not in {"property", "statement", "option"} or line.entry.repeat:
                continue
            before = first.setdefault(line.entry.name, line)
            elsewhere = line.entry.kind == "statement" and before.span.file != line.span.file
            if before is not line and not elsewhere:
                finding = self.runs.complaints.written_twice(
                    line.entry.name, before.head_span, line.head_span, subject or line.entry.name
                )
                self.runs.report(finding)

    # --- one line ------------------------------------------------------------------------------------------------

    def line(self, line: Line, scope: Scope, subject: str) -> tuple[LoweredLine, ...]:
        """One line of the text: one lowered line, several where a comma may start another fact, none if unreadable."""
        if line.unreadable:
            return self._silently(line, scope, subject)
        head = self._head(line, scope, subject)
        if not head.parts:
            message = "a line needs a word that says what it is"
            self.runs.report(error("missing-value", subject, message, line.span, "", ""))
            return ()
        words = _words(head.parts)
        entry = scope.match(words)
        outer = self.vocabulary.scope("top").match(words) if scope.kind != "top" else None
        if outer is not None and (entry is None or len(outer.words) > len(entry.words)):
            return self._misplaced(outer, scope, head, subject)
        if entry is None:
            return self._unknown(line, head, scope, subject)
        return self._known(line, head, entry, scope, subject)

    def _silently(self, line: Line, scope: Scope, subject: str) -> tuple[LoweredLine, ...]:
        """A head that could not be parsed: what can be known of it, without a second finding."""
        for run in line.runs:
            self.lost_words.update(part.text for part in run.parts if isinstance(part, Word))
        self.runs.silent += 1
        try:
            found = self.line(replace(line, unreadable=False), scope, subject) if line.runs else ()
        finally:
            self.runs.silent -= 1
        return tuple(replace(item, broken=True) for item in found)

    def _head(self, line: Line, scope: Scope, subject: str) -> _Head:
        parts = split_percent(line.runs[0].parts) if line.runs else ()
        status, parts = strip_status(parts)
        positions, good = self._positions(line, subject)
        span = line.positions[0].span.to(line.positions[-1].span) if line.positions else None
        along = None
        if word_at(parts, 0) == "at" and "at" not in scope.names:
            along, parts = self._along(parts, subject)
        return _Head(status, positions, span, along, tuple(parts), good)

    def _along(self, parts: tuple[Part, ...], subject: str) -> tuple[LoweredRun | None, tuple[Part, ...]]:
        """`at 60 ft` before a load on a busway."""
        entry = self.vocabulary.scope("load").entries["at"]
        used = 2 if _is_glued(parts) else 3
        match, _ = self.runs.value(entry, parts[1:used], parts[0].span, subject)
        span = parts[0].span.to(parts[min(used, len(parts)) - 1].span)
        run = LoweredRun(entry, match.values, match.spans, span) if match else None
        return run, parts[used:]

    def _positions(self, line: Line, subject: str) -> tuple[tuple[int, ...], bool]:
        positions: list[int] = []
        for word in line.positions:
            if not COUNT.match(word.text) or int(word.text.replace("_", "")) < 1:
                message = f"`{word.text}` is not a position"
                advice = "positions are whole numbers from 1, with commas: `1,3,5`"
                self.runs.report(error("malformed-position", subject, message, word.span, "", advice))
                return (), False
            number = int(word.text.replace("_", ""))
            if number in positions:
                message = f"position {number} is named twice on one line"
                self.runs.report(error("malformed-position", subject, message, word.span, "again here", "name it once"))
                return (), False
            positions.append(number)
        return tuple(positions), True

    def _misplaced(self, entry: Entry, scope: Scope, head: _Head, subject: str) -> tuple[LoweredLine, ...]:
        """A statement of the top level inside a block."""
        span = head.parts[0].span.to(head.parts[len(entry.words) - 1].span)
        message = f"`{entry.name}` cannot stand inside {a(scope.kind)}"
        advice = "move it to the top of the file, outside of all braces"
        if entry.kind == "item":
            advice += "; what feeds it is said by its `fed from`"
        self.runs.report(error("misplaced-statement", subject, message, span, "not here", advice))
        self.lost_words.update(_words(head.parts))
        return ()

    def _unknown(self, line: Line, head: _Head, scope: Scope, subject: str) -> tuple[LoweredLine, ...]:
        """A word that is not known here: a finding, and the line is read as the nearest word, with no second one."""
        words = _words(head.parts)
        near = near_names(words, (scope,)) if words else ()
        tag = words[1] if scope.kind == "top" and len(words) > 1 else subject
        self.runs.report(unknown_name(self.vocabulary, head.parts, (scope,), tag))
        self.lost_words.update(words)
        instead = other_word(self.vocabulary, words, (scope,)) if words else ""
        guess = near[0] if near else (instead if instead in scope.entries else None)
        if guess is None and scope.kind == "top" and line.block is not None and len(words) > 1:
            guess = "gear"
        if guess is None:
            return ()
        entry = scope.entries[guess]
        used = len(guess.split()) if near and guess not in {"-".join(words[:2])} else 1
        used = 2 if near and "-".join(words[:2]) == guess else used
        parts = (*(Word((word,), head.parts[0].span) for word in entry.words), *head.parts[used:])
        self.runs.silent += 1
        try:
            found = self._known(line, replace(head, parts=parts), entry, scope, subject)
        finally:
            self.runs.silent -= 1
        return tuple(replace(item, broken=True) for item in found)

    def _known(self, line: Line, head: _Head, entry: Entry, scope: Scope, subject: str) -> tuple[LoweredLine, ...]:
        used = len(entry.words)
        name_span = head.parts[0].span.to(head.parts[used - 1].span)
        if entry.kind in {"item", "statement"}:
            subject = _tag_of(entry, head.parts[used:]) or entry.name
        elif entry.kind == "load":
            subject = _load_subject(subject, head.parts[used:])
        self.runs.note_use(entry, name_span, subject)
        times = entry.kind in {"load", "reserve"} or entry.name == "electrode"
        stripped = self.runs.strip(head.parts[used:], subject, times=times)
        good = head.good and stripped.bad_by is None and stripped.bare_assumed is None
        if line.positions and entry.kind not in {"load", "reserve"}:
            span = line.positions[0].span.to(line.positions[-1].span)
            message = f"`{entry.name}` takes no positions"
            advice = "positions stand before a load, a spare or a space; a feed says `position 2,4,6`"
            self.runs.report(error("malformed-position", subject, message, span, "not here", advice))
            good = False
        if entry.shape == "groups":
            return (self._groups(line, entry, stripped, name_span, subject),)
        return self._with_options(line, head, entry, stripped, name_span, scope, subject, good)

    def _with_options(
        self,
        line: Line,
        head: _Head,
        entry: Entry,
        stripped: Stripped,
        name_span: Span,
        scope: Scope,
        subject: str,
        good: bool,
    ) -> tuple[LoweredLine, ...]:
        scopes = tuple(self.vocabulary.scope(kind) for kind in entry.option_scopes)
        allowed = Allowed(entry, scopes, scope, times=entry.kind in {"load", "reserve"})
        rest = list(line.runs[1:])
        first: list[LoweredRun] = []
        values: dict[str, object] = {}
        spans: dict[str, Span] = {}
        unread = False
        if entry.head_is_option and stripped.parts:
            run = replace(line.runs[0], parts=stripped.parts, span=_span(stripped.parts))
            first, _, well = self.runs.options([run], allowed, subject)
            good = good and well
        elif entry.head_is_option:
            message = f"`{entry.name}` says nothing"
            advice = f"write it like `{entry.example}`, or leave it out"
            self.runs.report(error("missing-value", subject, message, name_span, "", advice))
            good = False
        else:
            match, well = self.runs.value(entry, stripped.parts, name_span, subject, scopes)
            good = good and well
            unread = match is None
            values, spans = (dict(match.values), dict(match.spans)) if match else _rescued(entry, stripped.parts)
        head_span = name_span.to(stripped.parts[-1].span) if stripped.parts else name_span
        if entry.continues:
            head_span = self.runs.absorb(entry, values, spans, rest, head_span)
        self.runs.silent += unread  # what follows a head that could not be read gives no second finding
        mine, others = self._split_flat(rest, entry, scope)
        has_amount = entry.kind != "load" or bool({*values} - {"tag", "name"})
        allowed = replace(allowed, head=shown(head.parts), needs_amount=not has_amount)
        options, modifiers, well = self.runs.options(mine, allowed, subject)
        good = good and well
        if modifiers.times is not None and stripped.modifiers.times is not None:
            message = "`x N` is written twice on one line"
            self.runs.report(error("written-twice", subject, message, line.span, "", "keep one of them"))
        head_run = LoweredRun(entry, values, spans, head_span, stripped.modifiers, head.status, shown(head.parts))
        options = [*first, *options]
        self._options_twice(options, subject)
        self.runs.silent -= unread and entry.kind == "item"
        inner, children, in_braces, block_broken = self._braces(line, entry, scopes, subject)
        self.runs.silent -= unread and entry.kind != "item"
        options += inner
        lowered = LoweredLine(
            entry=entry,
            head=head_run,
            options=tuple(options),
            children=children,
            span=line.span,
            head_span=head_span,
            positions=head.positions,
            positions_span=head.positions_span,
            along=head.along,
            status=head.status,
            modifiers=_first_said(modifiers, in_braces, stripped.modifiers),
            trail=line.trail,
            broken=not good,
            block_broken=block_broken,
        )
        if not others:
            return (lowered,)
        following = Line((), tuple(others), None, others[0].span.to(others[-1].span), line.trail)
        return (lowered, *self.line(following, scope, subject))

    def _split_flat(self, rest: list, entry: Entry, scope: Scope) -> tuple[list, list]:  # type: ignore[type-arg]
        """Where a comma may start another fact of the scope: the runs of this one, and those of the next."""
        if not scope.flat:
            return rest, []
        for index, run in enumerate(rest):
            parts = split_percent(run.parts)
            if self.runs.find_option(parts, entry.options, ()) is None and scope.match(_words(parts)) is not None:
                return rest[:index], rest[index:]
        return rest, []

    def _braces(
        self, line: Line, entry: Entry, scopes: tuple[Scope, ...], subject: str
    ) -> tuple[list[LoweredRun], tuple[LoweredLine, ...], Modifiers, bool]:
        """What stands in the braces: options of a list, or lines of a block."""
        if line.block is None:
            return [], (), Modifiers(), False
        if not entry.block:
            message = f"`{entry.name}` takes no braces"
            self.runs.report(error("unexpected-words", subject, message, line.block.span, "", "put commas instead"))
            return [], (), Modifiers(), True
        if entry.block in _LISTS_IN_BRACES:
            return self._list_in_braces(line, entry, scopes, subject)
        statements = line.block.statements
        if entry.name == "circuit":
            mine = [s for s in statements if isinstance(s, Line) and self._is_option_line(s, scopes)]
            inner, _, modifiers, broken = self._list_of(mine, entry, scopes, subject)
            loads = [s for s in statements if s not in mine]
            children, also = self.block(loads, self.vocabulary.scope("circuit"), subject)
            return inner, children, modifiers, broken or also
        scope = self.vocabulary.scope(entry.block)
        if entry.name == "defaults" and len(line.runs[0].parts) > 1:
            scope = self.vocabulary.class_defaults(" ".join(_words(line.runs[0].parts)[1:]))
        children, broken = self.block(statements, scope, subject)
        return [], children, Modifiers(), broken

    def _is_option_line(self, line: Line, scopes: tuple[Scope, ...]) -> bool:
        words = _words(split_percent(line.runs[0].parts)) if line.runs else []
        if not words or self.vocabulary.scope("circuit").match(words) is not None or line.positions:
            return False
        return self.runs.find_option(split_percent(line.runs[0].parts), (), scopes) is not None

    def _list_in_braces(
        self, line: Line, entry: Entry, scopes: tuple[Scope, ...], subject: str
    ) -> tuple[list[LoweredRun], tuple[LoweredLine, ...], Modifiers, bool]:
        assert line.block is not None
        lines = [statement for statement in line.block.statements if isinstance(statement, Line)]
        return self._list_of(lines, entry, scopes, subject)

    def _list_of(
        self, lines: Sequence[Line], entry: Entry, scopes: tuple[Scope, ...], subject: str
    ) -> tuple[list[LoweredRun], tuple[LoweredLine, ...], Modifiers, bool]:
        found: list[LoweredRun] = []
        modifiers = Modifiers()
        broken = False
        for inner in lines:
            if inner.unreadable:
                broken = True
                continue
            allowed = Allowed(entry, scopes, None, times=entry.kind == "load")
            options, said, good = self.runs.options(inner.runs, allowed, subject)
            found += options
            modifiers = _first_said(said, modifiers)
            broken = broken or not good
        return found, (), modifiers, broken

    def _options_twice(self, options: Sequence[LoweredRun], subject: str) -> None:
        first: dict[str, LoweredRun] = {}
        for run in options:
            if run.entry.repeat:
                continue
            before = first.setdefault(run.entry.name, run)
            if before is not run:
                name = run.entry.name
                finding = self.runs.complaints.written_twice(name, before.span, run.span, subject, "on one line")
                self.runs.report(finding)

    def _groups(self, line: Line, entry: Entry, stripped: Stripped, name_span: Span, subject: str) -> LoweredLine:
        """`noncoincident A, B or C`: groups of tags."""
        groups: list[list[str]] = [[]]
        spans: dict[str, Span] = {}
        good = True
        runs = [stripped.parts, *(self.runs.strip(run.parts, subject, times=False).parts for run in line.runs[1:])]
        for part in (part for parts in runs for part in parts):
            text = part.text if isinstance(part, Word) else ""
            if text == "or" and groups[-1]:
                groups.append([])
            elif TAG.match(text) and text != "or":
                groups[-1].append(text)
                spans[text] = part.span
            else:
                message = f"`{_plain(part)}` is not the tag of a load"
                advice = f"write it like `{entry.example}`"
                self.runs.report(error("malformed-tag", entry.name, message, part.span, "a tag belongs here", advice))
                good = False
        if good and (len(groups) < 2 or not groups[-1]):
            message = "`noncoincident` needs two groups of tags with `or` between them"
            advice = f"write it like `{entry.example}`"
            self.runs.report(error("missing-value", entry.name, message, line.span, "", advice))
            good = False
        head = LoweredRun(entry, {"groups": tuple(tuple(group) for group in groups)}, spans, line.span)
        return LoweredLine(entry, head, (), (), line.span, name_span, trail=line.trail, broken=not good)

    # --- notes ---------------------------------------------------------------------------------------------------

    def not_computed_notes(self) -> tuple[Finding, ...]:
        """One note for each word that nothing is computed from yet, at its first place."""
        notes = []
        for name, uses in self.runs.not_computed.items():
            span, subject = uses[0]
            places = f" ({len(uses)} places)" if len(uses) > 1 else ""
            message = f"`{name}` is kept for drawings and schedules; nothing is computed from it yet{places}"
            related = tuple(Label(other, "and here") for other, _ in uses[1:4])
            notes.append(
                Finding("not-computed-yet", Severity.NOTE, subject or name, message, span, "kept", related=related)
            )
        return tuple(notes)


def _rescued(entry: Entry, parts: Sequence[Part]) -> tuple[dict[str, object], dict[str, Span]]:
    """The tag and title of a head whose rest could not be read, so that the tag is still known."""
    values: dict[str, object] = {}
    spans: dict[str, Span] = {}
    names = {element.name for pattern in entry.patterns for element in pattern.elements[:1] if element.type == "tag"}
    if parts and names and isinstance(parts[0], Word) and TAG.match(parts[0].text):
        name = sorted(names)[0]
        values[name], spans[name] = parts[0].text, parts[0].span
        parts = parts[1:]
    text = next((part for part in parts[:1] if isinstance(part, Text)), None)
    if text is not None:
        key = "title" if entry.kind in {"item", "statement"} else "name"
        values[key], spans[key] = text.text, text.span
    return values, spans


def _tag_of(entry: Entry, parts: Sequence[Part]) -> str:
    tagged = any(pattern.elements and pattern.elements[0].type == "tag" for pattern in entry.patterns)
    return (word_at(parts, 0) or "") if tagged else ""


def _load_subject(gear: str, parts: Sequence[Part]) -> str:
    name = next((part.text for part in parts[:2] if isinstance(part, Text)), "")
    return f'{gear} "{name}"' if name else gear


def _first_said(*said: Modifiers) -> Modifiers:
    return Modifiers(
        any(m.assumed for m in said),
        next((m.reason for m in said if m.reason), ""),
        next((m.by for m in said if m.by), ""),
        next((m.times for m in said if m.times is not None), None),
        next((m.span for m in said if m.span), None),
    )


def _span(parts: Sequence[Part]) -> Span:
    return parts[0].span.to(parts[-1].span)


def _is_glued(parts: Sequence[Part]) -> bool:
    from fedfrom.model.lower_values import read_quantity

    read = read_quantity(parts, 1)
    return read is not None and isinstance(read.value, Quantity) and read.used == 1


def _plain(part: Part) -> str:
    return "( … )" if isinstance(part, ListValue) else part.text


def _words(parts: Sequence[Part]) -> list[str]:
    words: list[str] = []
    for index in range(len(parts)):
        word = word_at(parts, index)
        if word is None:
            break
        words.append(word)
    return words
