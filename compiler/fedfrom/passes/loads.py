"""Pass: connected and demand load at every node in every state, by category, with phases, neutral and growth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.load_phases import add, by_phase
from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import words
from fedfrom.model.items import Fact, Status
from fedfrom.passes.load_demand import Demand, NodeContext, standard_demand
from fedfrom.passes.load_derivation import demand_derivation, neutral_derivation
from fedfrom.passes.load_gather import Counted, Gathered, Gatherer
from fedfrom.passes.load_growth import growth_load_pct, with_growth
from fedfrom.passes.load_neutral import NeutralLoad, neutral_load
from fedfrom.passes.load_noncoincident import raise_motors, split_noncoincident
from fedfrom.passes.load_optional import optional_demand
from fedfrom.passes.load_totals import (
    demand_by_conductor,
    demand_lines,
    even_a,
    motor_va,
    power_factor,
    sizing_lines,
)
from fedfrom.passes.work import Pass, Work
from fedfrom.results.derivation import Derivation
from fedfrom.results.types import CategoryLoad, NodeLoad

WRONG_VOLTS = "volts that its gear offers"


@dataclass
class _Memory:
    """Results by the key of what was gathered: the same loads at the same node are calculated once."""

    by_key: dict[tuple[str, int], NodeLoad] = field(default_factory=dict)
    demands: dict[tuple[str, int], list[Demand]] = field(default_factory=dict)
    neutrals: dict[tuple[str, int], NeutralLoad] = field(default_factory=dict)
    findings: dict[Finding, None] = field(default_factory=dict)


def run(work: Work) -> Work:
    """Fills `loads` and the derivations "TAG.demand"; findings on loads that are not known."""
    memory = _Memory()
    gatherer = Gatherer(work)
    loads: dict[str, dict[str, NodeLoad]] = {tag: {} for tag in work.network.nodes}
    keys: dict[tuple[str, str], int] = {}
    for state in work.plan.states:
        for tag, gathered in gatherer.gather(state).items():
            node = work.network.nodes[tag]
            if node.item.status is Status.DEMOLISH:
                continue
            known = memory.by_key.get((tag, gathered.key))
            if known is None:
                known = _node_load(work, node, gathered, memory)
                memory.by_key[tag, gathered.key] = known
            loads[tag][state.name] = replace(known, state=state.name)
            keys[tag, state.name] = gathered.key
    kept = {tag: states for tag, states in loads.items() if states}
    return replace(
        work,
        loads=kept,
        derivations={**work.derivations, **_derivations(work, kept, keys, memory)},
        findings=(*work.findings, *_unknown_loads(work), *memory.findings),
    )


def _node_load(work: Work, node: Node, gathered: Gathered, memory: _Memory) -> NodeLoad:
    future = node.item.status is Status.FUTURE
    present = [entry for entry in gathered.loads if future or entry.load.status is not Status.FUTURE]
    method = gathered.method
    demands, standard = _demands(work, node, present, method, memory)
    has_later = len(present) < len(gathered.loads)
    memory.demands[node.tag, gathered.key] = demands
    demand_va = sum(line.demand_va for line in demands)
    continuous_va = sum(line.continuous_va for line in demands)
    design_a = _design_a(demands, node)
    design_later = design_a
    if has_later:
        design_later = _design_a(_demands(work, node, gathered.loads, method, memory)[0], node)
    on_phases = add(entry.on_phases for entry in present)
    neutral = memory.neutrals[node.tag, gathered.key] = neutral_load(standard, node.system, work.edition)
    return NodeLoad(
        state="",
        categories=tuple(_category(work, line) for line in demands),
        connected_va=sum(entry.va for entry in present),
        demand_va=demand_va,
        demand_a=even_a(demands, node.system),
        design_a=design_a,
        design_with_growth_a=with_growth(work, node, demands, design_a, design_later),
        continuous_va=continuous_va,
        phase_va=by_phase(on_phases),
        phase_demand_a=demand_lines(demands, node.system),
        neutral_a=neutral.current_a,
        neutral_va=neutral.total_va,
        neutral_nonlinear_a=neutral.harmonic_a,
        power_factor=power_factor(demands),
        motor_va=motor_va(standard),
        complete=gathered.readable and node.system is not None and all(entry.load.va is not None for entry in present),
        conductor_va=demand_by_conductor(demands),
    )


def _demands(
    work: Work, node: Node, loads: Sequence[Counted], method_fact: Fact | None, memory: _Memory
) -> tuple[list[Demand], list[Demand]]:
    """(the node's demand lines, those of the standard method) after noncoincident loads are left out."""
    split = split_noncoincident(loads, work.model.noncoincident, work.edition)
    kept = split.counted
    system = node.system
    context = NodeContext(work.edition, system is not None and system.phases == 3 and system.has_neutral)
    standard = raise_motors(standard_demand(kept, context), split)
    demands = standard
    method = " ".join(words(method_fact))
    if method and method != "standard":
        optional = optional_demand(method, kept, context, system)
        if optional.demands:
            demands = optional.demands
        else:
            if node.item.facts.first("method") is not None:
                memory.findings[_method_finding(work, node, method, optional.refused, optional.needs)] = None
    return _with_left_out(demands, split.left_out), standard


def _with_left_out(demands: list[Demand], left_out: Sequence[Counted]) -> list[Demand]:
    """Loads that do not count at the same time stay visible: connected, without demand."""
    result = list(demands)
    for entry in left_out:
        name = entry.load.tag or entry.load.name
        for index, line in enumerate(result):
            if line.category == entry.load.kind and not line.added:
                factor = f"{line.factor}; {name} not at the same time"
                result[index] = replace(line, left_out=(*line.left_out, entry), factor=factor)
                break
        else:
            place = len(result) - 1 if result and result[-1].added else len(result)
            result.insert(place, Demand(entry.load.kind, (), f"{name} not at the same time", "220.60", (entry,)))
    return result


def _design_a(demands: Sequence[Demand], node: Node) -> float:
    """The current for sizing: with 25 % of continuous load, of the phase that carries most."""
    return max(even_a(demands, node.system, 0.25), *sizing_lines(demands, node.system))


def _category(work: Work, line: Demand) -> CategoryLoad:
    return CategoryLoad(
        category=line.category,
        connected_va=line.connected_va,
        demand_va=line.demand_va,
        factor=line.factor,
        clause=work.edition.clause(line.clause) if line.clause else "by the engineer",
        continuous_va=line.continuous_va,
        count=0 if line.added else line.count,
        phase_va=(0.0, 0.0, 0.0) if line.added else _on_phases(line),
    )


def _on_phases(line: Demand) -> tuple[float, float, float]:
    """The connected load of a category by phase, what is not counted included."""
    entries = [*(entry for entry, _ in line.parts), *line.left_out]
    return by_phase(add(entry.on_phases for entry in entries))


# --- findings and derivations --------------------------------------------------------------------------------------


def _unknown_loads(work: Work) -> list[Finding]:
    """One finding for each load whose volt-amperes are not known; wrong volts were told by the network."""
    found = []
    for tag, loads in work.connected.items():
        for load in loads:
            if load.va is not None or load.missing == WRONG_VOLTS or load.status is Status.DEMOLISH:
                continue
            if work.network.nodes[tag].item.unreadable and load.missing == "its load":
                continue  # a line that could not be read was told where it stands
            name = load.tag or f'"{load.name}"'
            found.append(
                Finding(
                    rule="load-missing",
                    severity=Severity.NOT_CHECKED,
                    subject=f"{tag} {name}",
                    message=f"the load of {name} on {tag} is not known: needs {load.missing}",
                    span=load.span,
                    notes=(f"every total at {tag} and above is a lower bound",),
                    help="write its kVA, kW, A, hp or nameplate, or a figure with `assumed because`",
                )
            )
    return found


def _method_finding(work: Work, node: Node, method: str, refused: str, needs: str) -> Finding:
    fact = node.item.facts.first("method")
    why = refused or f"needs {needs}"
    return Finding(
        rule="dwelling-optional",
        severity=Severity.NOT_CHECKED if needs else Severity.ERROR,
        subject=node.tag,
        message=f"{method} does not apply at {node.tag}: {why}" if refused else f"{method} at {node.tag} {why}",
        span=fact.span if fact else node.item.tag_span,
        notes=("the standard method is used",),
        help="write `method standard`, or meet the conditions of the method",
        clause=work.edition.clause(_METHOD_CLAUSES.get(method, "220.80")),
    )


_METHOD_CLAUSES = {
    "optional dwelling": "220.82",
    "optional existing dwelling": "220.83",
    "optional multifamily": "220.84",
    "optional school": "220.86",
    "optional restaurant": "220.88",
    "optional all-electric restaurant": "220.88",
    "farm building": "220.102",
    "farm": "220.103",
}


def _derivations(
    work: Work, loads: dict[str, dict[str, NodeLoad]], keys: dict[tuple[str, str], int], memory: _Memory
) -> dict[str, Derivation]:
    found = {}
    for tag, by_state in loads.items():
        governing = max(by_state.values(), key=lambda load: load.design_a)
        demands = memory.demands[tag, keys[tag, governing.state]]
        node = work.network.nodes[tag]
        derivation = demand_derivation(work, node, governing, demands, growth_load_pct(work, node))
        found[derivation.subject] = derivation
        neutral = neutral_derivation(work, node, governing, memory.neutrals[tag, keys[tag, governing.state]])
        if neutral is not None:
            found[neutral.subject] = neutral
    return found


PASS = Pass(
    "loads",
    needs=frozenset({"circuits", "connected", "edge_phases"}),
    gives=frozenset({"loads", "derivations"}),
    run=run,
)
