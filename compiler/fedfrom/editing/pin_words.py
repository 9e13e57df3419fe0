"""Chosen values in the words of the language: `breaker 350 A`, `phase 3/0 AWG`, `rating 75 kVA`."""

from __future__ import annotations

from fedfrom.model.items import Origin
from fedfrom.results.notation import size_words
from fedfrom.results.types import ConductorResult, DeviceResult

_DEVICES = ("breaker", "fused switch", "bolted-pressure switch", "switch")
_CONDUCTORS = ("phase", "neutral", "ground", "raceway")


def plain(number: float) -> str:
    """A number without needless decimals: "75", "37.5"."""
    return f"{number:.6g}" if number < 1e6 else f"{number:.0f}"


def amperes(value: float) -> str:
    return f"{plain(value)} A"


def kiloamperes(value: float) -> str:
    return f"{plain(value / 1000)} kA"


def device(result: DeviceResult | None) -> str:
    """A device with its rating; "" for one that the language has no word for (or none)."""
    if result is None or result.kind not in _DEVICES:
        return ""
    words = f"{result.kind} {amperes(result.rating_a)}"
    if result.fuse_a is None:
        return words
    kind = f" class {result.fuse_class}" if result.fuse_class else ""
    return f"{words}, fuse {amperes(result.fuse_a)}{kind}"


def conductors(result: ConductorResult | None) -> dict[str, str]:
    """The chosen sizes by name. Several sets come with the phase conductors: one means nothing without the other."""
    if result is None or result.by:
        return {}
    sizes = {
        "phase": size_words(result.phase) if result.phase else "",
        "neutral": size_words(result.neutral) if result.neutral else "",
        "ground": size_words(result.ground) if result.ground and result.ground_kind.startswith("equipment") else "",
        "raceway": f"{result.raceway_size} inch" if result.raceway_size else "",
    }
    words = {
        name: f"{name} {sizes[name]}"
        for name in _CONDUCTORS
        if sizes[name] and result.origins.get(name) is Origin.CHOSEN
    }
    if "phase" in words and result.sets > 1 and result.origins.get("sets") is Origin.CHOSEN:
        words["phase"] = f"sets {result.sets}, {words['phase']}"
    return words
