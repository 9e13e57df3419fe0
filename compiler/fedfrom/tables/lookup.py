"""Typed look-ups in the code tables. None always means: the table has no value for this.

Sizes are table names ("12", "3/0", "250"), materials "Cu" or "Al", temperatures degrees C, areas kcmil or in2.
"""

from __future__ import annotations

from functools import cache

from fedfrom.tables.edition import Edition


def number(text: str) -> float | None:
    """A cell as a number; an empty cell is None."""
    return float(text) if text else None


# --- conductors ----------------------------------------------------------------------------------------------------


@cache
def sizes(edition: Edition) -> tuple[str, ...]:
    """The conductor sizes of the ampacity table, smallest first (NEC Table 310.16)."""
    return tuple(row["size"] for row in edition.rows("ampacity_310_16"))


@cache
def stocked_sizes(edition: Edition) -> tuple[str, ...]:
    """The sizes that are chosen where none is written, smallest first (common practice)."""
    return tuple(row["size"] for row in edition.rows("conductor_sizes"))


@cache
def _areas(edition: Edition) -> dict[str, float]:
    return {row["size"]: float(row["area_kcmil"]) for row in edition.rows("conductor_properties_ch9_t8")}


def area_kcmil(edition: Edition, size: str) -> float | None:
    """The area of a conductor size in kcmil (NEC Chapter 9, Table 8)."""
    return _areas(edition).get(size)


def size_with_area(edition: Edition, kcmil: float) -> str | None:
    """The smallest size with at least this area; a thousandth of slack takes the rounding of the table."""
    for size, area in sorted(_areas(edition).items(), key=lambda pair: pair[1]):
        if area >= kcmil * 0.999:
            return size
    return None


@cache
def _ampacities(edition: Edition) -> dict[tuple[str, str, int], float]:
    table = {}
    for row in edition.rows("ampacity_310_16"):
        for material in ("Cu", "Al"):
            for temp_c in (60, 75, 90):
                value = number(row[f"{material.lower()}_{temp_c}c_a"])
                if value is not None:
                    table[material, row["size"], temp_c] = value
    return table


def ampacity(edition: Edition, material: str, size: str, temp_c: int) -> float | None:
    """Ampacity in A at 30 C, not more than three current-carrying conductors (NEC Table 310.16)."""
    return _ampacities(edition).get((material, size, temp_c))


@cache
def ambient_factor(edition: Edition, ambient_c: float, temp_c: int) -> float | None:
    """The ambient correction factor on the 30 C base (NEC Table 310.15(B)(1)). None: too hot for this insulation."""
    for row in edition.rows("ambient_310_15_b_1"):
        if ambient_c <= float(row["ambient_max_c"]):
            return number(row[f"factor_{temp_c}c"])
    return None


@cache
def adjustment_factor(edition: Edition, current_carrying: int) -> float:
    """The factor for this many current-carrying conductors together (NEC Table 310.15(C)(1)); 1.0 for up to three."""
    for row in edition.rows("bundling_310_15_c_1"):
        upper = number(row["conductors_max"])
        if current_carrying >= int(row["conductors_min"]) and (upper is None or current_carrying <= upper):
            return float(row["factor"])
    return 1.0


@cache
def insulation_temperature(edition: Edition, insulation: str, wet: bool = False) -> int | None:
    """The temperature rating of an insulation in C, dry or wet (NEC Table 310.4(A))."""
    for row in edition.rows("insulation_310_4"):
        if row["insulation"] == insulation:
            value = number(row["wet_c" if wet else "dry_c"])
            return None if value is None else int(value)
    return None


@cache
def small_conductor_limit(edition: Edition, material: str, size: str) -> float | None:
    """The greatest overcurrent rating for a small conductor in A (NEC 240.4(D)); None: the size is not limited."""
    names = {"Cu": {"cu"}, "Al": {"al_or_cca"}}[material]
    for row in edition.rows("small_conductor_240_4_d"):
        if row["size"] == size and row["material"] in names:
            return float(row["ocpd_max_a"])
    return None


@cache
def impedance(edition: Edition, material: str, size: str, raceway_kind: str) -> tuple[float, float] | None:
    """R and X in ohm per 1000 ft to neutral at 75 C, 60 Hz (NEC Chapter 9, Table 9)."""
    column = raceway_column(edition, raceway_kind)
    if column is None:
        return None
    for row in edition.rows("impedance_ch9_t9"):
        if row["size"] == size:
            resistance = number(row[f"{material.lower()}_r_{column}_conduit_ohm_per_kft"])
            reactance = row["x_steel_conduit_ohm_per_kft" if column == "steel" else "x_pvc_or_al_conduit_ohm_per_kft"]
            return None if resistance is None else (resistance, float(reactance))
    return None


# --- raceways ------------------------------------------------------------------------------------------------------


@cache
def _raceway_row(edition: Edition, raceway_kind: str) -> dict[str, str] | None:
    return next((row for row in edition.rows("raceway_kinds") if row["kind"] == raceway_kind), None)


def raceway_column(edition: Edition, raceway_kind: str) -> str | None:
    """The column of Chapter 9, Table 9 for a raceway kind: "steel", "al" or "pvc"; None for an unknown kind."""
    row = _raceway_row(edition, raceway_kind)
    return row["impedance_column"] if row else None


def is_equipment_ground(edition: Edition, raceway_kind: str) -> bool:
    """Whether the raceway itself serves as equipment grounding conductor (NEC 250.118)."""
    row = _raceway_row(edition, raceway_kind)
    return row is not None and row["equipment_ground"] == "yes"


@cache
def trade_sizes(edition: Edition, raceway_kind: str) -> tuple[tuple[str, float], ...]:
    """Trade sizes of a raceway kind with their inside area in in2, smallest first; () where the tables have none."""
    row = _raceway_row(edition, raceway_kind)
    if row is None or not row["table_kind"]:
        return ()
    rows = [each for each in edition.rows("conduit_ch9_t4") if each["conduit_type"] == row["table_kind"]]
    return tuple((each["trade_size"], float(each["area_100pct_in2"])) for each in rows)


@cache
def fill_limit_pct(edition: Edition, conductors: int) -> float:
    """The greatest fill of a raceway in percent for this many conductors (NEC Chapter 9, Table 1)."""
    for row in edition.rows("fill_percent_ch9_t1"):
        upper = number(row["conductors_max"])
        if conductors >= int(row["conductors_min"]) and (upper is None or conductors <= upper):
            return float(row["fill_percent"])
    return 100.0


@cache
def conductor_area(edition: Edition, insulation: str, size: str) -> float | None:
    """The area of an insulated conductor in in2 (NEC Chapter 9, Table 5)."""
    kinds = [row["area_row"] for row in edition.rows("insulation_310_4") if row["insulation"] == insulation]
    if not kinds or not kinds[0]:
        return None
    for row in edition.rows("wire_area_ch9_t5"):
        if row["insulation"] == kinds[0] and row["size"] == size:
            return float(row["area_in2"])
    return None


# --- overcurrent devices -------------------------------------------------------------------------------------------


@cache
def standard_ratings(edition: Edition, kind: str = "breaker") -> tuple[float, ...]:
    """Standard ampere ratings, smallest first (NEC 240.6(A)); `kind` "breaker" or "fuse"."""
    ratings = []
    for row in edition.rows("ocpd_240_6"):
        since = row["breaker_since_edition"]
        available = row["standard_fuse"] if kind == "fuse" else row["standard_breaker"]
        if available == "1" and (kind == "fuse" or not since or edition.year >= int(since)):
            ratings.append(float(row["rating_a"]))
    return tuple(ratings)


@cache
def frame_for(edition: Edition, trip_a: float) -> float | None:
    """The smallest breaker frame in A that takes this trip (common practice; makers differ)."""
    for row in edition.rows("breaker_frames"):
        if trip_a <= float(row["largest_trip_a"]):
            return float(row["frame_a"])
    return None


@cache
def ampere_ratings(edition: Edition, gear_class: str) -> tuple[float, ...]:
    """Usual ampere ratings of a class of gear or switch ("fusible_switch", "panelboard" …), smallest first."""
    rows = [row for row in edition.rows("gear_ampere_ratings") if row["class"] == gear_class]
    return tuple(float(row["rating_a"]) for row in rows)


@cache
def transfer_ratings(edition: Edition) -> tuple[float, ...]:
    """Usual ampere ratings of transfer switches, smallest first (common practice)."""
    return tuple(float(row["rating_a"]) for row in edition.rows("transfer_ratings"))


# --- grounding -----------------------------------------------------------------------------------------------------


def _material_column(material: str) -> str:
    return "cu" if material == "Cu" else "al"


@cache
def egc_size(edition: Edition, material: str, ocpd_a: float) -> str | None:
    """The equipment grounding conductor for a device of this rating (NEC Table 250.122)."""
    for row in edition.rows("egc_250_122"):
        if ocpd_a <= float(row["ocpd_max_a"]):
            return row[f"egc_{_material_column(material)}_size"]
    return None


@cache
def gec_size(edition: Edition, supply_material: str, supply_kcmil: float, material: str = "Cu") -> str | None:
    """The grounding electrode conductor for supply conductors of this total area (NEC Table 250.66)."""
    for row in edition.rows("gec_250_66"):
        limit = number(row[f"{_material_column(supply_material)}_supply_max_kcmil"])
        if limit is None or supply_kcmil <= limit:
            return row[f"gec_{_material_column(material)}_size"]
    return None


@cache
def bonding_jumper_size(
    edition: Edition, supply_material: str, supply_kcmil: float, material: str = "Cu"
) -> str | None:
    """The main, system or supply-side bonding jumper, or least grounded conductor (NEC Table 250.102(C)(1)).

    Above the last size: the next size with at least 12.5 % of the supply area (same metal).
    """
    for row in edition.rows("ssbj_250_102_c_1"):
        limit = number(row[f"{_material_column(supply_material)}_supply_max_kcmil"])
        if limit is None:
            return size_with_area(edition, float(row["jumper_min_area_ratio"]) * supply_kcmil)
        if supply_kcmil <= limit:
            return row[f"jumper_{_material_column(material)}_size"]
    return None


# --- motors --------------------------------------------------------------------------------------------------------

# System voltage -> column of the motor tables (NEC 430.6(A)(1): 110-120, 220-240, 440-480, 550-600 V).
_MOTOR_COLUMNS = ((110, 127, 115), (200, 200, 200), (208, 208, 208), (220, 240, 230), (440, 480, 460), (550, 600, 575))


def motor_voltage_column(volts: float) -> int | None:
    """The voltage column of the motor tables that serves this voltage, or None.

    380 to 415 V systems have no column of their own; 460 V would give too small a current, so they have none.
    """
    for low, high, column in _MOTOR_COLUMNS:
        if low <= volts <= high:
            return column
    return None


@cache
def motor_current(edition: Edition, hp: float, volts: float, phases: int, kind: str = "induction") -> float | None:
    """The full-load current of a motor by table in A (NEC Tables 430.248 and 430.250), never the nameplate current.

    `kind` "induction" or "synchronous"; None where the table has no such motor.
    """
    column = motor_voltage_column(volts)
    if column is None:
        return None
    table = "motor_flc_1ph_430_248" if phases == 1 else "motor_flc_3ph_430_250"
    if kind == "synchronous":
        table = "motor_flc_3ph_synchronous_430_250"
    return _by_horsepower(edition, table, hp, f"a_{column}_v")


@cache
def dc_motor_current(edition: Edition, hp: float, volts: float) -> float | None:
    """The full-load current of a DC motor in A (NEC Table 430.247)."""
    return _by_horsepower(edition, "motor_flc_dc_430_247", hp, f"a_{volts:.0f}_v")


@cache
def locked_rotor_current(edition: Edition, hp: float, volts: float) -> float | None:
    """The locked-rotor current of a polyphase motor of design B, C or D in A (NEC Table 430.251(B))."""
    column = motor_voltage_column(volts)
    return None if column is None else _by_horsepower(edition, "motor_locked_rotor_430_251_b", hp, f"a_{column}_v")


def _by_horsepower(edition: Edition, table: str, hp: float, column: str) -> float | None:
    for row in edition.rows(table):
        if abs(float(row["hp"]) - hp) < 0.001:
            return number(row.get(column, ""))
    return None


@cache
def motor_device_pct(edition: Edition, motor_type: str, device: str) -> float | None:
    """The greatest branch-circuit device in percent of full-load current (NEC Table 430.52).

    `motor_type` a row of the table; `device` "inverse_time_breaker", "dual_element_fuse", "nontime_delay_fuse",
    "instantaneous_trip".
    """
    for row in edition.rows("motor_ocpd_430_52"):
        if row["motor_type"] == motor_type:
            return number(row[f"{device}_percent"])
    return None


@cache
def welder_multiplier(edition: Edition, kind: str, duty_pct: float) -> float | None:
    """The multiplier on a welder's rated primary current (NEC 630.11(A), 630.31).

    `kind` "arc_without_motor_generator", "arc_with_motor_generator" or "resistance"; the row at or above the duty.
    """
    for row in edition.rows("welder_630"):
        if row["kind"] == kind and duty_pct <= float(row["duty_cycle_max_percent"]):
            return float(row["multiplier"])
    return None


# --- transformers --------------------------------------------------------------------------------------------------


@cache
def transformer_sizes_kva(edition: Edition, phases: int, kind: str = "dry-type") -> tuple[float, ...]:
    """Standard transformer sizes in kVA, smallest first (10 CFR 431.196 and practice)."""
    rows = [row for row in edition.rows("transformer_kva") if row["type"] == f"{phases}-phase {kind}"]
    return tuple(float(row["kva"]) for row in rows)


@cache
def transformer_device_pct(edition: Edition, method: str, winding: str, rated_a: float) -> tuple[float, bool] | None:
    """The greatest device in percent of rated current, and whether the next standard size up is allowed.

    NEC Table 450.3(B), 1000 V or less; `method` "primary_only" or "primary_and_secondary".
    """
    for row in edition.rows("transformer_ocpd_450_3_b"):
        if row["method"] != method or row["winding"] != winding or not _in_class(row["rated_current_class"], rated_a):
            continue
        return float(row["maximum_percent"]), row["next_size_up_allowed"] == "1"
    return None


def _in_class(text: str, rated_a: float) -> bool:
    bounds = {"any": (0.0, 1e9), "9 A or more": (9.0, 1e9), "under 9 A": (0.0, 9.0), "under 2 A": (0.0, 2.0)}
    low, high = bounds.get(text, (2.0, 9.0))
    return low <= rated_a < high


# --- rules and choices by key --------------------------------------------------------------------------------------


@cache
def rule_value(edition: Edition, table: str, key: str) -> float:
    """The value of a keyed table ("motor_rules", "ac_rules_440", "gear_rules_nec" …). Raises KeyError without it."""
    for row in edition.rows(table):
        if row["key"] == key:
            return float(row["value"])
    raise KeyError(f"no {key!r} in {table}")


@cache
def choice(edition: Edition, key: str) -> str:
    """What is taken where nothing is written and no code decides (common practice). Raises KeyError without it."""
    for row in edition.rows("conductor_choice"):
        if row["key"] == key:
            return row["value"]
    raise KeyError(f"no {key!r} in conductor_choice")
