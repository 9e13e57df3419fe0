"""Conductors for one circuit: the smallest that satisfies every rule, or the written ones with what they carry.

One request serves branch circuits, feeders, secondaries, taps and services; what differs is stated in the request.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from fedfrom.formulas import ampacity as ampacity_formulas
from fedfrom.formulas.overcurrent import conductor_is_protected
from fedfrom.formulas.three_wire_drop import ThreeWireLoad, three_wire_drop, worst_drop
from fedfrom.formulas.voltage_drop import DropError, percent_drop, run_impedance
from fedfrom.model.items import Conductors, Origin
from fedfrom.passes.sizing_settings import WireSettings
from fedfrom.results.derivation import Rejected
from fedfrom.results.notation import amperes_text, size_text
from fedfrom.tables import Edition, lookup


@dataclass(frozen=True, slots=True)
class DropLimit:
    """The drop that a segment may have: current, one-way length, power factor, volts between its conductors.

    `three_wire`: the loads of a single-phase run with a neutral, which decide in place of current and volts.
    """

    current_a: float
    length_ft: float
    power_factor: float
    volts: float
    phases: int
    limit_pct: float
    three_wire: ThreeWireLoad | None = None


@dataclass(frozen=True, slots=True)
class ConductorRequest:
    """What the conductors of one circuit must do.

    `terminal_a`: load with 125 % of what is continuous, held against the terminal column without factors;
    `carried_a`: the load itself, held against the ampacity after correction and adjustment (NEC 210.19(A), 215.2(A)).
    `device_a`: the device that protects them, None where none is known; `device_may_exceed`: a motor, welder or
    air-conditioning circuit, whose device is limited by its own article (240.4(G)). `sharing`: current-carrying
    conductors in the raceway with those of other circuits, 0 where it has its own. `least_ampacity_a` with
    `least_reason`: a tap, secondary or generator rule. `ground_rule`: "equipment", "supply-side" or "none".
    """

    written: Conductors
    settings: WireSettings
    ungrounded: int
    phases: int
    wye: bool
    has_neutral: bool
    terminal_a: float
    carried_a: float
    device_a: float | None
    fuse: bool = False
    next_size_up: bool = True
    device_may_exceed: bool = False
    least_ampacity_a: float = 0.0
    least_reason: str = ""
    nonlinear: bool = False
    sharing: int = 0
    least_size: str = ""
    ground_rule: str = "equipment"
    ground_device_a: float | None = None
    drop: tuple[DropLimit, ...] = ()
    by: str = ""


@dataclass(frozen=True, slots=True)
class Option:
    """One size with a number of sets, and what it may carry (all sets, A)."""

    size: str
    sets: int
    area_kcmil: float
    corrected_a: float
    terminal_a: float

    @property
    def usable_a(self) -> float:
        return min(self.corrected_a, self.terminal_a)


@dataclass(frozen=True, slots=True)
class PhaseChoice:
    """The phase conductors: `option` as kept; `by_ampacity` what ampacity alone asks for with the same sets."""

    option: Option
    by_ampacity: Option | None
    terminal_c: int
    insulation_c: int
    ambient_factor: float
    adjustment_factor: float
    current_carrying: int
    origins: Mapping[str, Origin]
    rejected: tuple[Rejected, ...]
    enlarged_for_drop: bool


def choose_phase(edition: Edition, request: ConductorRequest) -> PhaseChoice | None:
    """Phase conductors and number of sets; None where the tables cannot answer (insulation or ambient not covered)."""
    frame = _frame(edition, request)
    if frame is None:
        return None
    written_size, written_sets = request.written.phase, request.written.sets
    if written_size is not None:
        return _written(edition, request, frame, written_size.value, written_sets.value if written_sets else None)
    sets = written_sets.value if written_sets else None
    by_ampacity, within_drop, rejected = _search(edition, request, _options(edition, request, frame, sets))
    if by_ampacity is None:
        return None
    kept = within_drop or by_ampacity
    base = by_ampacity
    if kept.sets != by_ampacity.sets:
        base = _first_fit(edition, request, _options(edition, request, frame, kept.sets)) or kept
    origins = {"phase": Origin.CHOSEN, "sets": written_sets.origin if written_sets else Origin.CHOSEN}
    return _choice(frame, kept, base, origins, rejected, kept is not by_ampacity)


def _search(
    edition: Edition, request: ConductorRequest, options: Iterable[Option]
) -> tuple[Option | None, Option | None, tuple[Rejected, ...]]:
    """The first option that ampacity allows, the first that also keeps the drop limit, and the last ones rejected.

    Where no option keeps the drop limit the second is None: the conductors stay as ampacity asks, and the drop rule
    reports it.
    """
    by_ampacity: Option | None = None
    rejected: list[Rejected] = []
    for option in options:
        reason = ampacity_fault(edition, request, option)
        if not reason:
            by_ampacity = by_ampacity or option
            reason = drop_fault(edition, request, option)
            if not reason:
                return by_ampacity, option, tuple(rejected[-3:])
        rejected.append(Rejected(option_text(option), reason))
    if by_ampacity is None:
        return None, None, ()
    kept = option_text(by_ampacity)
    return by_ampacity, None, tuple(each for each in rejected if each.option != kept)[:3]


@dataclass(frozen=True, slots=True)
class _Frame:
    terminal_c: int
    insulation_c: int
    ambient_factor: float
    adjustment_factor: float
    current_carrying: int


def _frame(edition: Edition, request: ConductorRequest) -> _Frame | None:
    settings = request.settings
    insulation_c = lookup.insulation_temperature(edition, settings.insulation.value, settings.wet)
    if insulation_c is None:
        return None
    ambient = lookup.ambient_factor(edition, settings.ambient_c.value, insulation_c)
    if ambient is None:
        return None
    counted = ampacity_formulas.current_carrying(
        request.ungrounded, request.has_neutral, request.phases, request.wye, request.nonlinear
    )
    counted = max(counted, request.sharing)
    listed = int(settings.terminal_c.value)
    column = ampacity_formulas.terminal_column(request.device_a, listed)
    column = max(temp for temp in (60, 75, 90) if temp <= min(column, insulation_c))
    return _Frame(column, insulation_c, ambient, lookup.adjustment_factor(edition, counted), counted)


def option_of(edition: Edition, material: str, size: str, sets: int, frame: _Frame | PhaseChoice) -> Option | None:
    """What a size with a number of sets may carry, or None where the table has no value."""
    own = lookup.ampacity(edition, material, size, frame.insulation_c)
    terminal = lookup.ampacity(edition, material, size, frame.terminal_c)
    area = lookup.area_kcmil(edition, size)
    if own is None or terminal is None or area is None:
        return None
    corrected = ampacity_formulas.corrected_ampacity(own, frame.ambient_factor, frame.adjustment_factor)
    return Option(size, sets, area, sets * corrected, sets * terminal)


def _options(edition: Edition, request: ConductorRequest, frame: _Frame, sets: int | None) -> Iterator[Option]:
    """Every size and number of sets that may be chosen, fewest sets first, then smallest size."""
    material = request.settings.material.value
    least = lookup.area_kcmil(edition, request.least_size) if request.least_size else 0.0
    largest = lookup.area_kcmil(edition, lookup.choice(edition, "largest_conductor")) or 0.0
    numbers = (sets,) if sets else range(1, int(lookup.choice(edition, "most_parallel_sets")) + 1)
    for number in numbers:
        for size in lookup.stocked_sizes(edition):
            option = option_of(edition, material, size, number, frame)
            if option is None or option.area_kcmil < (least or 0.0) or option.area_kcmil > largest:
                continue
            if number > 1 and not ampacity_formulas.may_be_paralleled(option.area_kcmil):
                continue
            yield option


def ampacity_fault(edition: Edition, request: ConductorRequest, option: Option) -> str:
    """Why an option does not satisfy the ampacity rules, or "" when it does (NEC 210.19(A), 215.2(A), 240.4)."""
    if option.terminal_a < request.terminal_a - 0.001:
        return f"{amperes_text(option.terminal_a)} at the terminals, {amperes_text(request.terminal_a)} needed"
    if option.corrected_a < request.carried_a - 0.001:
        return f"{amperes_text(option.corrected_a)} after factors, {amperes_text(request.carried_a)} needed"
    if option.usable_a < request.least_ampacity_a - 0.001:
        return (
            f"{amperes_text(option.usable_a)}; {request.least_reason} asks for {amperes_text(request.least_ampacity_a)}"
        )
    return protection_fault(edition, request, option)


def protection_fault(edition: Edition, request: ConductorRequest, option: Option) -> str:
    """Why the device does not protect an option, or "" (NEC 240.4(B), (C), (D), (G))."""
    if request.device_a is None or request.device_may_exceed:
        return ""
    ratings = lookup.standard_ratings(edition, "fuse" if request.fuse else "breaker")
    small = lookup.small_conductor_limit(edition, request.settings.material.value, option.size)
    if small is not None and request.device_a > small:
        return f"not over {amperes_text(small)} for {size_text(option.size)} by 240.4(D)"
    if not conductor_is_protected(option.usable_a, request.device_a, ratings, request.next_size_up):
        return f"{amperes_text(option.usable_a)} is not protected by {amperes_text(request.device_a)}"
    return ""


def impedance_of(edition: Edition, request: ConductorRequest, size: str) -> tuple[float, float] | None:
    """(R, X) of one conductor of a set, ohm per 1000 ft: as written on the line, else Chapter 9 Table 9, else None."""
    written = request.written.impedance
    if written is not None:
        return written.value
    return lookup.impedance(edition, request.settings.material.value, size, request.settings.raceway_kind.value)


def drop_of(edition: Edition, request: ConductorRequest, option: Option) -> float | None:
    """The greatest drop of an option in percent, None where it is not known; 100 where the load can't be supplied."""
    found = impedance_of(edition, request, option.size)
    if found is None or not request.drop:
        return None
    try:
        return max(_percent(case, found, option.sets) for case in request.drop)
    except DropError:
        return 100.0


def _percent(case: DropLimit, impedance: tuple[float, float], sets: int) -> float:
    r, x = impedance
    if case.three_wire is None:
        return percent_drop(case.volts, case.phases, case.current_a, case.length_ft, r, x, case.power_factor, sets)[1]
    z = run_impedance(case.length_ft, r, x, sets)
    worst = worst_drop(three_wire_drop(case.three_wire, case.power_factor, z, z))
    return worst.percent if worst is not None else 0.0


def drop_fault(edition: Edition, request: ConductorRequest, option: Option) -> str:
    """Why an option does not keep the drop limit of the segment, or "" (a limit of the project, no code rule)."""
    percent = drop_of(edition, request, option)
    if percent is None or percent <= request.drop[0].limit_pct + 1e-9:
        return ""
    return f"voltage drop {percent:.2f} %, limit {request.drop[0].limit_pct:g} %"


def _first_fit(edition: Edition, request: ConductorRequest, options: Iterable[Option]) -> Option | None:
    return next((option for option in options if not ampacity_fault(edition, request, option)), None)


def option_text(option: Option) -> str:
    """ "3/0 AWG", "2 sets of 350 KCMIL"."""
    return size_text(option.size) if option.sets == 1 else f"{option.sets} sets of {size_text(option.size)}"


def _written(
    edition: Edition, request: ConductorRequest, frame: _Frame, size: str, sets: int | None
) -> PhaseChoice | None:
    material = request.settings.material.value
    # A written size without sets is one set: more must be said, or a size that is too small would pass in silence.
    kept = option_of(edition, material, size, sets or 1, frame)
    if kept is None:
        return None
    open_request = replace(request, written=Conductors())
    base = _first_fit(edition, request, _options(edition, open_request, frame, kept.sets))
    written = request.written
    origins = {
        "phase": written.phase.origin if written.phase else Origin.WRITTEN,
        "sets": written.sets.origin if written.sets else Origin.DEFAULT,
    }
    return _choice(frame, kept, base, origins, (), False)


def _choice(
    frame: _Frame,
    kept: Option,
    base: Option | None,
    origins: Mapping[str, Origin],
    rejected: tuple[Rejected, ...],
    enlarged: bool,
) -> PhaseChoice:
    return PhaseChoice(
        kept,
        base,
        frame.terminal_c,
        frame.insulation_c,
        frame.ambient_factor,
        frame.adjustment_factor,
        frame.current_carrying,
        origins,
        rejected,
        enlarged,
    )
