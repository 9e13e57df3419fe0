"""Expectations as JUnit XML, the form of test results that CI services read.

A suite for each project, a case for each `expect`. What could not be checked is *skipped* and never passed. A project
that cannot be read has one case with an error, so that no suite is green because it is empty.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from xml.sax.saxutils import quoteattr

from fedfrom.findings.case import Case
from fedfrom.findings.finding import Finding, Severity
from fedfrom.findings.render.json import place_object
from fedfrom.source import SourceFile

WITH_CASES = True
# Characters that XML 1.0 cannot hold at all.
_FORBIDDEN = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def render(
    findings: Sequence[Finding], files: Mapping[str, SourceFile], *, color: bool = False, cases: Sequence[Case] = ()
) -> str:
    """The document. `findings` only tell why a project has no cases: its text could not be read."""
    del color
    suites: dict[str, list[Case]] = {}
    for case in cases:
        suites.setdefault(case.suite, []).append(case)
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', f"<testsuites{_counts(cases)}>"]
    for name, members in suites.items():
        lines.append(f"  <testsuite name={_quoted(name)}{_counts(members)}>")
        for case in members:
            lines += _case(case, findings, files)
        lines.append("  </testsuite>")
    return "\n".join([*lines, "</testsuites>"]) + "\n"


def _counts(cases: Sequence[Case]) -> str:
    failed = sum(1 for case in cases if case.passed is False and case.span is not None)
    errors = sum(1 for case in cases if case.passed is False and case.span is None)
    skipped = sum(1 for case in cases if case.passed is None)
    return f' tests="{len(cases)}" failures="{failed}" errors="{errors}" skipped="{skipped}"'


def _case(case: Case, findings: Sequence[Finding], files: Mapping[str, SourceFile]) -> list[str]:
    place = place_object(case.span, files)
    where = f' file={_quoted(place["file"])} line="{place["line"]}"' if place["line"] else ""
    head = f"    <testcase classname={_quoted(case.suite)} name={_quoted(case.name)}{where}"
    if case.passed:
        return [f"{head}/>"]
    if case.passed is None:
        return [f"{head}>", f"      <skipped message={_quoted(case.message)}/>", "    </testcase>"]
    element = "failure" if case.span is not None else "error"
    errors = (
        [finding.message for finding in findings if finding.severity is Severity.ERROR] if element == "error" else []
    )
    message = "; ".join([case.message, *errors[:5]])
    return [f"{head}>", f"      <{element} message={_quoted(message)}/>", "    </testcase>"]


def _quoted(text: str) -> str:
    return quoteattr(_FORBIDDEN.sub("\N{REPLACEMENT CHARACTER}", text))
