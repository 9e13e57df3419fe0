"""Tables of feeders, transformers, voltage drop and sources."""

from __future__ import annotations

from fedfrom.documents.schedules.header import no_device_reason
from fedfrom.documents.tables import Cell, Table, number_column, text_column
from fedfrom.documents.words import STATUS_MARKS, device_words
from fedfrom.model.fact_words import fact_words
from fedfrom.model.items import Origin
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import size_text
from fedfrom.results.types import (
    ConductorResult,
    DeviceResult,
    FeederResult,
    Results,
    SourceResult,
    TransferResult,
    TransformerResult,
)
from fedfrom.rules.registry import Design


def feeder_table(design: Design) -> Table:
    """One row a feeder: device, conductors, length, what it was sized for, and the factors used."""
    columns = (
        text_column("FEEDER", 1.0),
        text_column("FED FROM", 0.9),
        text_column("TO", 0.9),
        text_column("VOLTAGE", 0.85),
        text_column("DEVICE", 1.75),
        number_column("SETS", "", 0.35),
        text_column("PHASE", 0.95),
        text_column("NEUTRAL", 0.75),
        text_column("GROUND", 0.75),
        text_column("WIRE", 1.05),
        text_column("RACEWAY", 0.85),
        number_column("LENGTH", "FT", 0.5),
        number_column("DESIGN", "A", 0.5),
        number_column("AMPACITY", "A", 0.6),
        number_column("AMBIENT", "FACTOR", 0.5, 2),
        number_column("ADJUST.", "FACTOR", 0.5, 2),
        number_column("TERMINAL", "C", 0.55),
        number_column("FILL", "%", 0.4),
        number_column("FAULT AT END", "kA", 0.6, 1),
        text_column("STATUS", 0.6),
    )
    rows = tuple(
        _feeder_row(design.results, feeder) for feeder in design.results.feeders.values() if feeder.kind != "inside"
    )
    return Table("FEEDER SCHEDULE", columns, rows, "Ampacity: all sets together, after correction and adjustment.")


def _feeder_row(results: Results, feeder: FeederResult) -> tuple[Cell, ...]:
    wires = feeder.conductors
    status = " ".join(part for part in (STATUS_MARKS[feeder.status], _by(feeder)) if part)
    return (
        feeder.id,
        f"{feeder.source}{'' if feeder.point == 'bus' else ' ' + feeder.point}",
        feeder.target,
        feeder.system.literal if feeder.system else None,
        feeder_device(results, feeder),
        *_conductor_cells(wires),
        feeder.length_ft,
        feeder.design_a,
        *_factor_cells(wires),
        None if feeder.fault_load_end_a is None else feeder.fault_load_end_a / 1000,
        status,
    )


def _by(feeder: FeederResult) -> str:
    by = feeder.by or (feeder.conductors.by if feeder.conductors else "")
    return f"BY {by.upper()}" if by else ""


def feeder_device(results: Results, feeder: FeederResult) -> Cell:
    """The device of a feeder in words; where there is none by its nature, why; None = not known."""
    if feeder.device is not None:
        return device_words(feeder.device)
    return no_device_reason(results, feeder) or None


def _conductor_cells(wires: ConductorResult | None) -> tuple[Cell, ...]:
    if wires is None:
        return (None,) * 6
    mark = " SSBJ" if wires.ground_kind.startswith("supply-side") else ""
    count = f"{wires.ungrounded}-" if wires.phase else ""
    raceway = f"{wires.raceway_size} INCH {wires.raceway_kind}".strip() if wires.raceway_size else wires.raceway_kind
    return (
        wires.sets,
        f"{count}{size_text(wires.phase)}",
        size_text(wires.neutral) or "none",
        f"{size_text(wires.ground)}{mark}" if wires.ground else wires.ground_kind or "none",
        f"{wires.material} {wires.insulation}".strip(),
        raceway or "none",
    )


def _factor_cells(wires: ConductorResult | None) -> tuple[Cell, ...]:
    if wires is None:
        return (None,) * 5
    return (wires.ampacity_a, wires.ambient_factor, wires.adjustment_factor, wires.terminal_c, wires.fill_pct)


def transformer_table(design: Design) -> Table:
    """One row a transformer, the utility's among them."""
    columns = (
        text_column("TAG", 0.8),
        number_column("RATING", "kVA", 0.55, 1),
        text_column("FED FROM", 0.8),
        text_column("PRIMARY", 0.9),
        text_column("SECONDARY", 0.9),
        text_column("CONNECTION", 0.9),
        number_column("IMPEDANCE", "%", 0.65, 2),
        text_column("BASIS", 0.75),
        text_column("K-FACTOR, TAPS, RISE, SHIELD", 1.2),
        text_column("PRIMARY DEVICE", 1.45),
        text_column("SECONDARY DEVICE", 1.45),
        number_column("LOADING", "%", 0.55),
        number_column("FAULT AT SECONDARY", "kA", 0.8, 1),
        text_column("BONDING JUMPER", 0.8),
        text_column("SSBJ", 0.6),
        text_column("ELECTRODE CONDUCTOR", 0.9),
        text_column("ELECTRODES", 1.1),
        text_column("LOCATION", 1.2),
        text_column("STATUS", 0.6),
    )
    found = [source.transformer for source in design.results.sources.values() if source.transformer]
    found += list(design.results.transformers.values())
    rows = tuple(
        (
            item.tag,
            item.kva,
            item.fed_from,
            item.primary.literal if item.primary else None,
            item.secondary.literal if item.secondary else None,
            item.connection or None,
            item.impedance_pct,
            _impedance_basis(item),
            ", ".join((*((item.k_factor,) if item.k_factor else ()), *_stated(design, item.tag))),
            _device(item.primary_device),
            _device(item.secondary_device),
            item.loading_pct,
            None if item.fault_secondary_a is None else item.fault_secondary_a / 1000,
            size_text(item.system_bonding_jumper),
            size_text(item.supply_side_bonding_jumper),
            size_text(item.grounding_electrode_conductor),
            ", ".join(item.electrodes),
            item.place,
            " ".join(part for part in (STATUS_MARKS[item.status], f"BY {item.by.upper()}" if item.by else "") if part),
        )
        for item in found
    )
    return Table("TRANSFORMER SCHEDULE", columns, rows)


def _stated(design: Design, tag: str) -> list[str]:
    """Taps, rise and shield where they were written."""
    item = design.model.items.get(tag)
    facts = [(name, item.facts.first(name)) for name in ("taps", "rise", "shielded")] if item else []
    return [f"{name} {fact_words(fact)}".strip() for name, fact in facts if fact is not None]


def _impedance_basis(item: TransformerResult) -> str:
    if item.impedance_pct is None:
        return ""
    return "as written" if item.impedance_origin is Origin.WRITTEN else "typical"


def _device(device: DeviceResult | None) -> str:
    return device_words(device) if device else ""


def drop_table(design: Design) -> Table:
    """Voltage drop of every feeder, and of the worst branch circuit of each piece of gear."""
    columns = (
        text_column("SEGMENT", 1.5),
        text_column("FROM", 1.2),
        text_column("TO", 2.4),
        number_column("LOAD", "A", 0.6, 1),
        number_column("POWER FACTOR", "", 0.7, 2),
        number_column("SETS", "", 0.4),
        text_column("PHASE", 1.0),
        number_column("R", "OHM/KFT", 0.75, 4),
        number_column("X", "OHM/KFT", 0.75, 4),
        number_column("LENGTH", "FT", 0.6),
        number_column("DROP", "V", 0.6, 2),
        number_column("DROP", "%", 0.6, 2),
        number_column("FROM SOURCE", "%", 0.75, 2),
        number_column("LIMIT", "%", 0.6, 1),
        text_column("STATE", 1.4),
    )
    rows = [_drop_row(feeder) for feeder in design.results.feeders.values() if feeder.kind != "inside"]
    rows += _worst_circuits(design)
    note = "R and X of one set at 75 C. Branch circuits: the one of each piece of gear with the greatest drop."
    return Table("VOLTAGE DROP", columns, tuple(rows), note)


def _drop_row(feeder: FeederResult) -> tuple[Cell, ...]:
    wires = feeder.conductors
    return (
        feeder.id,
        feeder.source,
        feeder.target,
        feeder.load_a,
        feeder.power_factor,
        wires.sets if wires else None,
        size_text(wires.phase) if wires else None,
        wires.r_ohm_per_kft if wires else None,
        wires.x_ohm_per_kft if wires else None,
        feeder.length_ft,
        feeder.drop_v,
        feeder.drop_pct,
        feeder.cumulative_drop_pct,
        "" if feeder.drop_limit_pct is None else feeder.drop_limit_pct,
        feeder.worst_state,
    )


def _worst_circuits(design: Design) -> list[tuple[Cell, ...]]:
    limit = design.model.defaults.drop_total_pct
    rows: list[tuple[Cell, ...]] = []
    for gear, circuits in design.results.circuits.items():
        known = [each for each in circuits if each.kind == "load" and each.cumulative_drop_pct is not None]
        if not known:
            continue
        worst = max(known, key=lambda each: each.cumulative_drop_pct or 0.0)
        wires = worst.conductors
        rows.append(
            (
                worst.key,
                gear,
                worst.name,
                worst.load_a,
                "",
                wires.sets if wires else None,
                size_text(wires.phase) if wires else None,
                wires.r_ohm_per_kft if wires else None,
                wires.x_ohm_per_kft if wires else None,
                worst.length_ft,
                worst.drop_v,
                worst.drop_pct,
                worst.cumulative_drop_pct,
                "" if limit is None else limit.value,
                "",
            )
        )
    return rows


def source_table(design: Design) -> Table:
    """Utilities, generators, transfer switches and UPS."""
    columns = (
        text_column("TAG", 1.0),
        text_column("KIND", 1.2),
        text_column("VOLTAGE", 1.1),
        text_column("RATING", 1.6),
        text_column("POLES", 0.5),
        text_column("FROM", 2.0),
        text_column("SYSTEM", 1.3),
        text_column("TRANSITION, BYPASS", 1.3),
        number_column("DEMAND", "A", 0.7),
        number_column("FAULT", "kA", 0.6, 1),
        number_column("WITHSTAND", "kA", 0.8, 1),
        text_column("BASIS", 2.6),
        text_column("LOCATION", 1.3),
    )
    rows = [_source_row(source) for source in design.results.sources.values()]
    rows += [_transfer_row(design.results, item) for item in design.results.transfers.values()]
    return Table("SOURCES AND TRANSFER SWITCHES", columns, tuple(rows))


def _source_row(source: SourceResult) -> tuple[Cell, ...]:
    basis = f"{source.basis} (ASSUMED)" if source.assumed else source.basis
    return (
        source.tag,
        source.kind,
        source.system.literal if source.system else None,
        source.rating_text,
        "",
        "",
        "",
        "",
        source.demand_a,
        None if source.fault_a is None else source.fault_a / 1000,
        "",
        basis,
        source.place,
    )


def _transfer_row(results: Results, item: TransferResult) -> tuple[Cell, ...]:
    load = governing_load(results, item.tag)
    ends = (("NORMAL", item.normal_from), ("EMERGENCY", item.emergency_from))
    return (
        item.tag,
        item.kind,
        item.system.literal if item.system else None,
        None if item.rating_a is None else f"{item.rating_a:g} A",
        str(item.poles),
        ", ".join(f"{label} {tag}" for label, tag in ends if tag),
        item.system_class,
        ", ".join(part for part in (item.transition, item.bypass) if part),
        load.demand_a if load else None,
        None if item.fault_a is None else item.fault_a / 1000,
        None if item.withstand_a is None else item.withstand_a / 1000,
        item.fault_state,
        item.place,
    )


def state_table(design: Design) -> Table:
    """The operating states in which everything was checked."""
    columns = (
        text_column("OPERATING STATE", 3.0),
        text_column("SOURCES LOST", 3.0),
        text_column("OPENED", 3.0),
        text_column("CLOSED", 3.0),
        text_column("WITHOUT SUPPLY", 4.0),
    )
    rows = tuple(
        (
            state.name,
            ", ".join(state.lost),
            ", ".join(state.opened),
            ", ".join(state.closed),
            ", ".join(state.dead),
        )
        for state in design.results.states
    )
    return Table("OPERATING STATES", columns, rows)
