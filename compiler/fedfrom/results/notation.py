"""How values are written on drawings and in schedules: one notation for all of them, in trade words.

Sizes "12 AWG", "3/0 AWG", "250 KCMIL"; amperes without needless decimals; devices as frame / trip.
"""

from __future__ import annotations

import re

from fedfrom.results.types import ConductorResult, DeviceResult


def size_text(size: str) -> str:
    """A conductor size as drawings letter it: "12 AWG", "250 KCMIL"; "" for none."""
    return size_words(size).replace("kcmil", "KCMIL") if size else ""


def size_words(size: str) -> str:
    """A conductor size with its unit: "12 AWG", "3/0 AWG", "250 kcmil". Table names of 250 and up are kcmil."""
    return f"{size} kcmil" if size.isdigit() and int(size) >= 250 else f"{size} AWG"


def amperes_text(amperes: float | None) -> str:
    """Amperes for a reader: whole from 100 up, one decimal below, "NOT KNOWN" for None."""
    if amperes is None:
        return "NOT KNOWN"
    if amperes >= 100 or abs(amperes - round(amperes)) < 0.05:
        return f"{amperes:.0f} A"
    return f"{amperes:.1f} A"


def kiloamperes_text(amperes: float | None) -> str:
    """Kiloamperes with one decimal (none where whole), "NOT KNOWN" for None."""
    if amperes is None:
        return "NOT KNOWN"
    value = amperes / 1000
    return f"{value:.0f} kA" if abs(value - round(value)) < 0.005 else f"{value:.1f} kA"


def kva_text(va: float | None) -> str:
    """Kilovolt-amperes with one decimal, two below 10, "NOT KNOWN" for None."""
    if va is None:
        return "NOT KNOWN"
    value = va / 1000
    return f"{value:.2f} kVA" if value < 10 else f"{value:.1f} kVA"


def percent_text(percent: float | None, digits: int = 1) -> str:
    """A percentage, "NOT KNOWN" for None."""
    return "NOT KNOWN" if percent is None else f"{percent:.{digits}f} %"


def length_text(feet: float | None) -> str:
    """A length in feet, "NOT KNOWN" for None."""
    if feet is None:
        return "NOT KNOWN"
    return f"{feet:.0f} FT" if abs(feet - round(feet)) < 0.05 else f"{feet:.1f} FT"


def conductor_lines(conductors: ConductorResult) -> tuple[str, ...]:
    """The callout of a feeder, one or two lines: conductors of a set, then raceway.

    ("2 SETS OF", "4-500 KCMIL, 1-1/0 AWG G", "4 INCH EMT EACH") or ("3-12 AWG, 1-12 AWG G", "1/2 INCH EMT").
    """
    hot = conductors.ungrounded
    parts = []
    if conductors.neutral and conductors.neutral == conductors.phase:
        parts.append(f"{hot + 1}-{size_text(conductors.phase)}")
    else:
        parts.append(f"{hot}-{size_text(conductors.phase)}")
        if conductors.neutral:
            parts.append(f"1-{size_text(conductors.neutral)} N")
    if conductors.ground:
        mark = "SSBJ" if conductors.ground_kind.startswith("supply-side") else "G"
        parts.append(f"1-{size_text(conductors.ground)} {mark}")
    if conductors.material == "Al":
        parts[0] += " AL"
    wires = ", ".join(parts)
    raceway = f"{conductors.raceway_size} INCH {conductors.raceway_kind}".strip() if conductors.raceway_size else ""
    if conductors.sets > 1:
        lines = [f"{conductors.sets} SETS OF", wires]
        if raceway:
            lines.append(f"{raceway} EACH")
        return tuple(lines)
    return (wires, raceway) if raceway else (wires,)


def conductor_text(conductors: ConductorResult | None) -> str:
    """The callout on one line, "NOT KNOWN" for None."""
    return (
        "NOT KNOWN" if conductors is None else ", ".join(conductor_lines(conductors)).replace("SETS OF, ", "SETS OF ")
    )


def device_lines(device: DeviceResult) -> tuple[str, ...]:
    """A device as two or three short lines: frame/trip (or switch/fuse), poles and functions, interrupting rating."""
    first = f"{device.rating_a:g} A"
    if device.fuse_a is not None:
        fuse_class = f" CLASS {device.fuse_class}" if device.fuse_class else ""
        first = f"{device.rating_a:g} A SW / {device.fuse_a:g} A FUSE{fuse_class}"
    elif device.frame_a is not None and device.kind == "breaker":
        first = f"{device.frame_a:g} AF / {device.rating_a:g} AT"
    marks = [f"{device.poles}P", device.functions, *option_marks(device)]
    lines = [first, " ".join(mark for mark in marks if mark)]
    if device.interrupting_a is not None:
        lines.append(kiloamperes_text(device.interrupting_a))
    return tuple(lines)


def device_text(device: DeviceResult | None) -> str:
    """A device on one line, "-" for None."""
    return "-" if device is None else ", ".join(device_lines(device))


# Words of the language -> drafting abbreviations that stand in the legend.
OPTION_MARKS = {
    "shunt trip": "ST",
    "lock-on": "LOCK-ON",
    "drawout": "DRAWOUT",
    "100 % rated": "100 %",
    "electrical operator": "EO",
    "electronic": "ELECTRONIC",
}


def option_marks(device: DeviceResult) -> tuple[str, ...]:
    """The options of a device as abbreviations, in a fixed order."""
    marks = [OPTION_MARKS.get(option, option.upper()) for option in sorted(device.options)]
    if device.arc_reduction:
        marks.append("ARC RED.")
    return tuple(marks)


# Capitals of drawings -> the same in running text. Each stands behind a figure or another of these words.
_PLAIN = (
    (re.compile(r"(?<=\d) INCH\b"), " inch"),
    (re.compile(r"(?<=\d) KCMIL\b"), " kcmil"),
    (re.compile(r"(?<=\d) FT\b"), " ft"),
    (re.compile(r"(?<=\d) SETS OF\b"), " sets of"),
    (re.compile(r"(?<=\w) EACH\b"), " each"),
    (re.compile(r"(?<=\d A) SW / "), " switch / "),
    (re.compile(r"(?<=\d A) FUSE\b"), " fuse"),
    (re.compile(r"(?<=fuse) CLASS\b"), " class"),
    (re.compile(r"\bNOT KNOWN\b"), "not known"),
    (re.compile(r"\bARC RED\."), "arc reduction"),
)

_CAPITALS = re.compile(r"[A-Z]{2}")


def plain(text: str) -> str:
    """The notation of drawings in running text: "1-1/4 INCH EMT" -> "1-1/4 inch EMT"; tags stay."""
    if not _CAPITALS.search(text):
        return text
    for pattern, word in _PLAIN:
        text = pattern.sub(word, text)
    return text
