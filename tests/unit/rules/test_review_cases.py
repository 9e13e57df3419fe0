"""Checks of the plan review at their limits, with the source of each limit."""

from __future__ import annotations

import pytest
from tests.support.texts import compiled

from fedfrom.findings import Severity

SERVICE = """fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage 480Y/277 V
    fault   24 kA at service point, X/R 4
}
"""
BOARD = """switchboard MSB "Main switchboard" {
    fed from UT, 20 ft
    main     breaker 800 A
    place    indoor "Electrical room"
}
"""


def found(rule: str, text: str) -> list[str]:
    return [finding.message for finding in compiled(text).of_rule(rule)]


# --- standby ---------------------------------------------------------------------------------------------------------

STANDBY = (
    SERVICE
    + BOARD
    + """generator G1 {
    rating        200 kW
    voltage       480Y/277 V
    subtransient  12 %
    main          breaker, LSI
    bond          BOND
    electrode     rod
    place         outdoor "Yard"
}
transfer switch ATS1 {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          SYSTEM
    poles           POLES
    place           indoor "Electrical room"
}
panelboard LP1 "Standby" {
    fed from  ATS1, 15 ft
    place     indoor "Electrical room"
    equipment "Furnace" 60 A, 480 V 3-phase, 60 ft
}
"""
)


def standby(bond: str, poles: int, system: str = "optional standby") -> str:
    return STANDBY.replace("BOND", bond).replace("POLES", str(poles)).replace("SYSTEM", system)


@pytest.mark.parametrize(
    ("bond", "poles", "fits"), [("generator", 4, True), ("none", 3, True), ("generator", 3, False), ("none", 4, False)]
)
def test_one_bond_between_neutral_and_ground(bond: str, poles: int, fits: bool) -> None:
    """source: NEC 250.30(A) and 250.24(A): a system is bonded at one place, and its neutral is switched with it."""
    assert (found("neutral-switching", standby(bond, poles)) == []) is fits


def test_a_bond_that_is_not_stated_is_not_checked() -> None:
    text = standby("none", 3).replace("    bond          none\n", "")
    assert compiled(text).results.review["neutral-switching"].outcome == "not checked"


@pytest.mark.parametrize(("system", "count"), [("emergency", 1), ("legally required", 0), ("optional standby", 0)])
def test_surge_device_of_emergency_boards(system: str, count: int) -> None:
    """source: NEC 700.8."""
    assert len(found("surge-required", standby("none", 3, system))) == count


# --- fire pump --------------------------------------------------------------------------------------------------------

PUMP = (
    SERVICE
    + BOARD
    + """fire pump controller FPC {
    fed from     FEED
    surge device 100 kA
    place        indoor "Pump room"
    motor FP-1 "Fire pump" 40 hp, 480 V 3-phase, code G, 12 ft
}
"""
)


@pytest.mark.parametrize(
    ("feed", "said"),
    [
        # source: NEC Table 430.7(B), G: to 6.29 kVA/hp: 40 x 6290 / (1.732 x 480) = 302.6 A; 695.4(B)(2)(a)
        ("MSB ahead of main, 48 ft, breaker 300 A, supervised", "300 A does not carry the locked rotor of 303 A"),
        ("MSB ahead of main, 48 ft, breaker 350 A, supervised", ""),
        ("MSB ahead of main, 48 ft, breaker 350 A", "nothing keeps the disconnect of the fire pump closed"),
        ("MSB, 48 ft, breaker 350 A, supervised", "fed from the bus of MSB, so its main stops the pump"),
    ],
)
def test_supply_of_a_fire_pump(feed: str, said: str) -> None:
    messages = found("fire-pump-path", PUMP.replace("FEED", feed))
    assert [said in message for message in messages] == ([True] if said else [])


# --- transformers -----------------------------------------------------------------------------------------------------

TRANSFORMER = (
    SERVICE
    + BOARD
    + """transformer T1 {
    fed from   MSB, 30 ft
    rating     KVA kVA
    secondary  208Y/120 V
    electrode  building steel, 20 ft
    place      indoor "Store"
    EXTRA
}
panelboard LP1 "Offices" {
    fed from  T1, 10 ft
    main      breaker
    place     indoor "Store"
    equipment "Copier" 10 kVA, 208 V 3-phase, 60 ft
}
"""
)


def transformer(kva: str, extra: str = "") -> str:
    return TRANSFORMER.replace("KVA kVA", f"{kva} kVA").replace("EXTRA", extra)


@pytest.mark.parametrize(("kva", "outcome"), [("112.5", "passed"), ("150", "not checked")])
def test_fire_rated_room_above_112_5_kva(kva: str, outcome: str) -> None:
    """source: NEC 450.21(B)."""
    assert compiled(transformer(kva)).results.review["xfmr-place"].outcome == outcome


@pytest.mark.parametrize(
    ("kva", "percent", "fits"),
    [("15", 97.89, True), ("15", 97.88, False), ("75", 98.60, True), ("75", 98.59, False), ("300", 99.02, True)],
)
def test_federal_efficiency(kva: str, percent: float, fits: bool) -> None:
    """source: 10 CFR 431.196(a), three-phase low-voltage dry-type, effective 2016."""
    text = transformer(kva, f"minimum efficiency {percent} %")
    assert (found("xfmr-efficiency", text) == []) is fits


# --- rooms ------------------------------------------------------------------------------------------------------------

ROOM = (
    SERVICE
    + """room E1 "Electrical" {
    size    SIZE
    height  9 ft
    FACING
    door    3 ft, swings out, panic hardware
}
"""
)
LONG_BOARD = """switchboard MSB "Main switchboard" {
    fed from UT, 20 ft
    metering utility
    main     breaker 1200 A, LSIG, arc reduction maintenance switch
    sections 3
    place    E1, north wall
}
"""
PANEL = """panelboard MDP "Main panel" {
    fed from UT, 20 ft
    main     breaker 225 A
    place    E1, north wall
}
"""


def room(size: str, gear: str, facing: str = "facing  concrete") -> str:
    return ROOM.replace("SIZE", size).replace("    FACING\n", f"    {facing}\n" if facing else "") + gear


@pytest.mark.parametrize(("facing", "least"), [("facing  open", 3.0), ("facing  concrete", 3.5), ("facing  live", 4.0)])
def test_working_depth_at_277_v_to_ground(facing: str, least: float) -> None:
    """source: NEC Table 110.26(A)(1), 151 to 600 V; the room is so much deeper than the panel, or 1 in less."""
    items = compiled(room("12 ft x 9 ft", PANEL, facing)).results.rooms["E1"].items
    deep = next(item.depth_in for item in items if item.depth_in)
    fits, short = deep / 12 + least, deep / 12 + least - 1 / 12
    assert found("work-depth", room(f"12 ft x {fits:.4f} ft", PANEL, facing)) == []
    assert len(found("work-depth", room(f"12 ft x {short:.4f} ft", PANEL, facing))) == 1


def test_what_stands_opposite_has_to_be_known_above_150_v() -> None:
    text = room("12 ft x 9 ft", PANEL, "")
    assert compiled(text).results.review["work-depth"].outcome == "not checked"
    low = text.replace("480Y/277 V", "208Y/120 V")
    assert compiled(low).results.review["work-depth"].outcome == "passed"


@pytest.mark.parametrize(("size", "count"), [("18 ft x 9 ft", 1), ("18 ft x 12 ft", 0)])
def test_one_way_out_where_the_depth_is_doubled(size: str, count: int) -> None:
    """source: NEC 110.26(C)(2)(b): 3 ft 6 in twice is 7 ft in front of a board 3 ft deep."""
    assert len(found("two-entrances", room(size, LONG_BOARD))) == count


# --- circuits ---------------------------------------------------------------------------------------------------------

PLAIN = """fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage 208Y/120 V
    fault   9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from UT, 20 ft
    main     breaker 225 A
    place    indoor "Electrical room"
    LINE
}
"""


@pytest.mark.parametrize(("rating", "fits"), [(69, True), (60, False)])
def test_motor_disconnect(rating: int, fits: bool) -> None:
    """source: NEC 430.110(A), 115 %; Table 430.250: 20 hp at 208 V takes 59.4 A, so 68.3 A."""
    line = f'motor "Fan" 20 hp, 208 V 3-phase, 60 ft, disconnect switch {rating} A in sight'
    assert (found("motor-disconnect", PLAIN.replace("LINE", line)) == []) is fits


@pytest.mark.parametrize(
    ("line", "fits"),
    [
        ('receptacles "Offices" 20 kVA, 208 V 3-phase, 60 ft, demand 50 % because "survey"', True),  # 220.47: 50 %
        ('receptacles "Offices" 20 kVA, 208 V 3-phase, 60 ft, demand 49 % because "survey"', False),
        ('lighting "Offices" 6 kVA, 120 V, 60 ft, demand 90 % because "dimmed"', False),  # Table 220.45: others 100 %
        ('motor "Saw" 5 hp, 208 V 3-phase, 60 ft, demand 60 % because "one of two runs"', True),  # 430.26
    ],
)
def test_own_demand_factors(line: str, fits: bool) -> None:
    assert (found("demand-basis", PLAIN.replace("LINE", line)) == []) is fits


@pytest.mark.parametrize(
    ("place", "severity"),
    [
        ('indoor "Bathroom 3"', Severity.WARNING),
        ('indoor "Stair 2"', Severity.WARNING),
        ('indoor "Corridor outside bathroom 3"', None),
        ('indoor "Store under the stairs"', None),
        ('indoor "Bathroom fittings, sales"', Severity.WARNING),
        ('indoor "Bathroom fittings, sales", counts as ordinary space', None),
        ('indoor "Staff 3", counts as bathroom', Severity.ERROR),
        ('indoor "Staff 3", counts as stairway', Severity.ERROR),
        ("R1", Severity.ERROR),
    ],
)
def test_a_name_only_suggests_a_place(place: str, severity: Severity | None) -> None:
    room = 'room R1 "Staff" {\n    counts as clothes closet\n}\n'
    text = PLAIN.replace('indoor "Electrical room"', place).replace("    LINE\n", "") + room
    findings = compiled(text).of_rule("bad-location")
    assert [finding.severity for finding in findings] == ([severity] if severity is not None else [])


@pytest.mark.parametrize(("edition", "count"), [("NEC 2020", 0), ("NEC 2023", 1)])
def test_bathroom_of_an_office_by_edition(edition: str, count: int) -> None:
    """source: NEC 240.24(E): 2023 no longer speaks of dwellings only (from memory)."""
    text = PLAIN.replace("Electrical room", "Bathroom 3").replace("    LINE\n", "").replace("NEC 2023", edition)
    assert len(found("bad-location", text)) == count


@pytest.mark.parametrize(
    ("wires", "severity"),
    [
        ("", Severity.NOTE),  # the compiler's own choice for the drop: no warning against itself, but what to do
        (", phase 4 AWG, neutral 4 AWG, ground 4 AWG", Severity.WARNING),
        (", phase 8 AWG, neutral 8 AWG, ground 8 AWG", None),
    ],
)
def test_conductors_larger_than_the_lugs(wires: str, severity: Severity | None) -> None:
    line = f'receptacles "Far hall" 10 outlets, 400 ft, breaker 20 A{wires}'
    text = PLAIN.replace("LINE", line) + "defaults { drop branch 3 % }\n"
    findings = compiled(text).of_rule("lug-fit")
    assert [finding.severity for finding in findings] == ([severity] if severity is not None else [])
    if severity is Severity.NOTE:
        assert "splice" in findings[0].help


# --- rooms ------------------------------------------------------------------------------------------------------------

LARGE_ROOM = """room R1 "Electrical" {
    size    SIZE
    height  10 ft
    facing  concrete
    ceiling noncombustible
    DOORS
}
"""
PANIC_DOOR = "door 3 ft, swings out, panic hardware"


def in_room(size: str, doors: list[str], gear: str, edition: str = "NEC 2023") -> str:
    room = LARGE_ROOM.replace("SIZE", size).replace("DOORS", "\n    ".join(doors))
    return SERVICE.replace("NEC 2023", edition) + room + gear


def service(number: int, amperes: int) -> str:
    head = f"switchboard SB{number} {{\n    fed from UT, 20 ft\n    main breaker {amperes} A\n"
    return head + "    place R1, north wall\n}\n"


@pytest.mark.parametrize(
    ("amperes", "size", "doors", "edition", "count"),
    [
        # source: NEC 2023, 110.26(C)(2): together 1200 A and over 6 ft, an entrance of 24 in at each end (from memory)
        (600, "24 ft x 9 ft", [PANIC_DOOR], "NEC 2023", 1),
        (600, "24 ft x 9 ft", [PANIC_DOOR, PANIC_DOOR], "NEC 2023", 0),
        (600, "24 ft x 9 ft", [PANIC_DOOR, PANIC_DOOR.replace("3 ft", "1.9 ft")], "NEC 2023", 1),
        (600, "24 ft x 9 ft", [PANIC_DOOR, PANIC_DOOR.replace("3 ft", "2 ft")], "NEC 2023", 0),
        (600, "24 ft x 20 ft", [PANIC_DOOR], "NEC 2023", 0),  # twice the depth
        (350, "24 ft x 9 ft", [PANIC_DOOR], "NEC 2023", 0),  # 1050 A together
        (600, "24 ft x 9 ft", [PANIC_DOOR], "NEC 2017", 0),
    ],
)
def test_several_service_disconnects_are_large_gear(
    amperes: int, size: str, doors: list[str], edition: str, count: int
) -> None:
    gear = "".join(service(number, amperes) for number in (1, 2, 3))
    assert len(found("two-entrances", in_room(size, doors, gear, edition))) == count


@pytest.mark.parametrize(
    ("length", "wall", "count"),
    [
        # source: NEC 2023, 110.26(C)(3): doors less than 25 ft from the edge of the working space
        (50, ", east wall", 0),
        (30, ", east wall", 1),
        (50, "", 1),  # where the door is, nobody says
    ],
)
def test_a_far_door_needs_no_panic_hardware(length: int, wall: str, count: int) -> None:
    gear = "switchboard SB1 {\n    fed from UT, 20 ft\n    main breaker 800 A\n    place R1, west wall\n}\n"
    doors = [f"door 3 ft, swings in{wall}"]
    assert len(found("panic-hardware", in_room(f"{length} ft x 12 ft", doors, gear))) == count


@pytest.mark.parametrize(
    ("edition", "more", "count"),
    [
        # source: NEC 2023, 230.67(A): dormitory units and guest rooms too (from memory)
        ("NEC 2023", "occupancy dormitory", 1),
        ("NEC 2023", "occupancy office", 0),
        ("NEC 2020", "occupancy dormitory", 0),
    ],
)
def test_surge_protection_of_dormitories(edition: str, more: str, count: int) -> None:
    text = PLAIN.replace("    LINE\n", "").replace("{ code NEC 2023 }", f"{{ code {edition}, {more} }}")
    assert len(found("surge-required", text)) == count
    assert found("surge-required", text.replace("main     breaker", "surge device 100 kA\n    main     breaker")) == []


# --- several service disconnects --------------------------------------------------------------------------------------

LUGS = """KIND G1 "Main" {
    fed from UT, 20 ft
    main     lugs
    bus      2000 A
    place    indoor "Electrical room"
    spare    400 A 3-pole x COUNT
}
"""


@pytest.mark.parametrize(
    ("kind", "count", "edition", "wrong", "sections"),
    [
        # source: NEC 2023, 230.71(B): six at most, each in an enclosure or a vertical section of its own since 2020
        ("switchboard", 6, "NEC 2023", 0, 6),
        ("switchboard", 6, "NEC 2017", 0, 1),
        ("switchboard", 7, "NEC 2023", 1, 7),
        ("panelboard", 2, "NEC 2023", 1, 0),
        ("panelboard", 2, "NEC 2017", 0, 0),
        ("panelboard", 1, "NEC 2023", 0, 0),
    ],
)
def test_several_service_disconnects(kind: str, count: int, edition: str, wrong: int, sections: int) -> None:
    text = (SERVICE + LUGS).replace("KIND", kind).replace("COUNT", str(count)).replace("NEC 2023", edition)
    outcome = compiled(text)
    assert len(outcome.of_rule("service-disconnects")) == wrong
    if sections:
        assert len(outcome.results.gear["G1"].sections) == sections


def test_service_conductors_to_lugs_without_a_load_are_those_of_the_bus() -> None:
    """Thin conductors for no load would make the fault current at the gear far too small (NEC 230.42)."""
    results = compiled((SERVICE + LUGS).replace("KIND", "switchboard").replace("COUNT", "6")).results
    (feeder,) = results.feeders.values()
    assert feeder.conductors is not None
    assert feeder.conductors.ampacity_a >= 2000
    assert (results.gear["G1"].fault_a or 0.0) > 20_000
