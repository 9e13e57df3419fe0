"""Derivations of devices and conductors: the hand calculation behind each chosen or checked value."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.formulas.overcurrent import conductor_is_protected
from fedfrom.model.items import Origin
from fedfrom.passes.sizing_sets import SizedConductors
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import amperes_text, conductor_text, device_text, size_text
from fedfrom.results.types import DeviceResult
from fedfrom.tables import Edition, lookup

# How the step begins that takes the greatest device an article allows, for loads that draw more while they start.
LIMIT_TAKEN = "OCPD = "


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
        return Derivation(f"{subject}.device", title, "not known", Origin.CHOSEN, tuple(inputs), tuple(steps), missing)
    fuse = "fuse" if device.fuse_a is not None else "breaker"
    written = device.origin is not Origin.CHOSEN
    rejected = () if written else _smaller_rating(edition, device, fuse, steps)
    rounding = "as written, checked" if written else "next standard rating"
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
    return (Rejected(amperes_text(below[-1]), f"below {steps[-1].numbers} ({steps[-1].formula})"),)


def conductor_derivation(
    edition: Edition,
    subject: str,
    sized: SizedConductors,
    steps: Sequence[Step],
    needed_a: float | None,
    inputs: Sequence[Input] = (),
    state: str = "",
    device_a: float | None = None,
) -> Derivation:
    """How phase conductors, ground and raceway came about."""
    result, choice = sized.result, sized.choice
    material = result.material
    own = lookup.ampacity(edition, material, result.phase, choice.insulation_c)
    terminal = lookup.ampacity(edition, material, result.phase, choice.terminal_c)
    sets = f"{result.sets} x " if result.sets > 1 else ""
    calculation = [
        *(step for step in steps if not step.formula.startswith("OCPD")),
        Step(
            f"ampacity in the {choice.terminal_c} C column (terminals)",
            f"{sets}{amperes_text(terminal)}",
            amperes_text(choice.option.terminal_a),
            edition.clause("110.14(C)(1)"),
        ),
        Step(
            f"{choice.insulation_c} C ampacity x ambient x adjustment",
            f"{sets}{amperes_text(own)} x {choice.ambient_factor:.2f} x {choice.adjustment_factor:.2f}",
            amperes_text(choice.option.corrected_a),
            edition.clause("310.15(B)(1)"),
        ),
    ]
    if device_a is not None:
        calculation.append(_protection_step(edition, device_a, result.ampacity_a))
    if sized.drop_pct is not None:
        limit = f"limit {sized.drop_limit_pct:g} %"
        calculation.append(
            Step("voltage drop, greatest of the states", limit, f"{sized.drop_pct:.2f} %", "limit of the project")
        )
    calculation += _ground_steps(edition, sized)
    if result.raceway_size and result.fill_pct is not None:
        calculation.append(
            Step(
                "raceway fill",
                f"{result.raceway_size} inch {result.raceway_kind}",
                f"{result.fill_pct:.1f} %",
                edition.clause("Chapter 9 Table 1"),
            )
        )
    title = "conductors"
    rounding = "enlarged for voltage drop" if choice.enlarged_for_drop else "smallest size that satisfies every rule"
    origin = choice.origins.get("phase", Origin.CHOSEN)
    if origin is not Origin.CHOSEN:
        rounding = "as written, checked"
    return Derivation(
        subject,
        title,
        conductor_text(result),
        origin,
        (*inputs, Input("I", "current needed", amperes_text(needed_a))) if needed_a is not None else tuple(inputs),
        tuple(calculation),
        rounding,
        edition.clause("310.16"),
        choice.rejected,
        state,
    )


def _protection_step(edition: Edition, device_a: float, ampacity_a: float) -> Step:
    """How the device stands to the ampacity: within it, or the next standard size up."""
    numbers = f"{amperes_text(device_a)} on {amperes_text(ampacity_a)}"
    if device_a <= ampacity_a + 0.001:
        return Step("device not over the ampacity", numbers, "protected", edition.clause("240.4"))
    if conductor_is_protected(ampacity_a, device_a, lookup.standard_ratings(edition)):
        return Step("device is the next standard rating above", numbers, "protected", edition.clause("240.4(B)"))
    return Step("device over the ampacity", numbers, "not protected", edition.clause("240.4"))


def _ground_steps(edition: Edition, sized: SizedConductors) -> list[Step]:
    result = sized.result
    if not result.ground or not sized.ground_table_size:
        return []
    table = size_text(sized.ground_table_size)
    if result.ground_kind.startswith("supply-side"):
        clause = edition.clause("250.102(C)(1)")
        return [Step("supply-side bonding jumper", f"by {size_text(result.phase)} in each raceway", table, clause)]
    steps = [Step("equipment grounding conductor by the device", "table", table, edition.clause("Table 250.122"))]
    if sized.ground_ratio > 1.0005:
        steps.append(
            Step(
                "increased with the phase conductors",
                f"{table} area x {sized.ground_ratio:.3f}",
                size_text(result.ground),
                edition.clause("250.122(B)"),
            )
        )
    return steps
