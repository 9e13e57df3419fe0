"""How a fault current came about, as a hand calculation down the path from the source."""

from __future__ import annotations

import math
from collections.abc import Mapping

from fedfrom.formulas.impedance import resistance_at
from fedfrom.formulas.voltage_drop import run_impedance
from fedfrom.graph.network import Node
from fedfrom.model.items import Origin
from fedfrom.passes.conductor_temperature import TABLE_C, correction_step
from fedfrom.passes.fault_study import BusFault
from fedfrom.passes.network_model import Link, NetworkData, StateNetwork
from fedfrom.passes.source_impedance import SourceImpedance
from fedfrom.quantity import VoltageSystem
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.types import ConductorResult, FaultResult, FeederResult

TABLE_9 = "Chapter 9, Table 9"
Run = tuple[float, ConductorResult]  # length in ft, conductors


def fault_derivation(
    subject: str,
    node: Node,
    fault: FaultResult,
    bus: BusFault,
    network: StateNetwork,
    feeders: Mapping[str, FeederResult] | None = None,
    data: NetworkData | None = None,
    degrees_c: float = TABLE_C,
    ties: Mapping[tuple[str, str], Run] | None = None,
) -> Derivation:
    """The derivation of a node's greatest fault: impedances from the source on, their sum, the currents.

    With `feeders` and `data` each impedance on the way is worked out too, from length and table or nameplate; the
    feeders' resistances are those at 75 C, and the line that takes them to `degrees_c` is one of the calculation.
    `ties`: length and conductors of the ties that have a length, by the tags of both ends, in either order.
    """
    runs = {
        (feeder.source, feeder.target): (feeder.length_ft, feeder.conductors)
        for feeder in reversed(list((feeders or {}).values()))
        if feeder.length_ft is not None and feeder.conductors is not None
    }
    path = _Path(network, {**(ties or {}), **runs}, data, degrees_c)
    steps = [*path.steps(node.tag), *_current_steps(bus, fault), *path.cross_check(node.tag, bus, fault)]
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


class _Path:
    """The links from a source down to a bus in one state, and the lines of their impedances."""

    def __init__(
        self, network: StateNetwork, runs: Mapping[tuple[str, str], Run], data: NetworkData | None, degrees_c: float
    ) -> None:
        self.network, self.runs, self.data, self.degrees_c = network, runs, data, degrees_c

    def steps(self, tag: str) -> list[Step]:
        """From the source on, each impedance and the sum after it; buses joined without one are passed over."""
        source, path = self._links(tag)
        z = self.network.sources[source].z1 if source in self.network.sources else None
        total = z or 0j
        steps = self._source(source, self.network.sources[source]) if z is not None else []
        for link in path:
            if link.z1 is None or link.z1 == 0:
                continue
            steps += self._own(link)
            if link.transforms:
                total = self._referred(link, total, steps)
            numbers = f"({ohms(total, '')}) + ({ohms(link.z1, '')})"
            total += link.z1
            steps.append(Step(f"Z({link.load}) = Z({link.supply}) + Z(run)", numbers, ohms(total)))
        return steps

    def cross_check(self, tag: str, bus: BusFault, fault: FaultResult) -> list[Step]:
        """The scalar method, which adds magnitudes and so never lies above the sum of R + jX; not with motors."""
        source, path = self._links(tag)
        known = self.network.sources.get(source)
        if known is None or known.z1 is None or fault.phases != 3 or fault.motor_contribution_a > 0.5:
            return []
        size = abs(known.z1)
        for link in path:
            if link.transforms:
                ahead, behind = self.network.levels.get(link.supply), self.network.levels[link.load]
                size *= (behind.line_to_line_v / ahead.line_to_line_v) ** 2 if ahead is not None else 1.0
            size += abs(link.z1 or 0j)
        if size <= 0 or abs(size - abs(bus.z1)) < 1e-9 * size:
            return []
        volts = bus.level.line_to_line_v
        numbers = f"1000 x {volts:g} / (1.732 x {size * 1000:.3f})"
        amperes = volts / (math.sqrt(3) * size)
        return [Step("cross-check, magnitudes added: never above I3", numbers, f"{amperes:.0f} A")]

    def _links(self, tag: str) -> tuple[str, list[Link]]:
        links: dict[str, Link] = {}
        for link in self.network.links:
            links.setdefault(link.load, link)
        path: list[Link] = []
        here, seen = tag, {tag}
        while here in links and links[here].supply not in seen:
            path.append(links[here])
            here = links[here].supply
            seen.add(here)
        return here, path[::-1]

    def _source(self, tag: str, source: SourceImpedance) -> list[Step]:
        z, level = source.z1, self.network.levels.get(tag)
        if z is None:
            return []
        if source.reactance is not None and level is not None and level.phases == 3:
            return _machine_steps(tag, z, level.line_to_line_v, *source.reactance)
        stated = source.stated_a
        steps = []
        if stated is not None and level is not None and level.phases == 3:
            volts = level.line_to_line_v
            if abs(volts / (math.sqrt(3) * stated) - abs(z)) <= 1e-6 * abs(z):
                numbers = f"1000 x {volts:g} / (1.732 x {stated:,.0f})"
                steps.append(Step(f"|Z({tag})| = 1000 E / (1.732 I)", numbers, f"{abs(z) * 1000:.3f} mohm"))
        steps += _parts(tag, z)
        return steps

    def _own(self, link: Link) -> list[Step]:
        if link.transforms:
            return self._transformer(link)
        known = self.runs.get((link.supply, link.load.removesuffix(".primary")))
        if known is None or link.z1 is None:
            return []
        length_ft, wires = known
        r, x, sets = wires.r_ohm_per_kft, wires.x_ohm_per_kft, wires.sets
        if r is None or x is None:
            return []
        below, symbol = (f" / {sets}", " / n") if sets > 1 else ("", "")
        correction = correction_step(wires, self.degrees_c)
        if correction is not None:
            r = resistance_at(r, self.degrees_c, wires.material)
        own = run_impedance(length_ft, r, x, sets)
        along = link.z1 - own
        steps = [
            *([] if correction is None else [correction]),
            Step(
                f"Z(run) = L (R + jX){symbol}, {wires.phase} {wires.material} in {wires.raceway_kind}",
                f"{length_ft:g} x ({r:g} + j{x:g}){below}",
                ohms(own),
                TABLE_9 if "impedance" not in wires.origins else "",
            ),
        ]
        if abs(along) > 1e-9 * abs(own):
            words = f"Z(run) with {link.supply} up to this place"
            steps.append(Step(words, f"({ohms(own, '')}) + ({ohms(along, '')})", ohms(link.z1)))
        return steps

    def _transformer(self, link: Link) -> list[Step]:
        level = self.network.levels.get(link.load)
        plate = self.data.transformers.get(link.load) if self.data is not None else None
        kva = self.data.kva.get(link.load) if self.data is not None else None
        if level is None or plate is None or not kva or link.z1 is None or level.phases != 3:
            return []
        volts = level.line_to_line_v
        size = plate.fault_percent / 100 * volts**2 / kva
        if abs(size - abs(link.z1) * 1000) > 1e-6 * size:
            return []
        symbol = f"|Z({link.load} run)| = (%Z / 100) E^2 / kVA"
        numbers = f"{plate.fault_percent:.4g} / 100 x {volts:g}^2 / {kva:g}"
        return [Step(symbol, numbers, f"{size:.3f} mohm"), *_parts(f"{link.load} run", link.z1)]

    def _referred(self, link: Link, total: complex, steps: list[Step]) -> complex:
        """The impedance ahead of a transformer as its secondary sees it: by the square of the voltages."""
        ahead, behind = self.network.levels.get(link.supply), self.network.levels[link.load]
        if ahead is None or total == 0:
            return total
        own, other = _volts(behind), _volts(ahead)
        referred = complex(total * (behind.line_to_line_v / ahead.line_to_line_v) ** 2)
        numbers = f"({ohms(total, '')}) x ({own} / {other})^2"
        steps.append(Step(f"Z({link.supply}) referred to {own} V", numbers, ohms(referred)))
        return referred


def _volts(level: VoltageSystem) -> str:
    return f"{level.line_to_line_v:g}"


def _machine_steps(tag: str, z: complex, volts: float, percent: float, rating_va: float) -> list[Step]:
    """A generator: its reactance from the nameplate, its resistance by X/R."""
    x, ratio = z.imag * 1000, z.imag / z.real if z.real else math.inf
    numbers = f"{percent:g} / 100 x {volts:g}^2 / {rating_va / 1000:g}"
    steps = [Step(f'X({tag}) = (X" / 100) E^2 / kVA', numbers, f"{x:.3f} mohm")]
    if math.isfinite(ratio):
        steps.append(Step(f"R({tag}) = X / (X/R)", f"{x:.3f} / {ratio:.4g}", f"{z.real * 1000:.3f} mohm"))
    return steps


def _parts(name: str, z: complex) -> list[Step]:
    """R and X of an impedance that is known by its size and its X/R."""
    if z.real <= 0 or z.imag <= 0:
        return [Step(f"Z({name})", "", ohms(z))]
    ratio = z.imag / z.real
    size = abs(z) * 1000
    return [
        Step(
            f"R({name}) = |Z| / sqrt(1 + (X/R)^2)", f"{size:.3f} / sqrt(1 + {ratio:.4g}^2)", f"{z.real * 1000:.3f} mohm"
        ),
        Step(f"X({name}) = R x X/R", f"{z.real * 1000:.3f} x {ratio:.4g}", f"{z.imag * 1000:.3f} mohm"),
    ]


def _current_steps(bus: BusFault, fault: FaultResult) -> list[Step]:
    volts = bus.level.line_to_line_v
    steps = []
    if fault.motor_contribution_a > 0.5:
        steps += _motor_steps(bus, fault)
    z1 = abs(bus.z1)
    squares = f"sqrt({bus.z1.real * 1000:.3f}^2 + {bus.z1.imag * 1000:.3f}^2)"
    steps.append(Step("|Z1| = sqrt(R1^2 + X1^2)", squares, f"{z1 * 1000:.3f} mohm"))
    size = f"{z1 * 1000:.3f}"
    if fault.phases == 3:
        numbers = f"1000 x {volts:g} / (1.732 x {size})"
        steps.append(Step("I3 = 1000 E / (1.732 |Z1|)", numbers, f"{fault.three_phase_a:.0f} A"))
    if fault.line_line_a is not None:
        numbers = f"1000 x {volts:g} / (2 x {size})"
        steps.append(Step("ILL = 1000 E / (2 |Z1|)", numbers, f"{fault.line_line_a:.0f} A"))
    if fault.line_ground_a is not None and bus.z0 is not None:
        steps += _ground_steps(bus, fault.line_ground_a)
    if fault.x_over_r is not None:
        numbers = f"{bus.z1.imag * 1000:.3f} / {bus.z1.real * 1000:.3f}"
        steps.append(Step("X/R = X1 / R1", numbers, f"{fault.x_over_r:.2f}"))
    steps.append(Step("greatest of these", "", f"{fault.greatest_a:.0f} A"))
    if fault.x_over_r is not None and fault.asymmetrical_a is not None:
        numbers = f"{fault.greatest_a:.0f} x sqrt(1 + 2 exp(-6.2832 / {fault.x_over_r:.2f}))"
        steps.append(
            Step("first half cycle: I sqrt(1 + 2 exp(-2 pi / (X/R)))", numbers, f"{fault.asymmetrical_a:.0f} A")
        )
    return steps


def _motor_steps(bus: BusFault, fault: FaultResult) -> list[Step]:
    """The running motors stand in parallel to the path above."""
    steps = []
    difference = bus.z1_without_motors - bus.z1
    if abs(difference) > 0:
        motors = bus.z1 * bus.z1_without_motors / difference
        steps.append(Step("Z(motors), all that run, seen from here", "", ohms(motors)))
        own, other = ohms(bus.z1_without_motors, ""), ohms(motors, "")
        numbers = f"({own}) x ({other}) / (({own}) + ({other}))"
        formula = f"Z1 = Z Z(motors) / (Z + Z(motors)), {fault.motor_contribution_a:.0f} A more"
        steps.append(Step(formula, numbers, ohms(bus.z1)))
    return steps


def _ground_steps(bus: BusFault, line_ground_a: float) -> list[Step]:
    z0 = bus.z0 or 0j
    to_neutral = bus.level.line_to_line_v / (math.sqrt(3) if bus.level.phases == 3 else 2)
    if bus.level.kind == "high-leg delta":
        to_neutral = bus.level.line_to_neutral_v
    loop = 2 * bus.z1 + z0
    r = f"2 x {bus.z1.real * 1000:.3f} + {z0.real * 1000:.3f}"
    x = f"2 x {bus.z1.imag * 1000:.3f} + {z0.imag * 1000:.3f}"
    return [
        Step("Z0, zero sequence", "", ohms(z0)),
        Step("|2 Z1 + Z0|", f"sqrt(({r})^2 + ({x})^2)", f"{abs(loop) * 1000:.3f} mohm"),
        Step(
            "ILG = 3 x 1000 E(LN) / |2 Z1 + Z0|",
            f"3 x 1000 x {to_neutral:.2f} / {abs(loop) * 1000:.3f}",
            f"{line_ground_a:.0f} A",
        ),
    ]


def ohms(z: complex, unit: str = " mohm") -> str:
    """An impedance for a reader, in milliohm."""
    sign = "+" if z.imag >= 0 else "-"
    return f"{z.real * 1000:.3f} {sign} j{abs(z.imag) * 1000:.3f}{unit}"
