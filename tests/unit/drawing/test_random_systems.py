"""Random and very large systems: the layout never aborts and the checker finds nothing."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.support import systems

from fedfrom.drawing.check import check
from fedfrom.drawing.grounding_diagram import grounding_diagram
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.papers import PAPERS
from fedfrom.drawing.riser_diagram import riser_diagram
from fedfrom.model.items import Defaults, Model, Project

QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


# Two hundred in each run: many small ones, where odd neighbours meet, and some that fill several sheets.
@settings(max_examples=130, deadline=None, suppress_health_check=QUIET)
@given(systems.systems(9))
def test_any_small_system_gives_a_clean_drawing(sample: systems.System) -> None:
    assert check(one_line(*sample.build())) == ()


@settings(max_examples=45, deadline=None, suppress_health_check=QUIET)
@given(systems.systems(24))
def test_any_system_gives_a_clean_drawing(sample: systems.System) -> None:
    assert check(one_line(*sample.build())) == ()


@settings(max_examples=25, deadline=None, suppress_health_check=QUIET)
@given(systems.systems(24), st.lists(st.integers(-1, 5), min_size=1, max_size=12), st.sampled_from(sorted(PAPERS)))
def test_any_system_gives_clean_risers_and_grounding(sample: systems.System, levels: list[int], size: str) -> None:
    """On any sheet size; -1: the storey is not stated."""
    for index, (tag, item) in enumerate(list(sample.items.items())):
        level = levels[index % len(levels)]
        sample.items[tag] = replace(item, title=f"Level {level}" if level >= 0 else "")
    results, network, _ = sample.build()
    results = replace(results, project=replace(results.project, sheet_size=size))
    model = Model(Project(), Defaults(), sample.items)
    assert check(riser_diagram(results, network, model)) == ()
    assert check(grounding_diagram(results, network, lambda key: key)) == ()


def test_names_of_thirty_characters() -> None:
    sample = systems.System()
    name = "LEVEL-12-NORTH-EMERGENCY-MAIN-"
    sample.utility("UT")
    sample.service(f"{name[:26]}MSB", "UT")
    for number in range(12):
        board = sample.board(f"{name[:28]}{number:02d}", f"{name[:26]}MSB", title="W" * 60)
        sample.panel(f"P{name[:27]}{number:02d}", board, title="Long title " * 6)
    assert check(one_line(*sample.build())) == ()


@pytest.mark.slow
def test_a_building_of_two_thousand_nodes() -> None:
    sample = systems.tower(225).build()
    assert len(sample[1].nodes) > 2000
    start = time.process_time()
    drawing = one_line(*sample)
    assert time.process_time() - start < 20
    assert len(drawing.sheets) > 20
    assert check(drawing) == ()
