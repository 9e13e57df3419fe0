"""`noncoincident A, B or C`: groups of tags."""

from __future__ import annotations

from fedfrom.model.lower_modifiers import Stripped
from fedfrom.model.lower_phrases import error, example, written
from fedfrom.model.lower_runs import RunLowering
from fedfrom.model.lower_values import TAG
from fedfrom.model.lowered import LoweredLine, LoweredRun
from fedfrom.source import Span
from fedfrom.syntax.tree import Line, Word
from fedfrom.vocabulary import Entry


def lower_groups(runs: RunLowering, line: Line, entry: Entry, stripped: Stripped, name_span: Span) -> LoweredLine:
    """The line with its groups as tuples of tags in `values["groups"]`."""
    groups: list[list[str]] = [[]]
    spans: dict[str, Span] = {}
    good = True
    subject = entry.name
    rows = [stripped.parts, *(runs.strip(run.parts, subject, times=False).parts for run in line.runs[1:])]
    for part in (part for parts in rows for part in parts):
        text = part.text if isinstance(part, Word) else ""
        if text == "or" and groups[-1]:
            groups.append([])
        elif TAG.match(text) and text != "or":
            groups[-1].append(text)
            spans[text] = part.span
        else:
            message = f"`{written((part,))}` is not the tag of a load"
            runs.report(error("malformed-tag", subject, message, part.span, "a tag belongs here", example(entry)))
            good = False
    if good and (len(groups) < 2 or not groups[-1]):
        message = "`noncoincident` needs two groups of tags with `or` between them"
        runs.report(error("missing-value", subject, message, line.span, "", example(entry)))
        good = False
    head = LoweredRun(entry, {"groups": tuple(tuple(group) for group in groups)}, spans, line.span)
    return LoweredLine(entry, head, (), (), line.span, name_span, trail=line.trail, broken=not good)
