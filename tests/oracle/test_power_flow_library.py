"""Faults and drop against pandapower, an independent solver used in tests only.

What agreement proves is arithmetic and assembly, not the model: both sides are told the same impedances. Set-ups:
"min" case with the 6 % low-voltage tolerance, conductors at 20 C end temperature (resistances entered hot), divided by
the library's 0.95; with motors the "max" case, source times 1.1, no transformer correction, divided by 1.05.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.support.electrical import circuit, fact, feeder, work_of
from tests.support.models import item

from fedfrom.formulas.voltage_drop import voltage_drop
from fedfrom.model.items import Item
from fedfrom.passes import fault
from fedfrom.passes.work import Work

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::FutureWarning")]

KM_PER_KFT = 0.3048
AGREE = 1e-9


@dataclass(frozen=True)
class Run:
    """A feeder of a radial system, fed from bus `parent`; with `kva` it ends at a transformer to 208Y/120 V."""

    parent: int
    feet: float
    r: float
    x: float
    sets: int
    kva: float | None = None
    percent: float = 5.0
    ratio: float = 1.5


@dataclass(frozen=True)
class System:
    """A utility (13.8 kV), its 1500 kVA transformer to bus 0, and runs; `motor` a full-load current at bus 0."""

    source_mva: float
    source_ratio: float
    runs: tuple[Run, ...]
    motor_a: float = 0.0


STUDY = System(
    500,
    8,
    (
        Run(0, 200, 0.029, 0.048, 2),
        Run(1, 100, 0.16, 0.057, 1, kva=75),
        Run(2, 25, 0.054, 0.052, 1),
    ),
)


@st.composite
def systems(draw: st.DrawFn) -> System:
    count = draw(st.integers(1, 12))
    runs: list[Run] = []
    low: set[int] = set()  # buses on 208Y/120 V take no further transformer
    for index in range(1, count + 1):
        parent = draw(st.integers(0, index - 1))
        can_transform = parent not in low
        kva = draw(st.sampled_from([None, None, 45.0, 75.0, 150.0])) if can_transform else None
        if kva is not None or parent in low:
            low.add(index)
        runs.append(
            Run(
                parent,
                draw(st.floats(5, 600)),
                draw(st.floats(0.02, 3.0)),
                draw(st.floats(0.03, 0.08)),
                draw(st.integers(1, 4)),
                kva,
                draw(st.floats(2, 7)),
                draw(st.floats(0.5, 6)),
            )
        )
    return System(draw(st.floats(50, 1000)), draw(st.floats(2, 20)), tuple(runs))


# --- ours ----------------------------------------------------------------------------------------------------------


def ours(system: System) -> Work:
    facts = [
        fact("transformer", {"rating": "1500 kVA"}, impedance={"percent": "5.75 %"}, xr={"ratio": "6"}),
        fact("primary", {"volts": "13.8 kV"}, fault={"power": f"{system.source_mva!r} MVA"},
             xr={"ratio": repr(system.source_ratio)}),
    ]  # fmt: skip
    items: list[Item] = [
        item("utility", "UT", voltage="480Y/277 V", facts=facts),
        item("switchboard", "B0", "UT"),
    ]
    feeders = [feeder("UT", "B0", 0, None, None)]
    for index, run in enumerate(system.runs, 1):
        target = f"B{index}"
        if run.kva is not None:
            values = [
                fact("rating", {"rating": f"{run.kva:g} kVA"}),
                fact("impedance", {"percent": f"{run.percent!r} %"}, xr={"ratio": repr(run.ratio)}),
            ]
            items.append(item("transformer", target, f"B{run.parent}", secondary="208Y/120 V", facts=values))
        else:
            items.append(item("panelboard", target, f"B{run.parent}"))
        feeders.append(feeder(f"B{run.parent}", target, run.feet, run.r, run.x, sets=run.sets))
    rows = {}
    if system.motor_a:
        rows = {"B0": (circuit("B0", 1, poles=3, category="motor", table_a=system.motor_a, motor_hp=25.0),)}
    return fault.run(work_of(*items, feeders=feeders, circuits=rows))


# --- the library's -------------------------------------------------------------------------------------------------


def library_net(system: System, source_factor: float = 1.0) -> tuple[Any, dict[str, int]]:
    import pandapower as pp

    net = pp.create_empty_network(sn_mva=1.0, f_hz=60)
    high = pp.create_bus(net, 13.8)
    mva, rx = system.source_mva * source_factor, 1 / system.source_ratio
    pp.create_ext_grid(
        net, high, s_sc_min_mva=mva, rx_min=rx, s_sc_max_mva=mva, rx_max=rx, x0x_min=1.0, r0x0_min=0.1,
        x0x_max=1.0, r0x0_max=0.1,
    )  # fmt: skip
    buses = {"B0": pp.create_bus(net, 0.48)}
    add_transformer(net, high, buses["B0"], 1500, 13.8, 0.48, 5.75, 6)
    volts = {"B0": 0.48}
    for index, run in enumerate(system.runs, 1):
        tag, parent = f"B{index}", f"B{run.parent}"
        end = pp.create_bus(net, volts[parent])
        pp.create_line_from_parameters(
            net, buses[parent], end, length_km=run.feet / 1000 * KM_PER_KFT,
            r_ohm_per_km=run.r / KM_PER_KFT, x_ohm_per_km=run.x / KM_PER_KFT, c_nf_per_km=0, max_i_ka=1,
            parallel=run.sets, endtemp_degree=20, r0_ohm_per_km=3 * run.r / KM_PER_KFT,
            x0_ohm_per_km=3 * run.x / KM_PER_KFT, c0_nf_per_km=0,
        )  # fmt: skip
        buses[tag], volts[tag] = end, volts[parent]
        if run.kva is not None:
            secondary = pp.create_bus(net, 0.208)
            add_transformer(net, end, secondary, run.kva, volts[parent], 0.208, run.percent, run.ratio)
            buses[tag], volts[tag] = secondary, 0.208
    return net, buses


def add_transformer(
    net: Any, high: int, low: int, kva: float, high_kv: float, low_kv: float, percent: float, ratio: float
) -> None:
    import pandapower as pp

    resistive = percent / math.hypot(1, ratio)
    pp.create_transformer_from_parameters(
        net, high, low, sn_mva=kva / 1000, vn_hv_kv=high_kv, vn_lv_kv=low_kv, vk_percent=percent,
        vkr_percent=resistive, pfe_kw=0, i0_percent=0, shift_degree=0, vector_group="Dyn", vk0_percent=percent,
        vkr0_percent=resistive, mag0_percent=100, mag0_rx=0, si0_hv_partial=0.9,
    )  # fmt: skip


def library_faults(system: System, *kinds: str) -> tuple[dict[str, float], ...]:
    """Amperes by bus for each kind of fault, at 1.0 per unit and without corrections."""
    from pandapower import shortcircuit

    net, buses = library_net(system)
    found = []
    for kind in kinds:
        shortcircuit.calc_sc(net, fault=kind, case="min", lv_tol_percent=6)
        found.append({tag: float(net.res_bus_sc.ikss_ka.loc[bus]) * 1000 / 0.95 for tag, bus in buses.items()})
    return tuple(found)


# --- comparisons ---------------------------------------------------------------------------------------------------


def compare(system: System) -> None:
    work = ours(system)
    three, ground = library_faults(system, "3ph", "1ph")
    for tag, amperes in three.items():
        result = work.faults[tag]["Normal"]
        assert result.three_phase_a == pytest.approx(amperes, rel=AGREE)
        assert result.line_ground_a == pytest.approx(ground[tag], rel=AGREE)


def test_the_six_bus_study() -> None:
    compare(STUDY)


def test_motors() -> None:
    import pandapower as pp
    from pandapower import shortcircuit

    system = System(500, 8, STUDY.runs[:1], motor_a=180.0)
    work = ours(system)
    net, buses = library_net(system, source_factor=1.1)
    net.trafo["power_station_unit"] = True  # no transformer correction
    # 4 times full-load current at X/R 5, entered as a motor of that rating
    mva = math.sqrt(3) * 0.48 * 180 / 1000
    pp.create_motor(
        net, buses["B0"], pn_mech_mw=mva * 0.86 * 0.93, cos_phi=0.86, cos_phi_n=0.86, efficiency_n_percent=93,
        lrc_pu=4.0, rx=1 / 5, vn_kv=0.48,
    )  # fmt: skip
    shortcircuit.calc_sc(net, fault="3ph", case="max", lv_tol_percent=6)
    for tag, bus in buses.items():
        amperes = float(net.res_bus_sc.ikss_ka.loc[bus]) * 1000 / 1.05
        assert work.faults[tag]["Normal"].three_phase_a == pytest.approx(amperes, rel=AGREE)
    assert work.faults["B0"]["Normal"].motor_contribution_a > 600


def test_the_defaults_of_the_library_differ() -> None:
    """Negative: the default call is another method (IEC factors); agreement with it would mean nothing is compared."""
    from pandapower import shortcircuit

    net, buses = library_net(STUDY)
    shortcircuit.calc_sc(net, fault="3ph", case="max")
    default = float(net.res_bus_sc.ikss_ka.loc[buses["B0"]]) * 1000
    assert abs(default / ours(STUDY).faults["B0"]["Normal"].three_phase_a - 1) > 0.05


@settings(max_examples=4, deadline=None, suppress_health_check=list(HealthCheck))
@given(systems())
def test_random_radial_systems(system: System) -> None:
    compare(system)


@settings(max_examples=2, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.floats(10, 150), st.floats(0.3, 1.0), st.floats(50, 400), st.floats(0.03, 0.3), st.floats(0.03, 0.08))
def test_drop_against_a_power_flow(kw: float, factor: float, feet: float, r: float, x: float) -> None:
    """The exact form gives the voltage that a power flow finds, from the flow's own current and load angle."""
    import pandapower as pp

    net = pp.create_empty_network(sn_mva=1.0, f_hz=60)
    source, end = pp.create_bus(net, 0.48), pp.create_bus(net, 0.48)
    pp.create_ext_grid(net, source)
    pp.create_line_from_parameters(
        net, source, end, length_km=feet / 1000 * KM_PER_KFT, r_ohm_per_km=r / KM_PER_KFT,
        x_ohm_per_km=x / KM_PER_KFT, c_nf_per_km=0, max_i_ka=1,
    )  # fmt: skip
    pp.create_load(net, end, p_mw=kw / 1000, q_mvar=kw / 1000 * math.tan(math.acos(factor)))
    try:
        pp.runpp(net, algorithm="nr", init="flat", tolerance_mva=1e-10)
    except pp.LoadflowNotConverged:
        return  # more load than the run can supply
    current = float(net.res_line.i_ka.iloc[0]) * 1000
    received = float(net.res_bus.vm_pu.loc[end]) * 480 / math.sqrt(3)
    drop = voltage_drop(current, feet, r, x, factor, sending_v=480 / math.sqrt(3))
    assert 480 / math.sqrt(3) - drop == pytest.approx(received, rel=AGREE)
