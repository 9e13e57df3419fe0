"""Where part of the text could not be read: what is not known is told as not known, never as 0 A or as checked."""

from __future__ import annotations

from functools import cache

import pytest

from fedfrom.compile import compile_texts
from fedfrom.results.derivation import Derivation

TEXT = """fedfrom 1
utility UT {
 voltage 208Y/120 V
 fault 9 kA at service point, X/R 5
}
panelboard MDP {
 fed from UT, 20 ft
 main breaker 400 A
}
panelboard LP {
 fed from MDP, 60 ft
 equipment "Oven" 9 kVA, 208 V 3-phase, 40 ft
 equipment "Fan" 3 kVAX, 208 V 3-phase, 40 ft
}
panelboard EP {
 fed from MDP, 60 ft, breaker 100 A, phase 3 AWG
 equipment "Pump" 3 kVAX, 208 V 3-phase, 40 ft, breaker 20 A, phase 12 AWG
}
"""


@cache
def derivations() -> dict[str, Derivation]:
    results = compile_texts({"p.fed": TEXT}, "p.fed").results
    assert results is not None
    return dict(results.derivations)


def test_a_feeder_of_unknown_load_is_not_sized_by_0_a() -> None:
    # 9 kVA of three-phase equipment at 208 V: 25.0 A are known, the fan is not
    found = derivations()["MDP.feeder.phase"]
    step = found.steps[0]
    assert step.formula == "I = current needed by MDP"
    assert step.numbers == "some loads are not known; not below 25 A"
    assert step.result == "not known; the device decides"
    assert all("400 A" in rejected.reason for rejected in found.rejected)  # the main decides


@pytest.mark.parametrize("subject", ["MDP.main", "EP.feeder.device", "EP.feeder.phase", "EP.1.device", "EP.1.phase"])
def test_what_is_written_is_not_called_checked(subject: str) -> None:
    assert derivations()[subject].rounding == "as written; not checked against a load, which is not known"


def test_a_device_that_cannot_be_chosen_says_what_it_needs() -> None:
    found = derivations()["LP.feeder.device"]
    assert (found.value, found.rounding) == ("not known", "")
    assert [(step.formula, step.result) for step in found.steps] == [("needs the load of LP", "not known")]


def test_the_load_is_a_lower_bound_or_not_known() -> None:
    partly, not_at_all = derivations()["LP.demand"], derivations()["EP.demand"]
    assert partly.value == "at least 9.00 kVA, 25 A"
    assert [entry.value for entry in partly.inputs] == ["9.00 kVA", "not known"]
    assert (not_at_all.value, not_at_all.steps) == ("not known", ())


def test_no_line_says_0_a() -> None:
    for found in derivations().values():
        told = [found.value, *(entry.value for entry in found.inputs), *(step.result for step in found.steps)]
        assert not [text for text in told if text in ("0 A", "0.0 A", "0.00 A", "0.00 kVA", "None", "nan")], found
