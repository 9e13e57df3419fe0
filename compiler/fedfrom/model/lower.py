"""Expanded tree -> lowered lines: every line becomes an entry of the vocabulary with typed values, or a finding."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.findings import Finding, Severity
from fedfrom.findings.finding import Label
from fedfrom.model.lower_lines import LineLowering
from fedfrom.model.lowered import LoweredLine
from fedfrom.source import Span
from fedfrom.syntax.tree import Accept, Expect, Tree
from fedfrom.vocabulary import Vocabulary, load_vocabulary


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
    findings = (*lowering.runs.findings, *not_computed_notes(lowering.runs.not_computed))
    incomplete = broken or any(line.anything_broken for line in lines)
    return Lowered(lines, accepts, expects, findings, frozenset(lowering.lost_words), incomplete)


def not_computed_notes(uses: dict[str, list[tuple[Span, str]]]) -> tuple[Finding, ...]:
    """One note for each word that nothing is computed from yet, at its first place. `uses`: places by word."""
    notes = []
    for name, places in uses.items():
        span, subject = places[0]
        count = f" ({len(places)} places)" if len(places) > 1 else ""
        message = f"`{name}` is kept for drawings and schedules; nothing is computed from it yet{count}"
        related = tuple(Label(other, "and here") for other, _ in places[1:4])
        severity = Severity.NOTE
        advice = "nothing to do, unless a result was meant to follow from it"
        found = Finding("not-computed-yet", severity, subject or name, message, span, "kept", related, help=advice)
        notes.append(found)
    return tuple(notes)
