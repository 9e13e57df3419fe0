"""How many volt-amperes one load line amounts to, with the basis in words and the clause."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from fedfrom.formulas.load_units import (
    apparent_va,
    current_a,
    lighting_area_va,
    multioutlet_va,
    outlets_va,
    show_window_va,
    track_va,
)
from fedfrom.graph.voltages import Connection
from fedfrom.model.fact_reading import amount as fact_amount
from fedfrom.model.fact_reading import words
from fedfrom.model.items import Load, LoadAmount
from fedfrom.passes.load_kinds import known_unit_load, lighting_row, unit_load
from fedfrom.quantity import Dimension
from fedfrom.tables import Edition
from fedfrom.tables.lookup import dc_motor_current, motor_current

KW_PER_HP = 0.746
# System volts -> the column of armature volts in Table 430.247.
DC_COLUMNS = {125.0: 120.0, 250.0: 240.0, 600.0: 550.0}
# Kinds that count at least a unit load of the code, and its clause.
LEAST = {
    "sign": "sign_outlet",
    "dryer": "dryer_minimum",
    "ev-charger": "evse_minimum",
    "mobile-home": "mobile_home_lot",
}
LEAST_CLAUSES = {"sign": "220.14(F)", "dryer": "220.54", "ev-charger": "220.57", "mobile-home": "550.31"}


@dataclass(frozen=True, slots=True)
class AmountVA:
    """VA of one piece (None where `missing` says what is not known), its basis in words, clause and current in A.

    `table_a` is the full-load current of a motor: by table, or as written where a motor is given by its current.
    `hp` the horsepower that it was found for. `occupancy`, `area_ft2`, `included_125` of lighting by area.
    """

    va: float | None
    basis: str
    clause: str = ""
    table_a: float | None = None
    occupancy: str = ""
    area_ft2: float = 0.0
    included_125: bool = False
    missing: str = ""
    hp: float | None = None


def amount_va(load: Load, connection: Connection, edition: Edition, is_dc: bool = False) -> AmountVA:
    """The VA of one circuit or piece of a load line at the volts of its connection."""
    found = _FORMS[load.amount.form](load, connection, edition, is_dc)
    return _with_minimum(_with_unit_load(found, load, edition), load, edition)


def written_power_factor(load: Load) -> float | None:
    """The power factor written on a load line, or None."""
    fact = load.facts.first("power factor")
    number = fact_amount(fact, Dimension.NUMBER)
    percent = fact_amount(fact, Dimension.PERCENT)
    return number if number is not None else (percent / 100 if percent is not None else None)


def _nothing(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    return AmountVA(None, "no load known", missing="its load")


def _apparent(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    va = _quantity(load.amount)
    amperes = current_a(va, connection.volts, connection.phases) if load.kind == "motor" else None
    return AmountVA(va, f"{va:g} VA as written", table_a=amperes, area_ft2=load.amount.area_ft2 or 0.0)


def _real(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    """Kilowatts count as kilovolt-amperes unless the load line states its power factor (220.54, 220.55; practice)."""
    if load.kind == "motor":
        return _kilowatt_motor(load, connection, edition, is_dc)
    watts = _quantity(load.amount)
    factor = written_power_factor(load)
    if factor is None:
        return AmountVA(watts, f"{watts:g} W taken as VA", "practice")
    return AmountVA(watts / factor, f"{watts:g} W / {factor:g} power factor")


def _current(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    amperes = _quantity(load.amount)
    va = apparent_va(amperes, connection.volts, connection.phases)
    return AmountVA(va, f"{amperes:g} A at {_service(connection)}", table_a=amperes if load.kind == "motor" else None)


def _shaft(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    """Motors by the full-load current of the code's tables, never by 746 W a horsepower (430.6(A)(1))."""
    hp = _quantity(load.amount)
    table_hp = hp
    synchronous = "synchronous" in words(load.facts.first("design"))
    table_a = _table_current(edition, hp, connection, is_dc, synchronous)
    if table_a is None:
        table_hp, table_a = _next_larger(edition, hp, connection, is_dc, synchronous)
    if table_a is None:
        missing = f"a table current for {hp:g} hp at {_service(connection)}"
        return AmountVA(
            None, f"no table current for {hp:g} hp at {_service(connection)}", "430.6(A)(1)", missing=missing
        )
    drive_a = fact_amount(load.facts.first("drive"), Dimension.CURRENT)
    if synchronous:
        table_a *= _synchronous_factor(written_power_factor(load))
    va = apparent_va(drive_a or table_a, connection.volts, connection.phases)
    if drive_a is not None:
        basis = f"{hp:g} hp on a drive of {drive_a:g} A input at {_service(connection)}"
        return AmountVA(va, basis, "430.122(A)", table_a=table_a, hp=table_hp)
    row = "" if table_hp == hp else f" (row of {table_hp:g} hp, the next larger)"
    basis = f"{hp:g} hp at {_service(connection)}: {table_a:g} A by table{row}"
    return AmountVA(va, basis, "430.6(A)(1)", table_a=table_a, hp=table_hp)


def _kilowatt_motor(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    """A motor in kW is one by its shaft power, as such motors are rated: the row at or above kW / 0.746."""
    kw = _quantity(load.amount) / 1000
    written = replace(load.amount, form="hp", quantity=round(kw / KW_PER_HP, 3))
    found = _shaft(replace(load, amount=written), connection, edition, is_dc)
    return replace(found, basis=f"{kw:g} kW at the shaft, {found.basis}")


def _table_current(edition: Edition, hp: float, connection: Connection, is_dc: bool, synchronous: bool) -> float | None:
    if is_dc:
        return dc_motor_current(edition, hp, DC_COLUMNS.get(connection.volts, connection.volts))
    kind = "synchronous" if synchronous and connection.phases == 3 else "induction"
    return motor_current(edition, hp, connection.volts, connection.phases, kind)


def _synchronous_factor(power_factor: float | None) -> float:
    """The table is for unity power factor; times 1.1 at 90 % and 1.25 at 80 % (note to Table 430.250)."""
    if power_factor is None or power_factor >= 1.0:
        return 1.0
    return 1.1 if power_factor >= 0.9 else 1.25


def _next_larger(
    edition: Edition, hp: float, connection: Connection, is_dc: bool, synchronous: bool
) -> tuple[float, float | None]:
    """The row of the next larger motor for a size between two rows; none above the last."""
    table = "motor_flc_3ph_430_250" if connection.phases == 3 else "motor_flc_1ph_430_248"
    if synchronous and connection.phases == 3:
        table = "motor_flc_3ph_synchronous_430_250"
    for row in edition.rows("motor_flc_dc_430_247" if is_dc else table):
        size = float(row["hp"])
        if size > hp:
            found = _table_current(edition, size, connection, is_dc, synchronous)
            if found is not None:
                return size, found
    return hp, None


def _outlets(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    outlets = _quantity(load.amount)
    key = "general_receptacle" if load.kind == "receptacles" else "other_outlet"
    each = known_unit_load(edition, key)
    clause = "220.14(I)" if load.kind == "receptacles" else "220.14(L)"
    return AmountVA(outlets_va(outlets, each), f"{outlets:g} outlets x {each:g} VA", clause)


def _area(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    area = load.amount.area_ft2 or 0.0
    if load.kind == "receptacles":
        return _receptacle_area(load, area, edition)
    row = lighting_row(edition, load.amount.occupancy)
    if row is None:
        word = load.amount.occupancy or "no occupancy"
        missing = f"an occupancy that {edition.key} has a unit load for"
        return AmountVA(None, f"{area:g} ft2, {word}: no unit load", "220.42(A)", area_ft2=area, missing=missing)
    return AmountVA(
        lighting_area_va(area, row.va_per_ft2),
        f"{area:g} ft2 x {row.va_per_ft2:g} VA/ft2",
        "220.41" if row.key == "dwelling" else "220.42(A)",
        occupancy=row.key,
        area_ft2=area,
        included_125=row.includes_continuous,
    )


def _receptacle_area(load: Load, area: float, edition: Edition) -> AmountVA:
    """1 VA a square foot stands in the code for offices (and banks) only: elsewhere the outlets must be counted."""
    row = lighting_row(edition, load.amount.occupancy)
    if row is None or row.key not in _floor_occupancies(edition):
        missing = "the number of its outlets (1 VA/ft2 is for offices)"
        return AmountVA(None, "receptacles by area", "220.43", area_ft2=area, missing=missing)
    each = known_unit_load(edition, "office_bank_general_receptacles_floor")
    return AmountVA(area * each, f"{area:g} ft2 x {each:g} VA/ft2", "220.43", area_ft2=area)


def floor_receptacles_va(load: Load, edition: Edition) -> float:
    """The least that counted receptacles come to by the office floor of the line, VA; 0 without one (220.43)."""
    served = served_area(load)
    if served is None or load.kind != "receptacles":
        return 0.0
    row = lighting_row(edition, served[1])
    if row is None or row.key not in _floor_occupancies(edition):
        return 0.0
    return served[0] * known_unit_load(edition, "office_bank_general_receptacles_floor")


def _floor_occupancies(edition: Edition) -> tuple[str, ...]:
    return ("office", "bank") if edition.year < 2023 else ("office",)


def _nameplate(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    """The minimum circuit ampacity is taken as the load: it holds the 25 % of the unit's largest motor already."""
    mca = load.amount.mca_a or 0.0
    va = apparent_va(mca, connection.volts, connection.phases)
    return AmountVA(va, f"nameplate {mca:g} A at {_service(connection)}", "440.4(B)")


def _length(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    length = _quantity(load.amount)
    if load.kind == "track":
        each = known_unit_load(edition, "track_lighting")
        return AmountVA(track_va(length, each), f"{length:g} ft of track, {each:g} VA for each 2 ft", "220.46(B)")
    if load.kind == "show-window":
        each = known_unit_load(edition, "show_window_feeder")
        return AmountVA(show_window_va(length, each), f"{length:g} ft of show window x {each:g} VA/ft", "220.46(A)")
    together = load.facts.first("simultaneous") is not None
    each = known_unit_load(edition, "multioutlet_assembly_simultaneous")
    feet = "1 ft" if together else "5 ft"
    basis = f"{length:g} ft of multioutlet assembly, {each:g} VA for each {feet}"
    return AmountVA(multioutlet_va(length, together, each), basis, "220.14(H)")


def _xray(load: Load, connection: Connection, edition: Edition, is_dc: bool) -> AmountVA:
    """Half of the momentary or all of the long-time rating; what is not written counts as nothing."""
    momentary, longtime = load.amount.momentary_va or 0.0, load.amount.longtime_va or 0.0
    va = max(momentary / 2, longtime)
    basis = f"greater of 50 % of {momentary:g} VA momentary and {longtime:g} VA long-time"
    return AmountVA(va, basis, "517.73(A)")


def _quantity(amount: LoadAmount) -> float:
    return amount.quantity or 0.0


def _service(connection: Connection) -> str:
    return f"{connection.volts:g} V {connection.phases}-phase"


def served_area(load: Load) -> tuple[float, str] | None:
    """(area in ft2, occupancy) that lighting given by its load serves, or None where it does not say so."""
    fact = load.facts.first("serves")
    area = fact_amount(fact, Dimension.AREA)
    occupancy = next((str(value) for name, value in fact.values.items() if name == "occupancy"), "") if fact else ""
    return (area, occupancy) if area is not None and occupancy else None


def _with_unit_load(found: AmountVA, load: Load, edition: Edition) -> AmountVA:
    """Lighting counts at least the unit load of the floor that it serves (220.42(A)).

    Where the unit load contains the 125 % of continuous load, it is compared with 125 % of the actual load.
    """
    served = served_area(load)
    if found.va is None or served is None or load.kind != "lighting":
        return found
    row = lighting_row(edition, served[1])
    if row is None:
        return replace(found, area_ft2=served[0])
    least = lighting_area_va(served[0], row.va_per_ft2)
    actual = found.va * (1.25 if row.includes_continuous else 1.0)
    if actual >= least:
        return replace(found, area_ft2=served[0], occupancy=row.key)
    basis = f"{found.basis}, at least {served[0]:g} ft2 x {row.va_per_ft2:g} VA/ft2"
    return AmountVA(
        least, basis, "220.42(A)", occupancy=row.key, area_ft2=served[0], included_125=row.includes_continuous
    )


def _with_minimum(found: AmountVA, load: Load, edition: Edition) -> AmountVA:
    """Signs, dryers, vehicle chargers and lots of a park count at least what the code says."""
    least = LEAST.get(load.kind)
    minimum = unit_load(edition, least) if least else None
    if found.va is None or minimum is None or found.va >= minimum:
        return found
    clause = LEAST_CLAUSES[load.kind]
    return AmountVA(minimum, f"{found.basis}, at least {minimum:g} VA", clause)


_FORMS: dict[str, Callable[[Load, Connection, Edition, bool], AmountVA]] = {
    "none": _nothing,
    "va": _apparent,
    "w": _real,
    "a": _current,
    "hp": _shaft,
    "outlets": _outlets,
    "area": _area,
    "mca": _nameplate,
    "length": _length,
    "x-ray": _xray,
}


def load_current(va: float | None, connection: Connection) -> float | None:
    """The current in A of this many VA on a connection, None where not known."""
    return None if va is None else current_a(va, connection.volts, connection.phases)
