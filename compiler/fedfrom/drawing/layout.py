"""`Layout`: what is decided about a drawing while it is laid out (which runs end in flags, which boards have turned
text), and the blocks built so far.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from fedfrom.drawing.block import Block
from fedfrom.drawing.outline import Outline, Part, Run
from fedfrom.graph.network import Network
from fedfrom.results.types import Results

Builder = Callable[[Part, "Layout"], Block]
SEGMENT = "#"
"""Between a board's key and the number of a further row of its bus (kind "row")."""

TAKE_SEVERAL = frozenset({"board", "transfer"})
"""Kinds of part that draw several supplies themselves; above others the supplies meet in a junction."""


@dataclass(slots=True)
class Layout:
    """The mutable state of one layout. `block(key)` is remembered until a decision below that part changes.

    `cut`: runs that end in a pair of continuation flags. `links`: runs drawn between blocks, in channels. `beside`:
    runs whose source stands beside its target and feeds nothing else. `turned`: boards whose text reads from the right.
    `roots`: finished blocks of trees, with what stands above them. `insulation`: what the sheet's note says already.
    """

    outline: Outline
    results: Results
    network: Network
    insulation: str
    builders: Mapping[str, Builder]
    join: Callable[[Part, Block, Layout], Block]
    cut: set[str] = field(default_factory=set)
    links: set[str] = field(default_factory=set)
    beside: dict[str, tuple[Run, ...]] = field(default_factory=dict)
    turned: set[str] = field(default_factory=set)
    roots: dict[str, Block] = field(default_factory=dict)
    _blocks: dict[str, Block] = field(default_factory=dict)
    columns: dict[str, tuple[tuple[object, ...], Block]] = field(default_factory=dict)
    """The last block of every run's column with what it was made from; most stay when another feeder is cut."""

    def block(self, key: str) -> Block:
        """The block of a part and of all that hangs below it on this piece."""
        found = self._blocks.get(key)
        if found is None:
            part = self.outline.parts[key]
            found = self.builders[part.kind](part, self)
            if len(self.inputs(key)) > 1 and part.kind not in TAKE_SEVERAL:
                found = self.join(part, found, self)
            self._blocks[key] = found
        return found

    def forget(self, key: str) -> None:
        """A decision about a part changed: drop its block and those of everything above it."""
        pending = [key]
        seen: set[str] = set()
        while pending:
            part = pending.pop()
            if part in seen:
                continue
            seen.add(part)
            self._blocks.pop(part, None)
            self.roots.pop(part, None)
            pending += [run.source for run in self.outline.above.get(part, ())]

    def outlets(self, key: str) -> tuple[Run, ...]:
        """The runs that leave a part."""
        return self.outline.below.get(key, ())

    def inputs(self, key: str) -> tuple[Run, ...]:
        """The runs that enter a part, the normal one first."""
        return self.outline.above.get(key, ())

    def is_tree(self, run: Run) -> bool:
        """Whether the run's target is drawn right under it, in the same block."""
        return run.id not in self.cut and run.id not in self.links
