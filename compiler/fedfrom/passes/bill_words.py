"""Descriptions and keys of bill lines: noun first, ratings in a fixed order; a user's catalogue joins by the key."""

from __future__ import annotations

import re

from fedfrom.quantity import VoltageSystem
from fedfrom.results.notation import size_words
from fedfrom.results.types import DeviceResult, GearResult, TransformerResult

NOT_KNOWN = "NOT KNOWN"


def key_of(*parts: str) -> str:
    """A key from its parts: "panelboard/208Y-120V/225A-Cu/42"; no blanks, a slash inside a part becomes "-"."""
    clean = (re.sub(r"[^A-Za-z0-9.+-]", "", part.replace("/", "-").replace("%", "pct")) for part in parts)
    return "/".join(part or "any" for part in clean)


def join(*parts: str) -> str:
    """Parts with commas between, empty ones left out."""
    return ", ".join(part for part in parts if part)


def system_words(system: VoltageSystem | None) -> str:
    """ "480Y/277 V 3-phase 4-wire"."""
    if system is None:
        return f"voltage {NOT_KNOWN}"
    if system.is_dc:
        return f"{system.literal} {system.wires}-wire"
    return f"{system.literal} {system.phases}-phase {system.wires}-wire"


def amperes_words(amperes: float | None) -> str:
    return f"{amperes:g} A" if amperes is not None else f"amperes {NOT_KNOWN}"


def kilo_words(amperes: float | None, what: str = "") -> str:
    """ "65 kA", with what it is where it is not known."""
    return f"{amperes / 1000:g} kA" if amperes is not None else f"{what or 'rating'} {NOT_KNOWN}"


def device_words(device: DeviceResult, *, interrupting: bool = True) -> str:
    """ "Breaker, 600 A frame, 600 A trip, 3-pole, LSI, 65 kA"."""
    if device.fuse_a is not None:
        fuse_class = f" class {device.fuse_class}" if device.fuse_class else ""
        size = f"{device.rating_a:g} A, {device.fuse_a:g} A fuses{fuse_class}"
    elif device.frame_a is not None and device.kind == "breaker":
        size = f"{device.frame_a:g} A frame, {device.rating_a:g} A trip"
    else:
        size = f"{device.rating_a:g} A"
    rating = kilo_words(device.interrupting_a, "interrupting rating") if interrupting else ""
    return join(device.kind.capitalize(), size, f"{device.poles}-pole", device.functions, option_words(device), rating)


def device_key(device: DeviceResult) -> str:
    """ "device/breaker/600A/3P/LSI/65kA"."""
    rating = f"{device.interrupting_a / 1000:g}kA" if device.interrupting_a is not None else ""
    return key_of("device", device.kind, f"{device.protects_a:g}A", f"{device.poles}P", device.functions, rating)


def option_words(device: DeviceResult) -> str:
    """Options sorted, then the means of arc-energy reduction."""
    return join(*sorted(device.options), device.arc_reduction)


def short_device_words(device: DeviceResult) -> str:
    """A branch device in a list: "20 A 1-pole GFPE"."""
    fuse = f" fused {device.fuse_a:g} A" if device.fuse_a is not None else ""
    kind = "" if device.kind == "breaker" else f" {device.kind}"
    marks = " ".join(part for part in (device.functions, option_words(device)) if part)
    return f"{device.rating_a:g} A {device.poles}-pole{kind}{fuse} {marks}".strip()


def mains_words(gear: GearResult) -> str:
    """ "1600 A main breaker 3-pole LSIG", "main lugs only"."""
    if gear.main is None:
        return "main lugs only" if gear.main_lugs else f"mains {NOT_KNOWN}"
    main = gear.main
    fuse = f" with {main.fuse_a:g} A fuses class {main.fuse_class or NOT_KNOWN}" if main.fuse_a is not None else ""
    words = f"{main.rating_a:g} A main {main.kind} {main.poles}-pole{fuse} {main.functions}".strip()
    return join(words, option_words(main))


def mains_key(gear: GearResult) -> str:
    return f"main{gear.main.protects_a:g}A-{gear.main.poles}P" if gear.main else "lugs"


def transformer_words(item: TransformerResult) -> str:
    """The description of a dry-type transformer without its stated facts."""
    kva = f"{item.kva:g} kVA" if item.kva is not None else f"kVA {NOT_KNOWN}"
    primary = item.primary.literal if item.primary else NOT_KNOWN
    secondary = item.secondary.literal if item.secondary else NOT_KNOWN
    return join("Transformer, dry-type", kva, f"{primary} to {secondary}", item.connection, item.k_factor)


def conductor_description(material: str, insulation: str, size: str) -> str:
    return join("Conductor", material, insulation, size_words(size))
