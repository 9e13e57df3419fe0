"""Branch circuits through the whole compiler: text in, device and conductors out."""

import pytest
from tests.support.sizing import program, results_of, row_of, rules_found

from fedfrom.model.items import Origin


def sized(line: str, volts: str = "208Y/120 V", defaults: str = "") -> tuple[float, str, str]:
    """(device A, phase size, ground size) of the circuit named "X"."""
    row = row_of(results_of(program(line, volts, defaults)), "X")
    assert row.device is not None
    assert row.conductors is not None
    return row.device.protects_a, row.conductors.phase, row.conductors.ground


@pytest.mark.parametrize(
    ("line", "volts", "defaults", "expected"),
    [
        # source: NEC Table 430.250, 430.22, 430.52: 34 A, 42.5 A -> 8 AWG (50 A at 75 C), 250 % = 85 A -> 90 A
        ('motor "X" 25 hp, 40 ft', "480Y/277 V", "", (90, "8", "8")),
        # source: trade forum, 7.5 hp 230 V with 60 C terminals: 27.5 A -> 10 AWG, 60 A
        ('motor "X" 7-1/2 hp, 40 ft', "240 V", "terminals 60 C", (60, "10", "10")),
        # source: trade magazine 2004, 3 hp 115 V on time-delay fuses with 60 C terminals: 6 AWG, 60 A
        ('motor "X" 3 hp, 120 V, 40 ft, fused switch', "208Y/120 V", "terminals 60 C", (60, "6", "10")),
        # source: trade magazine 2025: MCA 31.4 A, greatest device 50 A -> 10 AWG, 50 A
        ('hvac "X" mca 31.4 A, mocp 50 A, 208 V 3-phase, 40 ft', "208Y/120 V", "", (50, "10", "10")),
        # source: trade magazine: MCA 44 A, greatest device 60 A -> 8 AWG, 60 A
        ('hvac "X" mca 44 A, mocp 60 A, 480 V 3-phase, 40 ft', "480Y/277 V", "", (60, "8", "10")),
        # source: trade magazine: compressor 24 A -> 30 A, 10 AWG at 60 C, 40 A
        ('cooling "X" 24 A, 208 V 3-phase, 40 ft', "208Y/120 V", "terminals 60 C", (40, "10", "10")),
        # source: trade magazine: arc welder 40 A at 50 % duty: 28.4 A -> 10 AWG
        ('welder W1 "X" 40 A, 480 V 1-phase, arc, duty 50 %, 40 ft', "480Y/277 V", "", (40, "10", "10")),
        # NEC 210.20(A): 16 A continuous -> 20 A; 16.1 A continuous -> 25 A
        ('equipment "X" 16 A, 120 V, continuous, 20 ft', "208Y/120 V", "", (20, "12", "12")),
        ('equipment "X" 16.1 A, 120 V, continuous, 20 ft', "208Y/120 V", "", (25, "10", "10")),
        # NEC 517.73(A): half of 100 kVA momentary at 480 V 3-phase = 60.1 A -> 6 AWG (65 A), 70 A
        ('x-ray "X" 100 kVA momentary, 8 kVA long-time, 40 ft', "480Y/277 V", "", (70, "6", "8")),
    ],
)
def test_worked_circuits(line: str, volts: str, defaults: str, expected: tuple[float, str, str]) -> None:
    assert sized(line, volts, defaults) == expected


def test_receptacles_get_no_next_size_up() -> None:
    # source: NEC 240.4(B)(1): a circuit with several outlets for cord-and-plug loads; 33 A on 35 A, 8 AWG carries 50 A
    _, size, _ = sized('receptacles "X" 6 outlets, 40 ft, breaker 45 A')
    assert size == "8"
    # the same device for a single machine: 8 AWG as well, but 6 AWG is not asked for at 55 A either
    assert sized('equipment "X" 40 A, 120 V, 40 ft, breaker 60 A')[1] == "6"


def test_drop_enlarges_phase_and_ground() -> None:
    near = row_of(results_of(program('equipment "X" 15 A, 120 V, 30 ft', defaults="drop branch 3 %")), "X")
    far = row_of(results_of(program('equipment "X" 15 A, 120 V, 150 ft', defaults="drop branch 3 %")), "X")
    assert near.conductors is not None
    assert far.conductors is not None
    assert (near.conductors.phase, near.conductors.ground) == ("12", "12")
    # 15 A over 150 ft, 2 x 15 x 0.78 x 0.15 = 3.5 V with 8 AWG (2.9 %); 10 AWG would lose 5.4 V
    assert (far.conductors.phase, far.conductors.ground) == ("8", "8")
    assert far.drop_pct is not None
    assert far.drop_pct <= 3.0


def test_ground_grows_with_written_conductors() -> None:
    # source: trade magazine: 20 A circuit raised from 12 to 6 AWG -> ground 6 AWG (NEC 250.122(B))
    assert sized('equipment "X" 15 A, 120 V, 60 ft, breaker 20 A, phase 6 AWG')[2] == "6"


def test_what_is_written_is_kept() -> None:
    row = row_of(results_of(program('equipment "X" 9 A, 120 V, 60 ft, breaker 30 A, phase 8 AWG')), "X")
    assert row.device is not None
    assert row.conductors is not None
    assert row.device.origin is Origin.WRITTEN
    assert row.device.rating_a == 30
    assert row.conductors.phase == "8"
    assert row.conductors.origins["phase"] is Origin.WRITTEN
    assert row.conductors.origins["ground"] is Origin.CHOSEN


def test_an_unknown_load_gets_no_device() -> None:
    row = row_of(results_of(program('equipment "X", 40 ft')), "X")
    assert row.load_a is None
    assert row.device is None
    assert row.conductors is None


def test_an_unknown_load_on_a_written_device_gets_conductors_for_the_device() -> None:
    row = row_of(results_of(program('equipment "X", 208 V 3-phase, 40 ft, breaker 60 A')), "X")
    assert row.conductors is not None
    assert row.conductors.phase == "6"  # NEC Table 310.16: 65 A at 75 C


def test_an_unknown_length_still_gives_conductors() -> None:
    row = row_of(results_of(program('equipment "X" 15 A, 120 V', defaults="drop branch 3 %")), "X")
    assert row.conductors is not None
    assert row.conductors.phase == "12"
    assert row.drop_pct is None


def test_multiwire_circuit_has_one_neutral_that_counts_on_a_wye() -> None:
    row = row_of(results_of(program('1,3 receptacles "X" 12 outlets, multiwire, 60 ft')), "X")
    assert row.conductors is not None
    assert (row.conductors.ungrounded, row.conductors.neutral) == (2, "12")
    assert row.conductors.adjustment_factor == 1.0  # three current-carrying conductors: NEC 310.15(E)(2)
    assert row.device is not None
    assert row.device.poles == 2


def test_line_to_line_loads_have_no_neutral() -> None:
    row = row_of(results_of(program('equipment "X" 3 kVA, 208 V 1-phase, 40 ft')), "X")
    assert row.conductors is not None
    assert (row.conductors.ungrounded, row.conductors.neutral) == (2, "")


def test_a_range_has_a_neutral_and_a_40_a_device() -> None:
    # source: NEC 210.19(C): ranges of 8-3/4 kW and more, 40 A at least
    row = row_of(results_of(program('range "X" 9 kW, 208 V 1-phase, 40 ft')), "X")
    assert row.device is not None
    assert row.conductors is not None
    assert row.device.rating_a >= 40
    assert row.conductors.neutral != ""


def test_spares_have_devices_and_spaces_have_none() -> None:
    rows = results_of(program("spare 30 A 2-pole x 1\nspace 2")).circuits["MDP"]
    spare = next(row for row in rows if row.kind == "spare")
    assert spare.device is not None
    assert (spare.device.rating_a, spare.device.poles) == (30, 2)
    assert all(row.device is None for row in rows if row.kind == "space")


def test_aluminum_conductors() -> None:
    # source: NEC Table 310.16, aluminum at 75 C: 1 AWG 100 A, 1/0 AWG 120 A; ground NEC Table 250.122: 6 AWG at 100 A
    assert sized('equipment "X" 95 A, 208 V 3-phase, 40 ft, wire Al XHHW-2 in EMT') == (100, "1", "6")


def test_a_device_without_a_nameplate_maximum_is_not_chosen() -> None:
    text = program('hvac "X" mca 31.4 A, 208 V 3-phase, 40 ft')
    row = row_of(results_of(text), "X")
    assert row.device is None
    assert row.conductors is not None
    assert row.conductors.phase == "10"
    assert "nameplate-hvac" in rules_found(text)


def test_every_chosen_value_has_a_derivation() -> None:
    results = results_of(program('motor "X" 25 hp, 40 ft', "480Y/277 V"))
    key = row_of(results, "X").key
    device, phase = results.derivations[f"{key}.device"], results.derivations[f"{key}.phase"]
    assert "430.52" in " ".join(step.clause for step in device.steps)
    assert "430.22" in " ".join(step.clause for step in phase.steps)
    assert phase.rejected  # 10 AWG, and why not
    assert phase.rejected[-1].option == "10 AWG"
