"""`run_passes`: runs the passes in order and assembles the results."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from fedfrom.findings import Finding
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Model
from fedfrom.passes import PASSES
from fedfrom.passes.digest import model_digest
from fedfrom.passes.work import Work
from fedfrom.results.types import AssumptionInfo, ProjectInfo, Results, StateInfo
from fedfrom.tables import Edition

T = TypeVar("T")


def run_passes(
    model: Model, network: Network, plan: StatePlan, edition: Edition
) -> tuple[Results, tuple[Finding, ...]]:
    """The results of a model, everything in source order, and the findings of the passes."""
    work = Work(model, network, plan, edition)
    for step in PASSES:
        work = step.run(work)
    return _results(work), work.findings


def _results(work: Work) -> Results:
    order = {tag: place for place, tag in enumerate(work.model.items)}
    return Results(
        project=_project(work.model),
        states=tuple(
            StateInfo(state.name, state.lost, state.opened, state.closed, state.dead, state.derived)
            for state in work.plan.states
        ),
        sources=_sorted(work.sources, order),
        gear=_sorted(work.gear, order),
        transformers=_sorted(work.transformers, order),
        transfers=_sorted(work.transfers, order),
        ties={tie.tag: work.ties[tie.tag] for tie in work.model.ties if tie.tag in work.ties},
        feeders={edge: work.feeders[edge] for edge in work.network.edges if edge in work.feeders},
        circuits=_sorted(work.circuits, order),
        loads=_sorted(work.loads, order),
        faults=_sorted(work.faults, order),
        rooms=work.rooms,
        bill=work.bill,
        derivations=work.derivations,
        assumptions=tuple(AssumptionInfo(entry.subject, entry.what, entry.reason) for entry in work.model.assumptions),
        findings=work.findings,
        digest=model_digest(work.model),
    )


def _sorted(found: Mapping[str, T], order: Mapping[str, int]) -> dict[str, T]:
    """By source order of the tag; what has no place in the text comes last, as it came."""
    return dict(sorted(found.items(), key=lambda entry: order.get(entry[0], len(order))))


def _project(model: Model) -> ProjectInfo:
    project = model.project

    def word(name: str) -> str:
        found = project.facts.word(name)
        return found.value if found is not None else ""

    return ProjectInfo(
        project.title, project.number, project.code.value, project.drawn_by, _revisions(model), word("address"),
        word("owner"), word("designer"), word("occupancy"), word("checked by"),
        tuple(str(fact.values.get("text", "")) for fact in project.facts.all("note")), word("sheet size"),
    )  # fmt: skip


def _revisions(model: Model) -> tuple[tuple[str, str, str], ...]:
    """Mark, date and description of every revision, as written."""
    return tuple(
        (str(fact.values.get("mark", "")), str(fact.values.get("date", "")), str(fact.values.get("text", "")))
        for fact in model.project.facts.all("revision")
    )
