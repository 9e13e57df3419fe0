"""How a fault current came about, as a hand calculation down the path from the source."""

from __future__ import annotations

import math

from fedfrom.graph.network import Node
from fedfrom.model.items import Origin
from fedfrom.passes.fault_study import BusFault
from fedfrom.passes.network_model import Link, StateNetwork
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.notation import kiloamperes_text
from fedfrom.results.types import FaultResult


def fault_derivation(subject: str, node: Node, fault: FaultResult, bus: BusFault, network: StateNetwork) -> Derivation:
    """The derivation of a node's greatest fault: impedances from the source on, their sum, the currents."""
    steps = [*_path_steps(network, node.tag), *_current_steps(bus, fault)]
    return Derivation(
        subject=subject,
        title=f"Available fault current at {node.tag}",
        value=f"{fault.greatest_a:.0f} A",
        origin=Origin.CHOSEN,
        inputs=(
            Input("E", "line-to-line voltage", f"{bus.level.line_to_line_v:g} V"),
            Input("", "source", fault.basis),
        ),
        steps=tuple(steps),
        rounding="none; rms symmetrical amperes, complex R + jX throughout",
        clause="sequence components; NEC Chapter 9, Table 9 for conductors",
        state=fault.state,
        span=node.item.tag_span,
    )


def _path_steps(network: StateNetwork, tag: str) -> list[Step]:
    links: dict[str, Link] = {}
    for link in network.links:
        links.setdefault(link.load, link)
    path: list[Link] = []
    here, seen = tag, {tag}
    while here in links and links[here].supply not in seen:
        path.append(links[here])
        here = links[here].supply
        seen.add(here)
    steps = []
    source = network.sources.get(here)
    if source is not None and source.z1 is not None:
        steps.append(Step(f"Z({here})", "source", ohms(source.z1)))
    total = source.z1 if source is not None and source.z1 is not None else 0j
    for link in reversed(path):
        if link.z1 is None or link.z1 == 0:
            continue
        if link.transforms:
            ahead = network.levels.get(link.supply)
            behind = network.levels[link.load]
            ratio = behind.line_to_line_v / ahead.line_to_line_v if ahead is not None else 1.0
            total *= ratio**2
            numbers = f"referred to {behind.line_to_line_v:g} V: {ohms(total)}, plus {ohms(link.z1)}"
        else:
            numbers = f"{ohms(total)} plus {ohms(link.z1)}"
        total += link.z1
        steps.append(Step(f"Z({link.load}) = Z({link.supply}) + Z(run)", numbers, ohms(total)))
    return steps


def _current_steps(bus: BusFault, fault: FaultResult) -> list[Step]:
    volts = bus.level.line_to_line_v
    steps = []
    if fault.motor_contribution_a > 0.5:
        text = f"running motors in parallel add {fault.motor_contribution_a:.0f} A"
        steps.append(Step("Z1 = Z without motors, in parallel with the motors'", text, ohms(bus.z1)))
    if fault.phases == 3:
        numbers = f"{volts:g} / (1.732 x {abs(bus.z1):.6f})"
        steps.append(Step("I3 = E / (sqrt(3) |Z1|)", numbers, f"{fault.three_phase_a:.0f} A"))
    if fault.line_line_a is not None:
        numbers = f"{volts:g} / (2 x {abs(bus.z1):.6f})"
        steps.append(Step("ILL = E / |2 Z1|", numbers, f"{fault.line_line_a:.0f} A"))
    if fault.line_ground_a is not None and bus.z0 is not None:
        to_neutral = volts / math.sqrt(3) if bus.level.phases == 3 else volts / 2
        if bus.level.kind == "high-leg delta":
            to_neutral = bus.level.line_to_neutral_v
        numbers = f"3 x {to_neutral:.1f} / {abs(2 * bus.z1 + bus.z0):.6f}"
        steps.append(Step("ILG = 3 E(LN) / |2 Z1 + Z0|", numbers, f"{fault.line_ground_a:.0f} A"))
    ratio = "-" if fault.x_over_r is None else f"{fault.x_over_r:.2f}"
    steps.append(Step("X/R", f"{bus.z1.imag:.6f} / {bus.z1.real:.6f}", ratio))
    steps.append(Step("greatest", "of the above", kiloamperes_text(fault.greatest_a)))
    return steps


def ohms(z: complex) -> str:
    """An impedance for a reader, in milliohm."""
    sign = "+" if z.imag >= 0 else "-"
    return f"{z.real * 1000:.3f} {sign} j{abs(z.imag) * 1000:.3f} mohm"
