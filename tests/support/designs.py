"""Made designs for properties: a small description, its text in the language, and a hypothesis strategy for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hypothesis import strategies as st

from fedfrom.quantity import SYSTEMS


@dataclass(frozen=True)
class MadeLoad:
    """A load line: kind, its amount as written, volts and phases as written, position ("" open), feet."""

    kind: str
    amount: str
    connection: str
    position: str
    feet: float
    more: str = ""


@dataclass(frozen=True)
class MadeGear:
    """A panelboard, fed from gear number `parent`; with `kva` over a transformer to 208Y/120 V of its own."""

    parent: int
    feet: float
    loads: tuple[MadeLoad, ...]
    kva: float = 0.0
    percent: float = 4.5
    ratio: float = 2.0
    feed: str = ""


@dataclass(frozen=True)
class Made:
    """A radial design: gear 0 is the service board. Fault in A at the service point."""

    fault_a: float
    ratio: float
    gear: tuple[MadeGear, ...]

    def level(self, index: int) -> str:
        """The voltage of a piece of gear."""
        here = self.gear[index]
        return "208Y/120 V" if here.kva else ("480Y/277 V" if index == 0 else self.level(here.parent))

    def blocks(self) -> list[str]:
        """The statements of the top level, in source order."""
        found = [
            f"utility UT {{\n    voltage 480Y/277 V\n    fault {self.fault_a:.0f} A at service point, "
            f"X/R {self.ratio:.4f}\n}}\n"
        ]
        for index, gear in enumerate(self.gear):
            found += self._gear(index, gear)
        return found

    def _gear(self, index: int, gear: MadeGear) -> list[str]:
        source = "UT" if index == 0 else f"P{gear.parent}"
        found = []
        if gear.kva:
            found.append(
                f"transformer T{index} {{\n    fed from {source}, {gear.feet:.1f} ft\n    rating {gear.kva:g} kVA\n"
                f"    secondary 208Y/120 V\n    impedance {gear.percent:.3f} %, X/R {gear.ratio:.3f}\n}}\n"
            )
            source = f"T{index}"
        kind = "switchboard" if index == 0 else "panelboard"
        feed = f", {gear.feed}" if gear.feed else ""
        lines = [f"{kind} P{index} {{", f"    fed from {source}, {gear.feet:.1f} ft{feed}"]
        lines += [_line(number, load, self.level(index)) for number, load in enumerate(gear.loads)]
        return [*found, "\n".join([*lines, "}\n"])]

    def text(self, order: Sequence[int] | None = None) -> str:
        """The program; `order` shuffles its statements."""
        blocks = self.blocks()
        chosen = blocks if order is None else [blocks[index] for index in order]
        return "fedfrom 1\n" + "\n".join(chosen)

    def with_load(self, gear: int, number: int, load: MadeLoad) -> Made:
        """The design with one load changed."""
        loads = list(self.gear[gear].loads)
        loads[number] = load
        return self.with_gear(gear, replace(self.gear[gear], loads=tuple(loads)))

    def with_gear(self, index: int, gear: MadeGear) -> Made:
        """The design with one piece of gear changed."""
        return replace(self, gear=tuple(gear if each == index else self.gear[each] for each in range(len(self.gear))))


def _line(number: int, load: MadeLoad, level: str) -> str:
    system = SYSTEMS[level]
    volts = {"3": f"{system.line_to_line_v:g} V 3-phase", "2": f"{system.line_to_line_v:g} V 1-phase",
             "1": f"{system.line_to_neutral_v:g} V 1-phase"}[load.connection]  # fmt: skip
    start = f"{load.position} " if load.position else ""
    more = f", {load.more}" if load.more else ""
    return f'    {start}{load.kind} "L{number}" {load.amount}, {volts}, {load.feet:.1f} ft{more}'


_THREE = st.sampled_from(
    [("motor", "5 hp"), ("motor", "15 hp"), ("motor", "25 hp"), ("equipment", "12 kVA"), ("equipment", "30 kVA"),
     ("heating", "18 kW"), ("equipment", "7.3 kVA")]
)  # fmt: skip
_ONE = st.sampled_from(
    [("lighting", "1.2 kVA"), ("equipment", "900 VA"), ("receptacles", "6 outlets"), ("equipment", "2.1 kVA")]
)


@st.composite
def loads(draw: st.DrawFn) -> tuple[MadeLoad, ...]:
    """Up to three 3-phase loads and four to neutral, all with pinned positions."""
    found = []
    for number in range(draw(st.integers(1, 3))):
        kind, amount = draw(_THREE)
        first = 1 + 6 * number
        positions = f"{first},{first + 2},{first + 4}"
        found.append(MadeLoad(kind, amount, "3", positions, draw(st.floats(10, 200))))
    for number in range(draw(st.integers(0, 4))):
        kind, amount = draw(_ONE)
        found.append(MadeLoad(kind, amount, "1", f"{2 + 2 * number}", draw(st.floats(10, 150))))
    return tuple(found)


@st.composite
def designs(draw: st.DrawFn, most: int = 5) -> Made:
    """A service board and up to `most` panels below each other, some over transformers."""
    gear = [MadeGear(0, 20.0, (MadeLoad("equipment", "20 kVA", "3", "", 50.0),))]
    low: set[int] = set()
    for index in range(1, draw(st.integers(1, most)) + 1):
        parent = draw(st.integers(0, index - 1))
        kva = draw(st.sampled_from([0.0, 0.0, 45.0, 112.5])) if parent not in low else 0.0
        if kva or parent in low:
            low.add(index)
        gear.append(
            MadeGear(
                parent, draw(st.floats(5, 400)), draw(loads()), kva, draw(st.floats(2, 7)), draw(st.floats(0.5, 6))
            )
        )
    return Made(draw(st.floats(5_000, 60_000)), draw(st.floats(1, 15)), tuple(gear))
