"""Whole little programs through reading, passes and rules, for tests of sizing."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.findings import Finding, Severity
from fedfrom.graph.build import build_network
from fedfrom.graph.states import plan_states
from fedfrom.model.read import read_text
from fedfrom.passes.run import run_passes
from fedfrom.results.types import CircuitResult, Results
from fedfrom.rules.registry import Design
from fedfrom.rules.run import run_rules
from fedfrom.tables import load_edition

SOURCE_208 = """fedfrom 1
project "Test" { code NEC 2023 }
DEFAULTS
utility UT {
    voltage 208Y/120 V
    fault   9 kA at service point, X/R 5
}
"""
SOURCE_480 = SOURCE_208.replace("208Y/120 V", "480Y/277 V")


def program(lines: str, volts: str = "208Y/120 V", defaults: str = "", main: str = "breaker 400 A") -> str:
    """A utility and a main panel MDP with these lines; items after a line `}` stand at top level."""
    head = SOURCE_208.replace("208Y/120 V", volts).replace("DEFAULTS", f"defaults {{ {defaults} }}" if defaults else "")
    panel = f'panelboard MDP "Main" {{\n fed from UT, 20 ft\n main {main}\n place indoor "Room 1"\n'
    text = f"{head}{panel}{lines}\n"
    return text if text.count("{") == text.count("}") else text + "}\n"


def compile_text(text: str) -> tuple[Design, tuple[Finding, ...]]:
    """The design of a program and all its findings. Raises AssertionError for a program with errors of reading."""
    reading = read_text(text)
    errors = [finding.message for finding in reading.findings if finding.severity is Severity.ERROR]
    assert not errors, errors
    assert reading.model is not None
    model = reading.model
    network, network_findings = build_network(model)
    plan, plan_findings = plan_states(model, network)
    edition = load_edition(model.project.code.value)
    results, pass_findings = run_passes(model, network, plan, edition)
    gathered = (*reading.findings, *network_findings, *plan_findings, *pass_findings)
    results, final = run_rules(model, network, plan, results, edition, gathered)
    return Design(model, network, plan, replace(results, findings=final), edition), final


def results_of(text: str) -> Results:
    """The results of a program."""
    return compile_text(text)[0].results


def row_of(results: Results, name: str) -> CircuitResult:
    """The row of a schedule by the name of its load."""
    return next(row for rows in results.circuits.values() for row in rows if row.name == name)


def rules_found(text: str) -> set[str]:
    """The rules that a program breaks, at warning and above or not checked."""
    return {finding.rule for finding in compile_text(text)[1] if finding.severity is not Severity.NOTE}
