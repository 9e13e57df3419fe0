"""Pass: the size and rated currents of every transformer. Its devices and bonding follow with the feeders."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.formulas.transformers import bank_kva, rated_current, transformer_size
from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Electrode, Origin
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import Dimension, Quantity, VoltageSystem
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import kva_text
from fedfrom.results.types import NodeLoad, TransformerResult
from fedfrom.tables import lookup

SMALLEST_BREAKER_A = 15.0


def run(work: Work) -> Work:
    """Fill `transformers` for every node with that role."""
    transformers = {}
    derivations = dict(work.derivations)
    for tag, node in work.network.nodes.items():
        if node.role != "transformer":
            continue
        result, derivation = _size(work, node)
        transformers[tag] = result
        if derivation is not None:
            derivations[derivation.subject] = derivation
    return replace(work, transformers=transformers, derivations=derivations)


def _size(work: Work, node: Node) -> tuple[TransformerResult, Derivation | None]:
    item = node.item
    load = work.node_load(node.tag)
    bank = _bank_kva(load, node.system)
    needed = _needed_kva(load, bank)
    written = amount(item.facts.first("rating"), Dimension.APPARENT)
    sizes = _usable_sizes(work, node)
    kva = written / 1000 if written is not None else None
    if kva is None and needed is not None and not (node.system and node.system.is_dc):
        kva = transformer_size(needed, sizes)
    origin = Origin.WRITTEN if written is not None else Origin.CHOSEN
    loading = None if kva is None or bank is None or load is None or not load.complete else 100 * bank / kva
    result = TransformerResult(
        tag=node.tag,
        title=item.title,
        kva=kva,
        kva_origin=origin,
        primary=node.line_system,
        secondary=node.system,
        connection=connection(node.line_system, node.system),
        impedance_pct=None,
        impedance_origin=Origin.DEFAULT,
        x_over_r=None,
        k_factor=_k_factor(node),
        primary_a=_rated(kva, node.line_system, node.system),
        secondary_a=_rated(kva, node.system, node.system),
        primary_device=None,
        secondary_device=None,
        loading_pct=loading,
        fault_primary_a=None,
        fault_secondary_a=None,
        electrodes=tuple(electrode_text(each) for each in item.electrodes),
        place=" ".join(words(item.facts.first("place"))),
        fed_from=next((feed.source for feed in item.feeds), item.enclosing),
        status=item.status,
        by=item.by,
        span=item.tag_span,
    )
    return result, _derivation(node, load, bank, needed, result, sizes)


def _usable_sizes(work: Work, node: Node) -> tuple[float, ...]:
    """Standard sizes whose primary a breaker can protect: 250 % of rated current reaches the smallest rating, 15 A."""
    sizes = lookup.transformer_sizes_kva(work.edition, _phases(node.system))
    rated = [(size, _rated(size, node.line_system, node.system)) for size in sizes]
    return tuple(size for size, amperes in rated if amperes is None or 2.5 * amperes >= SMALLEST_BREAKER_A)


def _phases(system: VoltageSystem | None) -> int:
    return 3 if system is None or system.phases == 3 else 1


def _bank_kva(load: NodeLoad | None, system: VoltageSystem | None) -> float | None:
    """Demand in kVA, not less than what makes the winding that carries most enough: its share is half or a third."""
    if load is None:
        return None
    total = load.demand_va / 1000
    if system is None or (system.phases == 3 and system.kind != "wye") or system.phases not in (1, 3):
        return total
    return max(total, bank_kva(system.line_to_line_v, system.phases, max(load.phase_demand_a)))


def _needed_kva(load: NodeLoad | None, bank: float | None) -> float | None:
    """The bank's kVA with growth, None where the load is not known. The 25 % of continuous load is no load here."""
    if load is None or bank is None or not load.complete:
        return None
    return bank * _growth(load)


def _growth(load: NodeLoad) -> float:
    return load.design_with_growth_a / load.design_a if load.design_a > 0 else 1.0


def _rated(kva: float | None, system: VoltageSystem | None, secondary: VoltageSystem | None) -> float | None:
    if kva is None or system is None or system.line_to_line_v <= 0 or system.is_dc:
        return None
    # A single-phase transformer takes two lines of a three-phase system.
    return rated_current(kva, system.line_to_line_v, min(_phases(system), _phases(secondary)))


def connection(primary: VoltageSystem | None, secondary: VoltageSystem | None) -> str:
    """The winding connection: three-phase primaries are delta (common practice), the secondary follows its system."""
    if primary is None or secondary is None:
        return ""
    if secondary.phases != 3:
        return "single-phase" if secondary.kind != "dc" else "rectifier"
    kinds = {"wye": "wye", "high-leg delta": "delta, center tap", "corner-grounded delta": "delta, corner grounded"}
    return f"delta - {kinds.get(secondary.kind, 'delta')}"


def _k_factor(node: Node) -> str:
    fact = node.item.facts.first("k-factor")
    for value in fact.values.values() if fact else ():
        if isinstance(value, Quantity):
            return f"K-{float(value):g}"
        if isinstance(value, str | int):
            return f"K-{value}"
    return ""


def electrode_text(electrode: Electrode) -> str:
    """ "rod x 2, 25 ft"."""
    count = f" x {electrode.count}" if electrode.count > 1 else ""
    length = f", {electrode.length_ft.value:g} ft" if electrode.length_ft else ""
    return f"{electrode.kind}{count}{length}"


def _derivation(
    node: Node,
    load: NodeLoad | None,
    bank: float | None,
    needed: float | None,
    result: TransformerResult,
    sizes: tuple[float, ...],
) -> Derivation | None:
    if result.kva is None:
        return None
    inputs = [] if load is None else [Input("S", "demand", kva_text(load.demand_va))]
    steps = []
    name = "S"
    if bank is not None and load is not None and node.system is not None and bank * 1000 > load.demand_va + 0.5:
        name = "S bank"
        inputs.append(Input("I", "greatest line of the secondary", f"{max(load.phase_demand_a):.2f} A"))
        root = "1.732 x " if node.system.phases == 3 else ""
        numbers = f"{root}{node.system.line_to_line_v:g} x {max(load.phase_demand_a):.2f} / 1000"
        formula = f"S bank = {'sqrt(3) ' if root else ''}V I / 1000"
        steps.append(Step(formula, numbers, f"{bank:.1f} kVA", ""))
    if needed is not None and load is not None and bank is not None:
        steps.append(Step(f"{name} x growth", f"{bank:.1f} x {_growth(load):.3f}", f"{needed:.1f} kVA", ""))
    if result.loading_pct is not None and bank is not None:
        numbers = f"100 x {bank:.1f} / {result.kva:g}"
        steps.append(Step(f"loading = 100 {name} / rating", numbers, f"{result.loading_pct:.0f} %", ""))
    below = [size for size in sizes if size < result.kva]
    chosen = result.kva_origin is Origin.CHOSEN
    rejected = (Rejected(f"{below[-1]:g} kVA", f"below {needed:.1f} kVA"),) if chosen and below and needed else ()
    return Derivation(
        f"{node.tag}.kva",
        "transformer size",
        f"{result.kva:g} kVA",
        result.kva_origin,
        tuple(inputs),
        tuple(steps),
        "next standard size" if chosen else "as written, checked",
        "common practice, no source",
        rejected,
        load.state if load else "",
        node.item.tag_span,
    )


PASS = Pass(
    "transformers",
    needs=frozenset({"loads"}),
    gives=frozenset({"transformers", "derivations"}),
    run=run,
)
