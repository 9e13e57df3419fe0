"""What the fault study has to say: assumptions made, figures that disagree, gear it could not reach."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Node
from fedfrom.model.items import Origin, Status
from fedfrom.passes.fault_study import StateFaults
from fedfrom.passes.network_model import CLOSED_LOOP, NetworkData
from fedfrom.passes.practice import assumption
from fedfrom.passes.source_impedance import SourceImpedance
from fedfrom.passes.work import Work

UTILITY_FIGURE = "the utility's available fault current"
MOST_NAMED = 5


def fault_findings(work: Work, data: NetworkData, faults: Mapping[str, StateFaults]) -> Iterator[Finding]:
    """Findings of the pass, in source order."""
    for tag, source in data.sources.items():
        node = work.network.nodes[tag]
        yield from _source_findings(work, node, source)
    yield from _typical_impedances(work, data)
    yield from _unreached(work, data, faults)


def _typical_impedances(work: Work, data: NetworkData) -> Iterator[Finding]:
    """One finding for each typical value used, at the first transformer that takes it."""
    groups: dict[str, list[str]] = {}
    for tag, transformer in data.transformers.items():
        demolished = work.network.nodes[tag].item.status is Status.DEMOLISH
        if transformer is not None and transformer.origin is not Origin.WRITTEN and not demolished:
            groups.setdefault(transformer.basis, []).append(tag)
    for basis, tags in groups.items():
        more = f" and {len(tags) - 1} more" if len(tags) > 1 else ""
        others = f"also: {', '.join(tags[1:])}"
        yield Finding(
            rule="transformer-impedance-assumed",
            severity=Severity.NOTE,
            subject=tags[0],
            message=f"the impedance of {tags[0]}{more} is a typical value: {basis}",
            span=work.network.nodes[tags[0]].item.tag_span,
            label="no `impedance`",
            notes=(others,) if more else (),
            help="write `impedance … %, X/R …` from the nameplate when it is known",
            clause=work.edition.clause("practice"),
        )


def _source_findings(work: Work, node: Node, source: SourceImpedance) -> Iterator[Finding]:
    item = node.item
    fact = item.facts.first("fault") or item.facts.first("transformer")
    span = fact.span if fact is not None else item.tag_span
    if item.kind == "utility" and source.z1 is not None and source.ratio_assumed:
        yield Finding(
            rule="source-x-over-r-assumed",
            severity=Severity.NOTE,
            subject=item.tag,
            message=f"{item.tag} is given without X/R: {source.basis}",
            span=span,
            label="no X/R",
            help="add `X/R …` from the utility's letter; a high value is assumed meanwhile, which is the safe side",
            clause=work.edition.clause("practice"),
        )
    if source.stated_a and source.computed_a:
        apart = abs(source.stated_a - source.computed_a) / max(source.stated_a, source.computed_a) * 100
        if apart > assumption(work.edition, "stated_faults_agree_pct"):
            yield Finding(
                rule="utility-figures-disagree",
                severity=Severity.WARNING,
                subject=item.tag,
                message=(
                    f"the two fault figures of {item.tag} are {apart:.0f} % apart: {source.stated_a / 1000:.1f} kA "
                    f"stated, {source.computed_a / 1000:.1f} kA from its transformer and primary"
                ),
                span=span,
                notes=("the larger one is used for ratings",),
                help="ask the utility which one holds, and for what place",
                clause=work.edition.clause("practice"),
            )


def _unreached(work: Work, data: NetworkData, faults: Mapping[str, StateFaults]) -> Iterator[Finding]:
    """One finding for each cause that leaves buses without a fault current, at the first node it strikes."""
    causes: dict[str, list[tuple[str, str]]] = {}
    for state, result in faults.items():
        for bus, needs in result.needs.items():
            tag = bus.removesuffix(".primary")
            causes.setdefault(needs, []).append((tag, state))
    without = [struck for needs, struck in causes.items() if needs.startswith(UTILITY_FIGURE)]
    if without:
        yield _no_figure(work, data, [tag for struck in without for tag, _ in struck])
    for needs, struck in causes.items():
        tags = list(dict.fromkeys(tag for tag, _ in struck))
        states = list(dict.fromkeys(state for _, state in struck))
        if _told_elsewhere(data, needs):
            continue
        first = work.network.nodes[tags[0]]
        others = f" and {len(tags) - 1} more" if len(tags) > 1 else ""
        yield Finding(
            rule="fault-not-computed",
            severity=Severity.NOT_CHECKED,
            subject=tags[0],
            message=f"the fault current at {tags[0]}{others} is not computed: needs {needs}",
            span=first.item.tag_span,
            notes=(f"in: {', '.join(states)}",),
            help=_way_out(needs),
            clause=work.edition.clause("110.9"),
        )


def _no_figure(work: Work, data: NetworkData, struck: list[str]) -> Finding:
    """Utilities without any fault figure: no short-circuit rating below it is established."""
    silent = [tag for tag, source in data.sources.items() if source.needs == UTILITY_FIGURE]
    gear = [tag for tag in dict.fromkeys(struck) if tag not in silent]
    shown = ", ".join(gear[:MOST_NAMED]) + (f" and {len(gear) - MOST_NAMED} more" if len(gear) > MOST_NAMED else "")
    state = "state" if len(silent) > 1 else "states"
    below = f"no short-circuit rating below is established: {shown}" if gear else "no rating below is established"
    return Finding(
        rule="fault-not-computed",
        severity=Severity.NOT_CHECKED,
        subject=silent[0],
        message=f"{' and '.join(silent)} {state} no available fault current; {below}",
        span=work.network.nodes[silent[0]].item.tag_span,
        help=(
            "write `fault 22 kA at service point, X/R 6` with the figures of the utility's letter, or the data of its "
            "transformer; do not order gear before"
        ),
        clause=work.edition.clause("110.9"),
    )


def _way_out(needs: str) -> str:
    if needs == CLOSED_LOOP:
        return "open a tie or a device of the loop in that state; ratings there are not checked meanwhile"
    return f"state {needs}; ratings there are not checked meanwhile"


def _told_elsewhere(data: NetworkData, needs: str) -> bool:
    """A finding of its own tells of a missing utility figure, rules of a missing length, and of direct current."""
    told = (UTILITY_FIGURE, "the length of the feeder", "a method for DC faults")
    return needs.startswith(told)
