"""Keys that both sides share: old tags by their new names, circuits by their load and not by their position."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from fedfrom.changes.plain import renamed
from fedfrom.changes.types import Side
from fedfrom.changes.written import load_keys
from fedfrom.results.types import CircuitResult


@dataclass(frozen=True, slots=True)
class Naming:
    """A side with the new names of its tags, and the new keys of load lines that were given another name."""

    side: Side
    names: Mapping[str, str]
    loads: Mapping[str, str] = field(default_factory=dict)

    def tag(self, text: str) -> str:
        """A tag, feeder id or circuit key by its new name."""
        return renamed(text, self.names)

    def circuits(self, gear: str) -> list[tuple[str, str, CircuitResult]]:
        """(key, key of the load line, row) of a piece of gear. `x 4` gives four rows, numbered from the second on.

        Rows of spares and spaces, and of feeders, are named by what they are.
        """
        item = self.side.model.items.get(gear)
        loads = list(zip(load_keys(item), item.loads, strict=True)) if item is not None else []
        by_place = {(load.span, load.tag or load.name): key for key, load in loads}
        by_span = {load.span: key for key, load in loads}
        seen: Counter[str] = Counter()
        found = []
        for row in self.side.results.circuits.get(gear, ()):
            line = by_place.get((row.span, row.tag or row.name)) or by_span.get(row.span) if row.span else None
            if row.kind == "feeder":
                line = f"feeder {self.tag(row.feeder_id)}"
            if line:
                line = self._line(gear, line)
            line = line or (f"{row.kind} {row.name or row.tag}".strip())
            seen[line] += 1
            found.append((line if seen[line] == 1 else f"{line} ({seen[line]})", line, row))
        return found

    def _line(self, gear: str, line: str) -> str:
        """The key of a load line by its new name, where it stayed on its gear."""
        start = f"{self.tag(gear)}/load/"
        key = self.loads.get(start + line, "")
        return key.removeprefix(start) if key.startswith(start) else line
