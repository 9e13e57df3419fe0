"""Lengths to buy: conductors, raceway and their fittings."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Length:
    """A length to buy, ft: what the plan needs, what is allowed for make-up and waste, and both together."""

    net_ft: float
    allowance_ft: float

    @property
    def gross_ft(self) -> float:
        return self.net_ft + self.allowance_ft


def conductor_length(conductors: int, run_ft: float, make_up_ft: float, waste_pct: float) -> Length:
    """The length of conductor for one run, ft.

    Args: conductors: all conductors of this size in the run, parallel sets counted. run_ft: route, one way, with its
    vertical parts. make_up_ft: length inside gear at both ends together, for each conductor. waste_pct: waste, percent.
    Source: estimating practice as published in a trade magazine's estimating series (2011); waste 10 % from an
    estimating course; make-up lengths from memory.
    """
    net = conductors * run_ft
    gross = conductors * (run_ft + make_up_ft) * (1.0 + waste_pct / 100.0)
    return Length(net, gross - net)


def raceway_length(raceways: int, run_ft: float, waste_pct: float) -> Length:
    """The length of raceway for one run, ft; one raceway for each parallel set. Source: common practice, no source."""
    net = raceways * run_ft
    return Length(net, net * waste_pct / 100.0)


def couplings(raceways: int, run_ft: float, piece_ft: float) -> int:
    """Couplings between pieces of `piece_ft` in a run, for all raceways. Source: common practice, no source."""
    pieces = max(1, math.ceil(run_ft / piece_ft))
    return raceways * (pieces - 1)


def spare_fuses(installed: int, percent: float, least: int) -> int:
    """Spare fuses of one rating: `percent` of those installed, rounded up, not fewer than `least`; 0 where none is.

    Source: common practice, no source (10 %, not fewer than three, is usual in public specifications).
    """
    return max(least, math.ceil(installed * percent / 100.0)) if installed else 0
