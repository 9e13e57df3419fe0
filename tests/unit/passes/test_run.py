"""The order of the passes, and what `run_passes` hands on."""

from __future__ import annotations

from dataclasses import fields

from tests.support.texts import compiled

from fedfrom.passes import PASSES
from fedfrom.passes.work import Work

GIVEN = {"model", "network", "plan", "edition", "derivations", "findings"}


def test_every_pass_finds_what_it_needs() -> None:
    filled = set(GIVEN)
    for step in PASSES:
        assert step.needs <= filled, f"{step.name} needs {sorted(step.needs - filled)}"
        filled |= step.gives


def test_passes_name_fields_of_work_and_fill_all_of_them() -> None:
    names = {field.name for field in fields(Work)}
    for step in PASSES:
        assert step.needs | step.gives <= names, step.name
    assert names - GIVEN == set().union(*(step.gives for step in PASSES)) - GIVEN


def test_names_are_unique() -> None:
    assert len({step.name for step in PASSES}) == len(PASSES)


def test_results_stand_in_source_order() -> None:
    text = """fedfrom 1
project "Order" { code NEC 2023 }
panelboard Z { fed from M, 20 ft }
panelboard A { fed from M, 20 ft }
switchboard M { fed from UT, 20 ft }
utility UT {
    voltage 208Y/120 V
    fault   9 kA at service point, X/R 5
}
"""
    results = compiled(text).results
    assert list(results.gear) == ["Z", "A", "M"]
    assert list(results.circuits) == ["Z", "A", "M"]
    assert list(results.loads) == ["Z", "A", "M", "UT"]
    assert list(results.feeders) == ["Z", "A", "M"]
    assert [state.name for state in results.states] == ["Normal", "UT lost"]
