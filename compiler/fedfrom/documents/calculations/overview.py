"""`explain TAG`: what the thing is, and a line for each value of it that can be explained."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fedfrom.documents.calculations.subjects import Subjects
from fedfrom.documents.calculations.view import place_of
from fedfrom.documents.specification.markdown import escape
from fedfrom.documents.words import system_text
from fedfrom.results.notation import conductor_text, device_text, plain
from fedfrom.results.types import CircuitResult
from fedfrom.rules.registry import Design


def heading(design: Design, tag: str) -> str:
    """ "DP1: Bottling hall distribution, panelboard, 480Y/277 V, fed from MSB (plant.fed:66)"."""
    results = design.results
    item = design.model.items.get(tag)
    parts = [item.title] if item is not None and item.title else []
    gear = results.gear.get(tag)
    if gear is not None:
        parts.append(gear.gear_class)
    elif item is not None:
        parts.append(item.kind)
    node = design.network.nodes.get(tag)
    if node is not None and (node.system or node.line_system):
        parts.append(_lower(system_text(node.system or node.line_system)))
    sources = [feeder.source for feeder in results.feeders.values() if feeder.target == tag]
    if sources:
        parts.append(f"fed from {', '.join(dict.fromkeys(sources))}")
    place = place_of(design, item.tag_span) if item is not None else ""
    return f"{tag}: {', '.join(parts)}" + (f" ({place})" if place else "")


def _lower(text: str) -> str:
    return text.replace("PHASE", "phase").replace("WIRE", "wire").replace("NOT KNOWN", "voltage not known")


def value_rows(design: Design, subjects: Sequence[str]) -> Iterator[tuple[str, str, str]]:
    """(subject, value, title) of each."""
    for subject in subjects:
        derivation = design.results.derivations[subject]
        yield subject, plain(derivation.value), derivation.title[:1].lower() + derivation.title[1:]


def circuit_rows(rows: Sequence[CircuitResult]) -> Iterator[tuple[str, str, str]]:
    """(key, name, device and conductors) of each circuit with a load."""
    for row in rows:
        if row.kind in ("load", "tap"):
            wires = conductor_text(row.conductors) if row.conductors is not None else "conductors not known"
            yield row.key, row.name or row.tag, plain(f"{device_text(row.device)}; {wires}")
        elif row.kind == "feeder":
            yield row.key, f"feeder {row.feeder_id}", f"see {row.feeder_id}.feeder"
        elif row.kind == "spare" and row.device is not None:
            yield row.key, "spare", plain(device_text(row.device))


def overview_text(subjects: Subjects, tag: str, path: str) -> str:
    """The list for a terminal."""
    design = subjects.design
    lines = [heading(design, tag), ""]
    values = list(value_rows(design, subjects.of_tag(tag)))
    lines += _columns(values)
    if not values:
        lines.append("  No value of it is worked out; see the findings about it.")
    circuits = list(circuit_rows(design.results.circuits.get(tag, ())))
    if circuits:
        lines += ["", "  Circuits"]
        lines += _columns(circuits)
    about = [each for each in design.results.findings if each.subject.partition(".")[0] == tag]
    if about:
        lines += ["", "  Findings"]
        lines += [f"    {each.severity.word}: {each.message} [{each.rule} on {each.subject}]" for each in about]
    example = values[0][0] if values else tag
    lines += ["", f"One of them: fedfrom explain {path} {example}    All: fedfrom explain {path} {tag} --all"]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _columns(rows: Sequence[tuple[str, str, str]]) -> list[str]:
    widths = [min(34, max((len(row[at]) for row in rows), default=0)) for at in (0, 1)]
    return [f"    {row[0]:<{widths[0]}}  {row[1]:<{widths[1]}}  {row[2]}" for row in rows]


def overview_markdown(subjects: Subjects, tag: str, path: str) -> str:
    """The list as Markdown."""
    design = subjects.design
    lines = [f"### {escape(heading(design, tag))}", ""]
    values = list(value_rows(design, subjects.of_tag(tag)))
    circuits = list(circuit_rows(design.results.circuits.get(tag, ())))
    for head, rows in (("| value | | what |", values), ("| circuit | | device and conductors |", circuits)):
        if rows:
            lines += [head, "|---|---|---|"]
            lines += [f"| `{name}` | {escape(value)} | {escape(text)} |" for name, value, text in rows]
            lines.append("")
    about = [each for each in design.results.findings if each.subject.partition(".")[0] == tag]
    lines += [f"- {each.severity.word}: {escape(each.message)} (`{each.rule}`)" for each in about]
    lines += [""] if about else []
    lines.append(f"One of them: `fedfrom explain {path} {values[0][0] if values else tag}`")
    return "\n".join(lines) + "\n"
