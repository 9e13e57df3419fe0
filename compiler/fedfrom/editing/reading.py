"""What the lines of a tree that is not expanded mean: the entry of the vocabulary, and lowered forms to compare.

Parameters are not known here, so every splice counts as `1`: `[run] ft` reads as a length, `LP-[level]` as a tag.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from fedfrom.model.lower_heads import without_position
from fedfrom.model.lower_lines import LineLowering
from fedfrom.model.lower_modifiers import STATUS_WORDS
from fedfrom.model.lower_values import word_at
from fedfrom.model.lowered import LoweredLine, LoweredRun, Modifiers
from fedfrom.syntax.tree import Block, Line, ListValue, Part, Run, Statement, Text, Word
from fedfrom.vocabulary import Entry, Scope, Vocabulary, load_vocabulary

LISTS_IN_BRACES = frozenset({"feed", "load", "tie"})
_CHANGED = ("panelboard", "transformer", "transfer switch", "ups", "generator", "utility", "busway", "load", "feed")
USE_SCOPE = Scope("use", {})


@dataclass(frozen=True, slots=True)
class Named:
    """A line with the entry that it is (None: not known), and how many parts stand before and in its name."""

    entry: Entry | None
    before: int = 0
    name_parts: int = 0


@cache
def change_scope() -> Scope:
    """What may stand in `change TAG { … }`, whatever TAG is."""
    entries: dict[str, Entry] = {}
    vocabulary = load_vocabulary()
    for kind in (*_CHANGED, *vocabulary.item_kinds):
        for name, entry in vocabulary.scope(kind).entries.items():
            entries.setdefault(name, entry)
    return Scope("change", entries)


def named(line: Line, scope: Scope) -> Named:
    """The entry that a line is in a scope."""
    parts = sample_parts(line.runs[0].parts)
    before = 1 if word_at(parts, 0) in STATUS_WORDS and len(parts) > 1 else 0
    if word_at(parts, before) == "at" and "at" not in scope.names:
        before += 3 if word_at(parts, before + 2) in {"ft", "m"} else 2
    entry = scope.match(words(parts[before:]))
    return Named(entry, before, len(entry.words) if entry else 0)


def inner_scope(line: Line, scope: Scope, vocabulary: Vocabulary) -> Scope:
    """The scope of a line's block."""
    first = words(line.runs[0].parts)[:1]
    if first == ["change"] and scope.match(first) is None:
        return change_scope()
    entry = named(line, scope).entry
    if entry is None:
        return USE_SCOPE
    if entry.name == "defaults" and len(line.runs[0].parts) > 1:
        return vocabulary.class_defaults(" ".join(words(line.runs[0].parts)[1:]))
    return vocabulary.scope(entry.block)


def is_list_block(line: Line, scope: Scope) -> bool:
    """Whether the line's braces hold facts that could as well stand after commas."""
    entry = named(line, scope).entry
    return entry is not None and entry.block in LISTS_IN_BRACES


def words(parts: Sequence[Part]) -> list[str]:
    """The words at the start of a run."""
    found = []
    for index in range(len(parts)):
        word = word_at(parts, index)
        if word is None:
            break
        found.append(word)
    return found


# --- samples ---------------------------------------------------------------------------------------------------------


def sample_parts(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts with `1` for every splice; spans stay."""
    return tuple(_sample_part(part) for part in parts)


def sample_run(run: Run) -> Run:
    return replace(run, parts=sample_parts(run.parts))


def sample_line(line: Line) -> Line:
    """The line with `1` for every splice, in its block too."""
    block = line.block
    if block is not None:
        inside = tuple(sample_line(s) if isinstance(s, Line) else s for s in block.statements)
        block = Block(inside, block.span)
    positions = tuple(_sample_word(word) for word in line.positions)
    return replace(line, positions=positions, runs=tuple(map(sample_run, line.runs)), block=block)


def _sample_part(part: Part) -> Part:
    if isinstance(part, ListValue):
        return replace(part, values=tuple(map(sample_run, part.values)))
    if isinstance(part, Text):
        return Text((_sampled(part),), part.span)
    return _sample_word(part)


def _sample_word(word: Word) -> Word:
    if len(word.segments) == 1 and isinstance(word.segments[0], str):
        return word
    return Word((_sampled(word),), word.span)


def _sampled(part: Word | Text) -> str:
    return "".join(segment if isinstance(segment, str) else "1" for segment in part.segments)


# --- meaning ---------------------------------------------------------------------------------------------------------


def meaning(statements: Sequence[Statement], scope: Scope) -> object:
    """What lines say in a scope, for comparison: lowered, without places; the findings by their sentences."""
    lowering = LineLowering(load_vocabulary())
    lines = [sample_line(statement) for statement in statements if isinstance(statement, Line)]
    if scope.kind in LISTS_IN_BRACES:
        lines = [replace(line, positions=(), runs=without_position(line)) for line in lines]
    lowered, broken = lowering.block(lines, scope, "")
    findings = tuple((finding.rule, finding.severity) for finding in lowering.runs.findings)
    return tuple(map(_bare_line, lowered)), broken, findings


def reads_clean(line: Line, scope: Scope) -> bool:
    """Whether a line reads without a finding (of which a new layout could change the sense)."""
    lowering = LineLowering(load_vocabulary())
    found = lowering.line(sample_line(line), scope, "")
    return bool(found) and not any(item.anything_broken for item in found)


def _bare_line(line: LoweredLine) -> object:
    runs = (_bare_run(line.head), tuple(map(_bare_run, line.options)), line.along and _bare_run(line.along))
    more = (line.positions, line.status, _bare_modifiers(line.modifiers), line.broken, line.block_broken)
    return line.entry.name, runs, tuple(map(_bare_line, line.children)), more


def _bare_run(run: LoweredRun) -> object:
    return run.entry.name, _items(run.values), _bare_modifiers(run.modifiers), run.status


def _bare_modifiers(modifiers: Modifiers) -> object:
    return modifiers.assumed, modifiers.reason, modifiers.by, modifiers.times


def _items(values: Mapping[str, object]) -> tuple[tuple[str, object], ...]:
    return tuple(sorted(values.items(), key=lambda item: item[0]))
