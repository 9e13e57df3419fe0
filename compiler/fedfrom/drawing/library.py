"""A sample of every symbol, for the legend of a sheet."""

from __future__ import annotations

from collections.abc import Callable

from fedfrom.drawing.equipment import (
    converter,
    direct_source,
    equipment_outline,
    feeder_tag,
    generator,
    ground,
    motor,
    surge_device,
    transfer_switch,
    transformer,
    utility,
)
from fedfrom.drawing.revised import triangle
from fedfrom.drawing.scene import Group, Polyline
from fedfrom.drawing.shapes import line, rectangle
from fedfrom.drawing.style import REFERENCE, Pen
from fedfrom.drawing.symbols import (
    bolted_pressure_switch,
    breaker,
    contactor,
    drawout_breaker,
    drive,
    fuse,
    fused_switch,
    ground_fault_relay,
    meter,
    named,
    overload,
    soft_starter,
    switch,
)

Sample = Callable[[Pen], Group]


def _flag(_: Pen) -> Group:
    outline = ((-0.24, 0.0), (0.24, 0.0), (0.24, 0.16), (0.0, 0.26), (-0.24, 0.16))
    return named("continuation", (Polyline(outline, REFERENCE, closed=True),))


SAMPLES: dict[str, Sample] = {
    "utility": lambda pen: utility(pen).group,
    "generator": lambda pen: generator(pen).group,
    "inverter-source": lambda pen: direct_source(pen, "PV").group,
    "transformer": lambda pen: transformer(pen, "delta", "wye-grounded").group,
    "transfer-switch": lambda pen: transfer_switch(pen, ("N", "E")),
    "maintenance-bypass": lambda pen: transfer_switch(pen, ("N", "B"), name="maintenance-bypass"),
    "ups": lambda pen: converter(pen, "UPS", 1),
    "rectifier": lambda pen: converter(pen, "REC", 1, name="rectifier"),
    "converter": lambda pen: converter(pen, "CONV", 1, name="converter"),
    "breaker": lambda pen: breaker(pen).group,
    "drawout-breaker": lambda pen: drawout_breaker(pen).group,
    "fused-switch": lambda pen: fused_switch(pen).group,
    "bolted-pressure-switch": lambda pen: bolted_pressure_switch(pen).group,
    "switch": lambda pen: switch(pen).group,
    "fuse": lambda pen: fuse(pen).group,
    "contactor": lambda pen: contactor(pen).group,
    "overload": lambda pen: overload(pen).group,
    "drive": lambda pen: drive(pen).group,
    "soft-starter": lambda pen: soft_starter(pen).group,
    "meter": lambda pen: meter(pen).group,
    "ground-fault-relay": lambda pen: ground_fault_relay(pen).group,
    "surge-device": surge_device,
    "ground": ground,
    "motor": lambda pen: motor(pen, "20").group,
    "panelboard": lambda pen: named("panelboard", (rectangle(-0.22, 0, 0.22, 0.26, pen.box),)),
    "equipment": lambda pen: named("equipment", (equipment_outline(0.22, 0.22, pen),)),
    "bus": lambda pen: named("bus", (line(-0.28, 0, 0.28, 0, pen.bus),)),
    "terminal-bar": lambda pen: named("terminal-bar", (line(-0.28, 0, 0.28, 0, pen.bus),)),
    "enclosure": lambda pen: named("enclosure", (rectangle(-0.28, 0, 0.28, 0.20, pen.enclosure),)),
    "feeder-tag": lambda pen: feeder_tag("DP1"),
    "revision": lambda _: triangle("A"),
    "continuation": _flag,
}
"""Symbol name -> how it is drawn in a legend."""
