"""Near misses: few, close, in a fixed order."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fedfrom.findings.nearest import edit_distance, listed, nearest

WORDS = st.text(alphabet="abcd-", max_size=8)


def test_slips_of_the_keyboard_count_one() -> None:
    for slip in ("metring", "meterring", "meteting", "emtering"):
        assert edit_distance("metering", slip) == 1


def test_at_most_three_the_closest_first() -> None:
    assert nearest("LP-7", ["LP-1", "LP-2", "LP-3", "LP-4", "LP-77", "MSB"]) == ("LP-1", "LP-2", "LP-3")
    assert nearest("metring", ["method", "metering", "main"])[0] == "metering"
    assert nearest("lp1", ["MSB", "LP1"]) == ("LP1",)
    assert nearest("x", ["ab", "c"]) == ()


def test_names_in_a_sentence() -> None:
    shown = [listed(names) for names in ([], ["a"], ["a", "b"], ["a", "b", "c"])]
    assert shown == ["", "`a`", "`a` or `b`", "`a`, `b` or `c`"]


@given(WORDS, WORDS)
def test_the_distance_is_a_distance(left: str, right: str) -> None:
    distance = edit_distance(left, right)
    assert distance == edit_distance(right, left)
    assert (distance == 0) == (left == right)
    assert abs(len(left) - len(right)) <= distance <= max(len(left), len(right))
