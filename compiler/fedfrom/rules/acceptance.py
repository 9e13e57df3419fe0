"""What the text accepts: findings set aside with their reason, and acceptances that meet nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from fedfrom.findings import Finding, Severity
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.items import Acceptance
from fedfrom.results.types import CircuitResult
from fedfrom.rules.registry import Design, all_rules

MOST_SHOWN = 4


def apply_acceptances(
    design: Design, findings: Sequence[Finding]
) -> tuple[list[Finding], tuple[tuple[Finding, str], ...]]:
    """(findings that stay, accepted findings with their reasons). What an `accept` does wrong is a finding itself."""
    accepted: dict[Finding, str] = {}
    complaints: list[Finding] = []
    known = {rule.id for rule in all_rules()} | {finding.rule for finding in findings}
    grave = {rule.id for rule in all_rules() if rule.life_safety}
    for acceptance in design.model.acceptances:
        if acceptance.rule not in known:
            complaints.append(_unknown_rule(acceptance, sorted(known)))
            continue
        if acceptance.rule in grave and not names_who_and_when(acceptance.reason):
            complaints.append(_nobody_named(acceptance))
            continue
        for tag, text in acceptance.subjects:
            chosen = _chosen_position(design, tag) if not text else None
            if chosen is not None:
                complaints.append(_chosen(acceptance, tag, chosen))
                continue
            names = set(_names(design, tag, text))
            matched = [finding for finding in findings if finding.rule == acceptance.rule and finding.subject in names]
            accepted.update(dict.fromkeys(matched, acceptance.reason))
            if not matched:
                complaints.append(_unused(acceptance, tag, text, _subjects(findings, acceptance.rule)))
    kept = [finding for finding in findings if finding not in accepted]
    return [*kept, *complaints], tuple(accepted.items())


_DATE = re.compile(r"\b\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])\b")
# A person: a given name or initials, then a family name ("R. Ashdown", "Ruth M. Ashdown").
_PERSON = re.compile(r"\b[A-Z](?:\.|[\w'’-]+\.?)(?:\s+[A-Z]\.?)*\s+[A-Z][\w'’-]+")


def names_who_and_when(reason: str) -> bool:
    """Whether a reason names a person (given name or initial, and family name) and a date (2026-05-31)."""
    return _DATE.search(reason) is not None and _PERSON.search(reason) is not None


def _nobody_named(acceptance: Acceptance) -> Finding:
    subject = acceptance.subjects[0][0] if acceptance.subjects else acceptance.rule
    return Finding(
        rule="accept-unnamed",
        severity=Severity.ERROR,
        subject=subject,
        message=f"{acceptance.rule} is about life safety; this acceptance names no person and date, and has no effect",
        span=acceptance.span,
        help='write who accepts it and when: `because "A. Name, 2026-05-31: the reason"`',
        clause="common practice, no source",
    )


def _names(design: Design, tag: str, text: str) -> Iterator[str]:
    """Every subject that means the same thing: a circuit by position, by gear and name, or by the tag of its load."""
    if text:
        yield from (f'{tag} "{text}"', f"{tag} {text}")
    else:
        yield tag
    for rows in design.results.circuits.values():
        for row in rows:
            if _is_meant(row, tag, text):
                yield row.key
                yield from (f"{row.gear} {row.tag}", f'{row.gear} "{row.name}"', f"{row.gear} {row.name}")


def _is_meant(row: CircuitResult, tag: str, text: str) -> bool:
    if text:
        return row.gear == tag and row.name == text
    gear, _, position = tag.partition(".")
    if position.isdigit():
        return row.gear == gear and (int(position) in row.positions or row.key == tag)
    return bool(row.tag) and row.tag == tag and row.kind == "load"


def _chosen_position(design: Design, tag: str) -> CircuitResult | None:
    """The row at a position that the compiler chose, or None: later text may give the position to something else."""
    gear, _, position = tag.partition(".")
    if not position.isdigit():
        return None
    for row in design.results.circuits.get(gear, ()):
        if int(position) in row.positions and not row.pinned and row.kind in ("load", "feeder"):
            return row
    return None


def _chosen(acceptance: Acceptance, tag: str, row: CircuitResult) -> Finding:
    name = row.tag if row.kind == "feeder" else f'{row.gear} "{row.name}"'
    return Finding(
        rule="accept-unused",
        severity=Severity.ERROR,
        subject=tag,
        message=f"position {tag} was chosen, not written; what stands there may change",
        span=acceptance.span,
        help=f"write `on {name}`, or pin the position (`fedfrom pin`)",
    )


def _subjects(findings: Sequence[Finding], rule: str) -> list[str]:
    """What the findings of a rule stand on, once each."""
    return list(dict.fromkeys(finding.subject for finding in findings if finding.rule == rule))


def _unused(acceptance: Acceptance, tag: str, text: str, others: Sequence[str]) -> Finding:
    """An acceptance that meets nothing; where the rule has findings elsewhere, a part of the same gear comes first."""
    subject = f'{tag} "{text}"' if text else tag
    near = [other for other in others if other.startswith(f"{tag}.")] or list(others)
    advice = "take it out, or check rule and subject"
    if near:
        advice = f"{acceptance.rule} is found on {', '.join(near[:MOST_SHOWN])}: name that, or take the acceptance out"
    return Finding(
        rule="accept-unused",
        severity=Severity.WARNING,
        subject=subject,
        message=f"no finding of {acceptance.rule} on {subject} is there to accept",
        span=acceptance.span,
        help=advice,
        clause="common practice, no source",
    )


def _unknown_rule(acceptance: Acceptance, known: Sequence[str]) -> Finding:
    near = nearest(acceptance.rule, known)
    return Finding(
        rule="accept-unused",
        severity=Severity.ERROR,
        subject=acceptance.rule,
        message=f"there is no rule {acceptance.rule}",
        span=acceptance.rule_span,
        help=f"write {listed(near)}" if near else "`fedfrom rules` lists every rule",
    )
