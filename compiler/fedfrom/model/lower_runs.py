"""Lowers the runs of one line: the name with its value, then what stands after commas."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from fedfrom.findings import Finding
from fedfrom.findings.nearest import listed
from fedfrom.model.items import Status
from fedfrom.model.lower_complaints import Complaints
from fedfrom.model.lower_match import Match, Miss, match_patterns
from fedfrom.model.lower_modifiers import Stripped, strip_modifiers, strip_status
from fedfrom.model.lower_phrases import error, written
from fedfrom.model.lower_unknown import Allowed, poles_written, unknown_option
from fedfrom.model.lower_values import COUNT, PART_OF, split_percent, word_at, words_of
from fedfrom.model.lowered import LoweredRun, Modifiers
from fedfrom.quantity import Quantity
from fedfrom.source import Span
from fedfrom.syntax.tree import Part, Run
from fedfrom.vocabulary import Bound, Entry, Scope, Vocabulary


@dataclass(frozen=True, slots=True)
class Option:
    """An option found: its entry, the number of words of its name, and its match where the value alone says it."""

    entry: Entry
    used: int
    match: Match | None = None


class RunLowering:
    """Reads runs by the vocabulary and gathers findings; `silent` while the text under a broken head is read."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.complaints = Complaints(vocabulary)
        self.findings: list[Finding] = []
        self.silent = 0
        self.not_computed: dict[str, list[tuple[Span, str]]] = {}
        self._providers = tuple(vocabulary.lists["scope-of-supply"].words)

    def report(self, finding: Finding) -> None:
        if not self.silent:
            self.findings.append(finding)

    def report_all(self, findings: Iterable[Finding]) -> None:
        for finding in findings:
            self.report(finding)

    # --- values --------------------------------------------------------------------------------------------------

    def value(
        self, entry: Entry, parts: Sequence[Part], name_span: Span, subject: str, may_follow: Iterable[Scope] = ()
    ) -> tuple[Match | None, bool]:
        """The parts after a name by the patterns of its entry: the match, and whether all is well."""
        found = match_patterns(entry.patterns, parts, self.vocabulary)
        if isinstance(found, Match):
            return self._in_range(entry, found, subject)
        if self.comma_missing(entry, parts, found, may_follow, subject):
            head = match_patterns(entry.patterns, parts[: found.reached], self.vocabulary)
            return (head if isinstance(head, Match) else None), False
        poles = poles_written(self.vocabulary, parts[found.reached :], may_follow, subject)
        if poles is not None:
            self.report(poles)
            return None, False
        self.report(self.complaints.bad_value(entry, parts, found, subject, name_span))
        return None, False

    def _in_range(self, entry: Entry, match: Match, subject: str) -> tuple[Match, bool]:
        """Takes values out of sensible range away, with a finding."""
        bad: list[str] = []
        for name, value in match.values.items():
            if isinstance(value, Quantity):
                default = value.dimension.name.lower()
                number: Fraction | int = value.value
            elif isinstance(value, int):
                number, default = value, "count"
            else:
                continue
            bound = self._bound(entry, name, default)
            if bound is not None and not bound.holds(number):
                written = _written(value)
                self.report(self.complaints.out_of_range(entry, bound, match.spans[name], written, subject))
                bad.append(name)
        if not bad:
            return match, True
        return replace(match, values={name: value for name, value in match.values.items() if name not in bad}), False

    def _bound(self, entry: Entry, name: str, dimension: str) -> Bound | None:
        """The range of a part: the entry's own, else that of the name and dimension, else that of the dimension."""
        own, everywhere = entry.bounds, self.vocabulary.default_bounds
        exact = f"{name}.{dimension}"
        return own.get(exact) or everywhere.get(exact) or own.get(name) or everywhere.get(dimension)

    def comma_missing(
        self, entry: Entry, parts: Sequence[Part], miss: Miss, may_follow: Iterable[Scope], subject: str
    ) -> bool:
        """Whether two facts stand there without a comma; then that is the finding."""
        if not 0 < miss.reached < len(parts):
            return False
        head = match_patterns(entry.patterns, parts[: miss.reached], self.vocabulary)
        if not isinstance(head, Match) or self.find_option(parts[miss.reached :], entry.options, may_follow) is None:
            return False
        self.report(self.complaints.missing_comma(parts, miss.reached, subject))
        return True

    # --- modifiers -----------------------------------------------------------------------------------------------

    def strip(self, parts: Sequence[Part], subject: str, *, times: bool) -> Stripped:
        """The run without its modifiers; findings for those that are not well formed."""
        stripped = strip_modifiers(parts, self._providers, times=times)
        bad_times = stripped.times_part is not None and not stripped.modifiers.times
        if stripped.bad_by is not None:
            near = listed([f"by {name}" for name in self._providers[:4]])
            message = f"`by {word_at((stripped.bad_by,), 0)}` names no one known"
            self.report(error("unknown-word", subject, message, stripped.bad_by.span, "by whom?", f"write {near}"))
        if stripped.bare_assumed is not None:
            message = "`assumed` says no reason"
            advice = 'write `assumed because "…"`: the assumption list prints the reason'
            self.report(error("missing-value", subject, message, stripped.bare_assumed.span, "why?", advice))
        if stripped.times_part is not None and bad_times:
            message = "`x 0` makes nothing"
            advice = "write how many there are, as `x 4`, or take the line out"
            self.report(error("unexpected-words", subject, message, stripped.times_part.span, "", advice))
        if bad_times or stripped.bad_by is not None or stripped.bare_assumed is not None:
            return replace(stripped, bad=True)
        return stripped

    # --- options -------------------------------------------------------------------------------------------------

    def find_option(self, parts: Sequence[Part], own: Sequence[Entry], scopes: Iterable[Scope]) -> Option | None:
        """The option that a run is: named first, then by its value alone."""
        words = words_of(parts)
        scopes = tuple(scopes)
        named = [entry for entry in own if entry.words and entry.words == tuple(words[: len(entry.words)])]
        named += [entry for scope in scopes if (entry := scope.match(words)) is not None]
        if named:
            best = max(named, key=lambda entry: len(entry.words))
            return Option(best, len(best.words))
        unnamed = [entry for entry in own if entry.unnamed] + [e for scope in scopes for e in scope.unnamed]
        plain = strip_modifiers(parts, self._providers).parts
        for entry in unnamed:
            match = match_patterns(entry.patterns, plain, self.vocabulary)
            if isinstance(match, Match):
                return Option(entry, 0, match)
        return None

    def options(self, runs: Sequence[Run], allowed: Allowed, subject: str) -> tuple[list[LoweredRun], Modifiers, bool]:
        """Runs after a head (or a line in the braces of a list): the options, modifiers of the line, all well."""
        own, scopes = allowed.own, allowed.scopes
        found: list[LoweredRun] = []
        line = Modifiers()
        good = True
        rest = list(runs)
        while rest:
            run = rest.pop(0)
            parts = split_percent(run.parts)
            status, parts = strip_status(parts)
            stripped = self.strip(parts, subject, times=allowed.times)
            good = good and not stripped.bad
            if line.times is not None and stripped.times_part is not None:
                span = stripped.times_part.span
                self.report(error("written-twice", subject, "`x N` is written twice on one line", span, "again here"))
                good = False
            elif stripped.modifiers.times is not None:
                line = replace(line, times=stripped.modifiers.times)
            if not stripped.parts:
                line = _joined(line, stripped.modifiers)
                continue
            nested = self._nested(found, stripped, run, subject)
            if nested is not None:
                found[-1] = nested
                continue
            option = self.find_option(stripped.parts, own, scopes)
            if option is None:
                self.report_all(unknown_option(self, stripped.parts, allowed, subject))
                good = False
                continue
            lowered, well = self._option(option, stripped, run, rest, scopes, subject, status)
            found.append(lowered)
            good = good and well
        return found, line, good

    def _nested(self, found: list[LoweredRun], stripped: Stripped, run: Run, subject: str) -> LoweredRun | None:
        """A run that belongs to the option before it (`run 40 ft on roof, 50 C`)."""
        if not found or not found[-1].entry.options:
            return None
        option = self.find_option(stripped.parts, found[-1].entry.options, ())
        if option is None:
            return None
        match, _ = self.value(option.entry, stripped.parts[option.used :], run.span, subject)
        values = match.values if match else {}
        spans = match.spans if match else {}
        last = found[-1]
        return replace(last, values={**last.values, **values}, spans={**last.spans, **spans})

    def _option(
        self,
        option: Option,
        stripped: Stripped,
        run: Run,
        rest: list[Run],
        scopes: Sequence[Scope],
        subject: str,
        status: Status | None,
    ) -> tuple[LoweredRun, bool]:
        entry, used = option.entry, option.used
        name_span = stripped.parts[0].span.to(stripped.parts[max(used - 1, 0)].span)
        self.note_use(entry, name_span, subject)
        match: Match | None
        if option.match is not None:
            match, good = self._in_range(entry, option.match, subject)
        else:
            match, good = self.value(entry, stripped.parts[used:], name_span, subject, scopes)
        values = dict(match.values) if match else {}
        spans = dict(match.spans) if match else {}
        span = run.span
        if entry.continues:
            span = self.absorb(entry, values, spans, rest, span)
        return LoweredRun(entry, values, spans, span, stripped.modifiers, status, written(stripped.parts)), good

    def absorb(
        self, entry: Entry, values: dict[str, object], spans: dict[str, Span], rest: list[Run], span: Span
    ) -> Span:
        """Bare runs that belong to the value before them (`position 26,28,30`): values become tuples.

        `spans` gets the place of each by its text.
        """
        name = {"count": "position", "part": "member"}[entry.continues]
        form = COUNT if entry.continues == "count" else PART_OF
        gathered: list[object] = [values[name]] if name in values else []
        if name in values:
            spans[str(values[name])] = spans.get(name, span)
        while rest and len(rest[0].parts) == 1:
            text = word_at(rest[0].parts, 0)
            if text is None or not form.match(text):
                break
            if any(option.words == (text,) for option in entry.options):
                break
            gathered.append(int(text.replace("_", "")) if entry.continues == "count" else text)
            spans[text] = rest[0].span
            span = span.to(rest.pop(0).span)
        values[name] = tuple(gathered)
        return span

    def note_use(self, entry: Entry, span: Span, subject: str) -> None:
        """Remembers the use of a word that nothing is computed from yet."""
        if not entry.computed and not self.silent:
            self.not_computed.setdefault(entry.name, []).append((span, subject))


def _joined(first: Modifiers, second: Modifiers) -> Modifiers:
    return Modifiers(
        first.assumed or second.assumed,
        first.reason or second.reason,
        first.by or second.by,
        first.times if first.times is not None else second.times,
        first.span or second.span,
    )


def _written(value: object) -> str:
    if isinstance(value, Quantity) and value.unit:
        number = value.number_in(value.unit)
        shown = str(number.numerator) if number.denominator == 1 else f"{float(number):g}"
        return f"{shown} {value.unit}"
    return str(value.value if isinstance(value, Quantity) else value)
