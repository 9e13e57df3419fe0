"""Load summary by node, load by category at every node, and the equipment schedule."""

from __future__ import annotations

from fedfrom.documents.tables import Cell, Table, number_column, text_column
from fedfrom.documents.words import category_mark
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import conductor_text
from fedfrom.results.types import CircuitResult
from fedfrom.rules.registry import Design

# Branch loads that are outlets or fixtures, not pieces of equipment to be connected one by one.
NOT_EQUIPMENT = frozenset({"lighting", "receptacles", "show-window", "track", "sign"})


def load_summary(design: Design) -> Table:
    """One row a node: connected and demand in the state that governs, by phase, and what is left."""
    columns = (
        text_column("TAG", 1.2),
        text_column("TITLE", 2.4),
        text_column("VOLTAGE", 1.0),
        number_column("CONNECTED", "kVA", 0.8, 1),
        number_column("DEMAND", "kVA", 0.75, 1),
        number_column("DIVERSITY", "DEMAND / CONN.", 0.85, 2),
        number_column("DEMAND", "A", 0.65),
        number_column("DESIGN", "A", 0.65),
        number_column("WITH GROWTH", "A", 0.75),
        number_column("PHASE A", "kVA", 0.65, 1),
        number_column("PHASE B", "kVA", 0.65, 1),
        number_column("PHASE C", "kVA", 0.65, 1),
        number_column("NEUTRAL", "A", 0.6),
        number_column("POWER FACTOR", "", 0.65, 2),
        number_column("BUS", "A", 0.55),
        number_column("SPARE", "A", 0.6),
        text_column("STATE", 1.2),
        text_column("COMPLETE", 0.75),
    )
    rows = tuple(_summary_row(design, tag) for tag in design.results.loads)
    note = "The demand of each node is recomputed from the categories below it; it is not the sum of the demands below."
    return Table("LOAD SUMMARY", columns, rows, note)


def _summary_row(design: Design, tag: str) -> tuple[Cell, ...]:
    results = design.results
    load = governing_load(results, tag)
    gear = results.gear.get(tag)
    item = gear or results.transformers.get(tag) or results.transfers.get(tag) or results.sources.get(tag)
    title = item.title if item else ""
    system = item.system if item is not None and hasattr(item, "system") else None
    spare = gear.spare_ampacity_a if gear else ""
    bus = gear.bus_a if gear else ""
    if load is None:
        return (tag, title, system.literal if system else "", *(None,) * 11, bus, spare, "", "")
    ratio: Cell = load.demand_va / load.connected_va if load.connected_va else ""
    return (
        tag,
        title,
        system.literal if system else "",
        load.connected_va / 1000,
        load.demand_va / 1000,
        ratio,
        load.demand_a,
        load.design_a,
        load.design_with_growth_a,
        *(va / 1000 for va in load.phase_va),
        load.neutral_a,
        load.power_factor,
        bus,
        spare,
        load.state,
        "yes" if load.complete else "NO, lower bound",
    )


def category_summary(design: Design) -> Table:
    """Every category at every node, with its factor and clause."""
    columns = (
        text_column("NODE", 2.0),
        text_column("LOAD CATEGORY", 2.2),
        number_column("LOADS", "", 0.6),
        number_column("CONNECTED", "kVA", 1.0, 2),
        text_column("DEMAND FACTOR", 4.2),
        text_column("CLAUSE", 3.0),
        number_column("DEMAND", "kVA", 1.0, 2),
        number_column("CONTINUOUS", "kVA", 1.0, 2),
    )
    rows: list[tuple[Cell, ...]] = []
    for tag in design.results.loads:
        load = governing_load(design.results, tag)
        for line in load.categories if load else ():
            rows.append(
                (
                    tag,
                    line.category,
                    line.count or "",
                    line.connected_va / 1000,
                    line.factor,
                    line.clause,
                    line.demand_va / 1000,
                    line.continuous_va / 1000 if line.continuous_va else "",
                )
            )
    return Table("LOAD BY CATEGORY AT EACH NODE", columns, tuple(rows))


def equipment_table(design: Design) -> Table:
    """Loads that are connected as pieces of equipment: rating, circuit, device, conductors, who provides what."""
    columns = (
        text_column("TAG", 0.8),
        text_column("EQUIPMENT", 2.3),
        text_column("LOAD CATEGORY", 0.8),
        text_column("RATING", 1.8),
        number_column("LOAD", "kVA", 0.6, 1),
        number_column("CURRENT", "A", 0.65, 1),
        number_column("TABLE", "A", 0.55, 1),
        number_column("MCA", "A", 0.5, 1),
        number_column("MOCP", "A", 0.5),
        text_column("CIRCUIT", 1.0),
        number_column("DEVICE", "A", 0.55),
        number_column("POLES", "", 0.45),
        text_column("CONDUCTORS", 2.4),
        number_column("LENGTH", "FT", 0.55),
        number_column("FAULT AT LOAD", "kA", 0.7, 1),
        text_column("BY", 0.8),
        text_column("NOTES", 1.7),
    )
    rows = tuple(
        _equipment_row(circuit)
        for circuits in design.results.circuits.values()
        for circuit in circuits
        if circuit.kind == "load" and circuit.category not in NOT_EQUIPMENT
    )
    return Table("EQUIPMENT SCHEDULE", columns, rows, "TABLE A: motor current of the code's tables, used for sizing.")


def _equipment_row(circuit: CircuitResult) -> tuple[Cell, ...]:
    def maybe(value: float | None) -> Cell:
        return "" if value is None else value

    return (
        circuit.tag,
        circuit.name,
        category_mark(circuit.category),
        circuit.detail,
        None if circuit.connected_va is None else circuit.connected_va / 1000,
        circuit.load_a,
        maybe(circuit.table_a),
        maybe(circuit.mca_a),
        maybe(circuit.mocp_a),
        circuit.key,
        circuit.device.protects_a if circuit.device else None,
        circuit.poles,
        conductor_text(circuit.conductors) if circuit.conductors else None,
        circuit.length_ft,
        None if circuit.fault_load_end_a is None else circuit.fault_load_end_a / 1000,
        circuit.by,
        "; ".join(circuit.notes),
    )
