"""Transformers: rated currents, overcurrent protection, size."""

from __future__ import annotations

import math
from collections.abc import Sequence

from fedfrom.formulas.overcurrent import next_standard_rating, standard_rating_not_over


def rated_current(kva: float, line_to_line_v: float, phases: int) -> float:
    """Rated current in A of a winding: kVA over sqrt(3) V, or over V for single-phase."""
    return kva * 1000 / (line_to_line_v * (math.sqrt(3) if phases == 3 else 1.0))


def greatest_device(rated_a: float, percent: float, next_size_up: bool, ratings: Sequence[float]) -> float | None:
    """The greatest device in A for a winding (NEC Table 450.3(B) and its Note 1).

    Where 125 % gives no standard rating the next higher one is allowed (`next_size_up`); other percentages round down.
    """
    limit = rated_a * percent / 100
    if next_size_up:
        return next_standard_rating(limit, ratings)
    return standard_rating_not_over(limit, ratings)


def bank_kva(line_to_line_v: float, phases: int, greatest_line_a: float) -> float:
    """kVA of a transformer whose windings all carry what the greatest line of its secondary does."""
    return (math.sqrt(3) if phases == 3 else 1.0) * line_to_line_v * greatest_line_a / 1000


def transformer_size(load_kva: float, sizes_kva: Sequence[float]) -> float | None:
    """The smallest standard size in kVA that carries the load, None above the largest (common practice)."""
    return next((size for size in sizes_kva if size >= load_kva - 1e-6), None)


def generator_conductor(nameplate_a: float) -> float:
    """Least ampacity in A from generator terminals to the first device: 115 % of nameplate (NEC 445.13(A))."""
    return 1.15 * nameplate_a
