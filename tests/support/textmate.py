"""A small reader of TextMate grammars: `match`, `begin`/`end`, captures, `include`, a repository. Line by line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any


@dataclass(frozen=True)
class Token:
    """A stretch of one line with its scopes, outermost first."""

    start: int
    end: int
    scopes: tuple[str, ...]


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


class Tokenizer:
    """Tokenises the lines of a text by a grammar."""

    def __init__(self, grammar: dict[str, Any]) -> None:
        self.grammar = grammar

    def line(self, text: str) -> list[Token]:
        """The tokens of a line; stretches that no pattern names have the scope of the grammar alone."""
        return list(self._run(text, 0, len(text), self.grammar["patterns"], None, (self.grammar["scopeName"],)))

    def _run(
        self, text: str, at: int, stop: int, patterns: list[Any], end: str | None, scopes: tuple[str, ...]
    ) -> Iterator[Token]:
        rules = list(self._rules(patterns))
        while at < stop:
            closing = _compiled(end).search(text, at, stop) if end else None
            best, rule = closing, None
            for candidate in rules:
                found = _compiled(candidate.get("match") or candidate["begin"]).search(text, at, stop)
                if found and found.end() > found.start() and (best is None or found.start() < best.start()):
                    best, rule = found, candidate
            if best is None:
                break
            if best.start() > at:
                yield Token(at, best.start(), scopes)
            if rule is None:
                return
            if "match" in rule:
                yield from self._captured(best, rule, scopes)
                at = best.end()
            else:
                inner = (*scopes, rule["name"])
                yield Token(best.start(), best.end(), (*inner, *_named(rule, "beginCaptures")))
                at = best.end()
                for token in self._run(text, at, stop, rule["patterns"], rule["end"], inner):
                    yield token
                    at = token.end
                closed = _compiled(rule["end"]).search(text, at, stop)
                if closed and closed.end() > closed.start():
                    yield Token(closed.start(), closed.end(), (*inner, *_named(rule, "endCaptures")))
                    at = closed.end()
                else:
                    at = stop
        if at < stop:
            yield Token(at, stop, scopes)

    def _rules(self, patterns: list[Any]) -> Iterator[Any]:
        for pattern in patterns:
            if "include" in pattern:
                yield from self._rules([self.grammar["repository"][pattern["include"].removeprefix("#")]])
            elif "patterns" in pattern and "begin" not in pattern:
                yield from self._rules(pattern["patterns"])
            else:
                yield pattern

    def _captured(self, found: re.Match[str], rule: Any, scopes: tuple[str, ...]) -> Iterator[Token]:
        if "name" in rule:
            yield Token(found.start(), found.end(), (*scopes, rule["name"]))
            return
        at = found.start()
        for number, capture in sorted((int(key), value) for key, value in rule["captures"].items()):
            if found.group(number) is None:
                continue
            start, end = found.span(number)
            if start > at:
                yield Token(at, start, scopes)
            yield Token(start, end, (*scopes, capture["name"]))
            at = end
        if at < found.end():
            yield Token(at, found.end(), scopes)


def _named(rule: Any, key: str) -> tuple[str, ...]:
    name = rule.get(key, {}).get("0", {}).get("name")
    return (name,) if name else ()
