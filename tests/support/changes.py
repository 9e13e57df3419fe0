"""Small plants that are changed, and their comparison: each text is compiled once."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

from fedfrom.changes.compare import compare
from fedfrom.changes.types import Difference, Side
from fedfrom.compile import compile_project

PLANT = """fedfrom 1

project "Test bench" {
    number  "T-1"
    code    NEC 2023
}

defaults {
    wire    Cu THHN/THWN-2 in EMT
    drop    feeder 2 %, branch 3 %, total 5 %
    growth  load 10 %
}

utility UT {
    voltage  480Y/277 V
    fault    30 kA at service point, X/R 8
}

switchboard MSB "Main" {
    fed from   UT, 40 ft
    metering   utility
    main       breaker 1200 A, LSIG, arc reduction maintenance switch
    place      indoor "Room 1"
    electrode  building steel, 20 ft
    electrode  water pipe, 30 ft
}

panelboard DP1 "Line 1" {
    fed from   MSB, 120 ft
    place      indoor "Hall 1"
    motor M-1 "Washer"    25 hp, 60 ft
    motor M-2 "Filler"    15 hp, 80 ft
    equipment  "Tunnel"   24 kW, 480 V 3-phase, continuous, 50 ft
}

transformer T1 "Offices" {
    fed from   MSB, 60 ft
    secondary  208Y/120 V
    electrode  building steel, 20 ft
}

panelboard LP1 "Offices" {
    fed from     T1, 15 ft
    main         breaker
    place        indoor "Office"
    receptacles  "North"     8 outlets, 60 ft
    receptacles  "South"     9 outlets, 70 ft
    lighting     "Office"    4_000 ft2 office, 80 ft
    equipment    "Copier"    1.5 kVA, 120 V, 65 ft
}

panelboard LP2 "Laboratory" {
    fed from     LP1, 90 ft
    place        indoor "Laboratory"
    receptacles  "Bench"     8 outlets, 35 ft
    equipment    "Oven"      6 kW, 208 V 3-phase, 50 ft
}

expect fault at LP1 <= 14 kA
expect demand at MSB <= 700 A
"""


def changed(*replacements: tuple[str, str], text: str = PLANT) -> str:
    """The plant with texts replaced; each must be in it, once."""
    for old, new in replacements:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


@cache
def side(text: str) -> Side:
    """A compiled text, called plant.fed."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plant.fed"
        path.write_text(text, encoding="utf-8")
        compilation = compile_project(path)
    assert compilation.model is not None, compilation.findings
    assert not compilation.model.incomplete, compilation.findings
    assert compilation.network is not None
    assert compilation.results is not None
    return Side("plant.fed", compilation.model, compilation.network, compilation.results, compilation.files)


def difference(*replacements: tuple[str, str]) -> Difference:
    """What these replacements do to the plant."""
    return compare(side(PLANT), side(changed(*replacements)))


def line_of(text: str, part: str) -> int:
    """The number of the line that holds a part of the text."""
    return text[: text.index(part)].count("\n") + 1
