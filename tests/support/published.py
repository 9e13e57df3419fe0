"""Published worked examples as `.fed` files beside their tests: each is compiled once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from tests.support.texts import category, loads_of, node

from fedfrom.compile import Compilation, compile_project
from fedfrom.findings import Finding, Severity
from fedfrom.results.derivation import Step
from fedfrom.results.to_json import to_json
from fedfrom.results.types import CircuitResult, NodeLoad, Results

EXAMPLES = Path(__file__).parent.parent / "examples"


@dataclass(frozen=True)
class Published:
    """One compiled example: `results` as computed, `json` as they leave the program."""

    compilation: Compilation
    results: Results
    json: dict[str, Any]

    def load(self, tag: str) -> NodeLoad:
        """The load of a node in its worst state."""
        return max(self.results.loads[tag].values(), key=lambda load: load.design_a)

    def category(self, tag: str, name: str) -> float:
        """The demand of a category at a node in VA."""
        return sum(line.demand_va for line in self.load(tag).categories if line.category == name)

    def circuit(self, key: str) -> CircuitResult:
        """A circuit by its key ("P.1") or the tag of its load."""
        rows = [row for rows in self.results.circuits.values() for row in rows if row.kind == "load"]
        return next(row for row in rows if key in (row.key, row.tag))

    def step(self, subject: str, formula: str) -> Step:
        """The step of a derivation whose formula starts like this."""
        return next(step for step in self.results.derivations[subject].steps if step.formula.startswith(formula))

    def findings(self, rule: str) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.compilation.findings if finding.rule == rule)

    def errors(self) -> set[str]:
        """The rules that find an error."""
        return {finding.rule for finding in self.compilation.findings if finding.severity >= Severity.ERROR}


class PublishedLoads:
    """A large example as far as its loads, for tests that ask for nothing else: without sizing and rules."""

    def __init__(self, folder: str, name: str) -> None:
        self.work = loads_of((EXAMPLES / folder / f"{name}.fed").read_text(encoding="utf-8"))

    def load(self, tag: str) -> NodeLoad:
        """The load of a node."""
        return node(self.work, tag)

    def category(self, tag: str, name: str) -> float:
        """The demand of a category at a node in VA."""
        return category(self.load(tag), name)

    def step(self, subject: str, formula: str) -> Step:
        """The step of a derivation whose formula starts like this."""
        return next(step for step in self.work.derivations[subject].steps if step.formula.startswith(formula))


@cache
def published(folder: str, name: str) -> Published:
    """The example `tests/examples/FOLDER/NAME.fed`, compiled."""
    compilation = compile_project(EXAMPLES / folder / f"{name}.fed")
    assert compilation.results is not None, compilation.findings
    return Published(compilation, compilation.results, to_json(compilation.results, compilation.files))
