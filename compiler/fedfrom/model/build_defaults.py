"""`project` and `defaults` -> `Project` and `Defaults`; a file overrides what it includes, property by property."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from fedfrom.findings import Finding
from fedfrom.model.build_values import build_wire, filled, number, word
from fedfrom.model.items import Defaults, FactTable, Origin, Project, Value, Wire
from fedfrom.model.lower_complaints import Complaints
from fedfrom.model.lowered import LoweredLine, to_fact
from fedfrom.quantity import Quantity
from fedfrom.vocabulary import load_vocabulary

# The compiler's own choice where the project names no wire: common practice, no source.
OWN_WIRE = Wire(Value("Cu", Origin.DEFAULT), Value("THHN/THWN-2", Origin.DEFAULT), Value("EMT", Origin.DEFAULT))
# The ampacity table's own ambient, NEC 2023 Table 310.16: 30 C.
OWN_AMBIENT = Value(30.0, Origin.DEFAULT)


def merged_lines(statements: Sequence[LoweredLine], findings: list[Finding]) -> dict[str, LoweredLine]:
    """The property lines of several statements by name; the first file that says a property has it.

    Files stand in the order of inclusion, so an including file wins over what it includes. In one file a second
    mention is an error.
    """
    chosen: dict[str, LoweredLine] = {}
    said_in: dict[str, int] = {}
    complaints = Complaints(load_vocabulary())
    for index, statement in enumerate(statements):
        for line in statement.children:
            before = chosen.setdefault(line.entry.name, line)
            in_statement = said_in.setdefault(line.entry.name, index)
            if in_statement != index and before.span.file == line.span.file and not line.entry.repeat:
                subject = statement.entry.name
                twice = complaints.written_twice(line.entry.name, before.head_span, line.head_span, subject)
                findings.append(replace(twice, message=f"`{line.entry.name}` is written twice at one level"))
    return chosen


def build_project(statements: Sequence[LoweredLine], findings: list[Finding]) -> Project:
    """The project; where several files state it, the including file's words stand."""
    if not statements:
        return Project()
    lines = merged_lines(statements, findings)
    head = statements[0].head
    repeated = [line for statement in statements for line in statement.children if line.entry.repeat]
    facts = [to_fact(line) for name, line in lines.items() if name not in {"number", "code", "drawn by"}]
    facts += [to_fact(line) for line in repeated if line not in lines.values()]
    code = word(lines["code"].head, "edition") if "code" in lines else None
    return Project(
        title=str(head.values.get("title", "")),
        number=_text(lines, "number"),
        code=code or Project().code,
        drawn_by=_text(lines, "drawn by"),
        facts=FactTable(tuple(facts)),
        span=statements[0].head_span,
    )


def _text(lines: Mapping[str, LoweredLine], name: str) -> str:
    return str(lines[name].head.values.get("text", "")) if name in lines else ""


def build_defaults(
    statements: Sequence[LoweredLine], findings: list[Finding]
) -> tuple[Defaults, dict[str, dict[str, LoweredLine]]]:
    """Defaults of the project, and the lines of each `defaults CLASS` for the building of items."""
    plain = [line for line in statements if "class" not in line.head.values]
    lines = merged_lines(plain, findings)
    classes: dict[str, list[LoweredLine]] = {}
    for line in statements:
        if "class" in line.head.values:
            classes.setdefault(str(line.head.values["class"]), []).append(line)
    by_class = {name: merged_lines(found, findings) for name, found in classes.items()}
    wire_line = lines.get("wire")
    wire = filled(build_wire(wire_line.head if wire_line else None), OWN_WIRE)
    ambient = number(lines["ambient"].head, "ambient") if "ambient" in lines else None
    known = {"wire", "ambient", "drop", "growth", "series rated"}
    series = lines.get("series rated")
    defaults = Defaults(
        wire=wire,
        ambient_c=ambient or OWN_AMBIENT,
        drop_feeder_pct=_percent(lines.get("drop"), "feeder"),
        drop_branch_pct=_percent(lines.get("drop"), "branch"),
        drop_total_pct=_percent(lines.get("drop"), "total"),
        growth_load_pct=_percent(lines.get("growth"), "load"),
        growth_poles_pct=_percent(lines.get("growth"), "poles"),
        series_rated_forbidden=series is not None and "forbidden" in series.head.shown,
        by_class={name: FactTable(tuple(to_fact(line) for line in found.values())) for name, found in by_class.items()},
        facts=FactTable(tuple(to_fact(line) for name, line in lines.items() if name not in known)),
    )
    return defaults, by_class


def _percent(line: LoweredLine | None, name: str) -> Value[float] | None:
    run = line.option(name) if line is not None else None
    if run is None or not isinstance(run.values.get("percent"), Quantity):
        return None
    return number(run, "percent")


def class_wire(defaults: Defaults, lines: Mapping[str, LoweredLine]) -> Wire:
    """The wire for one class: its own default, then the project's."""
    own = lines.get("wire")
    return filled(build_wire(own.head), defaults.wire) if own else defaults.wire


def class_ambient(defaults: Defaults, lines: Mapping[str, LoweredLine]) -> Value[float]:
    """The ambient temperature for one class."""
    own = lines.get("ambient")
    value = number(own.head, "ambient") if own else None
    return replace(value, origin=Origin.DEFAULT) if value else defaults.ambient_c
