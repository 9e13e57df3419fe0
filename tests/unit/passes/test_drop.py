"""The drop pass: segments, sums from the service, states, and what is not known."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.support.electrical import circuit, conductors, feeder, work_of
from tests.support.models import feed, item

from fedfrom.model.items import Defaults, Value
from fedfrom.passes import drop
from fedfrom.passes.work import Work
from fedfrom.results.types import FeederResult, NodeLoad


def node_load(state: str, amperes: float, va: float = 0.0, complete: bool = True) -> NodeLoad:
    zero = (0.0, 0.0, 0.0)
    return NodeLoad(state, (), va, va, amperes, amperes, amperes, 0.0, zero, zero, 0.0, 0.85, 0.0, complete)


def run(feeders: list[FeederResult], *more: object, **fields: object) -> Work:
    items = (
        item("utility", "UT", voltage="480Y/277 V"),
        item("switchboard", "MSB", feed("UT", "MSB", by="utility")),
        item("panelboard", "LP", "MSB"),
        *more,
    )
    return drop.run(work_of(*items, feeders=feeders, **fields))  # type: ignore[arg-type]


def test_one_percent_at_the_published_distance() -> None:
    # source: circuit design table of an engineering office: 1 AWG Cu in steel, 104 A, pf 0.85: 1 % of 480 V at 160 ft
    work = run([feeder("MSB", "LP", 160, 0.16, 0.057, load_a=104, power_factor=0.85)])
    assert work.feeders["LP"].drop_pct == pytest.approx(1.0, rel=0.005)
    assert work.feeders["LP"].drop_v == pytest.approx(4.8, rel=0.005)
    assert work.segment_drop_v["LP"]["Normal"] == work.feeders["LP"].drop_v


def test_sum_to_the_last_outlet() -> None:
    row = circuit("LP", 1, load_a=16.0, length_ft=100.0, conductors=conductors(2.0, 0.068), category="lighting")
    work = run(
        [feeder("UT", "MSB", 60, 0.029, 0.048, load_a=400), feeder("MSB", "LP", 160, 0.16, 0.057, load_a=104)],
        circuits={"LP": (row,)},
    )
    done = work.circuits["LP"][0]
    feeder_pct = work.feeders["LP"].drop_pct
    # the utility's own conductors lie ahead of the service and do not count
    assert work.cumulative_drop_pct["MSB"]["Normal"] == 0.0
    assert work.feeders["LP"].cumulative_drop_pct == feeder_pct
    # 16 A over 100 ft and back, 12 AWG, pf 0.95: 2 x 16 x (0.2 x 0.95 + 0.0068 x 0.312) V = 6.15 V of 277 V
    assert done.drop_v == pytest.approx(2 * 16 * (0.2 * 0.95 + 0.0068 * math.sin(math.acos(0.95))), rel=0.002)
    assert done.drop_pct == pytest.approx(100 * (done.drop_v or 0) / 277)
    assert done.cumulative_drop_pct == pytest.approx((done.drop_pct or 0) + (feeder_pct or 0))
    assert "LP.1.drop" in work.derivations


def test_poles_decide_the_voltage() -> None:
    common = {"load_a": 20.0, "length_ft": 100.0, "conductors": conductors(1.2, 0.063), "category": "heating"}
    rows = tuple(circuit("LP", number, poles=number, **common) for number in (1, 2, 3))
    one, two, three = run([feeder("MSB", "LP", 0, None, None, load_a=1)], circuits={"LP": rows}).circuits["LP"]
    assert one.drop_v == pytest.approx(2 * 20 * 0.12, rel=1e-3)
    assert one.drop_pct == pytest.approx(100 * 4.8 / 277, rel=1e-3)
    assert two.drop_pct == pytest.approx(100 * 4.8 / 480, rel=1e-3)
    assert three.drop_pct == pytest.approx(100 * math.sqrt(3) * 2.4 / 480, rel=1e-3)


def test_worst_state_governs() -> None:
    loads = {"LP": {"Normal": node_load("Normal", 50)}}
    work = run([feeder("MSB", "LP", 160, 0.16, 0.057, load_a=104)], loads=loads)
    half = run([feeder("MSB", "LP", 160, 0.16, 0.057, load_a=50, power_factor=0.85)])
    assert work.feeders["LP"].drop_pct == pytest.approx(half.feeders["LP"].drop_pct)


def test_primary_of_a_transformer_carries_the_load_at_its_own_voltage() -> None:
    transformer = item("transformer", "T1", "MSB", secondary="208Y/120 V")
    loads = {"T1": {"Normal": node_load("Normal", 208.2, 75_000)}}
    work = run([feeder("MSB", "T1", 100, 0.16, 0.057)], transformer, loads=loads)
    expected = run([feeder("MSB", "LP", 100, 0.16, 0.057, load_a=75_000 / math.sqrt(3) / 480, power_factor=0.85)])
    assert work.feeders["T1"].drop_v == pytest.approx(expected.feeders["LP"].drop_v)


def test_unknown_facts_stay_unknown() -> None:
    incomplete = {"LP": {"Normal": node_load("Normal", 50, complete=False)}}
    cases = [
        run([feeder("MSB", "LP", None, 0.16, 0.057, load_a=50)]),
        run([feeder("MSB", "LP", 100, None, None, load_a=50)]),
        run([feeder("MSB", "LP", 100, 0.16, 0.057, load_a=None)]),
        run([feeder("MSB", "LP", 100, 0.16, 0.057)], loads=incomplete),
        run([feeder("MSB", "LP", 500, 3.1, 0.073, load_a=5000)]),
    ]
    for work in cases:
        assert work.feeders["LP"].drop_pct is None
        assert "LP" not in work.cumulative_drop_pct


def test_no_load_no_drop() -> None:
    work = run([feeder("MSB", "LP", 100, None, None, load_a=0)])
    assert work.feeders["LP"].drop_pct == 0.0


def test_limits_come_from_the_defaults() -> None:
    base = work_of(
        item("utility", "UT", voltage="480Y/277 V"),
        item("switchboard", "MSB", "UT"),
        feeders=[feeder("UT", "MSB", 50, 0.03, 0.05, load_a=100)],
    )
    limits = Defaults(drop_feeder_pct=Value(2.0), drop_branch_pct=Value(3.0), drop_total_pct=Value(5.0))
    work = drop.run(replace(base, model=replace(base.model, defaults=limits)))
    assert work.feeders["MSB"].drop_limit_pct == 2.0
    assert drop.run(base).feeders["MSB"].drop_limit_pct is None
