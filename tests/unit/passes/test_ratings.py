"""Interrupting ratings, ratings of assemblies, required functions of devices."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.support.electrical import device
from tests.support.sizing import compile_text

from fedfrom.findings import Finding
from fedfrom.model.items import Status
from fedfrom.passes.protection import needs_arc_reduction, needs_ground_fault
from fedfrom.passes.ratings import SeriesRating, rate
from fedfrom.quantity import SYSTEMS
from fedfrom.results.types import FaultResult, Results
from fedfrom.tables import load_edition

EDITION = load_edition("NEC 2023")


def fault(amperes: float, x_over_r: float | None = 1.5) -> FaultResult:
    return FaultResult("Normal", amperes, None, None, x_over_r, 0.0, (0.0, 0.0))


@pytest.mark.parametrize(
    ("amperes", "volts", "rating"),
    [(8_000, 208, 10_000), (12_000, 208, 22_000), (12_000, 480, 14_000), (30_000, 480, 35_000), (66_000, 480, 100_000)],
)
def test_the_smallest_usual_rating_is_chosen(amperes: float, volts: float, rating: float) -> None:
    # ratings usual at a voltage: practice table interrupting_ratings (common practice, no source)
    done = rate(EDITION, device(100), fault(amperes), volts)
    assert done.interrupting_a == rating
    assert done.fault_a == amperes
    assert done.rating_basis == "fully rated"


def test_a_high_x_over_r_raises_the_choice() -> None:
    # source: multiplying factor at X/R 10 for a molded case over 20 kA, 1.133: 24 kA count as 27.2 kA
    assert rate(EDITION, device(100), fault(24_000, 4.0), 480).interrupting_a == 25_000
    assert rate(EDITION, device(100), fault(24_000, 10.0), 480).interrupting_a == 35_000


def test_a_drawout_breaker_has_the_test_of_a_power_breaker() -> None:
    # source: 6.6 against 4.9 as X/R of the test (TSEWG TP-6, 2008): at 6.6 only the molded case takes a factor
    frame = device(800, options=("drawout",))
    assert rate(EDITION, frame, fault(34_900, 6.5), 480).interrupting_a == 35_000
    assert rate(EDITION, device(800), fault(34_900, 6.5), 480).interrupting_a == 50_000


def test_written_ratings_stay() -> None:
    assert rate(EDITION, device(100, interrupting_a=14_000.0), fault(30_000), 480).interrupting_a == 14_000


def test_unknown_fault_chooses_nothing() -> None:
    done = rate(EDITION, device(100), None, 480)
    assert done.interrupting_a is None
    assert done.rating_basis == "not established"


@pytest.mark.parametrize("status", [Status.EXISTING, Status.RELOCATED])
def test_the_rating_of_a_device_that_is_there_is_a_fact(status: Status) -> None:
    assert rate(EDITION, device(100, status=status), fault(5_000), 480).interrupting_a is None


def test_fuses_interrupt_by_their_class() -> None:
    # source: UL 248 classes J and L, 200 kA (from memory, practice table fuse_classes)
    small = rate(EDITION, device(400, kind="fused switch", fuse_a=350.0), fault(90_000), 480)
    large = rate(EDITION, device(1200, kind="fused switch", fuse_a=1200.0), fault(90_000), 480)
    named = rate(EDITION, device(400, kind="fused switch", fuse_a=350.0, fuse_class="H"), fault(90_000), 480)
    assert (small.fuse_class, small.interrupting_a) == ("J", 200_000)
    assert (large.fuse_class, large.interrupting_a) == ("L", 200_000)
    assert named.interrupting_a == 10_000


def test_a_switch_interrupts_nothing() -> None:
    assert rate(EDITION, device(400, kind="switch"), fault(20_000), 480).interrupting_a is None


def test_devices_have_at_least_the_rating_written_on_their_gear() -> None:
    assert rate(EDITION, device(100), fault(12_000), 480, floor_a=65_000).interrupting_a == 65_000


def test_a_declared_series_combination_lowers_the_device() -> None:
    series = SeriesRating(65_000, "MSB")
    done = rate(EDITION, device(20, 1), fault(30_000), 480, series)
    assert done.interrupting_a == 14_000
    assert done.rating_basis == "series rated with MSB"
    # the combination itself is too small: no series rating is taken
    assert rate(EDITION, device(20, 1), fault(70_000), 480, series).interrupting_a == 100_000


def test_beyond_every_usual_rating() -> None:
    assert rate(EDITION, device(100), fault(250_000), 480).rating_basis == "no usual rating suffices"


# --- functions that the code requires ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("literal", "amperes", "needed"),
    [
        ("480Y/277 V", 1000, True),
        ("480Y/277 V", 800, False),
        ("208Y/120 V", 2000, False),  # not over 150 V to ground
        ("480 V ungrounded", 2000, False),
        ("480 V corner-grounded", 2000, False),
        ("600Y/347 V", 1200, True),
        ("240/120 V high-leg", 1200, False),
    ],
)
def test_ground_fault_protection_of_services(literal: str, amperes: float, needed: bool) -> None:
    # source: NEC 230.95: solidly grounded wye, more than 150 V to ground, 1000 A or more
    assert needs_ground_fault(EDITION, SYSTEMS[literal], amperes, True) is needed


def test_feeder_limit_of_older_editions() -> None:
    # source: NEC 215.10: 600 V between phases to 2020, 1000 V in 2023; 600Y/347 V is not above either
    for key in ("NEC 2017", "NEC 2020", "NEC 2023"):
        assert needs_ground_fault(load_edition(key), SYSTEMS["600Y/347 V"], 1200, False)


def test_arc_energy_reduction() -> None:
    # source: NEC 240.87 (breakers that can be set to 1200 A) and 240.67 (fuses of 1200 A)
    assert needs_arc_reduction(EDITION, device(1200))
    assert not needs_arc_reduction(EDITION, device(1000))
    assert needs_arc_reduction(EDITION, device(1200, kind="fused switch", fuse_a=1200.0))
    assert not needs_arc_reduction(EDITION, device(1200, kind="switch"))


def compiled(body: str) -> tuple[Results, tuple[Finding, ...]]:
    design, findings = compile_text(f'fedfrom 1\nproject "Example" {{ code NEC 2023 }}\n{body}')
    return design.results, findings


BOARD = """utility UT {{
    voltage 480Y/277 V
    fault   {fault} kA at service point, X/R 4
}}
switchboard MSB "Main switchboard" {{
    fed from UT, 20 ft, wire by utility
    main     {main}
    place    indoor "Electrical room"
}}
panelboard DP1 "Hall" {{
    fed from MSB, 60 ft
    place    indoor "Hall"
    {extra}
    equipment "Furnace" 70 A, 480 V 3-phase, 20 ft
}}
"""


def test_functions_left_out_are_chosen() -> None:
    results, _ = compiled(BOARD.format(fault=40, main="breaker 1600 A", extra=""))
    main = results.gear["MSB"].main
    assert main is not None
    assert (main.functions, main.arc_reduction) == ("LSIG", "maintenance switch")
    assert results.gear["MSB"].service_equipment


def test_a_tie_gets_a_means_against_arc_energy() -> None:
    text = (
        BOARD.format(fault=40, main="breaker 1600 A", extra="")
        + """
utility U2 {
    voltage 480Y/277 V
    fault   30 kA at service point, X/R 4
}
switchboard MSB2 "Second bus" {
    fed from U2, 20 ft, wire by utility
    main     breaker 1600 A
    place    indoor "Electrical room"
}
tie TIE between MSB and MSB2, breaker 1600 A, LSI, normally open
interlock key, at most 2 of MSB.main, MSB2.main, TIE
"""
    )
    results, findings = compiled(text)
    tie = results.ties["TIE"].device
    assert tie is not None
    assert (tie.functions, tie.arc_reduction) == ("LSI", "maintenance switch")
    assert tie.interrupting_a == 42_000 or tie.interrupting_a == 50_000
    assert not [finding for finding in findings if finding.rule == "arc-energy"]


def test_written_functions_are_kept_and_reported() -> None:
    results, findings = compiled(BOARD.format(fault=40, main="breaker 1600 A, LSI", extra=""))
    main = results.gear["MSB"].main
    assert main is not None
    assert main.functions == "LSI"
    assert "gfp-service" in [finding.rule for finding in findings]


def test_gear_is_rated_for_its_worst_state() -> None:
    results, _ = compiled(BOARD.format(fault=40, main="breaker 800 A", extra=""))
    board, panel = results.gear["MSB"], results.gear["DP1"]
    assert (board.sccr_a, board.sccr_basis) == (42_000, "fully rated")
    assert board.fault_a == pytest.approx(40_000, rel=0.01)
    assert panel.fault_a is not None
    assert panel.sccr_a is not None
    assert panel.fault_a <= panel.sccr_a < board.sccr_a
    assert results.derivations["MSB.sccr"].value == "42 kA"


def test_the_weakest_device_limits_the_assembly() -> None:
    extra = 'equipment "Kiln" 16 A, 480 V 3-phase, 20 ft, breaker 20 A, interrupting 14 kA'
    results, findings = compiled(BOARD.format(fault=60, main="breaker 800 A", extra=extra))
    panel = results.gear["DP1"]
    assert panel.fault_a is not None
    if panel.fault_a > 14_000:
        assert panel.sccr_a == 14_000
        rules = [finding.rule for finding in findings]
        assert "interrupting-rating" in rules
        assert "sccr-gear" not in rules  # one cause, one finding


def test_existing_gear_without_a_label_is_not_established() -> None:
    text = BOARD.format(fault=40, main="breaker 800 A", extra="").replace("panelboard DP1", "existing panelboard DP1")
    results, findings = compiled(text)
    assert results.gear["DP1"].sccr_basis == "not established"
    subjects = {(finding.rule, finding.subject, finding.severity.word) for finding in findings}
    assert ("sccr-gear", "DP1", "not checked") in subjects


def test_transfer_switch_withstand() -> None:
    text = (
        BOARD.format(fault=40, main="breaker 800 A", extra="")
        + """
generator G1 {
    rating 200 kW
    voltage 480Y/277 V
    subtransient 12 %
    main breaker, LSI
    place outdoor "Yard"
}
transfer switch ATS1 {
    normal from MSB, 10 ft, breaker 100 A, LSI
    emergency from G1, 40 ft
    system optional standby
    place indoor "Electrical room"
}
panelboard EP "Standby" {
    fed from ATS1, 10 ft
    place indoor "Electrical room"
    equipment "Pump" 40 A, 480 V 3-phase, 20 ft
}
"""
    )
    results, _ = compiled(text)
    switch, generator = results.transfers["ATS1"], results.sources["G1"]
    assert switch.fault_a is not None
    assert switch.withstand_a is not None
    assert switch.fault_state == "Normal"
    assert switch.withstand_a >= switch.fault_a > 10_000
    # 200 kW / 0.8 = 250 kVA; 300.7 A / 0.12 = 2.51 kA at the terminals
    assert generator.fault_a == pytest.approx(2_503, rel=0.01)
    assert generator.rating_text == "200 kW"
    assert generator.rating_va == pytest.approx(250_000)


def test_utility_transformer_of_a_source() -> None:
    source = "transformer 1500 kVA, 5.75 %, X/R 6\n    primary 12.47 kV, fault 180 MVA, X/R 8"
    text = BOARD.format(fault=40, main="breaker 800 A", extra="")
    results, _ = compiled(text.replace("fault   40 kA at service point, X/R 4", source))
    utility = results.sources["UT"].transformer
    assert utility is not None
    assert (utility.kva, utility.impedance_pct, utility.by) == (1500, 5.75, "utility")
    assert utility.secondary_a == pytest.approx(1804, rel=0.001)  # source: IAEI Magazine 2018-08-22
    assert utility.primary_a == pytest.approx(69.4, rel=0.001)
    assert replace(utility, tag="") != utility


def test_the_factor_of_the_duty_can_be_worked_out_again() -> None:
    # 20 kA at X/R 8 on a molded-case breaker tested at power factor 0.20 (over 20 kA): X/R sqrt(1 - 0.04) / 0.2 = 4.90;
    # (1 + exp(-3.1416 / 8)) / (1 + exp(-3.1416 / 4.90)) = 1.6753 / 1.5267 = 1.097; 20 000 x 1.097 = 21 947 A
    text = """fedfrom 1
utility UT {
 voltage 480Y/277 V
 fault 20 kA at service point, X/R 8
}
panelboard P {
 fed from UT, 0 ft
 main breaker 100 A
}
"""
    steps = compile_text(text)[0].results.derivations["P.main.interrupting"].steps
    assert [(step.numbers, step.result) for step in steps[:2]] == [
        ("sqrt(1 - 0.2^2) / 0.2", "4.90"),
        ("(1 + exp(-3.1416 / 8.00)) / (1 + exp(-3.1416 / 4.90))", "1.097"),
    ]
    assert float(steps[2].result.removesuffix(" A")) == pytest.approx(21_947, abs=15)
