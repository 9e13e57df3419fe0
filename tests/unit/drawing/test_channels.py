"""Wires between ranks: no two on top of each other, few crossings."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fedfrom.drawing.channels import SAME, Link, crossings, route

PLACES = st.lists(st.integers(0, 60), min_size=1, max_size=9, unique=True)


@given(PLACES, st.randoms(use_true_random=False))
def test_no_wire_runs_on_another(outs: list[int], shuffle: object) -> None:
    ins = list(outs)
    shuffle.shuffle(ins)  # type: ignore[attr-defined]
    links = [Link(f"r{i}", out * 0.2, into * 0.2 + 0.1) for i, (out, into) in enumerate(zip(outs, ins, strict=True))]
    channel = route(links)
    assert channel is not None
    jogging = [link for link in links if not link.straight]
    assert set(channel.tracks) == {link.run for link in jogging}
    for one in jogging:
        for other in jogging:
            if one is other or channel.tracks[one.run] != channel.tracks[other.run]:
                continue
            apart = max(one.out, one.into) < min(other.out, other.into) or max(other.out, other.into) < min(
                one.out, one.into
            )
            assert apart


def test_a_wire_turns_off_above_the_one_that_enters_below_it() -> None:
    upper, lower = Link("a", 1.0, 3.0), Link("b", 5.0, 1.0)
    channel = route([lower, upper])
    assert channel is not None
    assert channel.tracks["a"] < channel.tracks["b"]


def test_two_wires_that_would_have_to_swap_places_are_refused() -> None:
    assert route([Link("a", 1.0, 3.0), Link("b", 3.0 + SAME / 2, 1.0)]) is None


def test_nested_wires_do_not_cross() -> None:
    # Both run to the right: the one that starts further right turns off first.
    outer, inner = Link("outer", 0.0, 6.0), Link("inner", 2.0, 7.0)
    channel = route([outer, inner])
    assert channel is not None
    order = sorted((outer, inner), key=lambda link: channel.tracks[link.run])
    assert crossings(order[0], order[1]) == min(crossings(outer, inner), crossings(inner, outer))
