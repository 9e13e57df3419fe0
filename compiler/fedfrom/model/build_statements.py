"""Ties, interlocks, states, noncoincident groups, rooms, contactors, acceptances and expectations."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.findings import Finding
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.build_feeds import Surroundings
from fedfrom.model.build_values import build_conductors, build_device, build_runs, total_length
from fedfrom.model.items import (
    Acceptance,
    Contactor,
    Expectation,
    FactTable,
    Interlock,
    Noncoincident,
    Room,
    StateLine,
    Status,
    Tie,
)
from fedfrom.model.lower_phrases import error
from fedfrom.model.lower_values import COUNT, read_number, read_quantity, split_percent, word_at
from fedfrom.model.lowered import LoweredLine, to_fact
from fedfrom.quantity import Dimension, Quantity
from fedfrom.syntax.tree import Accept, Expect, Part, Reference, Text, Word

MEASURES: dict[str, tuple[Dimension, ...]] = {
    "fault": (Dimension.CURRENT,),
    "demand": (Dimension.CURRENT, Dimension.APPARENT),
    "drop": (Dimension.PERCENT,),
    "load": (Dimension.CURRENT, Dimension.APPARENT),
    "spare amperes": (Dimension.CURRENT,),
    "spare poles": (Dimension.NUMBER,),
}


def build_tie(line: LoweredLine, order: int, around: Surroundings, findings: list[Finding]) -> Tie | None:
    """A tie; None where its ends could not be read."""
    values = line.head.values
    if not all(isinstance(values.get(part), str) for part in ("tag", "first", "second")):
        return None
    tag, ends = str(values["tag"]), (str(values["first"]), str(values["second"]))
    if ends[0] == ends[1]:
        message = f"both ends of the tie are `{ends[0]}`"
        findings.append(error("malformed-tie", tag, message, line.head.spans["second"], "", "name the two buses"))
    closed, opened = line.option("normally closed"), line.option("normally open")
    if closed is not None and opened is not None:
        message = "a tie is normally open or normally closed"
        findings.append(error("written-twice", tag, message, closed.span, "", "keep one of the two"))
    runs = line.options
    return Tie(
        tag=tag,
        ends=ends,
        device=build_device(runs, tag, findings),
        normally_open=closed is None,
        length_ft=total_length(runs, build_runs(runs, around.wire)),
        conductors=build_conductors(runs, around.wire),
        span=line.span,
        order=order,
        status=line.status or Status.NEW,
    )


def build_interlock(line: LoweredLine, findings: list[Finding]) -> Interlock | None:
    """An interlock; None where it says no number of devices."""
    most = line.option("at most")
    members = _members(most.values.get("member")) if most else ()
    number = most.values.get("most") if most else None
    if line.broken:
        return None
    if most is None or not isinstance(number, int):
        message = "`interlock` does not say how many of which devices may be closed"
        advice = f"write it like `{line.entry.example}`"
        findings.append(error("missing-value", "interlock", message, line.span, "", advice))
        return None
    if number >= len(members):
        message = f"an interlock of {len(members)} devices that lets {number} close prevents nothing"
        advice = "name all devices of the scheme, and how many of them may be closed at once"
        findings.append(error("malformed-interlock", "interlock", message, most.span, "", advice))
    return Interlock(str(line.head.values.get("kind", "")), number, members, line.span)


def _members(value: object) -> tuple[str, ...]:
    return tuple(str(member) for member in value) if isinstance(value, tuple) else ()


def build_state(line: LoweredLine) -> StateLine | None:
    """A named state; None where its name could not be read."""
    name = line.head.values.get("name")
    if not isinstance(name, str):
        return None

    def gathered(word: str) -> tuple[str, ...]:
        lines = (child for child in line.children if child.entry.name == word)
        return tuple(member for child in lines for member in _members(child.head.values.get("member")))

    return StateLine(name, gathered("lost"), gathered("open"), gathered("close"), line.span)


def build_noncoincident(line: LoweredLine) -> Noncoincident | None:
    """Groups of load tags; None where they could not be read."""
    groups = line.head.values.get("groups")
    if line.broken or not isinstance(groups, tuple):
        return None
    return Noncoincident(groups, line.span)


def build_room(line: LoweredLine) -> Room | None:
    """A room; None without a tag."""
    tag = line.head.values.get("tag")
    if not isinstance(tag, str):
        return None
    facts = FactTable(tuple(to_fact(child) for child in line.children))
    return Room(tag, str(line.head.values.get("title", "")), facts, line.span)


def build_contactor(line: LoweredLine) -> Contactor | None:
    """A contactor; None without a tag."""
    tag = line.head.values.get("tag")
    if not isinstance(tag, str):
        return None
    facts = FactTable(tuple(to_fact(child) for child in line.children))
    return Contactor(tag, facts, line.span, line.status or Status.NEW)


# --- statements with a shape of their own --------------------------------------------------------------------------


def build_acceptance(statement: Accept) -> Acceptance:
    """`accept RULE on SUBJECT, … because "…"`."""
    subjects = tuple(_subject(reference) for reference in statement.references)
    rule = statement.rule
    return Acceptance(rule.text, rule.span, subjects, statement.reason.text, statement.span)


def _subject(reference: Reference) -> tuple[str, str]:
    return reference.word.text, reference.text.text if reference.text is not None else ""


def build_expectation(statement: Expect, findings: list[Finding]) -> Expectation | None:
    """`expect MEASURE at TAG <= VALUE`; None with a finding where it is malformed."""
    parts = split_percent(statement.left.parts)
    words = [word_at(parts, index) or "" for index in range(len(parts))]
    lengths = [length for length in (2, 1) if " ".join(words[:length]) in MEASURES]
    cut = words.index("at") if "at" in words else (lengths[0] if lengths else len(words))
    measure = " ".join(words[:cut])
    if measure not in MEASURES:
        near = nearest(measure, MEASURES)
        message = f"`{measure}` is not something that a design can be asked for"
        advice = f"write {listed(near)}" if near else f"ask for {listed(MEASURES)}"
        span = parts[0].span.to(parts[max(cut - 1, 0)].span)
        findings.append(error("unknown-word", "expect", message, span, "not known here", advice))
        return None
    if "at" not in words or len(words) != cut + 2 or not isinstance(parts[cut + 1], Word):
        message = f"`expect {measure}` does not say where"
        advice = f"write `expect {measure} at LP1 …`"
        findings.append(error("missing-value", "expect", message, statement.left.span, "", advice))
        return None
    value = _expected_value(measure, statement, findings)
    if value is None:
        return None
    subject, span = words[cut + 1], parts[cut + 1].span
    text = f"{measure} at {subject} {statement.compare} {_shown(statement.right.parts)}"
    return Expectation(measure, subject, span, statement.compare, value, text, statement.span)


def _expected_value(measure: str, statement: Expect, findings: list[Finding]) -> Quantity | None:
    parts = split_percent(statement.right.parts)
    span = statement.right.span
    read = read_quantity(parts, 0)
    wanted = MEASURES[measure]
    names = " or ".join(dimension.value for dimension in wanted)
    if read is not None and read.used == len(parts) and isinstance(read.value, Quantity):
        if read.value.dimension in wanted:
            return _no_exact(read.value, statement, findings)
        message = f"`{measure}` is {names}; `{_shown(parts)}` is {read.value.dimension.value}"
        findings.append(error("wrong-dimension", "expect", message, span, "", f"write {names}"))
        return None
    text = word_at(parts, 0) or ""
    if wanted == (Dimension.NUMBER,) and len(parts) == 1 and COUNT.match(text):
        return Quantity.of(int(text.replace("_", "")), "")
    if len(parts) == 1 and read_number(text) is not None:
        message = f"`{text}` has no unit"
        advice = f"`{measure}` is {names}"
        findings.append(error("missing-unit", "expect", message, span, "a number without a unit", advice))
        return None
    message = f"`{_shown(parts)}` cannot be compared with `{measure}`"
    findings.append(error("unexpected-words", "expect", message, span, "", f"`{measure}` is {names}"))
    return None


def _no_exact(value: Quantity, statement: Expect, findings: list[Finding]) -> Quantity | None:
    if statement.compare not in {"=", "!="}:
        return value
    message = f"`{statement.compare}` compares words and counts, not computed quantities"
    advice = "write `<=` or `>=`"
    findings.append(error("unexpected-words", "expect", message, statement.span, "", advice))
    return None


def _shown(parts: Sequence[Part]) -> str:
    return " ".join(f'"{part.text}"' if isinstance(part, Text) else getattr(part, "text", "") for part in parts)
