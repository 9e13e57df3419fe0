"""Feeders, mains, secondaries, taps, generators and transfer switches through the whole compiler."""

import pytest
from tests.support.sizing import compile_text, program, results_of, rules_found

from fedfrom.model.items import Origin
from fedfrom.results.notation import conductor_text

LP = 'panelboard LP "Lighting" {{ fed from MDP, {feed}\n main {main}\n place indoor "Room 2"\n {loads} }}'


def with_panel(feed: str, loads: str = 'receptacles "X" 4 outlets, 20 ft', main: str = "lugs", **options: str) -> str:
    volts, defaults = options.get("volts", "208Y/120 V"), options.get("defaults", "")
    panel = LP.format(feed=feed, loads=loads, main=main)
    return program("}\n" + panel, volts, defaults, options.get("mdp", "breaker 1200 A"))


@pytest.mark.parametrize(
    ("breaker", "expected"),
    [
        # source: NEC Tables 310.16 (75 C), 250.122, Chapter 9 Tables 1, 4, 5; 240.4(B) to 800 A
        (100, "4-3 AWG, 1-8 AWG G, 1-1/4 INCH EMT"),
        (225, "4-4/0 AWG, 1-4 AWG G, 2-1/2 INCH EMT"),
        (400, "4-500 KCMIL, 1-3 AWG G, 3 INCH EMT"),
        (600, "2 SETS OF 4-250 KCMIL, 1-1 AWG G, 2-1/2 INCH EMT EACH"),  # 510 A, next standard rating 600 A
        (800, "2 SETS OF 4-500 KCMIL, 1-1/0 AWG G, 3 INCH EMT EACH"),
        (1000, "3 SETS OF 4-400 KCMIL, 1-2/0 AWG G, 3 INCH EMT EACH"),
        (1200, "4 SETS OF 4-350 KCMIL, 1-3/0 AWG G, 3 INCH EMT EACH"),
    ],
)
def test_conductors_for_a_written_device(breaker: int, expected: str) -> None:
    feeder = results_of(with_panel(f"50 ft, breaker {breaker} A")).feeders["LP"]
    assert conductor_text(feeder.conductors) == expected


def test_device_is_the_next_standard_rating_over_the_load_with_growth() -> None:
    loads = 'equipment "X" 70 A, 208 V 3-phase, 20 ft'
    feeder = results_of(with_panel("50 ft", loads)).feeders["LP"]
    assert feeder.device is not None
    assert (feeder.device.rating_a, feeder.device.origin) == (70, Origin.CHOSEN)
    grown = results_of(with_panel("50 ft", loads, defaults="growth load 20 %")).feeders["LP"]
    assert grown.device is not None
    assert grown.device.rating_a == 90  # 84 A
    continuous = results_of(with_panel("50 ft", 'equipment "X" 70 A, 208 V 3-phase, continuous, 20 ft'))
    device = continuous.feeders["LP"].device
    assert device is not None
    assert device.rating_a == 90  # 87.5 A: NEC 215.3


def test_a_chosen_device_is_not_below_what_it_feeds() -> None:
    feeder = results_of(with_panel("50 ft", 'motor "X" 10 hp, 20 ft')).feeders["LP"]
    assert feeder.device is not None
    assert feeder.device.rating_a == 80  # 10 hp at 208 V: 30.8 A, branch device 250 % -> 80 A


def test_drop_limit_enlarges_a_feeder() -> None:
    loads = 'equipment "X" 90 A, 208 V 3-phase, 20 ft'
    short = results_of(with_panel("50 ft", loads, defaults="drop feeder 2 %")).feeders["LP"]
    long = results_of(with_panel("400 ft", loads, defaults="drop feeder 2 %")).feeders["LP"]
    assert short.conductors is not None
    assert long.conductors is not None
    assert short.conductors.phase == "3"
    assert long.conductors.phase != "3"
    assert long.drop_pct is not None
    assert long.drop_pct <= 2.0


def test_a_written_neutral_and_sets_are_kept() -> None:
    feeder = results_of(with_panel("50 ft, breaker 400 A, sets 2, phase 3/0 AWG, neutral none")).feeders["LP"]
    assert feeder.conductors is not None
    assert (feeder.conductors.sets, feeder.conductors.phase, feeder.conductors.neutral) == (2, "3/0", "")


def test_a_written_size_without_sets_is_one_set() -> None:
    feeder = results_of(with_panel("50 ft, breaker 400 A, phase 3/0 AWG")).feeders["LP"]
    assert feeder.conductors is not None
    assert feeder.conductors.sets == 1
    assert "conductor-ampacity" in rules_found(with_panel("50 ft, breaker 400 A, phase 3/0 AWG"))


def test_hot_roof_and_wet_insulation() -> None:
    runs = "{ breaker 100 A\n run 20 ft in EMT\n run 60 ft in EMT on roof, 55 C }"
    hot = results_of(with_panel("").replace("fed from MDP, ", f"fed from MDP {runs}")).feeders["LP"]
    assert hot.conductors is not None
    # THHN/THWN-2 at 55 C: 0.76; the device decides: 3 AWG 115 x 0.76 = 87.4 A, next size up 90 A < 100
    assert hot.conductors.ambient_factor == 0.76
    assert hot.conductors.phase == "2"  # 130 x 0.76 = 98.8 A, next standard size up 100 A (NEC 240.4(B))


# --- transformers and secondaries ----------------------------------------------------------------------------------


def dry(rating: str, feed: str, main: str, loads: str = 'receptacles "X" 8 outlets, 20 ft') -> str:
    transformer = (
        f"transformer T1 {{ fed from MDP, 30 ft\n {rating}\n secondary 208Y/120 V\n electrode building steel, 20 ft }}"
    )
    panel = f'panelboard LP "Lighting" {{ fed from T1, {feed}\n main {main}\n place indoor "Room 2"\n {loads} }}'
    return program(f"}}\n{transformer}\n{panel}", "480Y/277 V")


def test_75_kva_transformer() -> None:
    # source: trade association, question of the day: 208.2 A secondary; 4/0 AWG (230 A) allows 225 A, not 250 A
    results = results_of(dry("rating 75 kVA", "15 ft", "breaker"))
    transformer = results.transformers["T1"]
    assert transformer.secondary_a == pytest.approx(208.2, abs=0.3)
    assert transformer.primary_device is not None
    assert transformer.primary_device.rating_a == 125  # 90.2 A x 1.25 = 112.8 A: NEC Table 450.3(B)
    main = results.gear["LP"].main
    assert main is not None
    assert main.rating_a == 225
    secondary = results.feeders["LP"]
    assert secondary.kind == "secondary"
    assert secondary.device is None
    assert secondary.conductors is not None
    assert secondary.conductors.phase == "4/0"
    assert secondary.conductors.ground_kind == "supply-side bonding jumper"
    assert secondary.conductors.ground == "2"  # NEC Table 250.102(C)(1): over 3/0 to 350 kcmil
    assert transformer.system_bonding_jumper == "2"
    assert transformer.grounding_electrode_conductor == "2"  # NEC Table 250.66


def test_transformer_is_the_next_standard_size() -> None:
    results = results_of(dry("", "10 ft", "breaker", 'equipment "X" 40 kVA, 208 V 3-phase, 20 ft'))
    assert results.transformers["T1"].kva == 45
    assert results.transformers["T1"].loading_pct == pytest.approx(88.9, abs=0.1)
    assert "T1.kva" in results.derivations


def test_a_panel_behind_a_transformer_gets_a_main() -> None:
    text = dry("rating 45 kVA", "10 ft", "breaker").replace("main breaker\n", "")
    assert results_of(text).gear["LP"].main is not None
    assert results_of(with_panel("20 ft").replace("main lugs\n", "")).gear["LP"].main is None


def test_a_primary_feeder_has_no_neutral() -> None:
    feeder = results_of(dry("rating 75 kVA", "15 ft", "breaker")).feeders["T1"]
    assert feeder.conductors is not None
    assert feeder.conductors.neutral == ""


# --- services, generators, transfer switches, taps -----------------------------------------------------------------


def test_service_conductors_follow_the_main() -> None:
    feeder = results_of(program("", main="breaker 2000 A")).feeders["MDP"]
    assert feeder.kind == "service"
    assert feeder.device is None
    assert feeder.conductors is not None
    # 2000 A: over 800 A the ampacity must reach the rating; 6 x 335 A = 2010 A
    assert (feeder.conductors.sets, feeder.conductors.phase) == (6, "400")
    assert feeder.conductors.ground == ""


def test_dwelling_service_by_the_83_percent_rule() -> None:
    # source: published house calculation: 200 A -> 2/0 AWG copper; NEC Annex D7 (from memory): 175 A -> 1/0, 3/0 Al
    for breaker, wire, size in ((200, "Cu", "2/0"), (175, "Cu", "1/0"), (175, "Al", "3/0")):
        text = f"""fedfrom 1
project "House" {{ code NEC 2023 }}
utility UT {{ voltage 120/240 V
fault 9 kA at service point, X/R 5 }}
load center LC "House" {{ fed from UT, 20 ft, wire {wire} XHHW-2 in PVC
main breaker {breaker} A
place indoor "Hall"
dwelling 1500 ft2, small-appliance 2, laundry 1 }}
"""
        conductors = results_of(text).feeders["LC"].conductors
        assert conductors is not None
        assert conductors.phase == size


STANDBY = """}
generator G1 { rating 150 kW
voltage 208Y/120 V
subtransient 12 % }
transfer switch ATS1 { normal from MDP, 30 ft
emergency from G1, 80 ft
system legally required }
panelboard EP "Standby" { fed from ATS1, 12 ft
main lugs
place indoor "Room 2"
equipment "X" 90 A, 208 V 3-phase, 20 ft }
"""


def test_generator_and_transfer_switch() -> None:
    results = results_of(program(STANDBY))
    emergency = results.feeders["ATS1.emergency"]
    assert emergency.device is not None
    # 150 kW / 0.8 / (1.732 x 208) = 520 A: device 600 A, conductors 115 % = 598 A (NEC 445.13(A))
    assert emergency.device.rating_a == 600
    assert emergency.conductors is not None
    assert emergency.conductors.ampacity_a >= 598
    assert results.transfers["ATS1"].rating_a == 600
    # conductors behind the switch are protected by the larger device ahead of it
    load_side = results.feeders["EP"]
    assert load_side.device is None
    assert load_side.conductors is not None
    assert load_side.conductors.ampacity_a == 510  # 2 x 255 A; 600 A is the next standard size (NEC 240.4(B))


def test_tap_of_20_ft() -> None:
    text = """}
wireway WW "Trough" { fed from MDP, 20 ft, breaker 400 A }
panelboard LP "Lighting" { fed from WW tap, 20 ft
main breaker 40 A
place indoor "Room 2"
receptacles "X" 4 outlets, 20 ft }
"""
    results = results_of(program(text))
    tap = results.feeders["LP"]
    assert tap.kind == "tap"
    assert tap.conductors is not None
    # source: NEC 240.21(B)(2): one third of 400 A = 133 A -> 1/0 AWG (150 A)
    assert tap.conductors.phase == "1/0"


def test_unknown_load_leaves_devices_open() -> None:
    results = results_of(with_panel("50 ft", 'equipment "X", 20 ft'))
    assert results.feeders["LP"].device is None
    assert results.feeders["LP"].conductors is None
    assert results.derivations["LP.feeder.device"].value == "not known"


def test_a_tie_left_open_takes_the_greater_main() -> None:
    text = """fedfrom 1
project "Two" { code NEC 2023 }
utility U1 { voltage 480Y/277 V
fault 9 kA at service point, X/R 5 }
utility U2 { voltage 480Y/277 V
fault 9 kA at service point, X/R 5 }
switchboard A "Bus A" { fed from U1, 20 ft
main breaker 800 A }
switchboard B "Bus B" { fed from U2, 20 ft
main breaker 1000 A }
tie TIE between A and B, breaker, normally open
interlock key, at most 2 of A.main, B.main, TIE
"""
    device = results_of(text).ties["TIE"].device
    assert device is not None
    assert device.rating_a == 1000


def test_rules_of_sizing_are_silent_on_what_the_compiler_chose() -> None:
    """What is chosen keeps every rule: no sizing finding on a program that leaves all open."""
    loads = """motor "Fan" 15 hp, 60 ft
    hvac "Unit" mca 38 A, mocp 50 A, 480 V 3-phase, 80 ft
    heating "Heater" 12 kW, 480 V 3-phase, 50 ft
    lighting "Hall" 3 kVA, 277 V, 120 ft"""
    panel = LP.format(feed="120 ft", loads=loads, main="lugs")
    text = program("}\n" + panel, "480Y/277 V", "drop feeder 2 %, branch 3 %, total 5 %", "breaker")
    design, findings = compile_text(text)
    assert design.results.feeders["LP"].device is not None
    sizing = [f for f in findings if f.severity.value >= 2 and f.rule not in ("class-limits",)]
    assert sizing == []


def test_a_busway_is_fed_at_its_rating() -> None:
    text = "}\nbusway BW { rating 800 A\nfed from MDP, 30 ft }\n"
    device = results_of(program(text, main="breaker 1200 A")).feeders["BW"].device
    assert device is not None
    assert device.rating_a == 800


def test_no_transformer_too_small_for_a_breaker_is_chosen() -> None:
    # NEC Table 450.3(B): 15 A may be 250 % of rated current at most: 6 A at 480 V, 3 kVA single-phase
    text = """}
transformer T2 { fed from MDP, 30 ft, 480 V 1-phase
secondary 120/240 V
electrode rod, 10 ft }
load center LC "Booth" { fed from T2, 10 ft
place indoor "Booth"
receptacles "X" 2 outlets, 30 ft }
"""
    results = results_of(program(text, "480Y/277 V"))
    assert results.transformers["T2"].kva == 3
    assert results.feeders["T2"].conductors is not None
    assert results.feeders["T2"].conductors.ungrounded == 2
    assert results.gear["LC"].main is not None


def test_an_oversized_neutral_counts_as_current_carrying() -> None:
    feeder = results_of(with_panel("50 ft, breaker 100 A, neutral 200 %")).feeders["LP"]
    assert feeder.conductors is not None
    assert feeder.conductors.adjustment_factor == 0.8  # four conductors: NEC 310.15(C)(1), (E)(3)
    # 3 AWG 115 A x 0.8 = 92 A, next standard size up 100 A; the neutral takes twice 100 A: 3/0 AWG
    assert (feeder.conductors.phase, feeder.conductors.neutral) == ("3", "3/0")


def test_derivations_cite_the_edition_of_the_project() -> None:
    text = with_panel("50 ft", 'equipment "X" 70 A, 208 V 3-phase, 20 ft').replace("NEC 2023", "NEC 2017")
    derivation = results_of(text).derivations["LP.feeder.phase"]
    assert derivation.clause == "NEC 2017, Table 310.15(B)(16)"


def test_service_conductors_of_the_utility_are_marked() -> None:
    text = program("").replace("fed from UT, 20 ft", "fed from UT, 20 ft, wire by utility")
    conductors = results_of(text).feeders["MDP"].conductors
    assert conductors is not None
    assert conductors.by == "utility"


def test_a_transformer_with_its_own_main() -> None:
    text = dry("rating 75 kVA\nmain breaker 225 A", "60 ft", "lugs\nbus 225 A")
    results = results_of(text)
    feeder = results.feeders["LP"]
    assert feeder.device is not None
    assert feeder.device.rating_a == 225
    assert results.transformers["T1"].secondary_device == feeder.device
    # a device at the transformer: neither length nor panel main is missing
    assert not rules_found(text) & {"secondary-length", "panel-secondary-ocpd", "xfmr-ocpd"}


def test_the_drop_that_decided_is_in_the_derivation() -> None:
    loads = 'equipment "X" 90 A, 208 V 3-phase, 20 ft'
    results = results_of(with_panel("400 ft", loads, defaults="drop feeder 2 %"))
    derivation = results.derivations["LP.feeder.phase"]
    assert any(step.formula.startswith("voltage drop") for step in derivation.steps)
    assert any("voltage drop" in each.reason for each in derivation.rejected)
    assert derivation.rounding == "enlarged for voltage drop"
