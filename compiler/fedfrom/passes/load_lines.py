"""The load lines of one piece of gear as connected loads, and what its `dwelling` line implies."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fedfrom.graph.connection import connect
from fedfrom.graph.network import Node
from fedfrom.graph.voltages import Connection
from fedfrom.model.fact_reading import amount as fact_amount
from fedfrom.model.fact_reading import option_amount, whole, words
from fedfrom.model.items import Fact, Item, Load, Status
from fedfrom.passes.connected import DWELLING_LIGHTING, LAUNDRY, SMALL_APPLIANCE, ConnectedLoad
from fedfrom.passes.load_amounts import AmountVA, amount_va, floor_receptacles_va, written_power_factor
from fedfrom.passes.load_duty import effective_factor
from fedfrom.passes.load_kinds import known_unit_load, lighting_row, traits
from fedfrom.quantity import Dimension, Quantity, VoltageSystem
from fedfrom.tables import Edition

NOT_CONTINUOUS_IN_DWELLINGS = frozenset({"lighting", "receptacles", "heating"})  # Annex D counts them at 100 %


@dataclass(frozen=True, slots=True)
class LineLoad:
    """One load with its connection. `line` is the load line that it stands on (the head of a `circuit`), None for what
    a `dwelling` line implies; `amount` what one piece comes to; `circuit_continuous` for its branch circuit."""

    load: ConnectedLoad
    connection: Connection
    amount: AmountVA
    line: Load | None
    part: Load | None
    circuit_continuous: bool


def line_loads(node: Node, edition: Edition) -> tuple[LineLoad, ...]:
    """Every load of a piece of gear in the order of the text, what its dwelling line implies first.

    A load whose volts the gear does not offer keeps its place with nothing known of it.
    """
    item = node.item
    if node.system is None:
        return ()
    dwelling = item.facts.first("dwelling")
    found = [*_dwelling_loads(item, dwelling, node.system, edition)] if dwelling else []
    for number, line in enumerate(item.loads, 1):
        for part_number, part in enumerate(line.parts or (line,), 1):
            key = f"{item.tag}#{number}" + (f".{part_number}" if line.parts else "")
            found.append(_line_load(key, item, node.system, line, part, edition))
    return tuple(_share_dwelling_lighting(found) if dwelling else found)


def _line_load(key: str, item: Item, system: VoltageSystem, line: Load, part: Load, edition: Edition) -> LineLoad:
    connection = connection_of(line, part, system)
    if isinstance(connection, str):
        connection = Connection(system.line_to_line_v, 1, False, len(line.positions) or 1)
        amount = AmountVA(None, "not connected", missing="volts that its gear offers")
    else:
        amount = amount_va(part, connection, edition, system.is_dc)
    kind = traits(edition, part.kind)
    in_dwelling = item.facts.first("dwelling") is not None
    continuous = kind.continuous_feeder and not (in_dwelling and part.kind in NOT_CONTINUOUS_IN_DWELLINGS)
    at_circuit = kind.continuous_circuit and not (in_dwelling and part.kind == "lighting")
    if part.continuous is not None:
        continuous = at_circuit = part.continuous
    count = max(line.count, 1) * max(part.count, 1) if line is not part else max(line.count, 1)
    drive = part.facts.first("drive") is not None
    written_nonlinear = part.facts.first("nonlinear") is not None
    linear = part.facts.first("linear") is not None
    effective = effective_factor(part, edition)
    nameplate_a = fact_amount(part.facts.first("nameplate"), Dimension.CURRENT)
    if effective is not None and nameplate_a is not None and amount.table_a:
        effective *= nameplate_a / amount.table_a  # Table 430.22(E) is on the nameplate current
    load = ConnectedLoad(
        key=key,
        gear=item.tag,
        tag=part.tag or line.tag,
        name=part.name or line.name,
        kind=part.kind,
        status=_status(item, line, part),
        count=count,
        va=None if amount.va is None else amount.va * count,
        basis=amount.basis if count == 1 else f"{count} x ({amount.basis})",
        clause=amount.clause,
        power_factor=1.0 if system.is_dc else _power_factor(part, kind.power_factor),
        continuous=continuous,
        included_125=amount.included_125,
        to_neutral=connection.to_neutral,
        nonlinear=not linear and (kind.nonlinear or written_nonlinear or drive),
        harmonic=written_nonlinear,
        motor=_is_motor(part, kind.turns_motor, effective),
        contributes=(kind.turns_motor or part.amount.form == "hp") and not drive,
        occupancy=amount.occupancy,
        area_ft2=amount.area_ft2 * count,
        dwelling=item.tag if in_dwelling else "",
        user_factor=_user_factor(part),
        user_reason=_reason(part.facts.first("demand")),
        cord=bool(part.cord),
        momentary_va=part.amount.momentary_va or 0.0,
        longtime_va=part.amount.longtime_va or 0.0,
        effective_factor=1.0 if effective is None else effective,
        by_floor=part.kind == "receptacles" and part.amount.form == "area",
        floor_va=floor_receptacles_va(part, edition) * count,
        care_category=_care_category(part),
        continuous_written=bool(part.continuous),
        simultaneous=part.facts.first("simultaneous") is not None,
        resistance_welder="resistance" in words(part.facts.first("welder kind")),
        missing=amount.missing,
        span=part.span,
    )
    return LineLoad(load, connection, amount, line, part, at_circuit)


def connection_of(line: Load, part: Load, system: VoltageSystem) -> Connection | str:
    """The connection of a load; a part of a `circuit` takes the positions of its head, `x N` its share of them."""
    poles = len(line.positions)
    if line.multiwire or (line.parts and poles > 1):
        poles = 0
    elif line.count > 1 and poles % line.count == 0:
        poles //= line.count
    return connect(part, system, poles)


def _status(item: Item, line: Load, part: Load) -> Status:
    """What goes with the gear goes: a load in demolished gear is demolished, one in future gear is future."""
    if item.status is Status.DEMOLISH:
        return Status.DEMOLISH
    own = part.status if part.status is not Status.NEW else line.status
    return Status.FUTURE if item.status is Status.FUTURE and own is Status.NEW else own


def _power_factor(part: Load, by_kind: float) -> float:
    written = written_power_factor(part)
    if written is not None:
        return written
    return 1.0 if part.amount.form == "w" and part.kind != "motor" else by_kind


def _user_factor(part: Load) -> float | None:
    percent = fact_amount(part.facts.first("demand"), Dimension.PERCENT)
    return None if percent is None else percent / 100


def _reason(fact: Fact | None) -> str:
    return fact.reason if fact is not None else ""


def _is_motor(part: Load, turns_motor: bool, effective: float | None) -> bool:
    """Whether the largest-motor rule counts a load. A motor of intermittent duty has its share instead (430.24,
    exception 1); an elevator given by its input current is a controller or drive (620.13)."""
    if effective is not None:
        return False
    if part.amount.form == "hp":
        return True
    return turns_motor and part.amount.form != "mca" and part.kind != "elevator"


def _care_category(part: Load) -> int:
    return whole(part.facts.first("patient care category")) or 0


# --- dwelling units ------------------------------------------------------------------------------------------------


def dwelling_figures(fact: Fact) -> tuple[float, int, int]:
    """(area in ft2, small-appliance circuits, laundry circuits) of a `dwelling` line; 2 and 0 where left out."""
    return (
        fact_amount(fact, Dimension.AREA) or 0.0,
        _option_count(fact, "small-appliance", 2),
        _option_count(fact, "laundry", 0),
    )


def implied_length_ft(node: Node) -> float | None:
    """The length of the circuits that a `dwelling` line implies, where it states one."""
    return option_amount(node.item.facts.first("dwelling"), "circuits", Dimension.LENGTH)


def _option_count(fact: Fact, option: str, otherwise: int) -> int:
    values = fact.options.get(option)
    if values is None:
        return otherwise
    for value in values.values():
        if isinstance(value, Quantity):
            return int(value.value)
        if isinstance(value, int | float):
            return int(value)
    return otherwise


def _dwelling_loads(item: Item, fact: Fact, system: VoltageSystem, edition: Edition) -> Iterator[LineLoad]:
    area, appliance_circuits, laundry_circuits = dwelling_figures(fact)
    row = lighting_row(edition, "dwelling")
    unit = row.va_per_ft2 if row else 3.0
    lighting = AmountVA(area * unit, f"{area:g} ft2 x {unit:g} VA/ft2", "220.41", occupancy="dwelling", area_ft2=area)
    yield _implied(item, fact, system, edition, DWELLING_LIGHTING, "General lighting and receptacles", 1, lighting)
    for kind, name, circuits, key, clause in (
        (SMALL_APPLIANCE, "Small-appliance circuit", appliance_circuits, "small_appliance_circuit", "220.52(A)"),
        (LAUNDRY, "Laundry circuit", laundry_circuits, "laundry_circuit", "220.52(B)"),
    ):
        each = known_unit_load(edition, key)
        if circuits:
            amount = AmountVA(each, f"{each:g} VA for each circuit", clause)
            yield _implied(item, fact, system, edition, kind, name, circuits, amount)


def _implied(
    item: Item, fact: Fact, system: VoltageSystem, edition: Edition, kind: str, name: str, count: int, amount: AmountVA
) -> LineLoad:
    to_neutral = system.has_neutral
    volts = system.line_to_neutral_v if to_neutral else system.line_to_line_v
    assert amount.va is not None
    load = ConnectedLoad(
        key=f"{item.tag}#{kind}",
        gear=item.tag,
        tag="",
        name=name,
        kind=kind,
        status=Status.DEMOLISH if item.status is Status.DEMOLISH else item.status,
        count=count,
        va=amount.va * count,
        basis=amount.basis if count == 1 else f"{count} x ({amount.basis})",
        clause=amount.clause,
        power_factor=traits(edition, kind).power_factor,
        to_neutral=to_neutral,
        area_ft2=amount.area_ft2,
        dwelling=item.tag,
        span=fact.span,
    )
    return LineLoad(load, Connection(volts, 1, to_neutral, 1 if to_neutral else 2), amount, None, None, False)


def _share_dwelling_lighting(found: list[LineLoad]) -> list[LineLoad]:
    """Lighting and receptacle lines of a dwelling unit are circuits of its unit load, not load on top of it (220.41).

    Written ones share the unit load in proportion and take the place of the implied circuits.
    """
    own = [line for line in found if line.line is not None and line.load.kind in ("lighting", "receptacles")]
    total = sum(line.load.va or 0.0 for line in own)
    implied = next(line for line in found if line.load.kind == DWELLING_LIGHTING)
    if total <= 0:
        return found
    unit_load_va = implied.load.va or 0.0
    shared = []
    for line in found:
        if line is implied:
            continue
        if line in own:
            va = (line.load.va or 0.0) * unit_load_va / total
            basis = f"its share of {implied.load.basis}"
            load = replace(line.load, va=va, basis=basis, clause="220.41", kind=DWELLING_LIGHTING, continuous=False)
            line = replace(line, load=load, amount=replace(line.amount, va=va / max(load.count, 1)))
        shared.append(line)
    first = next(index for index, line in enumerate(shared) if line.load.kind == DWELLING_LIGHTING)
    kept = replace(shared[first].load, area_ft2=implied.load.area_ft2)
    shared[first] = replace(shared[first], load=kept)
    return shared
