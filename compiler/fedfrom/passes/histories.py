"""Pass: derivations of what several passes have a hand in: bonding, enclosures, balance, positions, nameplates.

Nothing is chosen here. What was chosen is laid open, so that every value of the results has its history.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fedfrom.model.items import Origin
from fedfrom.passes.gear_facts import is_service
from fedfrom.passes.grounding import ROD_KINDS, Supply, grounding_supply
from fedfrom.passes.place import needed_enclosure, place_of
from fedfrom.passes.practice import ratings_at
from fedfrom.passes.transformer_impedance import transformer_impedance
from fedfrom.passes.work import Pass, Work
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import amperes_text, device_text, kiloamperes_text, size_text
from fedfrom.results.types import CircuitResult, GearResult, TransferResult, TransformerResult
from fedfrom.tables import lookup

PRACTICE = "common practice, no source"


def run(work: Work) -> Work:
    """Add the derivations; those that a pass has already made stay as they are."""
    found = dict(work.derivations)
    for derivation in _all(work):
        found.setdefault(derivation.subject, derivation)
    return replace(work, derivations=found)


def _all(work: Work) -> Iterator[Derivation]:
    for gear in work.gear.values():
        yield from _gear(work, gear)
    for transformer in work.transformers.values():
        yield from _transformer(work, transformer)
    for transfer in work.transfers.values():
        yield from _transfer(work, transfer)
    for tag, rows in work.circuits.items():
        for row in rows:
            yield from _circuit(tag, row)


# --- grounding -----------------------------------------------------------------------------------------------------


def _bonding(
    work: Work, tag: str, electrodes: tuple[str, ...], conductor: str, jumper: str, service: bool
) -> Iterator[Derivation]:
    """The grounding electrode conductor and the main or system bonding jumper, both by the supply conductors."""
    supply = grounding_supply(work, tag)
    if supply is None:
        return
    area = supply.kcmil
    inputs, step = _supply_area(work, supply)
    item = work.model.items[tag]
    if conductor:
        yield Derivation(
            f"{tag}.electrode",
            "grounding electrode conductor",
            f"{size_text(conductor)} copper",
            Origin.CHOSEN,
            (*inputs, *(Input("", "electrode", name) for name in electrodes)),
            (step, *_electrode_steps(work, tag, supply, area, conductor)),
            "size of the table",
            work.edition.clause("250.66"),
            span=item.tag_span,
        )
    if jumper:
        name = "main bonding jumper" if service else "system bonding jumper"
        clause = work.edition.clause("250.102(C)(1)")
        over = area > _largest_in_table(work, supply)
        rounding = "12.5 % of the supply area, next size up" if over else "size of the table"
        steps = [step]
        if over:
            share = Step("area = 0.125 A", f"0.125 x {area:,.6g} kcmil", f"{0.125 * area:,.5g} kcmil", clause)
            own = lookup.area_kcmil(work.edition, jumper) or 0.0
            steps += [share, Step(f"{size_text(jumper)} has", "", f"{own:,.6g} kcmil")]
        else:
            steps.append(Step(f"size for {area:,.6g} kcmil {_metal(supply)}", "", size_text(jumper), clause))
        yield Derivation(
            f"{tag}.jumper", name, f"{size_text(jumper)} copper", Origin.CHOSEN, inputs, tuple(steps), rounding,
            clause, span=item.tag_span,
        )  # fmt: skip


def _largest_in_table(work: Work, supply: Supply) -> float:
    """Supply conductors beyond this area, kcmil, go by a share of it (NEC Table 250.102(C)(1), note 1)."""
    column = "al_supply_max_kcmil" if supply.material == "Al" else "cu_supply_max_kcmil"
    return max(float(row[column]) for row in work.edition.rows("ssbj_250_102_c_1") if row[column])


def _supply_area(work: Work, supply: Supply) -> tuple[tuple[Input, ...], Step]:
    table = work.edition.clause("Chapter 9 Table 8")
    inputs: list[Input] = []
    terms, formula = [], []
    for number, run in enumerate(supply.runs, 1):
        own = lookup.area_kcmil(work.edition, run.phase) or 0.0
        count = "n" if len(supply.runs) == 1 else f"n{number}"
        name = f"largest ungrounded supply conductor, {size_text(run.phase)}"
        inputs += [
            Input(f"A{number}", name, f"{own:,.6g} kcmil", source=table),
            Input(count, "sets in parallel", f"{run.sets}"),
        ]
        terms.append(f"{run.sets} x {own:,.6g}")
        formula.append(f"{count} A{number}")
    return tuple(inputs), Step(f"A = {' + '.join(formula)}", " + ".join(terms), f"{supply.kcmil:,.6g} kcmil")


def _electrode_steps(work: Work, tag: str, supply: Supply, area: float, kept: str) -> Iterator[Step]:
    table = lookup.gec_size(work.edition, supply.material, area) or ""
    yield Step(f"size for {area:,.6g} kcmil {_metal(supply)}", "", size_text(table), work.edition.clause("250.66"))
    kinds = {electrode.kind for electrode in work.model.items[tag].electrodes}
    if kept != table and kinds <= ROD_KINDS:
        yield Step(
            "only to rods, pipes or plates: not larger than", "", size_text(kept), work.edition.clause("250.66(A)")
        )
    elif kept != table and kinds <= ROD_KINDS | {"concrete-encased"}:
        yield Step("only to concrete-encased: not larger than", "", size_text(kept), work.edition.clause("250.66(B)"))


def _metal(supply: Supply) -> str:
    return "aluminum" if supply.material == "Al" else "copper"


# --- gear ----------------------------------------------------------------------------------------------------------


def _gear(work: Work, gear: GearResult) -> Iterator[Derivation]:
    conductor, jumper = gear.grounding_electrode_conductor, gear.main_bonding_jumper
    yield from _bonding(work, gear.tag, gear.electrodes, conductor, jumper, is_service(work, gear.tag))
    enclosure = _enclosure(work, gear)
    if enclosure is not None:
        yield enclosure
    balance = _imbalance(work, gear)
    if balance is not None:
        yield balance


def _enclosure(work: Work, gear: GearResult) -> Derivation | None:
    item = work.model.items.get(gear.tag)
    place = place_of(work.model, item) if item is not None else None
    if item is None or place is None or not gear.enclosure:
        return None
    choice = needed_enclosure(work.edition, place)
    where = Input("", "place", place.text, Origin.WRITTEN, place.span)
    needs = ", ".join(need.replace("_", " ") for need in choice.needs) if choice is not None else ""
    reason = (
        f"the place asks for protection against {needs}"
        if needs
        else "the place asks for no protection beyond the plainest"
    )
    return Derivation(
        f"{gear.tag}.enclosure",
        f"enclosure of {gear.tag}",
        gear.enclosure if gear.enclosure.lower().startswith("type") else f"Type {gear.enclosure}",
        gear.enclosure_origin,
        (where,),
        (Step(reason, "", ""),),
        "as written, checked" if gear.enclosure_origin is Origin.WRITTEN else "the plainest type that serves",
        work.edition.clause("Table 110.28"),
        span=gear.span,
    )


def _imbalance(work: Work, gear: GearResult) -> Derivation | None:
    load = work.node_load(gear.tag)
    if load is None or gear.imbalance_pct is None:
        return None
    phases = [(letter, va) for letter, va in zip("ABC", load.phase_va, strict=True) if va > 0]
    if len(phases) < 2:
        return None
    mean = sum(va for _, va in phases) / len(phases)
    worst = max(phases, key=lambda pair: abs(pair[1] - mean))
    terms = " + ".join(f"{va:,.0f}" for _, va in phases)
    return Derivation(
        f"{gear.tag}.imbalance",
        f"phase balance of {gear.tag}",
        f"{gear.imbalance_pct:.1f} %",
        Origin.CHOSEN,
        tuple(Input(f"S{letter}", f"connected on phase {letter}", f"{va:,.0f} VA") for letter, va in phases),
        (
            Step("mean", f"({terms}) / {len(phases)}", f"{mean:,.1f} VA"),
            Step(
                f"greatest deviation, phase {worst[0]}, percent of the mean",
                f"100 x abs({worst[1]:,.0f} - {mean:,.1f}) / {mean:,.1f}",
                f"{gear.imbalance_pct:.1f} %",
            ),
        ),
        clause=PRACTICE,
        state=load.state,
        span=gear.span,
    )


# --- transformers and transfer switches ----------------------------------------------------------------------------


def _transformer(work: Work, result: TransformerResult) -> Iterator[Derivation]:
    yield from _bonding(
        work, result.tag, result.electrodes, result.grounding_electrode_conductor, result.system_bonding_jumper, False
    )
    item = work.model.items.get(result.tag)
    if item is None or result.kva is None or result.secondary is None or result.impedance_pct is None:
        return
    plate = transformer_impedance(work.edition, item, result.kva, result.secondary)
    if plate is None:
        return
    yield Derivation(
        f"{result.tag}.impedance",
        f"impedance of {result.tag}",
        f"{plate.percent:g} %, X/R {plate.x_over_r:g}",
        result.impedance_origin,
        (Input("S", "rating", f"{result.kva:g} kVA", source=f"see {result.tag}.kva"),),
        (
            Step(f"{plate.basis}.", "", ""),
            Step("taken for faults", "", f"{plate.fault_percent:.4g} %"),
        ),
        clause=PRACTICE if result.impedance_origin is not Origin.WRITTEN else "nameplate",
        span=result.span,
    )


def _transfer(work: Work, result: TransferResult) -> Iterator[Derivation]:
    if result.withstand_a is None or result.fault_a is None or result.system is None:
        return
    facts = work.model.items[result.tag].facts
    written = facts.first("withstand") is not None or facts.first("sccr") is not None
    ratings = ratings_at(work.edition, "gear_short_circuit_ratings", result.system.line_to_line_v)
    lower = [rating for rating in ratings if rating < result.withstand_a]
    too_low = f"below {result.fault_a:.0f} A"
    yield Derivation(
        f"{result.tag}.withstand",
        f"withstand and closing rating of {result.tag}",
        kiloamperes_text(result.withstand_a),
        Origin.WRITTEN if written else Origin.CHOSEN,
        (Input("I", "greatest available fault current", f"{result.fault_a:.0f} A", source=f"see {result.tag}.fault"),),
        (Step(f"rating of at least {result.fault_a:.0f} A", "", kiloamperes_text(result.withstand_a)),),
        "as written, checked" if written else "up to the next usual rating at this voltage",
        work.edition.clause("110.10"),
        (Rejected(kiloamperes_text(lower[-1]), too_low),) if lower and not written else (),
        result.fault_state,
        result.span,
    )


# --- circuits ------------------------------------------------------------------------------------------------------


def _circuit(tag: str, row: CircuitResult) -> Iterator[Derivation]:
    if row.kind == "spare" and row.device is not None:
        yield Derivation(
            f"{row.key}.device",
            "spare device",
            device_text(row.device),
            row.device.origin,
            (),
            (Step("spare without a load", "", amperes_text(row.device.protects_a), PRACTICE),),
            "as written" if row.device.origin is Origin.WRITTEN else "the smallest usual branch device",
            PRACTICE,
            span=row.span,
        )
    if row.positions:
        yield _position(tag, row)


def _position(tag: str, row: CircuitResult) -> Derivation:
    places = ", ".join(str(position) for position in row.positions)
    poles = f"{row.poles} pole{'s' if row.poles != 1 else ''}, on {row.phases or 'no phase'}"
    how = {
        "feeder": "Feeders take the lowest free positions of the panel from the bottom up.",
        "spare": "Spares take what is left from the top.",
        "space": "Spaces take what is left from the top.",
    }.get(
        row.kind,
        "In the order of the text, the free positions on the phases that carry least so far, lowest number first.",
    )
    return Derivation(
        f"{row.key}.position",
        f"position in {tag}",
        places,
        Origin.WRITTEN if row.pinned else Origin.CHOSEN,
        (Input("", "circuit", f"{row.name or row.kind}, {poles}", Origin.WRITTEN, row.span),),
        () if row.pinned else (Step(how, "", ""),),
        "as written" if row.pinned else "",
        PRACTICE,
        span=row.span,
    )


PASS = Pass(
    "histories",
    needs=frozenset({"gear", "transformers", "transfers", "circuits", "derivations"}),
    gives=frozenset({"derivations"}),
    run=run,
)
