"""What lowering makes of a line: the entry of the vocabulary that it is, with its parts as values and their spans."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from fedfrom.model.items import Fact, Origin, Status
from fedfrom.source import Span
from fedfrom.syntax.tree import Site
from fedfrom.vocabulary import Entry


@dataclass(frozen=True, slots=True)
class Modifiers:
    """What may end any run: `by utility`, `assumed because "…"`, `because "…"`, `x 4`. Empty where not written."""

    assumed: bool = False
    reason: str = ""
    by: str = ""
    times: int | None = None
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class LoweredRun:
    """One run: an entry and the values of its pattern's parts, by name, with the span of each.

    `shown` is the run as it reads after expansion, without its modifiers.
    """

    entry: Entry
    values: Mapping[str, object]
    spans: Mapping[str, Span]
    span: Span
    modifiers: Modifiers = Modifiers()
    status: Status | None = None
    shown: str = ""

    @property
    def text_span(self) -> Span:
        """The span for messages about the value: its first part, else the run."""
        return next(iter(self.spans.values()), self.span)


@dataclass(frozen=True, slots=True)
class LoweredLine:
    """One line: its head, what stood after commas or in the braces of a list, and the lines in its block.

    `broken`: something in it could not be read (a finding says what); what depends on it is not known. `modifiers` are
    those of the line as a whole (a run of its own, or the head's).
    """

    entry: Entry
    head: LoweredRun
    options: tuple[LoweredRun, ...]
    children: tuple[LoweredLine, ...]
    span: Span
    head_span: Span
    positions: tuple[int, ...] = ()
    positions_span: Span | None = None
    along: LoweredRun | None = None
    status: Status | None = None
    modifiers: Modifiers = Modifiers()
    trail: tuple[Site, ...] = ()
    broken: bool = False
    block_broken: bool = False
    extra: Mapping[str, object] = field(default_factory=dict)

    @property
    def by(self) -> str:
        return self.modifiers.by or self.head.modifiers.by

    def option(self, name: str) -> LoweredRun | None:
        """The first option of this name."""
        return next((run for run in self.options if run.entry.name == name), None)

    @property
    def runs(self) -> Iterator[LoweredRun]:
        """The head and every option."""
        yield self.head
        yield from self.options

    @property
    def anything_broken(self) -> bool:
        return self.broken or self.block_broken or any(child.anything_broken for child in self.children)


def to_fact(line: LoweredLine, origin: Origin = Origin.WRITTEN) -> Fact:
    """The line as a `Fact`. Values of an option that may repeat are tuples; `merge` entries take them as values."""
    values = dict(line.head.values)
    options: dict[str, dict[str, object]] = {}
    for run in line.options:
        if line.entry.merge:
            values[run.entry.name] = next(iter(run.values.values()), True)
        elif run.entry.repeat:
            gathered = options.setdefault(run.entry.name, {})
            for key, value in run.values.items():
                before = gathered.get(key, ())
                gathered[key] = (*before, value) if isinstance(before, tuple) else (value,)
        else:
            options[run.entry.name] = dict(run.values)
    reasons = [run.modifiers.reason for run in line.runs if run.modifiers.reason]
    return Fact(
        name=line.entry.name,
        values=values,
        options=options,
        span=line.span,
        assumed=line.modifiers.assumed or any(run.modifiers.assumed for run in line.runs),
        reason=line.modifiers.reason or (reasons[0] if reasons else ""),
        by=line.by,
        status=line.status,
        origin=origin,
    )
