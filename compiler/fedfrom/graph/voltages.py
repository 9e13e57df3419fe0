"""Which voltage systems can be taken from which, and what a load's volts mean at its gear."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.quantity import SYSTEMS, VoltageSystem

# Nameplate volts -> the nominal system volts that it serves on (430.6(A)(1) and utilization practice, from memory).
NAMEPLATE_VOLTS = {
    110: (120,), 115: (120,), 127: (127, 120), 200: (208,), 220: (240,), 230: (240,), 265: (277,), 380: (400, 380),
    440: (480,), 460: (480,), 550: (600,), 575: (600,),
}  # fmt: skip


def available(parent: VoltageSystem, child: VoltageSystem) -> bool:
    """Whether gear of system `child` can be fed from gear of system `parent` without a transformer."""
    if parent.literal == child.literal:
        return True
    if parent.is_dc or child.is_dc:
        return parent.is_dc and child.is_dc and _dc_available(parent, child)
    if child.kind == "isolated" or parent.kind == "isolated":
        return False
    if child.phases == 3:
        return _three_phase_available(parent, child)
    return _single_phase_available(parent, child)


def _dc_available(parent: VoltageSystem, child: VoltageSystem) -> bool:
    """A two-wire system from the outer or from one outer and the neutral conductor of a three-wire one."""
    if child.has_neutral:
        return False
    return child.line_to_line_v in (parent.line_to_line_v, parent.line_to_neutral_v)


def _three_phase_available(parent: VoltageSystem, child: VoltageSystem) -> bool:
    """Three wires of a four-wire system; the grounding of the source stays what it is."""
    if parent.phases != 3 or child.has_neutral or child.line_to_line_v != parent.line_to_line_v:
        return False
    return child.grounding == parent.grounding or (parent.has_neutral and child.grounding == "solid")


def _single_phase_available(parent: VoltageSystem, child: VoltageSystem) -> bool:
    """Two or three wires of a system with the same volts between them."""
    if child.kind == "single-phase-of-wye":
        return parent.kind == "wye" and parent.line_to_line_v == child.line_to_line_v
    if child.kind == "single-phase":
        same = parent.line_to_line_v == child.line_to_line_v and parent.line_to_neutral_v == child.line_to_neutral_v
        return same and parent.kind in ("single-phase", "high-leg delta")
    if child.has_neutral:
        return parent.has_neutral and parent.line_to_neutral_v == child.line_to_line_v
    return parent.line_to_line_v == child.line_to_line_v and parent.kind != "two-wire"


def offered(parent: VoltageSystem) -> tuple[str, ...]:
    """The literals of the systems that can be taken from `parent`, its own first."""
    others = [name for name, system in SYSTEMS.items() if name != parent.literal and available(parent, system)]
    return (parent.literal, *others)


def tap_of(parent: VoltageSystem, volts: float, phases: int) -> VoltageSystem | None:
    """The system that a feed written as `208 V 1-phase` takes from `parent`, or None where it does not offer it.

    Nameplate volts count as the system volts that they serve on.
    """
    nominal = nominal_volts(parent, volts)
    if nominal is None:
        return None
    if nominal == parent.line_to_line_v and phases == (parent.phases or 1):
        return parent
    if phases == 3:
        return None
    if nominal == parent.line_to_neutral_v and nominal != parent.line_to_line_v:
        return _two_wire(nominal, nominal, nominal)
    return _two_wire(nominal, 0.0, parent.to_ground_v) if nominal == parent.line_to_line_v else None


def _two_wire(volts: float, to_neutral: float, to_ground: float) -> VoltageSystem:
    literal = f"{volts:g} V" if to_neutral else f"{volts:g} V 1-phase"
    known = SYSTEMS.get(literal)
    if known is not None and known.phases == 1:
        return known
    return VoltageSystem(literal, volts, to_neutral, 1, 2, "two-wire", "solid", to_ground)


def nominal_volts(system: VoltageSystem, volts: float) -> float | None:
    """The nominal volts of `system` that `volts` (nominal or nameplate) stand for, or None where it has none such."""
    have = [system.line_to_line_v, system.line_to_neutral_v]
    for candidate in (volts, *NAMEPLATE_VOLTS.get(round(volts), ())):
        if candidate > 0 and candidate in have:
            return float(candidate)
    return None


@dataclass(frozen=True, slots=True)
class Connection:
    """How a load is connected: `volts` across its terminals (system nominal), 1 or 3 phases, `to_neutral`, `poles`."""

    volts: float
    phases: int
    to_neutral: bool
    poles: int
