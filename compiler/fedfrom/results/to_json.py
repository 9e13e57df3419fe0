"""`Results` -> the public `results.json`: names and units as its schema says, null = not known."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from fedfrom.findings.render.json import place_object
from fedfrom.quantity import VoltageSystem
from fedfrom.results.governing import feeders_to, governing_fault, governing_load
from fedfrom.results.json_parts import bare, circuit_object, conductor_object, device_object, sizes_of
from fedfrom.results.json_rooms import assembly_object, room_object, section_object
from fedfrom.results.rounding import rounded
from fedfrom.results.schema import SCHEMA_VERSION
from fedfrom.results.types import (
    ExpectResult,
    FaultResult,
    FeederResult,
    GearResult,
    NodeLoad,
    Results,
    SourceResult,
    TieResult,
    TransferResult,
    TransformerResult,
)
from fedfrom.source import SourceFile

Json = dict[str, Any]


def results_bytes(results: Results, files: Mapping[str, SourceFile]) -> bytes:
    """`results.json` as it is written: UTF-8, two blanks an indent, keys in source order, a line feed at the end."""
    document = to_json(results, files)
    return (json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()


def to_json(results: Results, files: Mapping[str, SourceFile]) -> Json:
    """The public form as plain data. `files` give line and column of findings; without them these are null."""
    return {
        "version": SCHEMA_VERSION,
        "project": _project(results),
        "states": [_strip(bare(state)) for state in results.states],
        "sources": {tag: _source(source) for tag, source in results.sources.items()},
        "gear": {tag: _gear(results, gear) for tag, gear in results.gear.items()},
        "feeders": {name: _feeder(feeder) for name, feeder in results.feeders.items()},
        "transformers": {tag: _transformer(item) for tag, item in results.transformers.items()},
        "transfers": {tag: _transfer(item) for tag, item in results.transfers.items()},
        "ties": {tag: _tie(item) for tag, item in results.ties.items()},
        "circuits": {tag: _circuits(results, tag) for tag in results.circuits},
        "loads": {tag: {state: _load(load) for state, load in by.items()} for tag, by in results.loads.items()},
        "faults": {tag: {state: _fault(fault) for state, fault in by.items()} for tag, by in results.faults.items()},
        "rooms": {tag: room_object(room) for tag, room in results.rooms.items()},
        "findings": [_finding(results, index, files) for index in range(len(results.findings))],
        "accepted": [
            {"rule": finding.rule, "subject": finding.subject, "message": finding.message, "reason": reason}
            for finding, reason in results.accepted
        ],
        "assumptions": [bare(assumption) for assumption in results.assumptions],
        "expectations": [_expectation(expect) for expect in results.expectations],
        "rules": dict(sorted(results.rule_counts.items())),
        "review": {name: bare(outcome) for name, outcome in sorted(results.review.items())},
        "bill": [bare(line) for line in results.bill],
        "derivations": {
            key: {
                "title": item.title,
                "value": item.value,
                "origin": item.origin.value,
                "clause": item.clause or next((step.clause for step in item.steps if step.clause), ""),
                "state": item.state,
            }
            for key, item in results.derivations.items()
        },
    }


def _project(results: Results) -> Json:
    info = results.project
    return {
        "title": info.title,
        "number": info.number,
        "code": info.code,
        "drawn_by": info.drawn_by,
        "revisions": [
            {"revision": revision, "date": date, "description": text} for revision, date, text in info.revisions
        ],
        "digest": results.digest,
    }


def _strip(state: Json) -> Json:
    return {key: list(value) if isinstance(value, tuple) else value for key, value in state.items()}


def _literal(system: VoltageSystem | None) -> str | None:
    return None if system is None else system.literal


def _status(item: Any) -> Json:
    return {"status": item.status.value, "by": item.by}


def _gear(results: Results, gear: GearResult) -> Json:
    load = governing_load(results, gear.tag)
    fault = governing_fault(results, gear.tag)
    feeds = feeders_to(results, gear.tag)
    drops = [feed.cumulative_drop_pct for feed in feeds]
    return {
        "title": gear.title,
        "class": gear.gear_class,
        "class_origin": gear.class_origin.value,
        "why": list(gear.why),
        "classes_considered": [
            {
                "class": verdict.gear_class,
                "fits": verdict.fits,
                "reasons": list(verdict.reasons),
                "near_miss": verdict.near_miss,
            }
            for verdict in gear.verdicts
        ],
        "voltage": _literal(gear.system),
        "fed_from": gear.fed_from,
        "load_complete": load.complete if load else None,
        "connected_va": rounded("connected_va", load.connected_va if load else None),
        "demand_va": rounded("demand_va", load.demand_va if load else None),
        "demand_a": rounded("demand_a", load.demand_a if load else None),
        "design_a": rounded("design_a", load.design_a if load else None),
        "design_with_growth_a": rounded("design_with_growth_a", load.design_with_growth_a if load else None),
        "load_state": load.state if load else "",
        "bus_a": rounded("bus_a", gear.bus_a),
        "bus_material": gear.bus_material,
        "main": device_object(gear.main),
        "main_lugs": gear.main_lugs,
        "main_a": rounded("main_a", gear.main.protects_a if gear.main else None),
        "sccr_a": rounded("sccr_a", gear.sccr_a),
        "sccr_basis": gear.sccr_basis,
        "fault_a": rounded("fault_a", gear.fault_a),
        "fault_state": gear.fault_state,
        "fault_3ph_a": rounded("fault_3ph_a", fault.three_phase_a if fault else None),
        "fault_ll_a": rounded("fault_ll_a", fault.line_line_a if fault else None),
        "fault_lg_a": rounded("fault_lg_a", fault.line_ground_a if fault else None),
        "drop_pct": rounded("drop_pct", max((drop for drop in drops if drop is not None), default=None)),
        "phase_va": [rounded("_va", va) for va in load.phase_va] if load else None,
        "neutral_a": rounded("neutral_a", load.neutral_a if load else None),
        "imbalance_pct": rounded("imbalance_pct", gear.imbalance_pct),
        "spare_a": rounded("spare_a", gear.spare_ampacity_a),
        "positions_total": gear.positions_total,
        "positions_used": gear.positions_used,
        "enclosure": gear.enclosure,
        "place": gear.place,
        "metering": gear.metering,
        "service_equipment": gear.service_equipment,
        "electrodes": list(gear.electrodes),
        "electrode_conductors": list(gear.electrode_conductors),
        "grounding_electrode_conductor": gear.grounding_electrode_conductor,
        "main_bonding_jumper": gear.main_bonding_jumper,
        "sections": [section_object(section) for section in gear.sections],
        "assembly": assembly_object(gear.assembly),
        **_status(gear),
    }


def _feeder(feeder: FeederResult) -> Json:
    return {
        "from": feeder.source,
        "to": feeder.target,
        "kind": feeder.kind,
        "verb": feeder.verb,
        "point": feeder.point,
        "positions": list(feeder.positions),
        "voltage": _literal(feeder.system),
        "length_ft": rounded("length_ft", feeder.length_ft),
        "length_assumed": feeder.length_assumed,
        "ocpd_a": rounded("ocpd_a", feeder.device.protects_a if feeder.device else None),
        "poles": feeder.device.poles if feeder.device else None,
        **sizes_of(feeder.conductors),
        "design_a": rounded("design_a", feeder.design_a),
        "load_a": rounded("load_a", feeder.load_a),
        "power_factor": rounded("power_factor", feeder.power_factor),
        "drop_v": rounded("drop_v", feeder.drop_v),
        "drop_pct": rounded("drop_pct", feeder.drop_pct),
        "cumulative_drop_pct": rounded("cumulative_drop_pct", feeder.cumulative_drop_pct),
        "drop_limit_pct": rounded("drop_limit_pct", feeder.drop_limit_pct),
        "fault_load_end_a": rounded("fault_load_end_a", feeder.fault_load_end_a),
        "least_fault_a": rounded("least_fault_a", feeder.least_fault_a),
        "least_fault_state": feeder.least_fault_state,
        "worst_state": feeder.worst_state,
        "meter": feeder.meter,
        "device": device_object(feeder.device),
        "conductors": conductor_object(feeder.conductors),
        **_status(feeder),
    }


def _transformer(item: TransformerResult) -> Json:
    return {
        "title": item.title,
        "fed_from": item.fed_from,
        "kva": rounded("kva", item.kva),
        "kva_origin": item.kva_origin.value,
        "primary": _literal(item.primary),
        "secondary": _literal(item.secondary),
        "connection": item.connection,
        "impedance_pct": rounded("impedance_pct", item.impedance_pct),
        "impedance_origin": item.impedance_origin.value,
        "x_over_r": rounded("x_over_r", item.x_over_r),
        "k_factor": item.k_factor,
        "primary_a": rounded("primary_a", item.primary_a),
        "secondary_a": rounded("secondary_a", item.secondary_a),
        "primary_device": device_object(item.primary_device),
        "secondary_device": device_object(item.secondary_device),
        "loading_pct": rounded("loading_pct", item.loading_pct),
        "regulation_pct": rounded("regulation_pct", item.regulation_pct),
        "fault_primary_a": rounded("fault_primary_a", item.fault_primary_a),
        "fault_secondary_a": rounded("fault_secondary_a", item.fault_secondary_a),
        "system_bonding_jumper": item.system_bonding_jumper,
        "supply_side_bonding_jumper": item.supply_side_bonding_jumper,
        "grounding_electrode_conductor": item.grounding_electrode_conductor,
        "electrodes": list(item.electrodes),
        "electrode_conductors": list(item.electrode_conductors),
        "place": item.place,
        **_status(item),
    }


def _source(item: SourceResult) -> Json:
    return {
        "title": item.title,
        "kind": item.kind,
        "voltage": _literal(item.system),
        "rating_va": rounded("rating_va", item.rating_va),
        "rating_text": item.rating_text,
        "fault_a": rounded("fault_a", item.fault_a),
        "x_over_r": rounded("x_over_r", item.x_over_r),
        "basis": item.basis,
        "assumed": item.assumed,
        "demand_a": rounded("demand_a", item.demand_a),
        "main": device_object(item.main),
        "transformer": _transformer(item.transformer) if item.transformer else None,
        "bond": item.bond,
        "place": item.place,
        **_status(item),
    }


def _transfer(item: TransferResult) -> Json:
    return {
        "title": item.title,
        "kind": item.kind,
        "voltage": _literal(item.system),
        "rating_a": rounded("rating_a", item.rating_a),
        "rating_origin": item.rating_origin.value,
        "poles": item.poles,
        "system_class": item.system_class,
        "transition": item.transition,
        "bypass": item.bypass,
        "withstand_a": rounded("withstand_a", item.withstand_a),
        "fault_a": rounded("fault_a", item.fault_a),
        "fault_state": item.fault_state,
        "normal_from": item.normal_from,
        "emergency_from": item.emergency_from,
        "place": item.place,
        **_status(item),
    }


def _tie(item: TieResult) -> Json:
    return {
        "ends": list(item.ends),
        "device": device_object(item.device),
        "normally_open": item.normally_open,
        "length_ft": rounded("length_ft", item.length_ft),
        "conductors": conductor_object(item.conductors),
        "status": item.status.value,
    }


def _circuits(results: Results, tag: str) -> Json:
    """By first position (or order). Where a removed and a new circuit share one, the removed one is "12 demolish"."""
    rows: Json = {}
    for circuit in results.circuits[tag]:
        key = circuit.key.removeprefix(f"{tag}.")
        if key in rows:
            key = f"{key} {circuit.status.value}"
        number = 2
        plain = key
        while key in rows:
            key = f"{plain} {number}"
            number += 1
        rows[key] = circuit_object(circuit)
    return rows


def _load(load: NodeLoad) -> Json:
    return {
        "complete": load.complete,
        "connected_va": rounded("connected_va", load.connected_va),
        "demand_va": rounded("demand_va", load.demand_va),
        "demand_a": rounded("demand_a", load.demand_a),
        "design_a": rounded("design_a", load.design_a),
        "design_with_growth_a": rounded("design_with_growth_a", load.design_with_growth_a),
        "continuous_va": rounded("continuous_va", load.continuous_va),
        "motor_va": rounded("motor_va", load.motor_va),
        "phase_va": [rounded("_va", va) for va in load.phase_va],
        "phase_demand_a": [rounded("_a", amperes) for amperes in load.phase_demand_a],
        "neutral_a": rounded("neutral_a", load.neutral_a),
        "neutral_va": rounded("neutral_va", load.neutral_va),
        "neutral_nonlinear_a": rounded("neutral_nonlinear_a", load.neutral_nonlinear_a),
        "power_factor": rounded("power_factor", load.power_factor),
        "categories": [
            {**bare(category), "phase_va": [rounded("_va", va) for va in category.phase_va]}
            for category in load.categories
        ],
    }


def _fault(fault: FaultResult) -> Json:
    return {
        "three_phase_a": rounded("three_phase_a", fault.three_phase_a),
        "line_line_a": rounded("line_line_a", fault.line_line_a),
        "line_ground_a": rounded("line_ground_a", fault.line_ground_a),
        "x_over_r": rounded("x_over_r", fault.x_over_r),
        "asymmetrical_a": rounded("asymmetrical_a", fault.asymmetrical_a),
        "motor_contribution_a": rounded("motor_contribution_a", fault.motor_contribution_a),
        "r_ohm": rounded("r_ohm", fault.z_ohm[0]),
        "x_ohm": rounded("x_ohm", fault.z_ohm[1]),
        "basis": fault.basis,
        "assumed": fault.assumed,
    }


def _finding(results: Results, index: int, files: Mapping[str, SourceFile]) -> Json:
    finding = results.findings[index]
    place = place_object(finding.span, files)
    return {
        "rule": finding.rule,
        "severity": finding.severity.word,
        "subject": finding.subject,
        "message": finding.message,
        "clause": finding.clause,
        "file": place["file"],
        "line": place["line"],
        "column": place["column"],
        "notes": list(finding.notes),
        "help": finding.help,
    }


def _expectation(expect: ExpectResult) -> Json:
    return {"text": expect.text, "measured": expect.measured, "met": expect.met, "note": expect.note}
