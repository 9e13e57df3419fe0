"""Regulation: the drop of a transformer's secondary voltage under its greatest demand, sending voltage held."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from fedfrom.formulas.voltage_drop import DropError, transformer_drop_percent
from fedfrom.model.items import Origin
from fedfrom.passes.work import Work
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.types import TransformerResult


def regulated(work: Work, result: TransformerResult) -> TransformerResult:
    """A transformer with the drop of its secondary voltage under its greatest demand; unknown without its impedance."""
    load = work.node_load(result.tag)
    if load is None or not load.complete or not result.kva or result.x_over_r is None or not result.impedance_pct:
        return result
    factor = min(1.0, load.power_factor) if load.power_factor > 0 else 1.0
    rating_va = result.kva * 1000
    try:
        drop = transformer_drop_percent(load.demand_va, rating_va, result.impedance_pct, result.x_over_r, factor)
    except DropError:
        return result
    return replace(result, regulation_pct=drop)


def regulation_derivations(work: Work, results: Mapping[str, TransformerResult]) -> dict[str, Derivation]:
    """How each regulation came about, in per unit of the rating."""
    found: dict[str, Derivation] = {}
    for tag, result in results.items():
        load = work.node_load(tag)
        if result.regulation_pct is None or load is None or not result.kva or not result.impedance_pct:
            continue
        cos = min(1.0, load.power_factor) if load.power_factor > 0 else 1.0
        sin, share = math.sqrt(1 - cos**2), load.demand_va / 1000 / result.kva
        ratio = result.x_over_r or 0.0
        r = result.impedance_pct / math.hypot(1.0, ratio)
        a, b = share * (r * cos + r * ratio * sin), share * (r * ratio * cos - r * sin)
        found[f"{tag}.regulation"] = Derivation(
            subject=f"{tag}.regulation",
            title=f"Regulation of {tag}",
            value=f"{result.regulation_pct:.2f} %",
            origin=Origin.CHOSEN,
            inputs=(
                Input("S", "demand", f"{load.demand_va / 1000:.2f} kVA"),
                Input("Sr", "rating", f"{result.kva:g} kVA", result.kva_origin),
                Input("Z", "impedance", f"{result.impedance_pct:g} %", result.impedance_origin),
                Input("X/R", "ratio", f"{ratio:.3f}"),
                Input("cos", "power factor", f"{cos:.4f}"),
                Input("sin", "sqrt(1 - cos^2)", f"{sin:.4f}"),
            ),
            steps=(
                Step("R = Z / sqrt(1 + (X/R)^2)", f"{result.impedance_pct:g} / sqrt(1 + {ratio:.3f}^2)", f"{r:.4f} %"),
                Step("X = R (X/R)", f"{r:.4f} x {ratio:.3f}", f"{r * ratio:.4f} %"),
                Step(
                    "a = S / Sr (R cos + X sin)",
                    f"{share:.4f} x ({r:.4f} x {cos:.4f} + {r * ratio:.4f} x {sin:.4f})",
                    f"{a:.4f} %",
                ),
                Step(
                    "b = S / Sr (X cos - R sin)",
                    f"{share:.4f} x ({r * ratio:.4f} x {cos:.4f} - {r:.4f} x {sin:.4f})",
                    f"{b:.4f} %",
                ),
                Step(
                    "V = 100 + a - sqrt(100^2 - b^2)",
                    f"100 + {a:.4f} - sqrt(100^2 - {abs(b):.4f}^2)",
                    f"{result.regulation_pct:.2f} %",
                ),
            ),
            rounding="none",
            clause="definition of percent impedance, IEEE Std C57.12.80",
            state=load.state,
            span=result.span,
        )
    return found
