"""Whole `.fed` files through the compiler, each compiled once a session, and short ways to its figures."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from fedfrom.compile import Compilation, compile_project
from fedfrom.findings import Severity
from fedfrom.results.types import CircuitResult, FaultResult, Results
from fedfrom.rules.registry import Design


@cache
def compiled(path: Path) -> Compilation:
    """The compilation of a file. Raises AssertionError where the text has errors of reading."""
    done = compile_project(path)
    assert done.results is not None, [finding.message for finding in done.findings]
    return done


def results_of(path: Path) -> Results:
    results = compiled(path).results
    assert results is not None
    return results


def design_of(path: Path) -> Design:
    return compiled(path).design()


def fault_at(results: Results, tag: str, state: str = "Normal") -> FaultResult:
    return results.faults[tag][state]


def row_named(results: Results, name: str) -> CircuitResult:
    """The circuit whose load has this name."""
    return next(row for rows in results.circuits.values() for row in rows if row.name == name)


def errors_of(path: Path) -> list[str]:
    """The rules that were broken, as errors."""
    return [finding.rule for finding in compiled(path).findings if finding.severity is Severity.ERROR]
