"""Ground-fault protection and arc-energy reduction, set on devices where the code requires them and nothing is written.

A written device keeps its functions (a rule reports what it lacks); an existing one is never changed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fedfrom.graph.network import Network, Node
from fedfrom.graph.walk import incoming_edges
from fedfrom.model.items import Device, Item, Status
from fedfrom.passes.gear_facts import is_service
from fedfrom.passes.motors import load_of
from fedfrom.passes.work import Work
from fedfrom.quantity import VoltageSystem
from fedfrom.results.types import CircuitResult, DeviceResult, Results, TieResult
from fedfrom.tables import Edition

LARGE_A = 1000.0
WITHOUT_GROUND_FAULT = ("fire pump controller",)  # NEC 230.95 exception, 695.6(G)
ARC_REDUCTION = "maintenance switch"  # the means chosen where one is required: common practice, no source


def gear_rule(edition: Edition, key: str) -> float | None:
    """A figure of the code table `gear_rules_nec`, None where this edition has none."""
    for row in edition.rows("gear_rules_nec"):
        if row["key"] == key and row["value"]:
            return float(row["value"])
    return None


def needs_ground_fault(edition: Edition, system: VoltageSystem | None, amperes: float, service: bool) -> bool:
    """Whether a disconnect on this system needs ground-fault protection of equipment (NEC 230.95, 215.10, 240.13).

    Solidly grounded wye, more than 150 V to ground, not above the edition's limit between phases.
    """
    if system is None or system.is_dc or system.grounding != "solid" or system.phases != 3:
        return False
    smallest = gear_rule(edition, "gfpe_service" if service else "gfpe_feeder")
    limit = _voltage_limit(edition, service)
    wye = system.kind == "wye" or (system.kind == "delta" and system.to_ground_v < system.line_to_line_v)
    return (
        smallest is not None
        and amperes >= smallest
        and wye
        and system.to_ground_v > 150
        and system.line_to_line_v <= limit
    )


def _voltage_limit(edition: Edition, service: bool) -> float:
    keys = (
        ("gfpe_voltage_limit_service_building",)
        if service
        else ("gfpe_voltage_limit_feeder_2023", "gfpe_voltage_limit_feeder_2020", "gfpe_voltage_limit_feeder")
    )
    for key in keys:
        value = gear_rule(edition, key)
        if value is not None:
            return value
    return 600.0


def has_ground_fault(device: DeviceResult) -> bool:
    """Whether a device protects against ground faults."""
    return device.functions.endswith("G") or "GFPE" in device.options


def needs_arc_reduction(edition: Edition, device: DeviceResult) -> bool:
    """Whether a device needs a means to reduce arc energy (NEC 240.87 for breakers, 240.67 for fuses)."""
    key = "arc_energy_fuse" if device.fuse_a is not None else "arc_energy_breaker"
    smallest = gear_rule(edition, key)
    if smallest is None or device.kind == "switch":
        return False
    return device.protects_a >= smallest


def ground_fault_ahead(network: Network, results: Results, tag: str) -> bool:
    """Whether a device with ground-fault protection stands ahead of a bus or as its main, on its side of a transformer.

    The same walk for a finished design as `protected_above` makes during the passes.
    """
    mains = {key: gear.main for key, gear in results.gear.items()}
    devices = {key: feeder.device for key, feeder in results.feeders.items()}
    return _ahead(network, mains, devices, tag)


def protected_above(work: Work, tag: str) -> bool:
    """Whether a device with ground-fault protection stands ahead of a bus or as its main."""
    devices = {key: feeder.device for key, feeder in work.feeders.items()}
    return _ahead(work.network, work.mains, devices, tag)


def _ahead(
    network: Network, mains: Mapping[str, DeviceResult | None], feeders: Mapping[str, DeviceResult | None], tag: str
) -> bool:
    seen: set[str] = set()
    while tag not in seen:
        seen.add(tag)
        main = mains.get(tag)
        if main is not None and has_ground_fault(main):
            return True
        node = network.nodes.get(tag)
        if node is None or node.role in ("transformer", "source"):
            return False
        edges = incoming_edges(network, tag)
        devices = [feeders.get(edge.id) for edge in edges]
        if any(device is not None and has_ground_fault(device) for device in devices):
            return True
        if not edges:
            return False
        tag = edges[0].source
    return False


def protect(work: Work) -> Work:
    """Add the functions that the code requires to mains, then to feeder devices."""
    mains = {tag: _main(work, tag, device) for tag, device in work.mains.items()}
    work = replace(work, mains=mains)
    feeders = dict(work.feeders)
    for key, feeder in work.feeders.items():
        node = work.network.nodes.get(feeder.source)
        edge = work.network.edges.get(key)
        written = edge.feed.device if edge is not None and edge.feed is not None else None
        if feeder.device is None or node is None:
            continue
        target = work.network.nodes.get(feeder.target)
        exempt = target is not None and target.item.kind in WITHOUT_GROUND_FAULT
        required = not exempt and _feeder_needs(work, node, feeder.device)
        done = _with_functions(work.edition, feeder.device, written, required)
        feeders[key] = replace(feeder, device=done)
        work = replace(work, feeders=feeders)
    work = replace(work, ties=_ties(work), circuits=_circuits(work))
    return replace(work, circuits=mirrored(work))


def _ties(work: Work) -> dict[str, TieResult]:
    """Ties of one line-up stand behind mains, whose ground-fault protection covers them; arc energy is their own."""
    written = {tie.tag: tie.device for tie in work.model.ties}
    done = {}
    for tag, tie in work.ties.items():
        device = tie.device
        if device is not None:
            device = _with_functions(work.edition, device, written.get(tag), False)
        done[tag] = replace(tie, device=device)
    return done


def _circuits(work: Work) -> dict[str, tuple[CircuitResult, ...]]:
    """Branch circuits large enough fall under the same rules (NEC 210.13 sends them to 230.95)."""
    smallest = min(
        gear_rule(work.edition, "gfpe_feeder") or LARGE_A, gear_rule(work.edition, "arc_energy_breaker") or LARGE_A
    )
    done = {}
    for tag, rows in work.circuits.items():
        large = any(row.device is not None and row.device.protects_a >= smallest for row in rows)
        done[tag] = tuple(_large_circuit(work, tag, row) for row in rows) if large else rows
    return done


def _large_circuit(work: Work, tag: str, row: CircuitResult) -> CircuitResult:
    node = work.network.nodes.get(tag)
    if row.device is None or row.kind == "feeder" or node is None:
        return row
    load = load_of(node.item, row)
    required = _feeder_needs(work, node, row.device)
    written = load.device if load is not None else None
    return replace(row, device=_with_functions(work.edition, row.device, written, required))


def _feeder_needs(work: Work, node: Node, device: DeviceResult) -> bool:
    system = node.system or node.line_system
    if not needs_ground_fault(work.edition, system, device.protects_a, False):
        return False
    return not protected_above(work, node.tag)


def _main(work: Work, tag: str, device: DeviceResult) -> DeviceResult:
    node = work.network.nodes.get(tag)
    if node is None:
        return device
    system = node.system or node.line_system
    service = is_service(work, tag)
    if node.item.kind in WITHOUT_GROUND_FAULT:
        return _with_functions(work.edition, device, _written_main(node.item), False)
    required = needs_ground_fault(work.edition, system, device.protects_a, service)
    if required and not service:
        required = not protected_above_source(work, tag)
    return _with_functions(work.edition, device, _written_main(node.item), required)


def protected_above_source(work: Work, tag: str) -> bool:
    """As `protected_above`, for the main of a bus: only what stands ahead of the main counts."""
    edges = incoming_edges(work.network, tag)
    devices = [feeder.device for edge in edges if (feeder := work.feeders.get(edge.id)) is not None]
    if any(device is not None and has_ground_fault(device) for device in devices):
        return True
    node = work.network.nodes.get(tag)
    if node is None or node.role in ("transformer", "source"):
        return False
    return any(protected_above(work, edge.source) for edge in edges)


def _written_main(item: Item) -> Device | None:
    return item.main.device if item.main is not None else None


def _with_functions(edition: Edition, device: DeviceResult, written: Device | None, ground_fault: bool) -> DeviceResult:
    if device.status is not Status.NEW or device.by:
        return device
    functions = device.functions
    open_functions = written is None or not written.functions
    if ground_fault and open_functions and not has_ground_fault(device):
        functions = "LSIG" if device.kind == "breaker" else "G"
    arc = device.arc_reduction
    if not arc and device.fuse_a is None and needs_arc_reduction(edition, device):
        arc = ARC_REDUCTION
    return replace(device, functions=functions, arc_reduction=arc)


def mirrored(work: Work) -> Mapping[str, tuple[CircuitResult, ...]]:
    """Rows of feeders show the feeder's own device."""
    return {
        tag: tuple(
            replace(row, device=work.feeders[row.feeder_id].device)
            if row.kind == "feeder" and row.feeder_id in work.feeders
            else row
            for row in rows
        )
        for tag, rows in work.circuits.items()
    }
