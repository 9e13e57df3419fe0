"""What the page's script knows of each thing on the drawing: what it is, its values, its supply in each state."""

from __future__ import annotations

import json
from typing import Any

from fedfrom.documents.calculations.book import Chapter
from fedfrom.documents.calculations.overview import heading, value_rows
from fedfrom.documents.calculations.subjects import Subjects
from fedfrom.graph.walk import supplies
from fedfrom.results.notation import amperes_text, kiloamperes_text, kva_text, plain
from fedfrom.results.types import CircuitResult
from fedfrom.rules.registry import Design

Json = dict[str, Any]


def script_data(design: Design, found: tuple[Chapter, ...]) -> str:
    """The data as JSON that may stand inside a script element."""
    subjects = Subjects(design)
    drawn = {row.key: row for rows in design.results.circuits.values() for row in rows if row.kind != "feeder"}
    data: Json = {
        "things": {
            **{tag: _thing(subjects, tag) for tag in subjects.tags()},
            **{key: _circuit(subjects, row) for key, row in drawn.items()},
        },
        "feeders": {
            feeder.id: {
                "text": f"Feeder to {feeder.target}, from {feeder.source}",
                "from": feeder.source,
                "to": feeder.target,
                "values": _values(design, subjects.owned.get(f"{feeder.id}.feeder", ())),
            }
            for feeder in design.results.feeders.values()
        },
        "states": [_state(design, index) for index in range(len(design.plan.states))],
        "elsewhere": elsewhere(found),
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return text.replace("</", "<\\/").replace("<!--", "<\\!--")


def elsewhere(found: tuple[Chapter, ...]) -> dict[str, str]:
    """Subjects whose calculation is printed under another one's name."""
    return {name: first for chapter in found for first, here in chapter.repeated for name in here}


def _thing(subjects: Subjects, tag: str) -> Json:
    design = subjects.design
    own = [name for name in subjects.of_tag(tag) if ".feeder." not in name]
    about = [
        [each.severity.word, each.message]
        for each in design.results.findings
        if each.subject == tag or each.subject.startswith(f"{tag}.")
    ]
    return {
        "text": heading(design, tag),
        "values": _values(design, own),
        "findings": about[:12],
        "states": _by_state(design, tag),
    }


def _circuit(subjects: Subjects, row: CircuitResult) -> Json:
    name = row.name or row.kind
    return {
        "text": f"{row.key}: {name}",
        "in": row.gear,
        "values": _values(subjects.design, subjects.of_circuit(row)),
        "tag": row.tag,
    }


def _values(design: Design, names: tuple[str, ...] | list[str]) -> list[list[str]]:
    return [[name, plain(value), title] for name, value, title in value_rows(design, names)]


def _by_state(design: Design, tag: str) -> dict[str, list[list[str]]]:
    """(what, value) by the state's name: demand and fault, where the thing has them."""
    loads, faults = design.results.loads.get(tag, {}), design.results.faults.get(tag, {})
    found: dict[str, list[list[str]]] = {}
    for state in design.plan.states:
        rows = []
        if state.name in loads:
            load = loads[state.name]
            rows.append(["Demand", f"{kva_text(load.demand_va)}, {amperes_text(load.demand_a)}"])
        if state.name in faults:
            rows.append(["Available fault current", kiloamperes_text(faults[state.name].greatest_a)])
        if rows:
            found[state.name] = rows
    return found


def _state(design: Design, index: int) -> Json:
    state = design.plan.states[index]
    up = {
        tag: [list(pair) for pair in supplies(design.network, state, tag)]
        for tag in state.order
        if supplies(design.network, state, tag)
    }
    words = [f"lost: {', '.join(state.lost)}"] if state.lost else []
    words += [f"open: {', '.join(state.opened)}"] if state.opened else []
    words += [f"closed: {', '.join(state.closed)}"] if state.closed else []
    words += [f"without supply: {', '.join(state.dead)}"] if state.dead else []
    return {"name": state.name, "words": "; ".join(words), "dead": list(state.dead), "lost": list(state.lost), "up": up}
