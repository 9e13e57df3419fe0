"""Values as a reviewer reads them in running text: the notation of the drawings, in sentence case."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.results.notation import (
    amperes_text,
    conductor_text,
    device_text,
    kva_text,
    length_text,
    percent_text,
    size_text,
)
from fedfrom.results.types import ConductorResult, DeviceResult

_LOWER = (
    (" SETS OF ", " sets of "),
    ("KCMIL", "kcmil"),
    (" INCH ", " inch "),
    (" EACH", " each"),
    (" FT", " ft"),
    (" AL,", " Al,"),
    ("NOT KNOWN", "not known"),
    ("CLASS", "class"),
    (" SW ", " switch "),
    (" FUSE", " fuse"),
    ("LOCK-ON", "lock-on"),
    ("DRAWOUT", "drawout"),
    ("ELECTRONIC", "electronic"),
    ("ARC RED.", "arc energy reduction"),
    (" 100 %", " 100 % rated"),
)


def conductors_shown(conductors: ConductorResult | None) -> str:
    """ "3-3/0 AWG, 1-6 AWG G, 2 inch EMT (Cu)"; the material is named, for a change of it must show."""
    if conductors is None:
        return "not known"
    return _lowered(conductor_text(conductors)).replace(" Al,", ",") + f" ({conductors.material})"


def device_shown(device: DeviceResult | None) -> str:
    """A device without its interrupting rating, which is a value of its own. "none" for None."""
    if device is None:
        return "none"
    kind = f"{device.kind}, " if device.kind not in ("breaker", "fused switch") else ""
    return kind + _lowered(device_text(replace(device, interrupting_a=None)))


def amperes(value: float | None) -> str:
    return _lowered(amperes_text(value))


def kiloamperes(value: float | None) -> str:
    """With one decimal always, so that two values can be compared."""
    return "not known" if value is None else f"{value / 1000:.1f} kA"


def kva(value: float | None) -> str:
    return _lowered(kva_text(value))


def percent(value: float | None) -> str:
    return _lowered(percent_text(value, 1))


def wire(size: str) -> str:
    """A bare size with its unit; a text that says more stays."""
    return _lowered(size_text(size)) if size.replace("/", "").isdigit() else size


def feet(value: float | None) -> str:
    return _lowered(length_text(value))


def _lowered(text: str) -> str:
    for drafting, word in _LOWER:
        text = text.replace(drafting, word)
    return text
