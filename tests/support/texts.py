"""From a text in the language to results, for tests that look at what the compiler makes of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fedfrom.findings import Finding
from fedfrom.graph.build import build_network
from fedfrom.graph.states import plan_states
from fedfrom.model.build_own_tables import edition_of
from fedfrom.model.items import Model
from fedfrom.model.read import read_text
from fedfrom.passes import circuits, loads
from fedfrom.passes.run import run_passes
from fedfrom.passes.work import Work
from fedfrom.results.types import NodeLoad, Results
from fedfrom.rules.run import run_rules


def model_of(text: str) -> Model:
    """The model of a text without errors."""
    reading = read_text(text)
    assert reading.model is not None, reading.findings
    return reading.model


def loads_of_model(model: Model) -> Work:
    """The work after the passes that place circuits and gather loads."""
    edition = edition_of(model)
    network, _ = build_network(model)
    plan, _ = plan_states(model, network)
    return loads.run(circuits.run(Work(model, network, plan, edition)))


def loads_of(text: str) -> Work:
    """As `loads_of_model`, of a text."""
    return loads_of_model(model_of(text))


def node(work: Work, tag: str, state: str = "Normal") -> NodeLoad:
    """The load of a node in a state."""
    return work.loads[tag][state]


def category(load: NodeLoad, name: str) -> float:
    """The demand of a category in VA."""
    return sum(line.demand_va for line in load.categories if line.category == name)


@dataclass(frozen=True)
class Outcome:
    """Everything that came of a text."""

    results: Results
    findings: tuple[Finding, ...]

    def of_rule(self, rule: str) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.rule == rule)


def computed(text: str) -> Outcome:
    """A text through reading and passes, without the rules."""
    reading = read_text(text)
    assert reading.model is not None, reading.findings
    model = reading.model
    network, first = build_network(model)
    plan, second = plan_states(model, network)
    results, third = run_passes(model, network, plan, edition_of(model))
    return Outcome(results, (*reading.findings, *first, *second, *third))


def compiled(text: str, files: Mapping[str, str] | None = None) -> Outcome:
    """A text through all stages, with the files that it may ask for by name."""
    reading = read_text(text, files=files)
    assert reading.model is not None, reading.findings
    model = reading.model
    edition = edition_of(model)
    network, first = build_network(model)
    plan, second = plan_states(model, network)
    results, third = run_passes(model, network, plan, edition)
    results, final = run_rules(model, network, plan, results, edition, (*reading.findings, *first, *second, *third))
    return Outcome(replace(results, findings=final), final)
