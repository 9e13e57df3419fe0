"""Packing by contours: nothing overlaps, everything is on the grid, small blocks are centred."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fedfrom.drawing.contour import GAP, Contour, merged, of_boxes, pack
from fedfrom.drawing.style import GRID

BOXES = st.lists(
    st.tuples(st.floats(-3, -0.1), st.floats(0, 2), st.floats(0.1, 3), st.floats(0.1, 2)).map(
        lambda b: (b[0], b[1], b[2], b[1] + b[3])
    ),
    min_size=1,
    max_size=4,
)


def _column(boxes: list[tuple[float, float, float, float]], drop: bool) -> Contour:
    """A column as drawn: its wire runs from the bus to the last box, perhaps on down."""
    bottom = max(box[3] for box in boxes)
    return of_boxes([(-0.02, 0.0, 0.02, bottom), *boxes], (-0.07, 0.07) if drop else None)


@given(st.lists(st.tuples(BOXES, st.booleans()), min_size=2, max_size=7))
def test_packed_blocks_keep_their_distance(columns: list[tuple[list[tuple[float, float, float, float]], bool]]) -> None:
    blocks = [_column(boxes, drop) for boxes, drop in columns]
    xs = pack(blocks, 0.5)
    assert list(xs) == sorted(xs)
    assert all(abs(x / GRID - round(x / GRID)) < 1e-6 for x in xs)
    deepest = max(block.end for block in blocks) + 1
    for (i, left), (j, right) in combinations(enumerate(blocks), 2):
        assert xs[j] - xs[i] >= 0.5 * (j - i) - 1e-6
        for cell in range(deepest):
            assert xs[i] + left.at(cell)[1] + GAP <= xs[j] + right.at(cell)[0] + 1e-6


def test_a_small_block_between_two_wide_ones_is_centred() -> None:
    wide = of_boxes([(-0.02, 0, 0.02, 2), (-2.0, 1.0, 2.0, 2.0)])
    small = of_boxes([(-0.1, 0, 0.1, 0.5)])
    xs = pack([wide, small, wide], 0.5)
    assert xs[1] - xs[0] == pytest.approx(xs[2] - xs[1], abs=GRID + 1e-6)


def test_a_deep_narrow_block_tucks_under_a_shallow_wide_one() -> None:
    shallow = of_boxes([(-0.5, 0.0, 0.5, 0.5)])
    deep = of_boxes([(-0.02, 0.0, 0.02, 3.0), (-2.0, 2.0, 2.0, 3.0)])
    assert pack([shallow, deep], 0.5)[1] < 2.0


def test_a_wire_that_goes_on_down_keeps_its_lane_free() -> None:
    lane = Contour(0, (), (), (-0.07, 0.07))
    deep = of_boxes([(-0.02, 0.0, 0.02, 3.0), (-2.0, 2.0, 2.0, 3.0)])
    assert pack([merged([(lane, 0.0, 0.5)]), deep], 0.5)[1] >= 2.0 + 0.07 + GAP - 1e-6
