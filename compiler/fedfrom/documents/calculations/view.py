"""A derivation as a reader sees it: every value with its place, and the calculation in lines. No layout yet."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.model.items import Origin
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.notation import plain
from fedfrom.rules.registry import Design
from fedfrom.source import Span

# Last parts of subjects that nobody chooses: they follow from everything else.
COMPUTED = frozenset({"demand", "fault", "drop", "imbalance", "start"})

# How the steps begin whose result is a standard size that the numbers lead to.
PICKING = ("OCPD", "not below", "not over")


@dataclass(frozen=True, slots=True)
class Given:
    """A value that the calculation starts from: symbol, value with unit, what it is, and where it is from."""

    symbol: str
    value: str
    name: str
    source: str


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the calculation: formula, the same with numbers, result; equal or empty parts are left out.

    `picks`: the result is not equal to the numbers but picked by them (the next standard rating).
    """

    parts: tuple[str, ...]
    clause: str
    picks: bool = False

    @property
    def text(self) -> str:
        """The whole line without its clause."""
        if self.picks and len(self.parts) == 3:
            return f"{self.parts[0]}: {self.parts[1]} -> {self.parts[2]}"
        return " = ".join(self.parts)


@dataclass(frozen=True, slots=True)
class Calculation:
    """A whole derivation. `origin` in words ("chosen", "as written at plant.fed:12"); `rejected` (option, reason)."""

    subject: str
    title: str
    value: str
    origin: str
    state: str
    given: tuple[Given, ...]
    lines: tuple[Line, ...]
    rounding: str
    rejected: tuple[tuple[str, str], ...]
    clause: str


def calculation(design: Design, derivation: Derivation) -> Calculation:
    """The reader's view of a derivation."""
    return Calculation(
        derivation.subject,
        derivation.title[:1].upper() + derivation.title[1:],
        plain(derivation.value),
        _origin(design, derivation),
        derivation.state,
        tuple(_given(design, item) for item in derivation.inputs),
        tuple(_line(step) for step in derivation.steps),
        derivation.rounding,
        tuple((plain(each.option), plain(each.reason)) for each in derivation.rejected),
        derivation.clause,
    )


def place_of(design: Design, span: Span | None) -> str:
    """ "plant.fed:12", the file alone where its text is not at hand, "" without a place."""
    if span is None:
        return ""
    source = design.files.get(span.file)
    return f"{span.file}:{source.place(span.start).line}" if source else span.file


def _origin(design: Design, derivation: Derivation) -> str:
    subject, _, what = derivation.subject.rpartition(".")
    neutral_load = what == "neutral" and subject in design.network.nodes  # not the conductor "DP1.feeder.neutral"
    if what in COMPUTED or neutral_load:
        return "computed"
    if derivation.origin is Origin.CHOSEN:
        return "chosen"
    place = place_of(design, derivation.span)
    word = "as written" if derivation.origin is Origin.WRITTEN else "default"
    return f"{word} at {place}" if place and derivation.origin is Origin.WRITTEN else word


def _given(design: Design, item: Input) -> Given:
    place = place_of(design, item.span)
    source = "; ".join(part for part in (item.source, place) if part)
    return Given(item.symbol, plain(item.value), plain(item.name), source)


def _line(step: Step) -> Line:
    parts = [plain(part) for part in (step.formula, step.numbers, step.result) if part]
    kept = [part for at, part in enumerate(parts) if at == 0 or part != parts[at - 1]]
    return Line(tuple(kept), step.clause, step.formula.startswith(PICKING))
