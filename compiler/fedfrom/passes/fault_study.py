"""Solves one state's network: Thevenin impedance at every bus, with and without motors, positive and zero sequence."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fedfrom.formulas import impedance
from fedfrom.formulas.fault_current import line_ground_fault, line_line_fault, three_phase_fault
from fedfrom.formulas.fault_network import Branch, driving_point_impedances
from fedfrom.passes.motors import MotorGroup
from fedfrom.passes.network_model import Link, NetworkData, StateNetwork
from fedfrom.quantity import VoltageSystem


@dataclass(frozen=True, slots=True)
class BusFault:
    """A bus in one state: impedances in ohm to neutral at `level`; `z0` None where no fault to ground can flow."""

    level: VoltageSystem
    z1: complex
    z1_without_motors: complex
    z0: complex | None
    basis: str
    assumed: bool


@dataclass(frozen=True, slots=True)
class StateFaults:
    """Every bus of a state: known, or what is missing."""

    known: Mapping[str, BusFault]
    needs: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Studied:
    """Every state's network and solution, by the state's name, in the plan's order."""

    data: NetworkData
    networks: Mapping[str, StateNetwork]
    faults: Mapping[str, StateFaults]


def study_state(network: StateNetwork) -> StateFaults:
    """Solve one state. Buses that depend on a missing fact are in `needs` with the words for it."""
    needs = _missing(network)
    solver = _Solver(network)
    z1 = solver.positive(with_motors=True)
    bare = solver.positive(with_motors=False) if network.motors else z1
    z0 = solver.zero(bare)
    words = _basis(network)
    known: dict[str, BusFault] = {}
    for bus in network.buses:
        level, z, plain = network.levels.get(bus), z1.get(bus), bare.get(bus)
        if bus in needs:
            continue
        if level is None or z is None or plain is None:
            needs[bus] = "a path of known impedance to a source"
            continue
        ground = z0.get(bus) if level.grounding == "solid" else None
        known[bus] = BusFault(level, z, plain, ground, *words[bus])
    return StateFaults(known, needs)


# --- what is missing -----------------------------------------------------------------------------------------------


def _missing(network: StateNetwork) -> dict[str, str]:
    """Buses whose fault is not known, with what it needs: an unknown source on the same wires, or link above."""
    neighbours: dict[str, list[str]] = {bus: [] for bus in network.buses}
    for link in network.links:
        if link.z1 is not None:
            neighbours[link.supply].append(link.load)
            neighbours[link.load].append(link.supply)
    needs: dict[str, str] = {}
    for tag, source in network.sources.items():
        if source.z1 is None:
            _spread(neighbours, tag, f"{source.needs} ({tag})", needs)
    reached: dict[str, str] = {}
    for tag, source in network.sources.items():
        if source.z1 is not None:
            _spread(neighbours, tag, "", reached)
    for link in network.links:
        if link.z1 is None and link.load in reached:
            _spread(neighbours, link.load, link.needs, needs)  # one of several supplies is unknown
    for link in network.links:
        if link.load not in reached and link.load not in needs:
            needs[link.load] = link.needs or needs.get(link.supply, "a source")
    return needs


def _spread(neighbours: Mapping[str, list[str]], start: str, word: str, into: dict[str, str]) -> None:
    waiting = [start] if start in neighbours and start not in into else []
    while waiting:
        bus = waiting.pop()
        if bus in into:
            continue
        into[bus] = word
        waiting.extend(other for other in neighbours[bus] if other not in into)


# --- solution ------------------------------------------------------------------------------------------------------


class _Solver:
    """Buses joined without impedance are one; every impedance is divided by the square of its level's volts."""

    def __init__(self, network: StateNetwork) -> None:
        self.network = network
        self.leader: dict[str, str] = {bus: bus for bus in network.buses}
        for link in network.links:
            if link.z1 == 0 and not link.transforms:
                self.leader[self._find(link.load)] = self._find(link.supply)
        leaders = dict.fromkeys(self._find(bus) for bus in network.buses)
        self.number = {bus: index for index, bus in enumerate(leaders)}
        self.motors = _motors_above_unknown_links(network)

    def _find(self, bus: str) -> str:
        while self.leader[bus] != bus:
            self.leader[bus] = self.leader[self.leader[bus]]
            bus = self.leader[bus]
        return bus

    def _index(self, bus: str) -> int:
        return self.number[self._find(bus)]

    def _volts(self, bus: str) -> float:
        level = self.network.levels.get(bus)
        return level.line_to_line_v if level is not None else 1.0

    def positive(self, with_motors: bool) -> dict[str, complex]:
        """Z1 at every bus that a source reaches, ohm at its own level."""
        branches = []
        for link in self.network.links:
            if link.z1 is not None and link.z1 != 0:
                branches.append(self._branch(link, link.z1))
        shunts: dict[int, list[complex]] = {}
        for tag, source in self.network.sources.items():
            if source.z1 is not None and source.z1 != 0:
                shunts.setdefault(self._index(tag), []).append(source.z1 / self._volts(tag) ** 2)
        if with_motors:
            for bus, groups in self.motors.items():
                volts = self._volts(bus)
                for group in groups:
                    shunts.setdefault(self._index(bus), []).append(motor_impedance(group, volts) / volts**2)
        return self._solve(branches, shunts)

    def zero(self, positive: Mapping[str, complex]) -> dict[str, complex]:
        """Z0 at every bus that a grounded source reaches over wires of its own level, ohm."""
        branches = []
        for link in self.network.links:
            if not link.transforms and link.z0 is not None and link.z0 != 0:
                branches.append(self._branch(link, link.z0))
        shunts: dict[int, list[complex]] = {}
        for tag, source in self.network.sources.items():
            if source.z0 is not None and source.z0 != 0:
                shunts.setdefault(self._index(tag), []).append(source.z0 / self._volts(tag) ** 2)
        grounded = dict(self.network.grounded_z0)
        for bus, (winding, half) in self.network.center_taps.items():
            whole = positive.get(bus)
            if whole is not None:
                grounded[bus] = tapped_zero_sequence(self.network.levels[bus], whole - winding, winding, half)
        for bus, z0 in grounded.items():
            if z0 != 0:
                shunts.setdefault(self._index(bus), []).append(z0 / self._volts(bus) ** 2)
        return self._solve(branches, shunts)

    def _branch(self, link: Link, z: complex) -> Branch:
        return Branch(self._index(link.supply), self._index(link.load), z / self._volts(link.load) ** 2)

    def _solve(self, branches: list[Branch], shunts: Mapping[int, list[complex]]) -> dict[str, complex]:
        solved = driving_point_impedances(len(self.number), branches, shunts)
        found: dict[str, complex] = {}
        for bus in self.network.buses:
            z = solved[self._index(bus)]
            if z is not None:
                found[bus] = z * self._volts(bus) ** 2
        return found


def tapped_zero_sequence(level: VoltageSystem, ahead: complex, winding: complex, half: complex | None) -> complex:
    """Z0 where the neutral is the middle of a winding: of a single-phase transformer, or of one side of a delta."""
    if level.kind == "high-leg delta":
        return impedance.high_leg_zero_sequence(ahead, winding, half)
    return impedance.center_tap_zero_sequence(ahead, winding, half)


def motor_impedance(group: MotorGroup, volts: float) -> complex:
    """Impedance of a running motor circuit at its bus, ohm to neutral."""
    part = group.contribution
    return impedance.motor_group(group.full_load_a, part.multiple, volts, part.x_over_r, group.phases)


def _motors_above_unknown_links(network: StateNetwork) -> dict[str, tuple[MotorGroup, ...]]:
    """Motors by bus; those below a link of unknown impedance count at its supply end, as if there were no impedance."""
    totals = dict(network.motors)
    result = dict(network.motors)
    for link in reversed(network.links):
        below = totals.get(link.load, ())
        if not below or link.transforms:
            continue
        totals[link.supply] = (*totals.get(link.supply, ()), *below)
        if link.z1 is None and link.supply in network.levels:
            result[link.supply] = (*result.get(link.supply, ()), *below)
    return result


def _basis(network: StateNetwork) -> dict[str, tuple[str, bool]]:
    """What each bus's figure rests on, in words, and whether any of it is assumed."""
    words: dict[str, tuple[str, ...]] = dict.fromkeys(network.buses, ())
    assumed: dict[str, bool] = dict.fromkeys(network.buses, False)
    for tag, source in network.sources.items():
        words[tag] = (f"{tag}: {source.basis}", *source.notes)
        assumed[tag] = source.assumed
    for link in network.links:
        extra = (link.note,) if link.note else ()
        words[link.load] = tuple(dict.fromkeys((*words[link.load], *words[link.supply], *extra)))
        assumed[link.load] = assumed[link.load] or assumed[link.supply] or link.assumed
    return {bus: ("; ".join(words[bus]), assumed[bus]) for bus in network.buses}


# --- currents ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Currents:
    """Bolted fault currents, A; None where the kind of fault does not exist there."""

    three_phase: float | None
    line_line: float | None
    line_ground: float | None

    @property
    def greatest(self) -> float:
        return max(value for value in (self.three_phase, self.line_line, self.line_ground, 0.0) if value is not None)


def currents(level: VoltageSystem, system: VoltageSystem, z1: complex, z0: complex | None) -> Currents:
    """The faults that gear of `system` can see on wires of `level`."""
    volts = level.line_to_line_v
    to_neutral = volts / math.sqrt(3) if level.phases == 3 else volts / 2.0
    if level.kind == "high-leg delta":
        to_neutral = level.line_to_neutral_v
    line_line = line_line_fault(volts, z1)
    ground = line_ground_fault(to_neutral, z1, z0) if z0 is not None else None
    if level.kind == "two-wire" or level.grounding == "corner":
        ground = line_line if level.grounding in ("solid", "corner") else None
    if system.phases == 3:
        return Currents(three_phase_fault(volts, z1), line_line, ground)
    if system.line_to_line_v < volts and level.has_neutral:
        return Currents(None, None, ground)
    return Currents(None, line_line, ground if system.has_neutral or system.kind == "two-wire" else None)
