"""Commas up to the longest line, braces beyond, one fact a line; and `100A` written `100 A`.

A change of layout is made only where the line reads the same afterwards.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from fedfrom.editing.reading import (
    LISTS_IN_BRACES,
    is_list_block,
    meaning,
    named,
    reads_clean,
    sample_parts,
)
from fedfrom.model.lower_heads import without_position
from fedfrom.model.lower_modifiers import strip_modifiers, strip_status
from fedfrom.model.lower_runs import RunLowering
from fedfrom.model.lower_values import GLUED, split_percent
from fedfrom.quantity import UNITS
from fedfrom.source import Span
from fedfrom.syntax.tree import Block, Line, ListValue, Part, Run, Word
from fedfrom.vocabulary import Entry, Scope, Vocabulary

_SYSTEM = re.compile(r"(\d[\dY/]*)(V)$")
_SIZE = re.compile(r"(\d[\d/]*)(AWG|kcmil)$")


# --- numbers glued to their units ------------------------------------------------------------------------------------


def glued_at(word: Word) -> int:
    """Where a word that glues a number to its unit would be cut; 0 where it does not."""
    if len(word.segments) != 1 or not isinstance(word.segments[0], str):
        return 0
    text = word.segments[0]
    found = _SYSTEM.match(text) or _SIZE.match(text) or GLUED.match(text)
    if not found or (found[2] not in UNITS and found[2] not in {"AWG", "kcmil"}):
        return 0
    return len(found[1])


def cuts_of(line: Line, scope: Scope) -> dict[int, int]:
    """The words of a line to be cut, by their start. A tag `100A` is none: only the place decides, so both are read."""
    candidates = [part for run in line.runs for part in _words(run.parts) if glued_at(part)]
    if not candidates or named(line, scope).entry is None:
        return {}
    alone = replace(line, block=None)
    before = meaning([alone], scope)
    if meaning([cut_line(alone, {w.span.start: glued_at(w) for w in candidates})], scope) == before:
        return {word.span.start: glued_at(word) for word in candidates}
    cuts: dict[int, int] = {}
    for word in candidates:
        more = {**cuts, word.span.start: glued_at(word)}
        if meaning([cut_line(alone, more)], scope) == before:
            cuts = more
    return cuts


def cut_line(line: Line, cuts: Mapping[int, int]) -> Line:
    """The line with words cut in two."""
    return replace(line, runs=tuple(replace(run, parts=cut_parts(run.parts, cuts)) for run in line.runs))


def cut_parts(parts: Sequence[Part], cuts: Mapping[int, int]) -> tuple[Part, ...]:
    made: list[Part] = []
    for part in parts:
        cut = cuts.get(part.span.start) if isinstance(part, Word) else None
        if cut and isinstance(part, Word):
            span = part.span
            made.append(Word((part.text[:cut],), Span(span.file, span.start, span.start + cut)))
            made.append(Word((part.text[cut:],), Span(span.file, span.start + cut, span.end)))
        elif isinstance(part, ListValue):
            values = tuple(replace(run, parts=cut_parts(run.parts, cuts)) for run in part.values)
            made.append(replace(part, values=values))
        else:
            made.append(part)
    return tuple(made)


def _words(parts: Sequence[Part]) -> Iterator[Word]:
    for part in parts:
        if isinstance(part, Word):
            yield part
        elif isinstance(part, ListValue):
            for run in part.values:
                yield from _words(run.parts)


# --- commas and braces -----------------------------------------------------------------------------------------------


def all_runs(line: Line) -> tuple[Run, ...] | None:
    """The head and every fact of a line, also those in the braces of a list; None where these hold something else."""
    runs = list(line.runs)
    for inner in line.block.statements if line.block else ():
        if not isinstance(inner, Line) or inner.block is not None or inner.unreadable:
            return None
        if len(inner.positions) > 1:
            return None
        runs += without_position(inner)
    return tuple(runs)


def comma_form(line: Line, scope: Scope, vocabulary: Vocabulary) -> Line | None:
    """The line with all its facts after commas; None where that is not the same, or it has stretches (`run 40 ft`).

    Stretches of a feeder are lines in braces, always.
    """
    runs = all_runs(line)
    if not is_list_block(line, scope) or runs is None or _has_stretches(line, runs, scope, vocabulary):
        return None
    made = replace(line, runs=runs, block=None)
    return made if line.block is None or _same(line, made, scope) else None


def brace_form(line: Line, scope: Scope, vocabulary: Vocabulary) -> Line | None:
    """The line with its named facts in braces, each on a line with what belongs to it; None where nothing can move."""
    runs = all_runs(line)
    entry = named(line, scope).entry
    if runs is None or entry is None or entry.block not in LISTS_IN_BRACES:
        return None
    head, groups = _groups(runs, entry, vocabulary)
    if not groups:
        return None
    lines = tuple(Line((), tuple(group), None, group[0].span.to(group[-1].span)) for group in groups)
    whole = lines[0].span.to(lines[-1].span)
    made = replace(line, runs=tuple(head), block=Block(lines, whole))
    return made if _same(line, made, scope) else None


def must_break(line: Line, scope: Scope, vocabulary: Vocabulary) -> bool:
    """Whether a line has stretches, which stand in braces however short it is."""
    runs = all_runs(line)
    return is_list_block(line, scope) and runs is not None and _has_stretches(line, runs, scope, vocabulary)


def _same(line: Line, made: Line, scope: Scope) -> bool:
    return reads_clean(line, scope) and meaning([line], scope) == meaning([made], scope)


def _has_stretches(line: Line, runs: Sequence[Run], scope: Scope, vocabulary: Vocabulary) -> bool:
    """Whether a fact of the line has facts of its own, as a stretch has."""
    entry = named(line, scope).entry
    if entry is None:
        return False
    first_words = {
        option.words[0]
        for kind in entry.option_scopes
        for option in vocabulary.scope(kind).entries.values()
        if option.options
    }
    if not any(isinstance(part, Word) and part.text in first_words for run in runs[1:] for part in run.parts[:2]):
        return False
    return any(option is not None and option.options for option in _options(runs[1:], entry, vocabulary))


def _groups(runs: Sequence[Run], entry: Entry, vocabulary: Vocabulary) -> tuple[list[Run], list[list[Run]]]:
    """The runs that stay in the head, and the others in groups: a device with what it has, a stretch with its own."""
    head, groups = [runs[0]], []  # type: ignore[var-annotated]
    device_facts = {n: e for n, e in vocabulary.scope("main").entries.items() if e.kind == "option"}
    last: Entry | None = None
    for run, option in zip(runs[1:], _options(runs[1:], entry, vocabulary), strict=True):
        joins = option is None or (bool(groups) and option.name in device_facts and _is_device(last, device_facts))
        nested = last is not None and option is not None and option.name in {o.name for o in last.options}
        if not groups and (option is None or option.unnamed) and not (option and option.name in device_facts):
            head.append(run)
        elif groups and (joins or nested):
            groups[-1].append(run)
        else:
            groups.append([run])
        last = option if option is not None and not nested else last
    return head, groups


def _is_device(option: Entry | None, device_facts: Mapping[str, Entry]) -> bool:
    return option is not None and (option.kind == "device" or option.name in device_facts)


def _options(runs: Sequence[Run], entry: Entry, vocabulary: Vocabulary) -> list[Entry | None]:
    """The entry of each run after a head; None for one that belongs to the run before it, or to the whole line."""
    reading = RunLowering(vocabulary)
    providers = tuple(vocabulary.lists["scope-of-supply"].words)
    scopes = [vocabulary.scope(kind) for kind in entry.option_scopes]
    found: list[Entry | None] = []
    for run in runs:
        _, parts = strip_status(split_percent(sample_parts(run.parts)))
        parts = strip_modifiers(parts, providers).parts
        last = next((option for option in reversed(found) if option is not None), None)
        option = reading.find_option(parts, last.options, ()) if parts and last else None
        option = option or (reading.find_option(parts, entry.options, scopes) if parts else None)
        found.append(option.entry if option else None)
    return found
