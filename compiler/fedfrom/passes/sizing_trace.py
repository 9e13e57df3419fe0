"""Derivations of devices and conductors: the hand calculation behind each chosen or checked value."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fedfrom.formulas.overcurrent import conductor_is_protected
from fedfrom.model.items import Origin
from fedfrom.passes.sizing_sets import SizedConductors
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import amperes_text, conductor_text, device_text, size_text
from fedfrom.results.types import DeviceResult
from fedfrom.tables import Edition, lookup

# How the step begins that takes the greatest device an article allows, for loads that draw more while they start.
LIMIT_TAKEN = "OCPD = "
NOT_CHECKED = "as written; not checked against a load, which is not known"


def device_derivation(
    edition: Edition,
    subject: str,
    device: DeviceResult | None,
    steps: Sequence[Step],
    missing: str = "",
    inputs: Sequence[Input] = (),
    state: str = "",
    title: str = "overcurrent device",
) -> Derivation | None:
    """How a device came about; None where there is neither a device nor a reason why not."""
    if device is None:
        if not missing:
            return None
        told = (*steps, Step(f"needs {missing}", "", "not known"))
        return Derivation(f"{subject}.device", title, "not known", Origin.CHOSEN, tuple(inputs), told)
    fuse = "fuse" if device.fuse_a is not None else "breaker"
    written = device.origin is not Origin.CHOSEN
    rejected = () if written else _smaller_rating(edition, device, fuse, steps)
    rounding = "as written, checked" if written else "next standard rating"
    if missing:
        steps = (*steps, Step(f"needs {missing}", "", "not known"))
        rounding = NOT_CHECKED if written else rounding
    return Derivation(
        f"{subject}.device",
        title,
        device_text(device),
        device.origin,
        tuple(inputs),
        tuple(steps),
        rounding,
        edition.clause("240.6(A)"),
        rejected,
        state,
        device.span,
    )


def _smaller_rating(edition: Edition, device: DeviceResult, kind: str, steps: Sequence[Step]) -> tuple[Rejected, ...]:
    """The standard rating below the one chosen, and what rules it out."""
    below = [rating for rating in lookup.standard_ratings(edition, kind) if rating < device.protects_a - 0.001]
    if not below or not steps:
        return ()
    if steps[-1].formula.startswith(LIMIT_TAKEN):
        reason = "may open while the load starts: the greatest rating of its article is taken (common practice)"
        return (Rejected(amperes_text(below[-1]), reason),)
    return (Rejected(amperes_text(below[-1]), f"below the {steps[-1].result} that are needed"),)


def conductor_derivation(
    edition: Edition,
    subject: str,
    sized: SizedConductors,
    steps: Sequence[Step],
    inputs: Sequence[Input] = (),
    state: str = "",
    device_a: float | None = None,
) -> Derivation:
    """How phase conductors, ground and raceway came about."""
    result, choice = sized.result, sized.choice
    calculation = [
        *(step for step in steps if not step.formula.startswith("OCPD")),
        *_ampacity_steps(edition, sized),
    ]
    if device_a is not None:
        calculation.append(_protection_step(edition, device_a, result.ampacity_a))
    if sized.drop_pct is not None:
        formula = f"voltage drop in the worst state, limit {sized.drop_limit_pct:g} %"
        calculation.append(Step(formula, "", f"{sized.drop_pct:.2f} %", "limit of the project"))
    title = "phase conductors"
    rounding = "enlarged for voltage drop" if choice.enlarged_for_drop else "smallest size that satisfies every rule"
    origin = choice.origins.get("phase", Origin.CHOSEN)
    if origin is not Origin.CHOSEN:
        unknown = any(step.result.startswith("not known") for step in steps)
        rounding = NOT_CHECKED if unknown else "as written, checked"
    return Derivation(
        subject,
        title,
        conductor_text(result),
        origin,
        (*inputs, *_conductor_inputs(edition, sized)),
        tuple(calculation),
        rounding,
        edition.clause("310.16"),
        choice.rejected,
        state,
    )


def _protection_step(edition: Edition, device_a: float, ampacity_a: float) -> Step:
    """How the device stands to the ampacity: within it, or the next standard size up."""
    compared = f"device {amperes_text(device_a)} on an ampacity of {amperes_text(ampacity_a)}"
    if device_a <= ampacity_a + 0.001:
        return Step(compared, "", "protected", edition.clause("240.4"))
    if conductor_is_protected(ampacity_a, device_a, lookup.standard_ratings(edition)):
        return Step(f"{compared}, next standard rating above", "", "protected", edition.clause("240.4(B)"))
    return Step(compared, "", "not protected", edition.clause("240.4"))


def _conductor_inputs(edition: Edition, sized: SizedConductors) -> Iterator[Input]:
    """The columns of the tables and the conditions that the ampacity follows from, each with its place or table."""
    choice, request = sized.choice, sized.request
    result, table = sized.result, edition.clause("310.16")
    own = lookup.ampacity(edition, result.material, result.phase, choice.insulation_c)
    terminal = lookup.ampacity(edition, result.material, result.phase, choice.terminal_c)
    size = f"{size_text(result.phase)} {result.material}"
    yield Input("At", f"ampacity of {size}, {choice.terminal_c} C column", amperes_text(terminal), source=table)
    yield Input("Ai", f"ampacity of {size}, {choice.insulation_c} C column", amperes_text(own), source=table)
    ambient = request.settings.ambient_c if request is not None else None
    place = "" if ambient is None else f" at {ambient.value:g} C"
    yield Input(
        "Fa",
        f"ambient correction{place}",
        f"{choice.ambient_factor:.2f}",
        ambient.origin if ambient is not None else Origin.DEFAULT,
        ambient.span if ambient is not None else None,
        edition.clause("310.15(B)(1)"),
    )
    count = f"{choice.current_carrying} current-carrying conductors in a raceway"
    clause = edition.clause("310.15(C)(1)")
    yield Input("Fb", f"adjustment, {count}", f"{choice.adjustment_factor:.2f}", Origin.DEFAULT, None, clause)
    if result.sets > 1:
        yield Input("n", "sets in parallel", f"{result.sets}", result.origins.get("sets", Origin.CHOSEN))


def _ampacity_steps(edition: Edition, sized: SizedConductors) -> list[Step]:
    """At the terminals without factors, of the insulation with them; the lesser counts (NEC 110.14(C), 310.15)."""
    result, choice = sized.result, sized.choice
    option = choice.option
    own = lookup.ampacity(edition, result.material, result.phase, choice.insulation_c)
    terminal = lookup.ampacity(edition, result.material, result.phase, choice.terminal_c)
    sets, symbol = (f"{result.sets} x ", "n ") if result.sets > 1 else ("", "")
    return [
        Step(
            f"ampacity at the terminals = {symbol}At",
            f"{sets}{amperes_text(terminal)}",
            amperes_text(option.terminal_a),
            edition.clause("110.14(C)(1)"),
        ),
        Step(
            f"ampacity corrected = {symbol}Ai Fa Fb",
            f"{sets}{amperes_text(own)} x {choice.ambient_factor:.2f} x {choice.adjustment_factor:.2f}",
            amperes_text(option.corrected_a),
            edition.clause("310.15(B)"),
        ),
        Step("ampacity = the lesser", "", amperes_text(option.usable_a)),
    ]
