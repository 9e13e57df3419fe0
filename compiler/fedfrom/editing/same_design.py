"""Whether two compilations give the same design: every result but where it came from, and no finding more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass

from fedfrom.findings import Finding
from fedfrom.results.types import Results

# What says where a value came from, or is made from such: it changes when a value is written down, as it should.
_PROVENANCE = frozenset(
    {
        "span", "spans", "origin", "origins", "pinned", "digest", "derivations", "findings", "accepted", "rule_counts",
        "verdicts", "why", "review",
    }
)  # fmt: skip
_MOST = 5


def differences(before: Results, after: Results) -> tuple[str, ...]:
    """The first few results that differ, in words; () where none does."""
    found: list[str] = []
    for difference in _compare(before, after, ""):
        found.append(difference)
        if len(found) == _MOST:
            break
    return tuple(found)


def new_findings(before: Sequence[Finding], after: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings of `after` that `before` does not have, places apart."""
    old = Counter(_said(finding) for finding in before)
    new = []
    for finding in after:
        if old[_said(finding)] > 0:
            old[_said(finding)] -= 1
        else:
            new.append(finding)
    return tuple(new)


def _said(finding: Finding) -> tuple[object, ...]:
    return finding.rule, finding.severity, finding.subject, finding.message


def _compare(before: object, after: object, where: str) -> Iterator[str]:
    if before is after or before == after:
        return
    if where.startswith("feeders ") and where.endswith(" positions") and before == ():
        return  # as written on the feed; where a feeder is, is a fact of its circuit
    if is_dataclass(before) and not isinstance(before, type) and type(before) is type(after):
        for part in fields(before):
            if part.name not in _PROVENANCE and not part.name.endswith("_origin"):
                yield from _compare(getattr(before, part.name), getattr(after, part.name), _below(where, part.name))
    elif isinstance(before, Mapping) and isinstance(after, Mapping):
        for key in dict.fromkeys([*before, *after]):
            yield from _compare(before.get(key), after.get(key), _below(where, str(key)))
    elif isinstance(before, (tuple, list)) and isinstance(after, (tuple, list)) and len(before) == len(after):
        for index, (mine, other) in enumerate(zip(before, after, strict=True)):
            yield from _compare(mine, other, _below(where, _name(mine, index)))
    else:
        yield f"{where}: {_short(before)} became {_short(after)}"


def _below(where: str, name: str) -> str:
    return f"{where} {name.replace('_', ' ')}".strip()


def _name(element: object, index: int) -> str:
    return str(getattr(element, "key", None) or getattr(element, "tag", None) or index + 1)


def _short(value: object) -> str:
    if is_dataclass(value):
        return "something" if value is not None else "nothing"
    text = "nothing" if value is None else str(value)
    return text if len(text) <= 60 else f"{text[:57]}…"
