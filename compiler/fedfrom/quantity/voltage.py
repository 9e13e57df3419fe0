"""Voltage systems: a closed table of literals; every property that a calculation needs is in the row."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class VoltageSystem:
    """One supply system as it is written in the language.

    `literal` as written ("480Y/277 V"); `line_to_line_v`, `line_to_neutral_v` (0.0 without a neutral);
    `phases` 1 or 3 (0 for DC); `wires` without the equipment ground; `kind`: wye, delta, high-leg delta,
    corner-grounded delta, single-phase, single-phase-of-wye, two-wire, isolated, dc;
    `grounding`: solid, ungrounded, corner, resistance, isolated, none; `to_ground_v` the greatest voltage to ground.
    """

    literal: str
    line_to_line_v: float
    line_to_neutral_v: float
    phases: int
    wires: int
    kind: str
    grounding: str
    to_ground_v: float

    @property
    def has_neutral(self) -> bool:
        return self.line_to_neutral_v > 0

    @property
    def is_dc(self) -> bool:
        return self.kind == "dc"


def _s(
    literal: str, ll: float, ln: float, phases: int, wires: int, kind: str, grounding: str, ground: float
) -> VoltageSystem:
    return VoltageSystem(literal, ll, ln, phases, wires, kind, grounding, ground)


SYSTEMS: dict[str, VoltageSystem] = {
    system.literal: system
    for system in (
        _s("208Y/120 V", 208, 120, 3, 4, "wye", "solid", 120),
        _s("220Y/127 V", 220, 127, 3, 4, "wye", "solid", 127),
        _s("380Y/220 V", 380, 220, 3, 4, "wye", "solid", 220),
        _s("400Y/230 V", 400, 230, 3, 4, "wye", "solid", 230),
        _s("415Y/240 V", 415, 240, 3, 4, "wye", "solid", 240),
        _s("480Y/277 V", 480, 277, 3, 4, "wye", "solid", 277),
        _s("480Y/277 V resistance-grounded", 480, 277, 3, 4, "wye", "resistance", 480),
        _s("600Y/347 V", 600, 347, 3, 4, "wye", "solid", 347),
        _s("120/240 V", 240, 120, 1, 3, "single-phase", "solid", 120),
        _s("120/208 V", 208, 120, 1, 3, "single-phase-of-wye", "solid", 120),
        _s("240/480 V", 480, 240, 1, 3, "single-phase", "solid", 240),
        _s("240/120 V high-leg", 240, 120, 3, 4, "high-leg delta", "solid", 208),
        _s("208 V", 208, 0, 3, 3, "delta", "solid", 120),
        _s("230 V", 230, 0, 3, 3, "delta", "solid", 133),
        _s("240 V", 240, 0, 3, 3, "delta", "solid", 139),
        _s("240 V ungrounded", 240, 0, 3, 3, "delta", "ungrounded", 240),
        _s("240 V corner-grounded", 240, 0, 3, 3, "corner-grounded delta", "corner", 240),
        _s("480 V", 480, 0, 3, 3, "delta", "solid", 277),
        _s("480 V ungrounded", 480, 0, 3, 3, "delta", "ungrounded", 480),
        _s("480 V corner-grounded", 480, 0, 3, 3, "corner-grounded delta", "corner", 480),
        _s("600 V", 600, 0, 3, 3, "delta", "solid", 347),
        _s("600 V ungrounded", 600, 0, 3, 3, "delta", "ungrounded", 600),
        _s("120 V", 120, 120, 1, 2, "two-wire", "solid", 120),
        _s("277 V", 277, 277, 1, 2, "two-wire", "solid", 277),
        _s("120 V isolated", 120, 0, 1, 2, "isolated", "isolated", 120),
        _s("208 V isolated", 208, 0, 1, 2, "isolated", "isolated", 208),
        _s("240 V isolated", 240, 0, 1, 2, "isolated", "isolated", 240),
        _s("125 V DC", 125, 0, 0, 2, "dc", "solid", 125),
        _s("125/250 V DC", 250, 125, 0, 3, "dc", "solid", 125),
        _s("250 V DC", 250, 0, 0, 2, "dc", "solid", 250),
        _s("380 V DC", 380, 0, 0, 2, "dc", "solid", 380),
        _s("600 V DC", 600, 0, 0, 2, "dc", "solid", 600),
    )
}


def find_system(literal: str) -> VoltageSystem | None:
    """The system written like this (single blanks between words), or None."""
    return SYSTEMS.get(" ".join(literal.split()))
