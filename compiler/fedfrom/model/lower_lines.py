"""Lowers lines block by block: the entry that each is, its value, what stands after commas and in braces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fedfrom.model.lower_groups import lower_groups
from fedfrom.model.lower_heads import Head, read_head, rescued, subject_of, without_position
from fedfrom.model.lower_match import Match
from fedfrom.model.lower_modifiers import Stripped
from fedfrom.model.lower_names import near_names, other_word, unknown_name
from fedfrom.model.lower_phrases import a, error, example, written
from fedfrom.model.lower_runs import RunLowering
from fedfrom.model.lower_unknown import Allowed
from fedfrom.model.lower_values import split_percent, words_of
from fedfrom.model.lowered import LoweredLine, LoweredRun, Modifiers
from fedfrom.source import Span
from fedfrom.syntax.tree import Accept, Expect, Line, Part, Statement, Word
from fedfrom.vocabulary import Entry, Scope, Vocabulary

_LISTS_IN_BRACES = frozenset({"feed", "load", "tie"})


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
        head = read_head(self.runs, line, scope, subject)
        if not head.parts:
            message = "a line needs a word that says what it is"
            self.runs.report(error("missing-value", subject, message, line.span, "", ""))
            return ()
        words = words_of(head.parts)
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

    def _misplaced(self, entry: Entry, scope: Scope, head: Head, subject: str) -> tuple[LoweredLine, ...]:
        """A statement of the top level inside a block."""
        span = head.parts[0].span.to(head.parts[len(entry.words) - 1].span)
        message = f"`{entry.name}` cannot stand inside {a(scope.kind)}"
        advice = "move it to the top of the file, outside of all braces"
        if entry.kind == "item":
            advice += "; what feeds it is said by its `fed from`"
        self.runs.report(error("misplaced-statement", subject, message, span, "not here", advice))
        self.lost_words.update(words_of(head.parts))
        return ()

    def _unknown(self, line: Line, head: Head, scope: Scope, subject: str) -> tuple[LoweredLine, ...]:
        """A word that is not known here: a finding, and the line is read as the nearest word, with no second one."""
        words = words_of(head.parts)
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

    def _known(self, line: Line, head: Head, entry: Entry, scope: Scope, subject: str) -> tuple[LoweredLine, ...]:
        used = len(entry.words)
        name_span = head.parts[0].span.to(head.parts[used - 1].span)
        head = self._once(head, entry, subject)
        subject = subject_of(entry, head.parts[used:], subject)
        self.runs.note_use(entry, name_span, subject)
        times = entry.kind in {"load", "reserve"} or entry.name == "electrode"
        stripped = self.runs.strip(head.parts[used:], subject, times=times)
        good = head.good and not stripped.bad
        if line.positions and entry.kind not in {"load", "reserve"}:
            span = line.positions[0].span.to(line.positions[-1].span)
            message = f"`{entry.name}` takes no positions"
            advice = "positions stand before a load, a spare or a space; a feed says `position 2,4,6`"
            self.runs.report(error("malformed-position", subject, message, span, "not here", advice))
            good = False
        if entry.shape == "groups":
            return (lower_groups(self.runs, line, entry, stripped, name_span),)
        return self._with_options(line, head, entry, stripped, name_span, scope, subject, good)

    def _with_options(
        self,
        line: Line,
        head: Head,
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
            values, spans = (dict(match.values), dict(match.spans)) if match else rescued(entry, stripped.parts)
            if self._kind_as_tag(match, entry, subject):
                good = False
                del values["tag"]
        head_span = name_span.to(stripped.parts[-1].span) if stripped.parts else name_span
        if entry.continues:
            head_span = self.runs.absorb(entry, values, spans, rest, head_span)
        self.runs.silent += unread  # what follows a head that could not be read gives no second finding
        mine, others = self._split_flat(rest, entry, scope)
        has_amount = entry.kind != "load" or bool({*values} - {"tag", "name"})
        allowed = replace(allowed, head=written(head.parts), needs_amount=not has_amount)
        options, modifiers, well = self.runs.options(mine, allowed, subject)
        good = good and well
        if modifiers.times is not None and stripped.modifiers.times is not None:
            message = "`x N` is written twice on one line"
            self.runs.report(error("written-twice", subject, message, line.span, "", "keep one of them"))
        head_run = LoweredRun(entry, values, spans, head_span, stripped.modifiers, head.status, written(head.parts))
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

    def _once(self, head: Head, entry: Entry, subject: str) -> Head:
        """The head without a name that was written twice in a row (`heating heating DH-1 …`)."""
        used = len(entry.words)
        again = head.parts[used : 2 * used]
        doubled = tuple(words_of(again)) == entry.words and len(head.parts) > 2 * used
        if not doubled or (entry.kind == "item" and not isinstance(head.parts[2 * used], Word)):
            return head
        message = f"`{entry.name}` is written twice in a row"
        self.runs.report(error("written-twice", subject, message, _span(again), "again here", "take one of them out"))
        return replace(head, parts=(*head.parts[:used], *head.parts[2 * used :]), good=False)

    def _kind_as_tag(self, match: Match | None, entry: Entry, subject: str) -> bool:
        """A load whose tag is the word for a load: the word was written twice, or a name was forgotten."""
        tag = match.values.get("tag") if match is not None and entry.kind == "load" else None
        if match is None or tag not in self.vocabulary.lists["load-kind"].words:
            return False
        message = f"`{tag}` is a kind of load, not the tag of one"
        advice = f"take it out; {example(entry)}"
        self.runs.report(error("malformed-tag", subject, message, match.spans["tag"], "not a tag", advice))
        return True

    def _split_flat(self, rest: list, entry: Entry, scope: Scope) -> tuple[list, list]:  # type: ignore[type-arg]
        """Where a comma may start another fact of the scope: the runs of this one, and those of the next."""
        if not scope.flat:
            return rest, []
        for index, run in enumerate(rest):
            parts = split_percent(run.parts)
            if self.runs.find_option(parts, entry.options, ()) is None and scope.match(words_of(parts)) is not None:
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
            scope = self.vocabulary.class_defaults(" ".join(words_of(line.runs[0].parts)[1:]))
        children, broken = self.block(statements, scope, subject)
        return [], children, Modifiers(), broken

    def _is_option_line(self, line: Line, scopes: tuple[Scope, ...]) -> bool:
        parts = split_percent(without_position(line)[0].parts) if line.runs else ()
        words = words_of(parts)
        if not words or self.vocabulary.scope("circuit").match(words) is not None:
            return False
        return self.runs.find_option(parts, (), scopes) is not None

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
            options, said, good = self.runs.options(without_position(inner), allowed, subject)
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
