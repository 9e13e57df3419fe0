"""Findings gained, lost, changed and accepted."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping

from fedfrom.changes.causes import Causes
from fedfrom.changes.plain import renamed
from fedfrom.changes.safety import assumptions_gained, finding_lowers
from fedfrom.changes.types import Cause, Fact, FindingChange, Side, Written
from fedfrom.findings import Finding, Severity

_ORDER = ("accepted", "gained", "changed", "assumed", "no longer accepted", "lost")
Key = tuple[str, str]


def finding_changes(old: Side, new: Side, names: Mapping[str, str], causes: Causes) -> tuple[FindingChange, ...]:
    """What lowers safety first, then by kind and gravity, then in the order of the text."""
    rename = _renaming(names)
    found = [*_compared(old, new, names, rename, causes), *_accepted(old, new, names, causes)]
    for subject, what, reason in assumptions_gained(old.model, new.model, names):
        place = next((new.place(a.span) for a in new.model.assumptions if (a.subject, a.what) == (subject, what)), "")
        found.append(FindingChange("assumed", "assumption", "note", subject, what, place, (), "now assumed", reason))
    gravity = {severity.word: -severity.value for severity in Severity}
    return tuple(sorted(found, key=lambda each: (not each.lowers, _ORDER.index(each.kind), gravity[each.severity])))


def _renaming(names: Mapping[str, str]) -> Callable[[str], str]:
    """Puts the new tags into a message of the old side."""
    if not names:
        return lambda text: text
    tags = re.compile(
        r"(?<![\w-])(" + "|".join(re.escape(tag) for tag in sorted(names, key=len, reverse=True)) + r")(?![\w-])"
    )
    return lambda text: tags.sub(lambda match: names[match.group(1)], text)


def _compared(
    old: Side, new: Side, names: Mapping[str, str], rename: Callable[[str], str], causes: Causes
) -> Iterator[FindingChange]:
    before = [
        (finding, (finding.rule, rename(finding.subject), rename(finding.message))) for finding in old.results.findings
    ]
    after = [(finding, (finding.rule, finding.subject, finding.message)) for finding in new.results.findings]
    same = Counter(key for _, key in before) & Counter(key for _, key in after)
    lost = _beyond(before, same)
    gained = _beyond(after, same)
    now_accepted = {(f.rule, f.subject) for f, _ in new.results.accepted}
    was_accepted = {(f.rule, rename(f.subject)) for f, _ in old.results.accepted}
    for finding in gained:
        other = next((f for f in lost if (f.rule, rename(f.subject)) == (finding.rule, finding.subject)), None)
        if other is not None:
            lost.remove(other)
        elif (finding.rule, finding.subject) in was_accepted:
            continue
        kind = "changed" if other is not None else "gained"
        yield _change(kind, finding, new, _because(finding, causes, new), f"was: {other.message}" if other else "")
    for finding in lost:
        if (finding.rule, rename(finding.subject)) not in now_accepted:
            yield _change("lost", finding, old, _because(finding, causes, old, names), "")


def _beyond(found: list[tuple[Finding, tuple[str, str, str]]], same: Counter[tuple[str, str, str]]) -> list[Finding]:
    left = Counter(same)
    beyond = []
    for finding, key in found:
        if left[key] > 0:
            left[key] -= 1
        else:
            beyond.append(finding)
    return beyond


def _accepted(old: Side, new: Side, names: Mapping[str, str], causes: Causes) -> Iterator[FindingChange]:
    def keyed(side: Side, tags: Mapping[str, str]) -> dict[Key, tuple[Finding, str]]:
        return {(f.rule, renamed(f.subject, tags)): (f, reason) for f, reason in side.results.accepted}

    before, after = keyed(old, names), keyed(new, {})
    for key, (finding, reason) in after.items():
        if key not in before:
            because, _ = causes.chain("", (Written(f"accept/{finding.rule}"),))
            yield _change("accepted", finding, new, because, reason)
    still_found = {(finding.rule, finding.subject) for finding in new.results.findings}
    for key, (finding, reason) in before.items():
        if key not in after and key in still_found:
            yield _change("no longer accepted", finding, old, (), reason)


def _change(kind: str, finding: Finding, side: Side, because: tuple[Cause, ...], reason: str) -> FindingChange:
    severity = finding.severity.word
    place = side.place(finding.span)
    lowers = finding_lowers(kind, severity)
    return FindingChange(kind, finding.rule, severity, finding.subject, finding.message, place, because, lowers, reason)


def _because(finding: Finding, causes: Causes, side: Side, names: Mapping[str, str] | None = None) -> tuple[Cause, ...]:
    """An edit on the line that it points at; else the chain of a changed value of its subject, first one it names."""
    place = side.place(finding.span)
    edit = next(
        (each for each in causes.edits if each.place == place and place and each.gone == (names is not None)), None
    )
    if edit is not None:
        return (Cause(edit.short or edit.text, edit.place),)
    subject = renamed(finding.subject, names or {})
    changed = [
        key for key, pair in causes.pairs.items() if pair.differs and _is_about(key, pair.any_side.subject, subject)
    ]
    changed.sort(key=lambda key: _named_in(causes.pairs[key].any_side, finding.message))
    owner, _, part = subject.partition(".")
    first = (Written(subject), Written(f"{owner}/{part}"), f"gear/{owner}/{part}") if part else (Written(subject),)
    because, _ = causes.chain("", (*first, *changed, Written(f"{subject}/fact")))
    if not because:
        tag = owner.partition(" ")[0]
        because, _ = causes.chain("", (Written(f"{tag}/load"), Written(f"{tag}/feed"), f"load/{tag}", f"fault/{tag}"))
    return because


def _named_in(fact: Fact, message: str) -> bool:
    """False (so that it sorts first) where the message gives the value."""
    return fact.text not in message


def _is_about(key: str, of: str, subject: str) -> bool:
    return of == subject or key in (f"load/{subject}", f"fault/{subject}")
