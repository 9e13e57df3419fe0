"""The dot source of an island: one plain node of exact size a cell, ports at the real wire positions."""

from __future__ import annotations

import sys
import sysconfig
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fedfrom.drawing.islands import Grid

POINTS = 72
PORT = 7.0
PROGRAM = "graphviz-pure"


def engine_path() -> Path | None:
    """The layout program that is installed with this package, None where it is missing."""
    folders = [Path(sysconfig.get_path("scripts")), Path(sys.executable).parent, Path(sys.prefix) / "bin"]
    for folder in folders:
        for name in (PROGRAM, f"{PROGRAM}.exe"):
            if (folder / name).is_file():
                return folder / name
    return None


def source_of(grid: Grid) -> str:
    """The graph as text. No fonts and no labels: dot never measures anything."""
    import graphviz

    graph = graphviz.Digraph(
        "island",
        graph_attr={"rankdir": "TB", "nodesep": "0.45", "ranksep": "0.8", "splines": "line", "margin": "0"},
        node_attr={"shape": "plain", "margin": "0"},
    )
    hops = grid.hops()
    for rank, row in enumerate(grid.rows):
        with graph.subgraph(name=f"rank{rank}") as level:
            level.attr(rank="same")
            for cell in row:
                level.node(f"n{cell}", label=_table(grid, cell, hops))
    heavy = {arc.run for arc in grid.arcs if arc.into.x == 0.0}
    for number, (run, upper, _, lower, _) in enumerate(hops):
        graph.edge(f"n{upper}:o{number}:s", f"n{lower}:i{number}:n", weight="20" if run in heavy else "2")
    return str(graph.source)


def _table(grid: Grid, cell: int, hops: list[tuple[str, int, float, int, float]]) -> str:
    left, right = grid.extent(cell)
    width = max(1.0, round((right - left) * POINTS, 2))
    height = 20.0
    if cell < len(grid.blocks):
        height = max(20.0, round(grid.blocks[cell].bottom * POINTS, 2))
    top = sorted((x - left, f"i{n}") for n, (_, _, _, lower, x) in enumerate(hops) if lower == cell)
    bottom = sorted((x - left, f"o{n}") for n, (_, upper, x, _, _) in enumerate(hops) if upper == cell)
    body = f'<TR><TD FIXEDSIZE="TRUE" WIDTH="{width:g}" HEIGHT="{height:g}"></TD></TR>'
    return (
        '<<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0">'
        f"{_ports(top, width)}{body}{_ports(bottom, width)}</TABLE>>"
    )


def _ports(ports: list[tuple[float, str]], width: float) -> str:
    """A row of port cells at their places with spacers between, nested in one cell of the full width."""
    if not ports:
        return ""
    cells: list[str] = []
    at = 0.0
    for x, name in ports:
        start = max(at, round(x * POINTS - PORT / 2, 2))
        if start > at:
            cells.append(f'<TD FIXEDSIZE="TRUE" WIDTH="{start - at:g}" HEIGHT="2"></TD>')
        cells.append(f'<TD PORT="{name}" FIXEDSIZE="TRUE" WIDTH="{PORT:g}" HEIGHT="2"></TD>')
        at = start + PORT
    if width > at:
        cells.append(f'<TD FIXEDSIZE="TRUE" WIDTH="{width - at:g}" HEIGHT="2"></TD>')
    inner = "".join(cells)
    return (
        f'<TR><TD><TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0"><TR>{inner}</TR></TABLE></TD></TR>'
    )
