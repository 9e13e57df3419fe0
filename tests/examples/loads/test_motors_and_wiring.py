"""Published examples of motor and cooling circuits, transformers, grounding and raceways, through the compiler."""

from __future__ import annotations

import pytest
from tests.support.published import Published, published


def example(name: str) -> Published:
    return published("loads", name)


def test_three_motors() -> None:
    """source: NFPA 70, Annex D, Example D8 (from memory): 42.5 A, 124 A, fuses 110 A, 60 A; feeder 190 A, so 175 A."""
    found = example("three-motors")
    assert found.step("M.1.phase", "I = 1.25 FLC").result == "42.5 A"
    assert found.step("M.2.phase", "I = 1.25 FLC").result == "50 A"
    assert found.load("M").design_a == pytest.approx(124, abs=0.5)
    assert found.circuit("M-1").device.fuse_a == 110
    assert found.circuit("M-2").device.fuse_a == 60
    assert found.circuit("T-1").device.fuse_a == 60
    (over,) = found.findings("motor-feeder-ocpd")  # 200 A at N; the 175 A at M is within the limit
    assert over.subject == "N"
    assert any("190 A" in note for note in over.notes)


def test_two_motors_on_one_line() -> None:
    """source: a trade forum's exercise: 20 A, 40 A, 36 A, 8 AWG of 60 C, feeder limit 56 A, 50 A."""
    found = example("two-motors-on-one-line")
    assert found.step("P.1.phase", "I = 1.25 FLC").result == "20 A"
    assert found.circuit("P.1").device.rating_a == 40
    assert found.load("P").design_a == pytest.approx(36, abs=0.1)
    assert found.results.feeders["P"].conductors.ampacity_a == 40  # 8 AWG at 60 C
    (over,) = found.findings("motor-feeder-ocpd")  # 60 A at Q; the 50 A at P is within the limit
    assert over.subject == "Q"
    assert any("56 A" in note for note in over.notes)
    assert not found.findings("conductor-ampacity")


def test_motor_of_7_5_hp() -> None:
    """source: a trade forum's exercise: 22 A, 27.5 A, 10 AWG, 60 A."""
    row = example("motor-7-5-hp").circuit("M-1")
    assert row.table_a == 22
    assert example("motor-7-5-hp").step("P.1.phase", "I = 1.25 FLC").result == "27.5 A"
    assert row.conductors.phase == "10"
    assert row.device.rating_a == 60


def test_motor_of_3_hp_on_fuses() -> None:
    """source: a trade magazine's series on motors, part 2, 2004: 34 A, 43 A, 6 AWG; the 60 A fuse recomputed."""
    found = example("motor-3-hp-fuses")
    row = found.circuit("M-1")
    assert row.table_a == 34
    assert found.step("P.1.phase", "I = 1.25 FLC").result in ("42.5 A", "43 A")
    assert row.conductors.phase == "6"
    assert row.device.fuse_a == 60


def test_motor_of_50_hp_time_delay_fuse() -> None:
    """source: a trade magazine's quiz (NEC 1996 to 1999): 65 A, 113.75 A, 110 A rounded down, 125 A as next rating."""
    found = example("motor-50-hp-fuse")
    row = found.circuit("M-1")
    assert row.table_a == 65
    assert "113.75 A" in found.step("MSB.1.device", "OCPD = next standard").numbers
    assert row.device.fuse_a == 125
    assert {finding.subject for finding in found.findings("motor-branch-ocpd")} == {"MSB.3"}  # 150 A, not 110 A


def test_compressor_of_24_a() -> None:
    """source: a trade magazine's answer (NEC 2011): 30 A, 10 AWG, 40 A, at most 50 A."""
    found = example("compressor-24-a")
    assert found.step("P.1.phase", "I = 1.25 RLC").result == "30 A"
    assert found.circuit("AC-1").conductors.phase == "10"
    assert found.circuit("AC-1").device.rating_a == 40
    subjects = {finding.subject for finding in found.compilation.findings if finding.severity.name == "ERROR"}
    assert found.circuit("AC-2").key not in subjects  # 50 A, for a compressor that would not start on less
    assert found.circuit("AC-3").key in subjects  # 60 A


def test_air_conditioners_by_nameplate() -> None:
    """source: a trade magazine's article, January 2025 (31.4 A and 50 A), and an older answer (44 A and 60 A)."""
    small, large = example("air-conditioner-31-a").circuit("AC-1"), example("air-conditioner-44-a").circuit("AC-1")
    assert (small.conductors.phase, small.device.rating_a) == ("10", 50)
    assert (large.conductors.phase, large.device.rating_a) == ("8", 60)
    assert not example("air-conditioner-44-a").errors() & {"small-conductor", "conductor-ampacity"}


def test_nine_conductors() -> None:
    """source: a trade magazine's answer on 310.15: 30 A x 0.7 = 21 A."""
    found = example("nine-conductors")
    row = found.circuit("P.1")
    assert row.conductors.phase == "12"
    assert row.conductors.adjustment_factor == pytest.approx(0.7)
    assert row.conductors.ampacity_a == pytest.approx(21, abs=0.05)


def test_transformer_of_300_kva() -> None:
    """source: an examination forum: 360.84 A, 451 A, at most 500 A."""
    found = example("transformer-300-kva")
    assert found.results.transformers["T1"].secondary_a == pytest.approx(360.84, abs=0.1)
    assert {finding.subject for finding in found.findings("xfmr-ocpd")} == {"T2"}  # 600 A; the 500 A at A is allowed


def test_transformer_of_75_kva() -> None:
    """source: a trade association's code question, 9 June 2026: 208 A; the devices are recomputed. The answer there
    cites (C)(2) with 25 ft; by number (C)(2) is the 10 ft rule and (C)(6) the 25 ft rule."""
    found = example("transformer-75-kva-secondary")
    result = found.results.transformers["T1"]
    assert result.secondary_a == pytest.approx(208.2, abs=0.1)
    assert result.primary_a == pytest.approx(90.2, abs=0.1)
    assert found.results.feeders["P"].conductors.ampacity_a == 230
    assert {finding.subject for finding in found.findings("secondary-length")} == {"Q"}  # 250 A on 230 A; 225 A is not
    over = found.findings("xfmr-ocpd")
    assert {finding.subject for finding in over} == {"T3"}  # 250 A and 350 A; 225 A at 250 % is allowed


def test_ground_increased_with_the_phases() -> None:
    """source: a trade magazine's code question on 250.122(B): 12 to 6 AWG, ground 6 AWG."""
    assert example("egc-increased-with-phase").circuit("EQ-1").conductors.ground == "6"


def test_grounds_of_parallel_sets() -> None:
    """source: a trade association's code column on 250.122(F): 3 AWG copper, 1 AWG aluminum in each raceway."""
    feeders = example("egc-parallel-400-a").results.feeders
    assert (feeders["CU"].conductors.sets, feeders["CU"].conductors.ground) == (2, "3")
    assert (feeders["AL"].conductors.sets, feeders["AL"].conductors.ground) == (2, "1")


def test_supply_side_bonding_jumper() -> None:
    """source: a building-code forum on 250.102(C): 2 AWG for one set of 250 kcmil, 2/0 for three sets together; in each
    of three raceways it is that of its own set, 2 AWG (250.102(C)(2))."""
    found = example("supply-side-bonding-jumper")
    one, three = found.results.transformers["T1"], found.results.transformers["T3"]
    assert one.supply_side_bonding_jumper == "2"
    assert found.results.feeders["P3"].conductors.ground == "2"
    assert three.system_bonding_jumper == "2/0"


def test_service_grounding() -> None:
    """source: a trade magazine's quiz on grounding (NEC 1999): 2 AWG throughout, 6 AWG to a rod alone."""
    found = example("service-grounding")
    gear = found.results.gear
    assert gear["MSB"].main_bonding_jumper == "2"
    assert gear["MSB"].grounding_electrode_conductor == "2"
    assert gear["ROD"].grounding_electrode_conductor == "6"
    assert not found.findings("neutral-size")


def test_conduit_with_mixed_sizes() -> None:
    """source: a textbook of 2018, problem 6-8: 0.1442 in2, 3/4 inch rigid metal conduit."""
    conductors = example("conduit-mixed-sizes").results.feeders["P"].conductors
    assert (conductors.raceway_kind, conductors.raceway_size) == ("RMC", "3/4")
    inside = 0.549  # in2, Chapter 9, Table 4, 3/4 RMC
    assert conductors.fill_pct / 100 * inside == pytest.approx(0.1442, abs=0.0002)
