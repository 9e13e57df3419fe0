"""`Work`: what the passes hand on. Each pass takes it and returns a copy with its own fields filled in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from fedfrom.findings import Finding
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Model
from fedfrom.passes.connected import ConnectedLoad
from fedfrom.results.assembly import RoomResult
from fedfrom.results.derivation import Derivation
from fedfrom.results.types import (
    BillLine,
    CircuitResult,
    DeviceResult,
    FaultResult,
    FeederResult,
    GearResult,
    NodeLoad,
    SourceResult,
    TieResult,
    TransferResult,
    TransformerResult,
)
from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class Work:
    """The state of a compilation between passes. Field by field as in `Results`; `mains[tag]` the main of a node.

    `connected[gear tag]` its load lines with their phases; `edge_phases[edge id]` the phases of the source that a
    single-phase feed takes ("BC"; "" for all). `segment_drop_v[feeder id][state]` and
    `cumulative_drop_pct[node][state]` feed the drop tables.
    """

    model: Model
    network: Network
    plan: StatePlan
    edition: Edition
    connected: Mapping[str, tuple[ConnectedLoad, ...]] = field(default_factory=dict)
    edge_phases: Mapping[str, str] = field(default_factory=dict)
    loads: Mapping[str, Mapping[str, NodeLoad]] = field(default_factory=dict)
    circuits: Mapping[str, tuple[CircuitResult, ...]] = field(default_factory=dict)
    feeders: Mapping[str, FeederResult] = field(default_factory=dict)
    mains: Mapping[str, DeviceResult] = field(default_factory=dict)
    transformers: Mapping[str, TransformerResult] = field(default_factory=dict)
    sources: Mapping[str, SourceResult] = field(default_factory=dict)
    transfers: Mapping[str, TransferResult] = field(default_factory=dict)
    ties: Mapping[str, TieResult] = field(default_factory=dict)
    segment_drop_v: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    cumulative_drop_pct: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    faults: Mapping[str, Mapping[str, FaultResult]] = field(default_factory=dict)
    gear: Mapping[str, GearResult] = field(default_factory=dict)
    rooms: Mapping[str, RoomResult] = field(default_factory=dict)
    bill: tuple[BillLine, ...] = ()
    derivations: Mapping[str, Derivation] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()

    def node_load(self, tag: str) -> NodeLoad | None:
        """The load of a node in the state where its design current is greatest, or None where not known."""
        by_state = self.loads.get(tag)
        if not by_state:
            return None
        return max(by_state.values(), key=lambda load: load.design_a)

    def worst_fault(self, tag: str) -> FaultResult | None:
        """The fault at a node's bus in the state where it is greatest, or None where not known."""
        by_state = self.faults.get(tag)
        if not by_state:
            return None
        return max(by_state.values(), key=lambda fault: fault.greatest_a)


@dataclass(frozen=True, slots=True)
class Pass:
    """A pass: the `Work` fields that it reads and fills, and its function."""

    name: str
    needs: frozenset[str]
    gives: frozenset[str]
    run: Callable[[Work], Work]
