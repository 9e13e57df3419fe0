"""Matches a run against the patterns of an entry, and says where it failed when it does not match."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fedfrom.model.lower_values import read_element
from fedfrom.source import Span
from fedfrom.syntax.tree import Part
from fedfrom.vocabulary import Element, Pattern, Vocabulary


@dataclass(frozen=True, slots=True)
class Match:
    """The values of a pattern's named parts, and where each stands."""

    values: Mapping[str, object]
    spans: Mapping[str, Span]
    pattern: Pattern


@dataclass(frozen=True, slots=True)
class Miss:
    """No pattern fits. `reached`: parts that the best ones read; `expected`: what could stand there (none: the end)."""

    reached: int
    expected: tuple[Element, ...]


def match_patterns(patterns: Sequence[Pattern], parts: Sequence[Part], vocabulary: Vocabulary) -> Match | Miss:
    """The first pattern (longest first) that uses up all parts, else the furthest miss.

    A word that could be a tag or the start of a value is first tried as the value, then as the tag.
    """
    reserved = vocabulary.reserved(patterns)
    misses: list[tuple[int, Element | None]] = []
    for any_tag in (False, True) if reserved.has_tag else (False,):
        for pattern in patterns:
            found = _try(pattern, parts, vocabulary, any_tag, reserved.words)
            if isinstance(found, Match):
                return found
            misses.append(found)
    if not misses:
        return Miss(0, ())
    furthest = max(reached for reached, _ in misses)
    expected = dict.fromkeys(element for reached, element in misses if reached == furthest and element is not None)
    return Miss(furthest, tuple(expected))


def _try(
    pattern: Pattern, parts: Sequence[Part], vocabulary: Vocabulary, any_tag: bool, literals: frozenset[str]
) -> Match | tuple[int, Element | None]:
    index = 0
    values: dict[str, object] = {}
    spans: dict[str, Span] = {}
    for element in pattern.elements:
        read = read_element(element, parts, index, vocabulary, any_tag=any_tag, literals=literals)
        if read is None:
            return index, element
        if element.name:
            values[element.name] = read.value
            spans[element.name] = parts[index].span.to(parts[index + read.used - 1].span)
        index += read.used
    return Match(values, spans, pattern) if index == len(parts) else (index, None)


def fitting(patterns: Sequence[Pattern], parts: Sequence[Part], vocabulary: Vocabulary) -> list[Pattern]:
    """Every pattern that reads all parts, as strictly as `match_patterns` does at first: more than one is ambiguous."""
    literals = vocabulary.reserved(patterns).words
    return [p for p in patterns if isinstance(_try(p, parts, vocabulary, False, literals), Match)]
