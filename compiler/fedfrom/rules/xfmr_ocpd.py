"""A transformer device is above its limit."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.transformers import greatest_device
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import DeviceResult, TransformerResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for result in design.results.transformers.values():
        yield from _check(design, result)


def _check(design: Design, result: TransformerResult) -> Iterator[Finding]:
    secondary_limit = _limit(design, "primary_and_secondary", "secondary", result.secondary_a, result.secondary_device)
    secondary = protecting_rating(result.secondary_device)
    protected = secondary is not None and secondary_limit is not None and secondary <= secondary_limit + 0.001
    method = "primary_and_secondary" if protected else "primary_only"
    primary_limit = _limit(design, method, "primary", result.primary_a, result.primary_device)
    primary = protecting_rating(result.primary_device)
    if primary is not None and primary_limit is not None and primary > primary_limit + 0.001:
        note = "with secondary protection" if protected else "without secondary protection within its limit"
        yield _finding(design, result, "primary", primary, primary_limit, result.primary_device, note)
        return
    # Where the primary alone is within 125 %, no secondary device is asked for and none is limited.
    alone = _limit(design, "primary_only", "primary", result.primary_a, result.primary_device)
    if primary is not None and alone is not None and primary <= alone + 0.001:
        return
    if secondary is not None and secondary_limit is not None and not protected:
        yield _finding(design, result, "secondary", secondary, secondary_limit, result.secondary_device, "")


def _limit(
    design: Design, method: str, winding: str, rated_a: float | None, device: DeviceResult | None
) -> float | None:
    if rated_a is None:
        return None
    found = lookup.transformer_device_pct(design.edition, method, winding, rated_a)
    fused = device is not None and device.fuse_a is not None
    ratings = lookup.standard_ratings(design.edition, "fuse" if fused else "breaker")
    if found is None:
        return None
    # Below the smallest standard rating the percentage itself is the limit.
    return greatest_device(rated_a, found[0], found[1], ratings) or rated_a * found[0] / 100


def _finding(
    design: Design,
    result: TransformerResult,
    winding: str,
    rating: float,
    limit: float,
    device: DeviceResult | None,
    note: str,
) -> Finding:
    rated = result.primary_a if winding == "primary" else result.secondary_a
    notes = [f"rated {winding} current {amperes_text(rated)}"]
    return breach(
        "xfmr-ocpd",
        result.tag,
        f"{result.tag}: {winding} device {amperes_text(rating)}, limit {amperes_text(limit)}",
        (device.span if device else None) or result.span,
        design.edition.clause("Table 450.3(B)"),
        [*notes, note] if note else notes,
        "take a smaller device or a larger transformer",
    )


RULE = Rule(
    id="xfmr-ocpd",
    severity=Severity.ERROR,
    title="a transformer device is above its limit",
    why="The devices of a transformer keep it from burning on an overload or a fault inside it.",
    clause="450.3(B)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 30 ft, breaker 200 A
    rating      45 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.transformers,
)
