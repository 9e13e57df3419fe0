"""Available fault currents, the rating check, and grounding."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.documents.tables import Cell, Table, number_column, text_column
from fedfrom.documents.words import device_words
from fedfrom.results.governing import adequacy
from fedfrom.results.notation import size_text
from fedfrom.results.types import DeviceResult, FaultResult
from fedfrom.rules.registry import Design


def fault_table(design: Design) -> Table:
    """One row a bus and state; buses whose fault is not known stand there too."""
    columns = (
        text_column("BUS", 1.6),
        text_column("STATE", 2.4),
        number_column("THREE-PHASE", "kA", 1.0, 2),
        number_column("LINE TO LINE", "kA", 1.0, 2),
        number_column("LINE TO GROUND", "kA", 1.1, 2),
        number_column("X/R", "", 0.6, 1),
        number_column("MOTORS ADD", "kA", 0.9, 2),
        number_column("SOURCE R", "OHM", 1.0, 5),
        number_column("SOURCE X", "OHM", 1.0, 5),
        text_column("BASIS", 5.4),
    )
    rows: list[tuple[Cell, ...]] = []
    for tag, states in design.results.faults.items():
        rows += [_fault_row(tag, fault) for fault in states.values()]
    missing = [tag for tag in design.results.gear if not design.results.faults.get(tag)]
    rows += [(tag, "", *(None,) * 7, "NOT KNOWN: see the findings") for tag in missing]
    note = "Symmetrical rms at the bus, motor contribution included. R and X of the source side, line to neutral."
    return Table("AVAILABLE FAULT CURRENT", columns, tuple(rows), note)


def _fault_row(tag: str, fault: FaultResult) -> tuple[Cell, ...]:
    def kilo(value: float | None) -> Cell:
        return None if value is None else value / 1000

    ground: Cell = "" if fault.line_ground_a is None else fault.line_ground_a / 1000
    basis = f"{fault.basis} (ASSUMED)" if fault.assumed else fault.basis
    return (
        tag,
        fault.state,
        kilo(fault.three_phase_a),
        kilo(fault.line_line_a),
        ground,
        fault.x_over_r,
        kilo(fault.motor_contribution_a),
        fault.z_ohm[0],
        fault.z_ohm[1],
        basis,
    )


def rating_table(design: Design) -> Table:
    """One row a bus and device: what is available, what it is rated for, and whether that is enough."""
    columns = (
        text_column("LOCATION", 2.0),
        text_column("ITEM", 4.6),
        number_column("COUNT", "", 0.6),
        text_column("VOLTAGE", 1.2),
        number_column("AVAILABLE", "kA", 0.9, 2),
        number_column("RATING", "kA", 0.8, 1),
        number_column("MARGIN", "%", 0.7),
        text_column("BASIS", 2.0),
        text_column("STATE", 1.6),
        text_column("RESULT", 1.6),
    )
    note = "NOT ESTABLISHED: the available fault current or the rating is not known. It is never a pass."
    return Table("RATING CHECK", columns, tuple(_rating_rows(design)), note)


def _rating_rows(design: Design) -> Iterator[tuple[Cell, ...]]:
    results = design.results
    for tag, source in results.sources.items():
        if source.main:
            yield _device_row(tag, "MAIN", source.main, source.system.literal if source.system else "", 1)
    for tag, gear in results.gear.items():
        volts = gear.system.literal if gear.system else ""
        yield _row(tag, "ASSEMBLY, BUS", 1, volts, gear.fault_a, gear.sccr_a, gear.sccr_basis, gear.fault_state)
        if gear.main:
            yield _device_row(tag, "MAIN", gear.main, volts, 1)
        for device, count in _grouped(design, tag):
            yield _device_row(tag, "DEVICE", device, volts, count)
    for tag, item in results.transfers.items():
        volts = item.system.literal if item.system else ""
        name = f"{item.kind.upper()}, WITHSTAND AND CLOSING"
        yield _row(tag, name, 1, volts, item.fault_a, item.withstand_a, "", item.fault_state)
    for tag, tie in results.ties.items():
        if tie.device:
            yield _device_row(tag, "TIE", tie.device, "", 1)


def _grouped(design: Design, tag: str) -> list[tuple[DeviceResult, int]]:
    """The devices of the circuits of a piece of gear, equal ones once with their count, in order of first sight."""
    counts: dict[tuple[object, ...], list[object]] = {}
    for circuit in design.results.circuits.get(tag, ()):
        feeder = design.results.feeders.get(circuit.feeder_id) if circuit.feeder_id else None
        device = circuit.device or (feeder.device if feeder else None)
        if device is None or circuit.kind == "space":
            continue
        key = (device_words(device), device.interrupting_a, device.fault_a, device.rating_basis)
        entry = counts.setdefault(key, [device, 0])
        entry[1] = int(str(entry[1])) + 1
    return [(device, int(str(count))) for device, count in counts.values() if isinstance(device, DeviceResult)]


def _device_row(tag: str, role: str, device: DeviceResult, volts: str, count: int) -> tuple[Cell, ...]:
    name = f"{role}: {device_words(device)}"
    basis, state = device.rating_basis, device.fault_state
    return _row(tag, name, count, volts, device.fault_a, device.interrupting_a, basis, state)


def _row(
    tag: str, name: str, count: int, volts: str, fault: float | None, rating: float | None, basis: str, state: str
) -> tuple[Cell, ...]:
    margin: Cell = "" if rating is None or not fault else 100 * (rating - fault) / fault
    verdict = adequacy(rating, fault).upper()
    return (
        tag,
        name,
        count,
        volts,
        None if fault is None else fault / 1000,
        None if rating is None else rating / 1000,
        margin,
        basis,
        state,
        verdict,
    )


def grounding_table(design: Design) -> Table:
    """Where systems are grounded: electrodes, their conductor, and the jumpers."""
    columns = (
        text_column("AT", 1.6),
        text_column("SYSTEM", 3.0),
        text_column("ELECTRODES", 4.0),
        text_column("ELECTRODE CONDUCTOR", 1.9),
        text_column("BONDING JUMPER", 2.4),
        text_column("SUPPLY-SIDE BONDING JUMPER", 2.2),
    )
    rows: list[tuple[Cell, ...]] = []
    for tag, gear in design.results.gear.items():
        if gear.service_equipment or gear.electrodes or gear.grounding_electrode_conductor:
            jumper = f"main, {size_text(gear.main_bonding_jumper)}" if gear.main_bonding_jumper else None
            conductor = size_text(gear.grounding_electrode_conductor) or None
            volts = gear.system.literal if gear.system else ""
            name = f"service, {volts}" if gear.service_equipment else volts
            rows.append((tag, name, ", ".join(gear.electrodes) or None, conductor, jumper, ""))
    for tag, item in design.results.transformers.items():
        if item.by == "utility":
            continue
        system = item.secondary.literal if item.secondary else ""
        jumper = f"system, {size_text(item.system_bonding_jumper)}" if item.system_bonding_jumper else None
        rows.append(
            (
                tag,
                f"separately derived, {system}",
                ", ".join(item.electrodes) or None,
                size_text(item.grounding_electrode_conductor) or None,
                jumper,
                size_text(item.supply_side_bonding_jumper) or None,
            )
        )
    note = "Equipment grounding conductors stand in the feeder schedule and the panel schedules. Conductors are copper."
    return Table("GROUNDING AND BONDING", columns, tuple(rows), note)
