"""`compile_project`: the sequence of stages, and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from fedfrom.findings import Finding, Severity, sort_findings
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Model
from fedfrom.results.types import Results
from fedfrom.source import SourceFile
from fedfrom.tables import Edition

if TYPE_CHECKING:
    from fedfrom.rules.registry import Design


@dataclass(frozen=True, slots=True)
class Compilation:
    """All that came out of one compilation. Stages that could not run leave None; `findings` says why."""

    files: Mapping[str, SourceFile]
    findings: tuple[Finding, ...]
    model: Model | None = None
    network: Network | None = None
    plan: StatePlan | None = None
    results: Results | None = None
    edition: Edition | None = None

    @property
    def worst(self) -> Severity | None:
        """The gravest severity among the findings, or None."""
        return max((finding.severity for finding in self.findings), default=None)

    def design(self) -> Design:
        """What rules and documents look at. Raises ValueError where the design could not be computed."""
        if self.model is None or self.network is None or self.plan is None:
            raise ValueError("the design was not computed")
        if self.results is None or self.edition is None:
            raise ValueError("the design was not computed")
        from fedfrom.rules.registry import Design

        return Design(self.model, self.network, self.plan, self.results, self.edition, self.files)


def compile_project(path: Path) -> Compilation:
    """Compile a `.fed` file, or a folder with a `project.fed`.

    Every problem is a finding; only a bug raises.
    """
    from fedfrom.model.read import read_model

    reading = read_model(path)
    if reading.model is None:
        return Compilation(reading.files, sort_findings(reading.findings))
    return _compute(reading.files, reading.model, reading.findings)


def compile_texts(texts: Mapping[str, str], root: str) -> Compilation:
    """As `compile_project`, for texts in memory by name (`.fed` files and tables); `root` is the name of the first."""
    from fedfrom.model.read import read_text

    reading = read_text(texts[root], root, texts)
    if reading.model is None:
        return Compilation(reading.files, sort_findings(reading.findings))
    return _compute(reading.files, reading.model, reading.findings)


def _compute(files: Mapping[str, SourceFile], model: Model, findings: tuple[Finding, ...]) -> Compilation:
    from fedfrom.graph.build import build_network
    from fedfrom.graph.states import plan_states
    from fedfrom.model.build_own_tables import edition_of
    from fedfrom.passes.run import run_passes
    from fedfrom.rules.run import run_rules

    edition = edition_of(model)
    network, network_findings = build_network(model)
    plan, plan_findings = plan_states(model, network)
    results, pass_findings = run_passes(model, network, plan, edition)
    gathered = (*findings, *network_findings, *plan_findings, *pass_findings)
    results, final = run_rules(model, network, plan, results, edition, gathered)
    return Compilation(files, final, model, network, plan, replace(results, findings=final), edition)
