"""Parts of `results.json` that stand in several places: devices, conductors, circuits and flat records."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from fedfrom.results.rounding import rounded
from fedfrom.results.types import CircuitResult, ConductorResult, DeviceResult

Json = dict[str, Any]


def bare(record: Any) -> Json:
    """A flat dataclass of texts, numbers and tuples of texts, its numbers rounded by name."""
    return {item.name: _plain(item.name, getattr(record, item.name)) for item in fields(record)}


def _plain(name: str, value: Any) -> Any:
    if isinstance(value, float):
        return rounded(name, value)
    return list(value) if isinstance(value, tuple) else value


def size_name(size: str) -> str:
    """A conductor size as the language writes it: "3/0" -> "3/0 AWG", "350" -> "350 kcmil", "" -> "none"."""
    if not size:
        return "none"
    return f"{size} kcmil" if size.isdigit() and int(size) >= 250 else f"{size} AWG"


def raceway_name(conductors: ConductorResult) -> str:
    """ "3 inch EMT", or "none" where there is no raceway."""
    if not conductors.raceway_size:
        return conductors.raceway_kind or "none"
    return f"{conductors.raceway_size} inch {conductors.raceway_kind}".strip()


def sizes_of(conductors: ConductorResult | None) -> Json:
    """The short public form of conductors that stands directly in a feeder; every value null where not known."""
    if conductors is None:
        names = ("sets", "phase", "neutral", "ground", "material", "insulation", "raceway", "ampacity_a")
        return dict.fromkeys(names)
    return {
        "sets": conductors.sets,
        "phase": size_name(conductors.phase),
        "neutral": size_name(conductors.neutral),
        "ground": size_name(conductors.ground),
        "material": conductors.material,
        "insulation": conductors.insulation,
        "raceway": raceway_name(conductors),
        "ampacity_a": rounded("ampacity_a", conductors.ampacity_a),
    }


def conductor_object(conductors: ConductorResult | None) -> Json | None:
    """All that is known of the conductors of a feeder or circuit, None where they are not known."""
    if conductors is None:
        return None
    return {
        **sizes_of(conductors),
        "ungrounded": conductors.ungrounded,
        "ground_kind": conductors.ground_kind,
        "raceway_kind": conductors.raceway_kind,
        "raceway_size": conductors.raceway_size,
        "terminal_c": conductors.terminal_c,
        "ambient_factor": rounded("ambient_factor", conductors.ambient_factor),
        "adjustment_factor": rounded("adjustment_factor", conductors.adjustment_factor),
        "fill_pct": rounded("fill_pct", conductors.fill_pct),
        "r_ohm_per_kft": rounded("r_ohm_per_kft", conductors.r_ohm_per_kft),
        "x_ohm_per_kft": rounded("x_ohm_per_kft", conductors.x_ohm_per_kft),
        "origins": {name: origin.value for name, origin in sorted(conductors.origins.items())},
        "by": conductors.by,
    }


def device_object(device: DeviceResult | None) -> Json | None:
    """A device, None where there is none or it is not known (the record around it says which)."""
    if device is None:
        return None
    return {
        "kind": device.kind,
        "rating_a": rounded("rating_a", device.rating_a),
        "frame_a": rounded("frame_a", device.frame_a),
        "poles": device.poles,
        "functions": device.functions,
        "fuse_a": rounded("fuse_a", device.fuse_a),
        "fuse_class": device.fuse_class,
        "options": sorted(device.options),
        "arc_reduction": device.arc_reduction,
        "interrupting_a": rounded("interrupting_a", device.interrupting_a),
        "fault_a": rounded("fault_a", device.fault_a),
        "fault_state": device.fault_state,
        "rating_basis": device.rating_basis,
        "origin": device.origin.value,
        "status": device.status.value,
        "by": device.by,
    }


def circuit_object(circuit: CircuitResult) -> Json:
    """One row of a schedule."""
    return {
        "kind": circuit.kind,
        "positions": list(circuit.positions),
        "pinned": circuit.pinned,
        "poles": circuit.poles,
        "phases": circuit.phases,
        "name": circuit.name,
        "tag": circuit.tag,
        "category": circuit.category,
        "detail": circuit.detail,
        "connected_va": rounded("connected_va", circuit.connected_va),
        "phase_va": None if circuit.connected_va is None else [rounded("_va", va) for va in circuit.va_by_phase],
        "load_a": rounded("load_a", circuit.load_a),
        "continuous": circuit.continuous,
        "continuous_a": rounded("continuous_a", circuit.continuous_a),
        "multiwire": circuit.multiwire,
        "motor_hp": rounded("motor_hp", circuit.motor_hp),
        "table_a": rounded("table_a", circuit.table_a),
        "mca_a": rounded("mca_a", circuit.mca_a),
        "mocp_a": rounded("mocp_a", circuit.mocp_a),
        "length_ft": rounded("length_ft", circuit.length_ft),
        "ocpd_a": rounded("ocpd_a", circuit.device.protects_a if circuit.device else None),
        "device": device_object(circuit.device),
        "conductors": conductor_object(circuit.conductors),
        "drop_v": rounded("drop_v", circuit.drop_v),
        "drop_pct": rounded("drop_pct", circuit.drop_pct),
        "cumulative_drop_pct": rounded("cumulative_drop_pct", circuit.cumulative_drop_pct),
        "fault_load_end_a": rounded("fault_load_end_a", circuit.fault_load_end_a),
        "drop_state": circuit.drop_state,
        "least_fault_a": rounded("least_fault_a", circuit.least_fault_a),
        "least_fault_state": circuit.least_fault_state,
        "start_dip_pct": rounded("start_dip_pct", circuit.start_dip_pct),
        "start_dip_state": circuit.start_dip_state,
        "feeder": circuit.feeder_id,
        "notes": list(circuit.notes),
        "status": circuit.status.value,
        "by": circuit.by,
    }
