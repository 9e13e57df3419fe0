"""Printed calculations can be checked with a pocket calculator: every line, and ten from the symbols on.

The checks read what is printed and know arithmetic only (tests/support/hand_calculation.py); the values themselves
stand beside published examples in tests/examples.
"""

from __future__ import annotations

import pytest
from tests.support.hand_calculation import printed_lines, symbol_values, work_formula, work_out
from tests.support.samples import sample_design, sample_names

from fedfrom.documents.calculations.text import calculation_text
from fedfrom.documents.calculations.view import calculation


@pytest.mark.parametrize("name", sample_names())
def test_every_line_with_figures_comes_out(name: str) -> None:
    lines = {
        (step.numbers, step.result)
        for derivation in sample_design(name).results.derivations.values()
        for step in derivation.steps
        if step.numbers and not step.formula.startswith(("OCPD", "not "))
    }
    worked = [(line, found) for line in sorted(lines) if (found := work_out(*line)) is not None]
    assert len(worked) > 100
    assert [line for line, found in worked if not found.agrees] == []


def test_a_wrong_figure_is_seen() -> None:
    right = ("148.21 x (0.079 x 0.9244 + 0.052 x 0.3814) x 180 / 1000", "2.4774 V")
    assert work_out(*right).agrees  # type: ignore[union-attr]
    for numbers, result in ((right[0], "2.5074 V"), (right[0].replace("148.21", "151.21"), right[1])):
        assert not work_out(numbers, result).agrees  # type: ignore[union-attr]
    assert work_out("first 10 kVA at 100 %, rest at 50 %", "9,000 VA") is None


# Subject and the lines of it that are worked out from the symbols, by their left sides.
TEN = (
    ("T1.feeder.phase", ("I", "ampacity at the terminals", "ampacity corrected")),
    ("MSB.feeder.phase", ("ampacity at the terminals", "ampacity corrected")),
    ("DP1.feeder.drop", ("a", "b", "V", "percent")),
    ("T1.feeder.drop", ("a", "b", "V", "percent")),
    ("LP1.1.drop", ("a", "b", "V", "percent")),
    ("DP1.feeder.raceway", ("area of conductors", "fill")),
    ("LP1.1.raceway", ("area of conductors", "fill")),
    ("MSB.electrode", ("A",)),
    ("MSB.jumper", ("A", "area")),
    ("DP1.1.phase", ("I", "ampacity corrected")),
)


@pytest.mark.parametrize(("subject", "lefts"), TEN, ids=[subject for subject, _ in TEN])
def test_ten_come_out_from_their_symbols(subject: str, lefts: tuple[str, ...]) -> None:
    design = sample_design("bottling-works")
    text = calculation_text(calculation(design, design.results.derivations[subject]))
    known = symbol_values(text)
    seen = []
    for left, right, result in printed_lines(text):
        found = work_formula(right, known)
        if left in lefts:
            assert found is not None, right
            assert found.within(result), (left, right, result, found)
            seen.append(left)
        known[left] = result
    assert sorted(set(seen)) == sorted(lefts)
