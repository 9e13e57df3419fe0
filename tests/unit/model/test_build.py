"""Building: the typed model is what was written, with defaults resolved and every reference checked."""

from __future__ import annotations

from pathlib import Path

import pytest

from fedfrom.findings import Severity
from fedfrom.model.items import Model, Origin, Status
from fedfrom.model.read import Reading, read_model, read_text

PROGRAMS = Path(__file__).parents[2] / "language" / "programs"
UT = "fedfrom 1\nutility UT { voltage 208Y/120 V\n fault 20 kA at service point }\n"


def model_of(text: str) -> Model:
    reading = read_text(UT + text)
    assert [f"{f.rule}: {f.message}" for f in reading.findings if f.severity > Severity.NOTE] == []
    assert reading.model is not None
    assert not reading.model.incomplete
    return reading.model


def errors(text: str) -> list[tuple[str, str]]:
    """(rule, marked text) of every error."""
    whole = UT + text
    reading = read_text(whole)
    return [(f.rule, whole[f.span.start : f.span.end] if f.span else "") for f in real(reading)]


def real(reading: Reading) -> list:  # type: ignore[type-arg]
    return [finding for finding in reading.findings if finding.severity is Severity.ERROR]


# --- the three programs --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["hospital-wing", "school-retrofit", "apartment-house"])
def test_the_programs_read_without_a_finding(name: str) -> None:
    reading = read_model(PROGRAMS / f"{name}.fed")
    assert [f for f in reading.findings if f.severity > Severity.NOTE] == []
    assert reading.model is not None
    assert not reading.model.incomplete


def test_the_hospital_wing() -> None:
    model = read_model(PROGRAMS / "hospital-wing.fed").model
    assert model is not None
    assert model.project.title == "Saddlers Mill Hospital, east wing"
    assert model.project.code.value == "NEC 2023"
    assert list(model.items)[:3] == ["UT-1", "UT-2", "MSB-A"]
    assert [state.name for state in model.states] == ["Both utilities lost", "One generator fails"]
    assert model.interlocks[0].members == ("MSB-A.main", "MSB-B.main", "TIE")
    assert model.interlocks[0].at_most == 2
    tie = model.ties[0]
    assert (tie.ends, tie.normally_open, tie.length_ft) == (("MSB-A", "MSB-B"), True, None)
    assert tie.device is not None
    assert tie.device.options == {"drawout"}
    board = model.items["MSB-A"]
    assert board.main is not None
    assert board.main.device is not None
    assert board.main.device.functions == "LSIG"
    assert board.main.device.options == {"drawout", "100 % rated"}
    assert board.main.device.arc_reduction == "maintenance switch"
    assert board.feeds[0].conductors.wire.by == "utility"
    assert [electrode.kind for electrode in board.electrodes] == ["water pipe", "building steel", "concrete-encased"]
    assert [(r.kind, r.rating_a, r.poles, r.count) for r in board.reserves] == [
        ("spare", 400, 3, 2),
        ("space", 800, 3, 1),
    ]
    eps = model.items["EPS"]
    assert eps.paralleling
    assert [feed.feeder_id for feed in eps.feeds] == ["EPS.G1", "EPS.G2"]
    assert eps.feeds[0].device is not None
    assert eps.feeds[0].device.options == {"electrical operator"}
    switch = model.items["ATS-LS"]
    assert [feed.feeder_id for feed in switch.feeds] == ["ATS-LS.normal", "ATS-LS.emergency"]
    assert switch.facts.word("system") is not None
    ip = model.items["IP-OR3"]
    rating = ip.facts.amount("rating")
    assert rating is not None
    assert rating.value == 10_000
    assert ip.secondary is not None
    assert ip.secondary.value.kind == "isolated"
    assert (ip.feeds[0].volts.value if ip.feeds[0].volts else None, ip.feeds[0].phases) == (208, 1)
    assert "use of OperatingRoom" in ip.trail[0].text or "OperatingRoom" in ip.trail[0].text
    xray = next(load for load in model.items["DN1"].loads if load.kind == "x-ray")
    assert (xray.amount.momentary_va, xray.amount.longtime_va) == (100_000, 8_000)
    lighting = model.items["DN1"].loads[0].amount
    assert (lighting.form, lighting.area_ft2, lighting.occupancy) == ("area", 18_500, "hospital")
    assert model.noncoincident[0].groups == (("P-1",), ("P-2",))
    assert {a.subject for a in model.assumptions} == {"UT-1", "UT-2"}
    assert model.assumptions[0].what == "primary: fault 180 MVA"
    assert model.assumptions[0].reason == "utility letter pending"
    room = model.rooms["E001"]
    assert len(room.facts.all("door")) == 2
    assert model.defaults.series_rated_forbidden
    bus = model.items["ELS1"].facts.first("bus")
    assert bus is not None
    assert (bus.values["material"], bus.origin) == ("Cu", Origin.DEFAULT)


def test_the_school() -> None:
    model = read_model(PROGRAMS / "school-retrofit.fed").model
    assert model is not None
    main = model.items["MDP"]
    assert main.status is Status.EXISTING
    assert main.feeds[0].status is Status.EXISTING
    assert main.main is not None
    assert main.main.device is not None
    assert (main.main.device.kind, main.main.device.fuse_class) == ("fused switch", "L")
    sccr = main.facts.amount("sccr")
    assert sccr is not None
    assert sccr.assumed
    panel = model.items["LP-A"]
    by_name = {load.name: load for load in panel.loads}
    assert by_name["Kiln, room 4"].status is Status.DEMOLISH
    new = by_name["Room 4, laptop carts"]
    assert (new.status, new.positions) == (Status.NEW, (12,))
    assert new.device is not None
    assert new.device.status is Status.EXISTING
    assert by_name["Rooms 1 to 4"].status is Status.EXISTING
    roof = model.items["RP1"].feeds[0]
    assert roof.length_ft is not None
    assert roof.length_ft.value == 145
    assert [(run.environment, run.ambient_c.value if run.ambient_c else None) for run in roof.runs] == [
        ("", None),
        ("on roof", 55),
    ]
    wing = model.items["NW1"]
    assert wing.feeds[0].positions == (26, 28, 30)
    circuit = next(load for load in wing.loads if load.kind == "circuit")
    assert [part.kind for part in circuit.parts] == ["receptacles", "lighting"]
    future = next(load for load in wing.loads if load.status is Status.FUTURE)
    assert future.amount.form == "a"
    assert model.items["KP-OLD"].status is Status.DEMOLISH
    assert model.acceptances[0].subjects == (("LP-A", ""),)
    assert model.expectations[0].measure == "spare amperes"
    kitchen = [load for load in model.items["KP1"].loads if load.tag == "KE-14"]
    assert kitchen[0].device is not None
    assert kitchen[0].device.options == {"shunt trip"}


def test_the_apartment_house() -> None:
    model = read_model(PROGRAMS / "apartment-house.fed").model
    assert model is not None
    unit = model.items["A-405"]
    assert unit.system is not None
    assert unit.system.value.literal == "120/208 V"
    assert unit.main is not None
    assert unit.main.lugs
    assert not [load for load in unit.loads if load.kind == "dryer"]
    assert unit.feeds[0].meter == "utility"
    assert unit.feeds[0].device is not None
    assert unit.feeds[0].device.rating_a is not None
    assert unit.feeds[0].device.rating_a.value == 125
    dwelling = unit.facts.first("dwelling")
    assert dwelling is not None
    assert dwelling.options["small-appliance"]["circuits"] == 2
    chargers = model.items["EVP"].loads[0]
    assert (chargers.count, chargers.amount.quantity, chargers.phases) == (12, 7200, 1)
    pump = model.items["FPC"].feeds[0]
    assert pump.point == "ahead of main"
    assert (pump.conductors.wire.material.value if pump.conductors.wire.material else "") == "Cu"
    assert list(model.contactors) == ["LC1"]
    elevator = next(load for load in model.items["HP"].loads if load.kind == "elevator")
    assert elevator.positions == (2, 4, 6)
    assert elevator.device is not None
    assert elevator.device.options == {"shunt trip"}


# --- defaults ------------------------------------------------------------------------------------------------------


def test_wire_comes_from_the_line_the_class_the_project_or_the_compiler() -> None:
    text = """
defaults { wire Al XHHW-2 in PVC }
defaults load center { wire Cu }
panelboard P1 { fed from UT, 10 ft, wire Cu THW }
panelboard P2 { fed from UT, 10 ft }
load center L1 { fed from UT, 10 ft }
"""
    model = model_of(text)

    def wire(tag: str) -> list[tuple[str, str]]:
        found = model.items[tag].feeds[0].conductors.wire
        parts = (found.material, found.insulation, found.raceway_kind)
        return [(part.value, part.origin.value) for part in parts if part]

    assert wire("P1") == [("Cu", "written"), ("THW", "written"), ("PVC-40", "default")]
    assert wire("P2") == [("Al", "default"), ("XHHW-2", "default"), ("PVC-40", "default")]
    assert wire("L1") == [("Cu", "default"), ("XHHW-2", "default"), ("PVC-40", "default")]
    plain = model_of("panelboard P2 { fed from UT, 10 ft }").items["P2"].feeds[0].conductors.wire
    assert [part.value for part in (plain.material, plain.insulation, plain.raceway_kind) if part] == [
        "Cu",
        "THHN/THWN-2",
        "EMT",
    ]


def test_defaults_of_a_class_fill_what_is_left_out() -> None:
    text = """
defaults panelboard {
    bus        Cu
    enclosure  Type 12
}
panelboard P1 { fed from UT, 10 ft
    bus 225 A }
panelboard P2 { fed from UT, 10 ft
    bus 100 A Al
    enclosure Type 1 }
"""
    model = model_of(text)
    first, second = model.items["P1"].facts, model.items["P2"].facts
    assert first.word("bus", "material").value == "Cu"  # type: ignore[union-attr]
    assert first.amount("bus").value == 225  # type: ignore[union-attr]
    assert first.first("enclosure").origin is Origin.DEFAULT  # type: ignore[union-attr]
    assert second.word("bus", "material").value == "Al"  # type: ignore[union-attr]
    assert second.first("enclosure").origin is Origin.WRITTEN  # type: ignore[union-attr]


def test_a_file_overrides_what_it_includes() -> None:
    standard = "defaults {\n ambient 30 C\n drop feeder 2 %, branch 3 %, total 5 %\n}\n"
    text = 'include "owner.fed"\ndefaults { ambient 40 C }\npanelboard P { fed from UT, 10 ft }\n'
    reading = read_text(UT + text, files={"owner.fed": standard})
    assert reading.model is not None
    defaults = reading.model.defaults
    assert defaults.ambient_c.value == 40
    assert defaults.drop_total_pct is not None
    assert defaults.drop_total_pct.value == 5
    assert not real(reading)


# --- feeds, loads --------------------------------------------------------------------------------------------------


def test_feeder_ids() -> None:
    text = """
utility U2 { voltage 208Y/120 V }
generator G1 { voltage 208Y/120 V }
switchboard M { fed from UT, 10 ft
    alternate from G1, 10 ft }
switchboard P { fed from UT, 10 ft
    fed from U2, 10 ft
    fed from U2, 12 ft
    paralleling }
ups U { normal from M, 10 ft
    bypass from M, 10 ft }
pv V { connects to M, 10 ft }
"""
    items = model_of(text).items
    ids = {tag: [feed.feeder_id for feed in items[tag].feeds] for tag in ("M", "P", "U", "V")}
    assert ids == {
        "M": ["M.normal", "M.alternate"],
        "P": ["P.UT", "P.U2", "P.U2-2"],
        "U": ["U.normal", "U.bypass"],
        "V": ["V"],
    }


def test_devices() -> None:
    text = """
panelboard P { fed from UT, 10 ft, fused switch 400 A, fuse 350 A class J
    lighting 1 kVA, GFCI
    motor 5 hp, fuse 30 A class RK5
    equipment 4 kVA, breaker 30 A, frame 100 A, 100 % rated, interrupting 22 kA, shunt trip by owner
    equipment 4 kVA
}
"""
    item = model_of(text).items["P"]
    feed = item.feeds[0].device
    assert feed is not None
    assert (feed.kind, feed.rating_a.value, feed.fuse_a.value, feed.fuse_class) == ("fused switch", 400, 350, "J")  # type: ignore[union-attr]
    devices = [load.device for load in item.loads]
    assert devices[0] is not None
    assert (devices[0].kind, devices[0].rating_a, devices[0].options) == ("breaker", None, {"GFCI"})
    assert devices[1] is not None
    assert (devices[1].kind, devices[1].fuse_class) == ("fused switch", "RK5")
    assert devices[2] is not None
    assert devices[2].interrupting_a is not None
    assert devices[2].interrupting_a.value == 22_000
    assert devices[2].options == {"100 % rated", "shunt trip"}
    assert devices[3] is None


def test_the_ways_to_say_how_big_a_load_is() -> None:
    text = """
panelboard P { fed from UT, 10 ft
    lighting 2 kVA
    heating 3 kW, 208 V 3-phase
    equipment 16 A
    motor 7-1/2 hp
    receptacles 8 outlets
    lighting 1_000 ft2 school
    lighting 1_000 ft2 1.2 VA/ft2
    hvac mca 38 A, mocp 50 A
    track 24 ft
    x-ray 60 A momentary, 10 A long-time, 208 V 1-phase
    equipment 36 kW 3-phase, continuous
    range 9 kW, 120/208 V
    equipment "Later"
}
"""
    loads = model_of(text).items["P"].loads
    amounts = [load.amount for load in loads]
    assert [amount.form for amount in amounts] == [
        "va", "w", "a", "hp", "outlets", "area", "va", "mca", "length", "x-ray", "w", "w", "none",
    ]  # fmt: skip
    assert [amounts[i].quantity for i in (0, 1, 2, 3, 4, 6, 8)] == [2000, 3000, 16, 7.5, 8, 1200, 24]
    assert amounts[5].occupancy == "school_university"
    assert (amounts[7].mca_a, amounts[7].mocp_a) == (38, 50)
    assert amounts[9].momentary_va == 60 * 208
    assert (loads[10].phases, loads[10].continuous) == (3, True)
    assert (loads[11].volts.value, loads[11].phases) == (208, 1)  # type: ignore[union-attr]


def test_cord_b_takes_the_figures_of_cord_a() -> None:
    text = """
panelboard A { fed from UT, 10 ft
    1,3 equipment RK-1 "Rack 1" 6 kW, 208 V 1-phase, cord A }
panelboard B { fed from UT, 10 ft
    5,7 equipment RK-1, cord B }
"""
    load = model_of(text).items["B"].loads[0]
    assert (load.name, load.amount.quantity, load.phases, load.positions) == ("Rack 1", 6000, 1, (5, 7))


def test_nested_gear() -> None:
    text = """
pdu P { fed from UT, 10 ft
    panelboard P-1 { lighting 1 kVA }
    panelboard P-2 { main breaker 100 A } }
"""
    items = model_of(text).items
    assert items["P"].enclosed == ("P-1", "P-2")
    assert items["P-2"].enclosing == "P"
    assert list(items) == ["UT", "P", "P-1", "P-2"]


def test_spares_and_spaces() -> None:
    text = """
panelboard P { fed from UT, 10 ft
    spare 20 A 1-pole x 4
    spare fused switch 60 A 3-pole
    2,4 spare 30 A 2-pole
    space 6
    space 225 A 3-pole x 2 }
"""
    found = [
        (r.kind, r.rating_a, r.poles, r.count, r.positions, r.device_kind) for r in model_of(text).items["P"].reserves
    ]
    assert found == [
        ("spare", 20, 1, 4, (), "breaker"),
        ("spare", 60, 3, 1, (), "fused switch"),
        ("spare", 30, 2, 1, (2, 4), "breaker"),
        ("space", None, 1, 6, (), "breaker"),
        ("space", 225, 3, 2, (), "breaker"),
    ]


# --- checks --------------------------------------------------------------------------------------------------------

P = "panelboard P { fed from UT, 10 ft\n lighting L-1 1 kVA\n motor M-1 5 hp\n }\n"
CHECKS = [
    ("panelboard Q { fed from UTT, 3 ft }", [("unknown-tag", "UTT")]),
    ("panelboard Q { bus 100 A }", [("missing-feed", "Q")]),
    ("panelboard Q { fed from L-1, 3 ft }", [("wrong-kind", "L-1")]),
    ("room R { level 1 }\npanelboard Q { fed from R, 3 ft }", [("wrong-kind", "R")]),
    ("panelboard Q { fed from UT ahead of main, 3 ft }", [("wrong-kind", "UT")]),
    ("panelboard Q { fed from P at 30 ft, 3 ft }", [("not-a-busway", "30 ft")]),
    ("panelboard Q { fed from P, 3 ft\n fed from UT, 4 ft }", [("several-feeds", "fed from UT, 4 ft")]),
    ("panelboard Q { fed from P, 3 ft, breaker 20 A, switch 30 A }", [("written-twice", "switch 30 A")]),
    ("panelboard Q { fed from P, 3 ft, breaker 20 A, fuse 20 A }", [("device-mismatch", "fuse 20 A")]),
    ("panelboard Q { fed from P, 3 ft, switch 20 A, LSI }", [("device-mismatch", "LSI")]),
    ("panelboard Q { fed from P, 3 ft { run 4 ft } }", [("written-twice", "3 ft")]),
    ("panelboard P { fed from UT, 3 ft }", [("duplicate-tag", "P")]),
    ("room M-1 { level 1 }", [("duplicate-tag", "M-1")]),
    ("transfer switch S { emergency from P, 3 ft }", [("missing-feed", "S")]),
    ("tie T between P and Z", [("unknown-tag", "Z")]),
    ("tie T between P and P", [("malformed-tie", "P")]),
    ("tie T between P and UT", [("wrong-kind", "UT")]),
    ("interlock key, at most 2 of P.main, UT.main", [("malformed-interlock", "at most 2 of P.main, UT.main")]),
    ("interlock key, at most 1 of P.main, P.mian", [("unknown-tag", "P.mian")]),
    ("noncoincident L-1 or M-2", [("unknown-tag", "M-2")]),
    ("noncoincident L-1 or P", [("wrong-kind", "P")]),
    ('state "S" { lost P }', [("wrong-kind", "P")]),
    ('state "S" { open P.main, Q.main }', [("unknown-tag", "Q.main")]),
    ("expect fault at PP <= 10 kA", [("unknown-tag", "PP")]),
    ("expect fault at P <= 10 kV", [("wrong-dimension", "10 kV")]),
    ("expect fault at P = 10 kA", [("unexpected-words", "expect fault at P = 10 kA")]),
    ("expect falt at P <= 10 kA", [("unknown-word", "falt")]),
    ('accept drop-branch on PP because "x"', [("unknown-tag", "PP")]),
    ('accept drop-branch on P "Hall" because "x"', [("unknown-tag", '"Hall"')]),
    ("contactor C { coil P }", [("wrong-kind", "coil P")]),
    ("panelboard Q { fed from P, 3 ft\n lighting 1 kVA, through C9 }", [("unknown-tag", "through C9")]),
    ("panelboard Q { fed from P, 3 ft\n demand welder 70 % }", [("missing-reason", "demand welder 70 %")]),
    (
        "panelboard Q { fed from P, 3 ft\n series rated 65 kA with P }",
        [("missing-reason", "series rated 65 kA with P")],
    ),
    ("panelboard Q { fed from P, 3 ft\n 1,3 motor 5 hp, 3-phase }", [("poles-disagree", "1,3")]),
    ("panelboard Q { fed from P, 3 ft\n 1,3,5 motor 1 hp, 208 V 1-phase }", [("poles-disagree", "1,3,5")]),
    ("panelboard Q { fed from P, 3 ft\n 1,3,5 lighting 1 kVA x 2 }", [("poles-disagree", "1,3,5")]),
    ("panelboard Q { fed from P, 3 ft\n 1 receptacles 8 outlets, multiwire }", [("poles-disagree", "1")]),
    ("panelboard Q { fed from P, 3 ft\n equipment RK 1 kVA, cord A }", [("cord-alone", "equipment RK 1 kVA, cord A")]),
    ("panelboard Q { fed from P, 3 ft\n equipment RK, cord B }", [("cord-alone", "equipment RK, cord B")]),
    ("panelboard Q { fed from P, 3 ft\n place L-1 }", [("wrong-kind", "L-1")]),
    ("panelboard Q { fed from P, 3 ft\n voltage 120/208 V 3-phase }", [("system-disagrees", "3-phase")]),
    ("panelboard Q { fed from P, 3 ft\n main lugs, LSI }", [("written-twice", "LSI")]),
    ("panelboard Q { fed from P, 3 ft\n circuit { } }", [("missing-value", "circuit")]),
]


@pytest.mark.parametrize(("text", "expected"), CHECKS, ids=[check[0][:60].replace("\n", " ") for check in CHECKS])
def test_checks(text: str, expected: list[tuple[str, str]]) -> None:
    found = errors(P + text)
    assert found == expected


def test_an_unknown_tag_shows_the_near_one_and_where_it_stands() -> None:
    text = UT + "switchboard MSB { fed from UT, 9 ft }\npanelboard Q { fed from MSV, 3 ft }"
    finding = real(read_text(text))[0]
    assert "`MSB`" in finding.help
    label = finding.related[0]
    assert text[label.span.start : label.span.end] == "MSB"
    assert finding.fix is not None
    assert not finding.fix.safe


def test_a_tag_made_twice_by_a_typical_shows_line_and_uses() -> None:
    text = UT + (
        "typical F(n) {\n panelboard LP { fed from UT, [n] ft }\n}\n"
        "use F(n: 1)\nuse F(n: 2)\n"
    )  # fmt: skip
    finding = next(f for f in real(read_text(text)) if f.rule == "duplicate-tag")
    assert "parameter" in finding.help
    places = {text[label.span.start : label.span.end] for label in finding.related}
    assert {"use F(n: 1)", "use F(n: 2)"} <= places


def test_a_slip_in_a_typical_is_one_finding() -> None:
    text = UT + "typical F(n) {\n panelboard LP-[n] { fed from UTT, [n] ft }\n}\nfor n in 1..9 { use F(n: [n]) }\n"
    found = real(read_text(text))
    assert [f.rule for f in found] == ["unknown-tag"]
    assert "8 more" in found[0].notes[0]


def test_what_could_not_be_read_gives_no_second_finding() -> None:
    """An unknown kind, a broken head: its tag may still be named elsewhere."""
    for head in ("panlboard Q {", 'panelboard Q "x {', "panelboard Q 225 A {", "fuse box Q {"):
        text = f"{P}{head}\n fed from P, 3 ft\n bus 225 A\n}}\npanelboard R {{ fed from Q, 3 ft }}\n"
        reading = read_text(UT + text)
        found = real(reading)
        assert len(found) == 1, (head, [f.message for f in found])
        assert reading.model is not None
        assert reading.model.incomplete
        assert "R" in reading.model.items


def test_a_room_that_no_statement_describes_is_not_checked() -> None:
    reading = read_text(UT + "panelboard Q { fed from UT, 3 ft\n place E101 }")
    assert [(f.rule, f.severity) for f in reading.findings] == [("room-missing", Severity.NOT_CHECKED)]
    reading = read_text(UT + "room E102 { level 1 }\npanelboard Q { fed from UT, 3 ft\n place E10Z }")
    assert [f.rule for f in real(reading)] == ["unknown-tag"]


def test_order_of_statements_changes_nothing_but_the_order() -> None:
    head = "switchboard MSB { fed from UT, 9 ft }"
    other = 'panelboard Q { fed from MSB, 3 ft\n bus 100 A\n place indoor "x" }'
    one, two = model_of(f"{head}\n{other}"), model_of(f"{other}\n{head}")
    facts = [[(f.name, f.values) for f in m.items["Q"].facts.facts] for m in (one, two)]
    assert facts[0] == facts[1]
    assert sorted(one.items) == sorted(two.items)


def test_nothing_can_be_read() -> None:
    reading = read_model(PROGRAMS / "no-such-file.fed")
    assert reading.model is None
    assert real(reading)
