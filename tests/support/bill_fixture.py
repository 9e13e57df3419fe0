"""`Work` from a hand-made design, for tests of the bill."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.passes.bill import run
from fedfrom.passes.work import Work
from fedfrom.rules.registry import Design


def work_of(design: Design) -> Work:
    """The work as it stands before the bill pass."""
    results = design.results
    return Work(
        design.model,
        design.network,
        design.plan,
        design.edition,
        loads=results.loads,
        circuits=results.circuits,
        feeders=results.feeders,
        transformers=results.transformers,
        sources=results.sources,
        transfers=results.transfers,
        ties=results.ties,
        faults=results.faults,
        gear=results.gear,
    )


def with_bill(design: Design) -> Design:
    """The design with its bill filled in."""
    return replace(design, results=replace(design.results, bill=run(work_of(design)).bill))
