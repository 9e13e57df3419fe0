"""Tap and transformer secondary conductors: which rule applies at a length, and what ampacity it asks for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TapRule:
    """One row of the rules: `clause` key, length in ft (None: no limit), least share of the device upstream."""

    key: str
    clause: str
    applies_to: str
    max_length_ft: float | None
    min_fraction: float | None


def tap_ampacity(device_a: float, fraction: float, voltage_ratio: float = 1.0) -> float:
    """Least ampacity in A: a share of the device ahead, times primary over secondary volts (NEC 240.21(B), (C))."""
    return device_a * fraction * voltage_ratio


def rule_for_length(rules: Sequence[TapRule], applies_to: str, length_ft: float) -> TapRule | None:
    """The rule with the shortest limit that this length keeps, or None where it is too long for every one."""
    fitting = [
        rule
        for rule in rules
        if rule.applies_to == applies_to and rule.max_length_ft is not None and length_ft <= rule.max_length_ft + 1e-9
    ]
    return min(fitting, key=lambda rule: rule.max_length_ft or 0.0, default=None)
