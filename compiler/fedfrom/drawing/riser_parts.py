"""Which storeys and risers stand on which sheet of a riser diagram, and the words at its feeders."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fedfrom.drawing.floors import Floor
from fedfrom.drawing.outline import Run
from fedfrom.drawing.papers import Paper
from fedfrom.drawing.riser_grid import band_height, columns, list_height, partition, rows_on
from fedfrom.drawing.riser_plan import Riser, RiserPlan, Twig
from fedfrom.drawing.shapes import widest
from fedfrom.results.notation import conductor_lines, length_text

LABEL_WIDTH = 1.60
"""Inches at the left for the names of storeys."""


def callout_of(run: Run) -> tuple[str, str]:
    """The words at a feeder to another storey: conductors above the line; raceway and length below."""
    length = length_text(run.length_ft) if run.length_ft is not None else "LENGTH NOT KNOWN"
    if run.conductors is None:
        return "CONDUCTORS NOT KNOWN", length
    lines = list(conductor_lines(run.conductors))
    raceway = [lines.pop()] if run.conductors.raceway_size else []
    return " ".join(lines), ", ".join([*raceway, length])


def too_deep(plan: RiserPlan, lines: Mapping[str, tuple[str, ...]], paper: Paper) -> set[str]:
    """Where trees are cut that are wider than a sheet: what hangs at half their depth starts a riser of its own."""
    found: set[str] = set()
    for riser in plan.risers:
        if _width([riser], lines, plan) > paper.room[0]:
            level = [*riser.head.children, *(twig for _, _, twig in riser.served)]
            levels: list[list[Twig]] = []
            while level:
                levels.append(level)
                level = [child for twig in level for child in twig.children]
            if len(levels) > 1:
                found |= {twig.key for twig in levels[len(levels) // 2]}
    return found


def parts_of(
    plan: RiserPlan, lines: Mapping[str, tuple[str, ...]], paper: Paper
) -> list[tuple[list[Floor], list[Riser]]]:
    """Which storeys and risers stand on which sheet."""
    width, height = paper.room
    bands: list[list[Riser]] = []
    for riser in plan.risers:
        if bands and _width([*bands[-1], riser], lines, plan) <= width:
            bands[-1].append(riser)
        else:
            bands.append([riser])
    found = []
    for risers in bands:
        used = {riser.floor for riser in risers} | {floor for riser in risers for floor, _, _ in riser.served}
        heights = [
            (floor, band_height(rows_on(floor.name, risers), _most_tracks(floor.name, risers, plan)))
            for floor in plan.floors
            if floor.name in used
        ]
        heads = {riser.head.key for riser in risers}
        links = sum(1 for run in plan.links if run.source in heads or run.target in heads)
        room = height - (0.35 + list_height(links, width) if links else 0.0)
        found += [(floors, _on(floors, risers)) for floors in partition(heights, room)]
    return found


def _most_tracks(floor: str, risers: Sequence[Riser], plan: RiserPlan) -> int:
    heads = {riser.head.key for riser in risers if riser.floor == floor}
    return sum(1 for run in plan.links if run.target in heads)


def _on(floors: Sequence[Floor], risers: Sequence[Riser]) -> list[Riser]:
    names = {floor.name for floor in floors}
    return [riser for riser in risers if riser.floor in names or any(floor in names for floor, _, _ in riser.served)]


def _width(risers: Sequence[Riser], lines: Mapping[str, tuple[str, ...]], plan: RiserPlan) -> float:
    return LABEL_WIDTH + columns(risers, lines, links_among(risers, plan), callout_widths(risers))[-1].right


def links_among(risers: Sequence[Riser], plan: RiserPlan) -> list[Run]:
    heads = {riser.head.key for riser in risers}
    return [run for run in plan.links if run.source in heads and run.target in heads]


def callout_widths(risers: Sequence[Riser]) -> dict[str, float]:
    return {run.id: widest(callout_of(run)) for riser in risers for _, run, _ in riser.served}
