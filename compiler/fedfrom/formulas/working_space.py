"""Working space about electrical equipment: depth, width, entrances, doors, dedicated space (NEC 110.26).

Lengths are feet, volts are to ground. The figures come in from the tables, so that an edition may change them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

# What stands opposite to the live parts -> condition of Table 110.26(A)(1).
CONDITIONS = {"open": 1, "insulated": 1, "concrete": 2, "grounded": 2, "live": 3}


@dataclass(frozen=True, slots=True)
class DepthBand:
    """One cell of Table 110.26(A)(1): volts to ground from and to (both included), condition 1 to 3, depth in ft."""

    volts_from: float
    volts_to: float
    condition: int
    depth_ft: float


def bands(rows: Iterable[Mapping[str, str]]) -> tuple[DepthBand, ...]:
    """The cells of the table `working_space_110_26`, in its order."""
    return tuple(
        DepthBand(
            float(row["v_to_ground_from"]), float(row["v_to_ground_to"]), int(row["condition"]), float(row["depth_ft"])
        )
        for row in rows
    )


def working_depth_ft(table: Iterable[DepthBand], volts_to_ground: float, condition: int) -> float | None:
    """The least clear depth in front of live parts in ft (NEC Table 110.26(A)(1)); None above the table's volts.

    The bands of the table are whole volts (0 to 150, 151 to 600); a fraction between two belongs to the higher one.
    """
    fitting = [band for band in table if band.condition == condition and volts_to_ground <= band.volts_to]
    return min(fitting, key=lambda band: band.volts_to).depth_ft if fitting else None


def working_width_ft(equipment_width_ft: float, least_width_in: float) -> float:
    """The width of the working space in ft: that of the equipment, not under the least one (NEC 110.26(A)(2))."""
    return max(equipment_width_ft, least_width_in / 12.0)


def working_height_ft(equipment_height_ft: float, least_height_in: float) -> float:
    """The height of the working space in ft: that of the equipment, not under the least one (NEC 110.26(A)(3))."""
    return max(equipment_height_ft, least_height_in / 12.0)


def is_large_equipment(rating_a: float, width_ft: float, least_rating_a: float, least_width_ft: float) -> bool:
    """Whether equipment asks for an entrance at each end of its working space (NEC 110.26(C)(2)).

    Rated `least_rating_a` or more, and wider than `least_width_ft`.
    """
    return rating_a >= least_rating_a and width_ft > least_width_ft


def entrances_needed(large: bool, clear_depth_ft: float, depth_ft: float, depth_multiple: float) -> int:
    """1 or 2 entrances: one will do where the clear depth is `depth_multiple` times the least depth.

    NEC 110.26(C)(2)(b). The other exception, an open way out past the equipment, cannot be seen from room and gear.
    """
    if not large or clear_depth_ft >= depth_ft * depth_multiple:
        return 1
    return 2


def needs_panic_hardware(rating_a: float, least_rating_a: float) -> bool:
    """Whether doors near the working space swing out and have listed hardware (NEC 110.26(C)(3))."""
    return rating_a >= least_rating_a


def dedicated_height_ft(equipment_height_ft: float, above_ft: float, ceiling_ft: float) -> float:
    """Up to where the space over the footprint is kept free of foreign systems, in ft from the floor.

    From the floor to `above_ft` over the equipment or to the structural ceiling, whichever is lower (NEC 110.26(E)(1)).
    """
    return min(equipment_height_ft + above_ft, ceiling_ft)


def clear_depth_ft(room_depth_ft: float, equipment_depth_ft: float, opposite_depth_ft: float = 0.0) -> float:
    """What is left in front of equipment at a wall, in ft: the room less the equipment and what stands opposite."""
    return room_depth_ft - equipment_depth_ft - opposite_depth_ft
