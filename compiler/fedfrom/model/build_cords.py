"""Loads with two cords: the figures stand once, at cord A; cord B takes them over."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fedfrom.findings import Finding
from fedfrom.findings.finding import Label
from fedfrom.model.items import Item, Load
from fedfrom.model.lower_phrases import error


def merge_cords(items: Mapping[str, Item], findings: list[Finding]) -> dict[str, Item]:
    """Items with each cord B carrying the kind, name, amount, volts and phases of its cord A."""
    first = {load.tag: (item, load) for item in items.values() for load in item.loads if load.cord == "A" and load.tag}
    seconds: dict[str, Load] = {}
    merged: dict[str, Item] = {}
    for tag, item in items.items():
        loads = tuple(_merged(load, item, first, seconds, findings) for load in item.loads)
        merged[tag] = replace(item, loads=loads)
    for load_tag, (item, load) in first.items():
        if load_tag not in seconds:
            message = f"`{load_tag}` has a cord A and no cord B"
            advice = f"write `{load.kind} {load_tag}, cord B` in the gear of the other cord, or take `cord A` out"
            findings.append(error("cord-alone", f"{item.tag} {load_tag}", message, load.span, "", advice))
    return merged


def _merged(
    load: Load,
    item: Item,
    first: Mapping[str, tuple[Item, Load]],
    seconds: dict[str, Load],
    findings: list[Finding],
) -> Load:
    subject = f"{item.tag} {load.tag}".strip()
    if load.cord and not load.tag:
        message = "a load with two cords needs a tag"
        advice = 'write `equipment RK-1 "Rack 1" 6 kW, cord A`, and `equipment RK-1, cord B` at the other'
        findings.append(error("cord-alone", subject, message, load.span, "", advice))
        return load
    if load.cord != "B":
        return load
    if load.tag not in first:
        message = f"`{load.tag}` has a cord B and no cord A"
        advice = "its figures stand at cord A: write that line, too"
        findings.append(error("cord-alone", subject, message, load.span, "", advice))
        return load
    if load.tag in seconds:
        message = f"`{load.tag}` has two cords B"
        advice = "a load has one cord A and one cord B"
        finding = error("duplicate-tag", subject, message, load.span, "again here", advice)
        findings.append(replace(finding, related=(Label(seconds[load.tag].span, "first here"),)))
        return load
    seconds[load.tag] = load
    _, cord_a = first[load.tag]
    if load.amount.form != "none":
        message = f"the load of `{load.tag}` is said at both cords"
        span = load.amount.span or load.span
        finding = error("written-twice", subject, message, span, "", "leave it at cord A alone")
        findings.append(replace(finding, related=(Label(cord_a.span, "cord A"),)))
    return replace(
        load,
        kind=cord_a.kind,
        name=load.name or cord_a.name,
        amount=cord_a.amount,
        volts=load.volts or cord_a.volts,
        phases=load.phases or cord_a.phases,
        continuous=load.continuous if load.continuous is not None else cord_a.continuous,
    )
