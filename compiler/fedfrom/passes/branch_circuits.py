"""Pass: the device and conductors of every branch circuit, chosen or checked."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.model.fact_reading import whole
from fedfrom.model.items import Conductors, Device, Item, Load, Origin, Reserve, Status, Value
from fedfrom.passes.branch_needs import BranchNeed, branch_need, kinds_of
from fedfrom.passes.connected import DWELLING_LIGHTING
from fedfrom.passes.current_trace import circuit_steps
from fedfrom.passes.motor_notes import motor_notes
from fedfrom.passes.motors import circuit_power_factor, load_of
from fedfrom.passes.sizing_conductors import ConductorRequest, DropLimit
from fedfrom.passes.sizing_devices import DeviceRequest, is_fused, protecting_rating, size_device
from fedfrom.passes.sizing_sets import size_conductors
from fedfrom.passes.sizing_settings import ambient_of, is_wet, wire_settings
from fedfrom.passes.sizing_trace import conductor_derivation, device_derivation
from fedfrom.passes.wiring_trace import wiring_derivations
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import VoltageSystem
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import CircuitResult, DeviceResult
from fedfrom.tables import lookup

# 120/240 V appliances with a neutral (NEC 250.140).
NEUTRAL_KINDS = frozenset({"range", "dryer", "mobile-home", "rv-site", "shore-power"})
NUMBERED_GEAR = frozenset({"panelboard", "load center", "gear", "pdu", "isolated power panel"})


def run(work: Work) -> Work:
    """Fill device and conductors of every row that is a load, a spare or a tap; feeders are sized by their own pass."""
    circuits: dict[str, tuple[CircuitResult, ...]] = {}
    derivations: dict[str, Derivation] = dict(work.derivations)
    for tag, rows in work.circuits.items():
        item = work.model.items.get(tag)
        system = work.network.nodes[tag].system if tag in work.network.nodes else None
        sized = []
        for row in rows:
            done, explained = _size_row(work, item, system, row)
            sized.append(done)
            derivations.update({each.subject: each for each in explained})
        circuits[tag] = tuple(sized)
    return replace(work, circuits=circuits, derivations=derivations)


def circuit_volts(system: VoltageSystem, poles: int, multiwire: bool = False) -> tuple[float, int]:
    """Volts between the conductors of a circuit, and its phases, by its poles; multiwire counts to neutral."""
    if poles >= 3:
        return system.line_to_line_v, 3
    if poles == 1 or multiwire:
        return system.line_to_neutral_v or system.line_to_line_v, 1
    return system.line_to_line_v, 1


def _size_row(
    work: Work, item: Item | None, system: VoltageSystem | None, row: CircuitResult
) -> tuple[CircuitResult, tuple[Derivation, ...]]:
    if row.kind == "spare":
        return replace(row, device=_spare_device(work, item, row)), ()
    if row.kind not in ("load", "tap") or system is None:
        return row, ()
    load = load_of(item, row)
    volts, phases = circuit_volts(system, row.poles, row.multiwire)
    need = branch_need(work.edition, row, load, volts, phases)
    device = _device(work, row, load, need)
    request = branch_request(work, system, row, load, need, device)
    sized = None if request is None else size_conductors(work.edition, request)
    remarks = tuple(motor_notes(work.edition, row, load))
    notes = (*row.notes, *(note for note, _ in remarks))
    done = replace(row, device=device, conductors=sized.result if sized else None, notes=notes)
    inputs = _inputs(row, load)
    steps = (*circuit_steps(row, volts, phases), *need.steps)
    explained = [device_derivation(work.edition, row.key, device, steps, need.missing, inputs)]
    if sized is not None:
        if need.missing:
            steps = (*steps, Step(f"needs {need.missing}", "", "not known"))
        explained.append(conductor_derivation(work.edition, f"{row.key}.phase", sized, steps, inputs))
        explained.extend(wiring_derivations(work.edition, row.key, sized))
    explained.extend(derivation for _, derivation in remarks)
    return done, tuple(each for each in explained if each is not None)


def _inputs(row: CircuitResult, load: Load | None) -> tuple[Input, ...]:
    """What the calculation of a circuit starts from, with the place where it is written."""
    inputs = []
    if row.load_a is not None:
        continuous = "load current, continuous" if row.continuous else "load current"
        inputs.append(Input("I", continuous, amperes_text(row.load_a), Origin.CHOSEN, load.span if load else row.span))
    if row.table_a is not None:
        basis = f"table current of {row.motor_hp:g} hp" if row.motor_hp is not None else "full-load current as written"
        origin = Origin.DEFAULT if row.motor_hp is not None else Origin.WRITTEN
        inputs.append(Input("FLC", basis, amperes_text(row.table_a), origin, load.span if load else row.span))
    if row.length_ft is not None and load is not None and load.length_ft is not None:
        length = load.length_ft
        inputs.append(Input("L", "length", f"{row.length_ft:g} ft", length.origin, length.span))
    return tuple(inputs)


def _device(work: Work, row: CircuitResult, load: Load | None, need: BranchNeed) -> DeviceResult | None:
    written = load.device if load else None
    request = DeviceRequest(written, need.device_a, row.poles, electronic=False, status=row.status)
    return size_device(work.edition, request)


def _spare_device(work: Work, item: Item | None, row: CircuitResult) -> DeviceResult | None:
    reserve = _reserve_of(item, row)
    rating = reserve.rating_a if reserve else None
    if rating is None and row.device is not None:
        return row.device
    numbered = item is not None and item.kind in NUMBERED_GEAR
    if rating is None and not numbered:
        return None
    amperes = rating or float(lookup.choice(work.edition, "smallest_branch_device"))
    written = None
    if rating is not None and reserve is not None:
        kind = reserve.device_kind
        written = Device(kind, reserve.span, Value(amperes, Origin.WRITTEN, reserve.span))
    request = DeviceRequest(written, amperes, row.poles, electronic=not numbered, status=row.status)
    return size_device(work.edition, request)


def _reserve_of(item: Item | None, row: CircuitResult) -> Reserve | None:
    if item is None:
        return None
    return next((reserve for reserve in item.reserves if reserve.kind == row.kind and reserve.span == row.span), None)


def branch_request(
    work: Work,
    system: VoltageSystem,
    row: CircuitResult,
    load: Load | None,
    need: BranchNeed,
    device: DeviceResult | None,
) -> ConductorRequest | None:
    """What the conductors of a branch circuit must do; None where neither its load nor its device says."""
    rating = protecting_rating(device)
    terminal, carried = need.terminal_a, need.carried_a
    spared = load is not None and load.device is not None and "100 % rated" in load.device.options
    if carried is not None and spared and not need.device_may_exceed:
        terminal = carried  # the exception of 210.19(A)(1)
    if terminal is None or carried is None:
        if rating is None or need.device_may_exceed:
            return None
        terminal, carried = rating, 0.0
    if row.status is Status.DEMOLISH:
        return None
    written = load.conductors if load else Conductors()
    ambient = ambient_of(load.facts.first("ambient")) if load else None
    settings = wire_settings(work.model, work.edition, written, ambient)
    if load is not None and (is_wet(load.facts.first("place")) or is_wet(load.facts.first("place words"))):
        settings = replace(settings, wet=True)
    kinds = kinds_of(load, row)
    return ConductorRequest(
        written=written,
        settings=settings,
        ungrounded=row.poles,
        phases=3 if row.poles >= 3 else 1,
        wye=system.kind in ("wye", "single-phase-of-wye"),
        has_neutral=_has_neutral(system, row, kinds, written),
        terminal_a=terminal,
        carried_a=carried,
        device_a=rating,
        fuse=is_fused(device),
        next_size_up=need.next_size_up,
        device_may_exceed=need.device_may_exceed,
        ground_device_a=need.ground_device_a,
        nonlinear=load is not None and load.facts.first("nonlinear") is not None,
        sharing=whole(load.facts.first("current-carrying")) or 0 if load is not None else 0,
        least_size=_least_size(work, row, settings.material.value),
        drop=_drop(work, row, system),
        by=written.wire.by,
    )


def _least_size(work: Work, row: CircuitResult, material: str) -> str:
    """The smallest conductor that is chosen: 12 AWG copper, 14 AWG for lighting circuits of dwellings."""
    if material == "Al":
        return lookup.choice(work.edition, "smallest_branch_conductor_al")
    if row.category == DWELLING_LIGHTING:
        return lookup.choice(work.edition, "smallest_dwelling_conductor_cu")
    return lookup.choice(work.edition, "smallest_branch_conductor_cu")


def _has_neutral(system: VoltageSystem, row: CircuitResult, kinds: frozenset[str], written: Conductors) -> bool:
    if not system.has_neutral:
        return False
    if written.neutral is not None:
        return written.neutral.value != "none"
    return row.poles == 1 or row.multiwire or (bool(kinds) and kinds <= NEUTRAL_KINDS)


def _drop(work: Work, row: CircuitResult, system: VoltageSystem) -> tuple[DropLimit, ...]:
    """The limit of the project for this circuit, with its whole load at the end; () where a fact or a limit is open."""
    limit = work.model.defaults.drop_branch_pct
    if limit is None or row.length_ft is None or not row.load_a:
        return ()
    volts, phases = circuit_volts(system, row.poles, row.multiwire)
    power_factor = circuit_power_factor(work.edition, work.model.items.get(row.gear), row)
    return (DropLimit(row.load_a, row.length_ft, power_factor, volts, phases, limit.value),)


PASS = Pass(
    "branch circuits",
    needs=frozenset({"circuits"}),
    gives=frozenset({"circuits", "derivations"}),
    run=run,
)
