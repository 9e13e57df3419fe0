"""Why conductors fall short, as one cause: each rule of the ampacity family reports its own."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fedfrom.formulas.overcurrent import conductor_is_protected
from fedfrom.passes.sizing_conductors import ConductorRequest, Option, option_of
from fedfrom.passes.sizing_review import Wiring
from fedfrom.results.notation import amperes_text
from fedfrom.tables import Edition, lookup


@dataclass(frozen=True, slots=True)
class Shortfall:
    """`cause`: "least" (a tap, secondary, generator or dwelling rule), "continuous" (only the 25 % is missing),
    "terminal", "ambient", "adjustment" (what would be enough without that limit) or "ampacity"."""

    cause: str
    message: str
    notes: tuple[str, ...]


def ampacity_shortfall(edition: Edition, wiring: Wiring) -> Shortfall | None:
    """The one cause for which conductors are too small, None when they are not."""
    request, option, choice = wiring.request, wiring.option, wiring.choice
    fault = _fault(edition, request, option)
    if not fault:
        return None
    notes = (
        f"terminals {choice.terminal_c} C: {amperes_text(option.terminal_a)}",
        f"{choice.insulation_c} C x ambient {choice.ambient_factor:.2f} x number {choice.adjustment_factor:.2f}: "
        f"{amperes_text(option.corrected_a)}",
    )
    return Shortfall(_cause(edition, wiring), fault, notes)


def _cause(edition: Edition, wiring: Wiring) -> str:
    request, option, choice = wiring.request, wiring.option, wiring.choice
    if option.usable_a < request.least_ampacity_a - 0.001:
        return "least"
    without_quarter = replace(request, terminal_a=min(request.terminal_a, request.carried_a))
    if not _fault(edition, without_quarter, option):
        return "continuous"
    relaxed = {
        "terminal": replace(choice, terminal_c=choice.insulation_c),
        "ambient": replace(choice, ambient_factor=max(choice.ambient_factor, 1.0)),
        "adjustment": replace(choice, adjustment_factor=1.0),
    }
    for cause, frame in relaxed.items():
        other = option_of(edition, wiring.conductors.material, option.size, option.sets, frame)
        if other is not None and not _fault(edition, request, other):
            return cause
    return "ampacity"


def _fault(edition: Edition, request: ConductorRequest, option: Option) -> str:
    """As `ampacity_fault`, without 240.4(D), which is a rule of its own."""
    if option.terminal_a < request.terminal_a - 0.001:
        return f"conductors carry {amperes_text(option.terminal_a)}, {amperes_text(request.terminal_a)} is needed"
    if option.corrected_a < request.carried_a - 0.001:
        return f"conductors carry {amperes_text(option.corrected_a)}, the load is {amperes_text(request.carried_a)}"
    if option.usable_a < request.least_ampacity_a - 0.001:
        least = amperes_text(request.least_ampacity_a)
        return f"conductors carry {amperes_text(option.usable_a)}, {request.least_reason} asks for {least}"
    if request.device_a is None or request.device_may_exceed:
        return ""
    ratings = lookup.standard_ratings(edition, "fuse" if request.fuse else "breaker")
    if conductor_is_protected(option.usable_a, request.device_a, ratings, request.next_size_up):
        return ""
    return f"{amperes_text(request.device_a)} does not protect conductors of {amperes_text(option.usable_a)}"


def has_motor_rule(wiring: Wiring) -> bool:
    """Motors, air conditioning, welders and their feeders: limited by their own articles and rules (NEC 240.4(G))."""
    return wiring.motor_feeder or (wiring.request.device_may_exceed and not wiring.request.least_reason)
