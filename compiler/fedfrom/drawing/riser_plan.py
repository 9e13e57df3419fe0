"""What a riser diagram shows: storeys, and the risers of every board that feeds other storeys. No geometry.

A riser is a board with its feeders to other storeys; what such a feeder serves on its storey stands beside it as a
small tree from left to right.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from fedfrom.drawing.floors import Floor, floors_of
from fedfrom.drawing.outline import Outline, Run, outline
from fedfrom.graph.network import Network
from fedfrom.model.items import Model
from fedfrom.results.types import Results

SHOWN = frozenset({"source", "board", "panel", "transformer", "transfer"})


@dataclass(frozen=True, slots=True)
class Twig:
    """A thing with what it feeds on the same storey."""

    key: str
    children: tuple[Twig, ...] = ()

    @property
    def rows(self) -> int:
        """How many rows the tree takes."""
        return max(1, sum(child.rows for child in self.children))


@dataclass(slots=True)
class Riser:
    """A head with its local tree, and the trees that it feeds on other storeys: (storey, run, tree)."""

    head: Twig
    floor: str
    served: list[tuple[str, Run, Twig]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class RiserPlan:
    """Storeys from above to below, risers in source order, runs between things of different risers, inferred tags."""

    floors: tuple[Floor, ...]
    risers: tuple[Riser, ...]
    links: tuple[Run, ...]
    places: Mapping[str, Floor]
    drawn: Outline


def plan_risers(results: Results, network: Network, model: Model, heads: Collection[str] = ()) -> RiserPlan | None:
    """The plan, None where fewer than two storeys are known: then there is nothing to draw.

    `heads` start risers of their own in any case.
    """
    drawn = outline(results, network)
    places = floors_of(network, model)
    tags = [key for key, part in drawn.parts.items() if key in network.nodes and part.kind in SHOWN]
    if len({places[tag].name for tag in tags if places[tag].height > -1000.0}) < 2:
        return None
    builder = _Builder(drawn, places, tags, heads)
    risers, links = builder.build()
    floors: dict[str, Floor] = {}
    for tag in tags:
        floors.setdefault(places[tag].name, places[tag])
    ordered = tuple(sorted(floors.values(), key=lambda floor: -floor.height))
    return RiserPlan(ordered, tuple(risers), tuple(links), places, drawn)


class _Builder:
    """Sorts every thing into the riser of the head that it hangs on."""

    def __init__(
        self, drawn: Outline, places: Mapping[str, Floor], tags: Sequence[str], heads: Collection[str]
    ) -> None:
        self.drawn = drawn
        self.places = places
        self.tags = tags
        self.known = set(tags)
        self.heads = self._heads(heads)
        self.used: set[str] = set()

    def build(self) -> tuple[list[Riser], list[Run]]:
        risers = [self._riser(tag) for tag in self.tags if tag in self.heads]
        # Things on a circle of feeds have no head above them.
        risers += [self._riser(tag) for tag in self.tags if tag not in self.used]
        heads = {riser.head.key for riser in risers}
        links = [run for tag in self.tags for run in self._inputs(tag) if tag in heads and run.source in heads]
        return risers, links

    def _heads(self, chosen: Collection[str]) -> set[str]:
        """Those chosen, what feeds other storeys, what has no supply or several, and what these hang on."""
        heads = {tag for tag in self.tags if len(self._inputs(tag)) != 1 or any(map(self._crosses, self._own(tag)))}
        heads |= set(chosen) & self.known
        pending = sorted(heads)
        while pending:
            for run in self._inputs(pending.pop()):
                if run.source not in heads:
                    heads.add(run.source)
                    pending.append(run.source)
        return heads

    def _inputs(self, tag: str) -> list[Run]:
        return [run for run in self.drawn.above[tag] if run.source in self.known]

    def _own(self, tag: str) -> list[Run]:
        """The runs to what hangs on a tag alone."""
        return [run for run in self.drawn.below[tag] if run.target in self.known and self._inputs(run.target) == [run]]

    def _crosses(self, run: Run) -> bool:
        return self.places[run.source].name != self.places[run.target].name

    def _riser(self, tag: str) -> Riser:
        riser = Riser(self._twig(tag), self.places[tag].name)
        for run in self._own(tag):
            if self._crosses(run) and run.target not in self.heads and run.target not in self.used:
                riser.served.append((self.places[run.target].name, run, self._twig(run.target)))
        return riser

    def _twig(self, tag: str) -> Twig:
        self.used.add(tag)
        children = []
        for run in self._own(tag):
            if not self._crosses(run) and run.target not in self.heads and run.target not in self.used:
                children.append(self._twig(run.target))
        return Twig(tag, tuple(children))
