"""Working space: depths, entrances, doors (NEC 110.26)."""

from __future__ import annotations

import pytest

from fedfrom.formulas import working_space as space
from fedfrom.tables import load_edition

TABLE = space.bands(load_edition("NEC 2023").rows("working_space_110_26"))


@pytest.mark.parametrize(
    ("volts", "condition", "depth"),
    [
        (120, 1, 3.0),
        (120, 2, 3.0),
        (120, 3, 3.0),
        (150, 3, 3.0),
        (150.1, 3, 4.0),
        (277, 1, 3.0),
        (277, 2, 3.5),
        (277, 3, 4.0),
        (600, 2, 3.5),
        (601, 2, 4.0),
        (1000, 3, 5.0),
    ],
)
def test_depth(volts: float, condition: int, depth: float) -> None:
    """source: NEC 2023, Table 110.26(A)(1)."""
    assert space.working_depth_ft(TABLE, volts, condition) == depth


def test_depth_above_the_table_is_not_known() -> None:
    assert space.working_depth_ft(TABLE, 2400, 1) is None


def test_width_and_height_keep_their_least() -> None:
    """source: NEC 110.26(A)(2): 30 in or the width of the equipment; (A)(3): 6 ft 6 in or its height."""
    assert space.working_width_ft(20 / 12, 30) == 2.5
    assert space.working_width_ft(4.0, 30) == 4.0
    assert space.working_height_ft(6.0, 78) == 6.5
    assert space.working_height_ft(7.5, 78) == 7.5


def test_two_entrances() -> None:
    """source: NEC 110.26(C)(2): 1200 A or more and over 6 ft wide; one where the depth is doubled."""
    assert not space.is_large_equipment(1200, 6.0, 1200, 6)
    assert space.is_large_equipment(1200, 6.1, 1200, 6)
    assert not space.is_large_equipment(1000, 9.0, 1200, 6)
    assert space.entrances_needed(True, 6.9, 3.5, 2) == 2
    assert space.entrances_needed(True, 7.0, 3.5, 2) == 1
    assert space.entrances_needed(False, 3.5, 3.5, 2) == 1


def test_doors_and_dedicated_space() -> None:
    """source: NEC 110.26(C)(3): 800 A or more; 110.26(E)(1)(a): 6 ft above or the structural ceiling."""
    assert space.needs_panic_hardware(800, 800)
    assert not space.needs_panic_hardware(799, 800)
    assert space.dedicated_height_ft(7.5, 6, 12) == 12
    assert space.dedicated_height_ft(7.5, 6, 20) == 13.5
    assert space.clear_depth_ft(12, 2, 1) == 9
