"""Field material: conductors, raceway, fittings and grounding, counted run by run and added up by kind and size."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from fedfrom.formulas.take_off import conductor_length, couplings, raceway_length
from fedfrom.model.items import Status
from fedfrom.passes.bill_lines import BOUGHT, LISTED_APART
from fedfrom.passes.bill_practice import allowance, make_up_ft
from fedfrom.passes.bill_words import conductor_description, join, key_of
from fedfrom.passes.work import Work
from fedfrom.results.notation import size_words
from fedfrom.results.types import BillLine, ConductorResult

LIST = "field material"
WIRE, GROUND, RACEWAY = "26 05 19", "26 05 26", "26 05 33"


@dataclass(frozen=True, slots=True)
class Run:
    """One run of conductors: who it belongs to, how long, what is in it, and the make-up at both ends, ft."""

    tag: str
    label: str
    length_ft: float | None
    conductors: ConductorResult
    make_up_ft: float
    assumed: bool = False


@dataclass(slots=True)
class Sum:
    """A line under addition."""

    key: str
    section: str
    description: str
    unit: str
    net: float = 0.0
    gross: float = 0.0
    tags: dict[str, None] = field(default_factory=dict)
    unknown: dict[str, None] = field(default_factory=dict)
    assumed: dict[str, None] = field(default_factory=dict)

    def add(self, run: Run, net: float, gross: float) -> None:
        self.net += net
        self.gross += gross
        self.tags[run.tag] = None
        if run.length_ft is None and self.unit == "ft":
            self.unknown[run.label] = None
        if run.assumed:
            self.assumed[f"length of {run.label}"] = None


def field_material(work: Work) -> tuple[BillLine, ...]:
    """The second list: conductors, then grounding, then raceway and its fittings; sizes in order of first use."""
    sums: dict[str, Sum] = {}
    for run in (*_feeders(work), *_branches(work)):
        _count_conductors(work, run, sums)
        _count_raceway(work, run, sums)
    lines = [_line(work, each) for each in sums.values()]
    lines += _electrode_conductors(work)
    lines += _work_on_runs(work)
    order = {WIRE: 0, GROUND: 1, RACEWAY: 2}
    return tuple(sorted(lines, key=lambda line: order[line.section]))


def _feeders(work: Work) -> Iterator[Run]:
    for feeder in work.feeders.values():
        conductors = feeder.conductors
        if conductors is None or conductors.by or feeder.by or feeder.status not in BOUGHT or feeder.kind == "inside":
            continue
        make_up = _make_up(work, feeder.source) + _make_up(work, feeder.target)
        label = f"feeder {feeder.id}"
        yield Run(feeder.id, label, feeder.length_ft, conductors, make_up, feeder.length_assumed)


def _branches(work: Work) -> Iterator[Run]:
    for tag, circuits in work.circuits.items():
        make_up = _make_up(work, tag) + make_up_ft(work.edition, "branch load")
        for circuit in circuits:
            conductors = circuit.conductors
            if circuit.kind != "load" or conductors is None or conductors.by or circuit.by:
                continue
            if circuit.status in BOUGHT:
                yield Run(tag, f"circuit {circuit.key}", circuit.length_ft, conductors, make_up)


def _work_on_runs(work: Work) -> Iterator[BillLine]:
    """Runs that are removed or relocated: work, not material."""
    for feeder in work.feeders.values():
        verb = LISTED_APART.get(feeder.status)
        if verb and not feeder.by and feeder.kind != "inside":
            yield _work_line(feeder.id, f"{verb}: feeder {feeder.id}", feeder.length_ft, feeder.status)
    for circuits in work.circuits.values():
        for circuit in circuits:
            verb = LISTED_APART.get(circuit.status)
            if verb and circuit.kind == "load" and not circuit.by:
                name = f"{verb}: branch circuit {circuit.key} {circuit.name}".strip()
                yield _work_line(circuit.key, name, circuit.length_ft, circuit.status)


def _work_line(tag: str, description: str, length_ft: float | None, status: Status) -> BillLine:
    note = "" if length_ft is not None else "length not known"
    length = length_ft or 0.0
    key = key_of(status.value, tag)
    return BillLine(LIST, key, WIRE, (tag,), description, length, "ft", length, 0.0, "", status.value, note)


def _make_up(work: Work, tag: str) -> float:
    gear = work.gear.get(tag)
    if gear is not None:
        return make_up_ft(work.edition, gear.gear_class)
    if tag in work.transformers:
        return make_up_ft(work.edition, "transformer")
    if tag in work.sources:
        return make_up_ft(work.edition, work.sources[tag].kind)
    return make_up_ft(work.edition, work.transfers[tag].kind if tag in work.transfers else "other gear")


def _count_conductors(work: Work, run: Run, sums: dict[str, Sum]) -> None:
    wires = run.conductors
    counts: dict[str, int] = {}
    for size, number in ((wires.phase, wires.ungrounded), (wires.neutral, 1), (wires.ground, 1)):
        if size and number:
            counts[size] = counts.get(size, 0) + number * wires.sets
    waste = allowance(work.edition, "conductor_waste")
    for size, number in counts.items():
        key = key_of("conductor", wires.material, wires.insulation, size)
        description = conductor_description(wires.material, wires.insulation, size)
        held = sums.setdefault(key, Sum(key, WIRE, description, "ft"))
        if run.length_ft is None:
            held.add(run, 0.0, 0.0)
        else:
            length = conductor_length(number, run.length_ft, run.make_up_ft, waste)
            held.add(run, length.net_ft, length.gross_ft)


def _count_raceway(work: Work, run: Run, sums: dict[str, Sum]) -> None:
    wires = run.conductors
    if not wires.raceway_size:
        return
    name = f"{wires.raceway_kind}, {wires.raceway_size} inch"
    key = key_of("raceway", wires.raceway_kind, wires.raceway_size)
    raceway = sums.setdefault(key, Sum(key, RACEWAY, f"Raceway, {name}", "ft"))
    fittings_key = key_of("raceway-connector", wires.raceway_kind, wires.raceway_size)
    connectors = sums.setdefault(fittings_key, Sum(fittings_key, RACEWAY, f"Connector for raceway, {name}", "ea"))
    coupling_key = key_of("raceway-coupling", wires.raceway_kind, wires.raceway_size)
    joints = sums.setdefault(coupling_key, Sum(coupling_key, RACEWAY, f"Coupling for raceway, {name}", "ea"))
    ends = allowance(work.edition, "connectors_per_run") * wires.sets
    connectors.add(run, ends, ends)
    if run.length_ft is None:
        raceway.add(run, 0.0, 0.0)
        joints.add(run, 0.0, 0.0)
        return
    length = raceway_length(wires.sets, run.length_ft, allowance(work.edition, "raceway_waste"))
    raceway.add(run, length.net_ft, length.gross_ft)
    count = couplings(wires.sets, run.length_ft, allowance(work.edition, "raceway_length"))
    joints.add(run, count, count)


def _line(work: Work, held: Sum) -> BillLine:
    gross = float(math.ceil(round(held.gross, 6)))
    net = round(held.net, 2)
    notes = [_allowance_note(work, held)] if held.unit == "ft" else []
    if held.unknown:
        notes.append(f"NOT COUNTED, length not known: {_some(list(held.unknown))}")
    return BillLine(
        LIST,
        held.key,
        held.section,
        tuple(held.tags),
        held.description,
        gross,
        held.unit,
        net,
        round(gross - net, 2),
        "stock",
        Status.NEW.value,
        "; ".join(notes),
        tuple(held.assumed),
    )


def _some(names: list[str]) -> str:
    """The first six names, and how many more there are."""
    more = f" and {len(names) - 6} more" if len(names) > 6 else ""
    return f"{', '.join(names[:6])}{more}"


def _allowance_note(work: Work, held: Sum) -> str:
    if held.section == RACEWAY:
        return f"allowance: {allowance(work.edition, 'raceway_waste'):g} % waste"
    return f"allowance: make-up at both ends and {allowance(work.edition, 'conductor_waste'):g} % waste"


def _electrode_conductors(work: Work) -> Iterator[BillLine]:
    """Grounding electrode conductors by size and the electrodes that are driven or laid."""
    waste = allowance(work.edition, "conductor_waste")
    lengths: dict[str, Sum] = {}
    rods: dict[str, Sum] = {}
    for item in work.model.items.values():
        if item.status not in BOUGHT or item.by:
            continue
        gear, transformer = work.gear.get(item.tag), work.transformers.get(item.tag)
        size = gear.grounding_electrode_conductor if gear else ""
        size = size or (transformer.grounding_electrode_conductor if transformer else "")
        for electrode in item.electrodes:
            own = electrode.size.value if electrode.size else size
            if own:
                key = key_of("conductor", "Cu", "bare", own)
                description = join("Conductor", "Cu", "bare", size_words(own))
                held = lengths.setdefault(key, Sum(key, GROUND, description, "ft"))
                length = electrode.length_ft.value if electrode.length_ft else None
                _add_length(held, item.tag, electrode.kind, length, waste)
            if electrode.kind in {"rod", "plate"}:
                key = key_of("electrode", electrode.kind)
                held = rods.setdefault(key, Sum(key, GROUND, f"Grounding electrode, {electrode.kind}", "ea"))
                held.tags[item.tag] = None
                held.net += electrode.count
                held.gross += electrode.count
    for held in (*lengths.values(), *rods.values()):
        yield _line(work, held)


def _add_length(held: Sum, tag: str, kind: str, length_ft: float | None, waste: float) -> None:
    held.tags[tag] = None
    if length_ft is None:
        held.unknown[f"{tag} to {kind}"] = None
        return
    length = conductor_length(1, length_ft, 0.0, waste)
    held.net += length.net_ft
    held.gross += length.gross_ft
