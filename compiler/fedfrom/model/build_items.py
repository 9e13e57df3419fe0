"""Item lines -> `Item`s, with nested gear, in source order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from fedfrom.findings import Finding
from fedfrom.findings.finding import Label
from fedfrom.model.build_defaults import class_ambient, class_wire
from fedfrom.model.build_feeds import Surroundings, build_feeds
from fedfrom.model.build_loads import build_loads, build_reserve
from fedfrom.model.build_values import build_device, number, whole, word
from fedfrom.model.items import (
    Defaults,
    Electrode,
    Fact,
    FactTable,
    Item,
    Main,
    Origin,
    Reserve,
    Status,
    Value,
)
from fedfrom.model.lower_phrases import error
from fedfrom.model.lowered import LoweredLine, to_fact
from fedfrom.quantity import VoltageSystem
from fedfrom.source import Span

_OWN_FIELDS = frozenset({"main", "voltage", "secondary", "phases", "electrode"})
_KINDS_OF_LINES = frozenset({"property"})


@dataclass
class ItemBuilder:
    """Builds items one after the other; `items` keeps them in source order."""

    defaults: Defaults
    class_lines: Mapping[str, Mapping[str, LoweredLine]]
    findings: list[Finding]
    items: dict[str, Item] = field(default_factory=dict)
    lines: dict[str, LoweredLine] = field(default_factory=dict)
    duplicates: list[LoweredLine] = field(default_factory=list)

    def add(self, line: LoweredLine, enclosing: str = "", outer: Status = Status.NEW) -> str:
        """Adds the item of a line, and what is written inside it; returns its tag ("" where it has none)."""
        tag = line.head.values.get("tag")
        if not isinstance(tag, str):
            return ""
        if tag in self.items:
            self.duplicates.append(line)
            return ""
        status = line.status or outer
        self.items[tag] = self._item(line, tag, enclosing, status)
        self.lines[tag] = line
        inner = [self.add(child, tag, status) for child in line.children if child.entry.kind == "item"]
        enclosed = tuple(name for name in inner if name)
        if enclosed:
            self.items[tag] = replace(self.items[tag], enclosed=enclosed)
        return tag

    def _item(self, line: LoweredLine, tag: str, enclosing: str, status: Status) -> Item:
        kind = line.entry.name
        defaults = self.class_lines.get(kind, {})
        around = Surroundings(tag, status, class_wire(self.defaults, defaults), class_ambient(self.defaults, defaults))
        own = {child.entry.name: child for child in line.children}
        lines = [*line.children, *(default for name, default in defaults.items() if name not in own)]
        feeds = build_feeds([child for child in lines if child.entry.kind == "verb"], around, self.findings)
        loads = build_loads([child for child in lines if child.entry.kind == "load"], around, self.findings)
        reserves = [build_reserve(child, around) for child in lines if child.entry.kind == "reserve"]
        by_name = {child.entry.name: child for child in reversed(lines)}
        return Item(
            kind=kind,
            tag=tag,
            title=str(line.head.values.get("title", "")),
            span=line.span,
            tag_span=line.head.spans.get("tag", line.head_span),
            order=len(self.items),
            status=status,
            by=line.by,
            feeds=feeds,
            system=_system(by_name.get("voltage"), own, self.findings, tag),
            secondary=_system(by_name.get("secondary"), own, self.findings, tag),
            phases=_phases(by_name.get("phases"), tag, self.findings),
            main=self._main(by_name.get("main"), tag),
            loads=loads,
            reserves=tuple(reserve for reserve in reserves if isinstance(reserve, Reserve)),
            electrodes=_electrodes(lines),
            paralleling="paralleling" in by_name,
            enclosing=enclosing,
            facts=_facts(line.children, defaults),
            trail=line.trail,
            unreadable=_unreadable(line),
        )

    def _main(self, line: LoweredLine | None, tag: str) -> Main | None:
        if line is None or not line.options:
            return None
        lugs = line.option("lugs")
        others = [run for run in line.options if run is not lugs]
        device = build_device(others, tag, self.findings)
        if lugs is not None and device is not None:
            message = "`main` has lugs and a device"
            advice = "write `main lugs`, or the device alone"
            finding = error("written-twice", tag, message, device.span, "the device", advice)
            self.findings.append(replace(finding, related=(Label(lugs.span, "the lugs"),)))
        return Main(lugs is not None, None if lugs is not None else device, line.span)


def _unreadable(line: LoweredLine) -> bool:
    """Whether something of this item itself (not of gear inside it) could not be read."""
    own = (child for child in line.children if child.entry.kind != "item")
    return line.broken or line.block_broken or any(child.anything_broken for child in own)


def _system(
    line: LoweredLine | None, own: Mapping[str, LoweredLine], findings: list[Finding], tag: str
) -> Value[VoltageSystem] | None:
    if line is None:
        return None
    system = line.head.values.get("system")
    if not isinstance(system, VoltageSystem):
        return None
    phases = line.head.values.get("phases")
    if phases is not None and system.phases and int(str(phases)) != system.phases:
        message = f"`{system.literal}` is a {system.phases}-phase system, not {phases}-phase"
        advice = "leave the phases out: the system says them (`120/208 V` and `120/240 V` are single-phase)"
        findings.append(error("system-disagrees", tag, message, line.head.spans["phases"], "", advice))
    wires = line.head.values.get("wires")
    if wires is not None and not str(wires).startswith(str(system.wires)):
        message = f"`{system.literal}` has {system.wires} wires, not {str(wires).removesuffix('-wire')}"
        findings.append(error("system-disagrees", tag, message, line.head.spans["wires"], "", "leave the wires out"))
    origin = Origin.WRITTEN if own.get(line.entry.name) is line else Origin.DEFAULT
    said = line.modifiers
    return Value(system, origin, line.head.spans.get("system"), said.assumed, said.reason)


def _phases(line: LoweredLine | None, tag: str, findings: list[Finding]) -> str:
    if line is None:
        return ""
    letters = [str(line.head.values[part]) for part in ("first", "second", "third") if part in line.head.values]
    if len(set(letters)) < len(letters):
        message = "a phase is named twice"
        findings.append(error("malformed-value", tag, message, line.span, "", "name each phase once: `phases A B`"))
        return ""
    return "".join(sorted(letters))


def _electrodes(lines: Sequence[LoweredLine]) -> tuple[Electrode, ...]:
    found = []
    for line in lines:
        kind = word(line.head, "kind") if line.entry.name == "electrode" else None
        if kind is None:
            continue
        times = line.modifiers.times or 1
        length = number(line.option("length"), "length")
        size = word(line.option("conductor"), "size")
        found.append(Electrode(kind.value, times, length, size, line.span))
    return tuple(found)


def _facts(lines: Sequence[LoweredLine], defaults: Mapping[str, LoweredLine]) -> FactTable:
    """Facts as written; parts left out are filled from the defaults of the class, and whole facts after them."""
    facts: list[Fact] = []
    for line in lines:
        if line.entry.kind not in _KINDS_OF_LINES or line.entry.name in _OWN_FIELDS:
            continue
        fact = to_fact(line)
        default = defaults.get(line.entry.name)
        if default is not None and not line.entry.repeat:
            fact = replace(fact, values={**to_fact(default).values, **fact.values})
        facts.append(fact)
    written = {fact.name for fact in facts}
    for name, line in defaults.items():
        if line.entry.kind in _KINDS_OF_LINES and name not in written | _OWN_FIELDS:
            facts.append(to_fact(line, Origin.DEFAULT))
    return FactTable(tuple(facts))


def tag_places(line: LoweredLine) -> tuple[Span, tuple[Label, ...]]:
    """Where a tag stands, and the `use` or `for` sites that brought its line about."""
    span = line.head.spans.get("tag", line.head_span)
    return span, tuple(Label(site.span, site.text) for site in line.trail)


__all__ = ["ItemBuilder", "tag_places", "whole"]
