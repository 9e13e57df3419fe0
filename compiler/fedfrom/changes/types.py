"""The records of a comparison: what was written differently, what came of it, and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fedfrom.graph.network import Network
from fedfrom.model.items import Model
from fedfrom.results.types import Results
from fedfrom.source import SourceFile, Span


@dataclass(frozen=True, slots=True)
class SheetPrint:
    """A sheet or section of a document: its title, a fingerprint of what stands on it, and the tags on it."""

    title: str
    fingerprint: str
    tags: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two designs. `name` for the reader ("main", "working copy"); `sheets` by document and sheet name.

    `folder` is put before the names of its files.
    """

    name: str
    model: Model
    network: Network
    results: Results
    files: Mapping[str, SourceFile]
    sheets: Mapping[str, SheetPrint] = field(default_factory=dict)
    folder: str = ""

    def place(self, span: Span | None) -> str:
        """ "plant.fed:88", or "" where there is no text to point at."""
        source = self.files.get(span.file) if span is not None else None
        if span is None or source is None:
            return ""
        return f"{self.folder}{span.file}:{source.place(span.start).line}"


@dataclass(frozen=True, slots=True)
class Edit:
    """Something that is written differently.

    `keys` name what ("DP1/feed/DP1", "DP1/load/BW-1", "defaults/drop"), `fields` which parts of it changed. `text` is a
    sentence part ("DP1 motor BW-1: 25 hp -> 40 hp"). `place` lies in the old text when `gone`. `count`: in how many
    items (a line of a typical counts once for each use). `short` says it in a chain of causes, "" for as in `text`.
    """

    keys: tuple[str, ...]
    fields: frozenset[str]
    text: str
    place: str
    gone: bool = False
    count: int = 1
    lowers: str = ""
    short: str = ""


@dataclass(frozen=True, slots=True)
class Written:
    """A cause in the text: edits whose key is `key` or below it, and that change one of `fields` (any if empty)."""

    key: str
    fields: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Fact:
    """One computed value.

    `key` "feeder/DP1/conductors"; `area` the group it is shown in ("" for a value that only explains others); `label`
    what it is ("feeder to DP1"); `text` the value as shown; `number` for ordering and for what counts as less;
    `parents` what it is computed from, the most telling first; `rating`: to have less of it lowers safety; `least`: a
    smaller difference of `number` is only counted, not told.
    """

    key: str
    area: str
    label: str
    text: str
    subject: str
    number: float | None = None
    parents: tuple[str | Written, ...] = ()
    rating: bool = False
    least: float = 0.0


@dataclass(frozen=True, slots=True)
class Cause:
    """One link of a chain: "DP1 demand 148 A -> 171 A", or an edit with its place."""

    text: str
    place: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """A consequence. `kind` "added", "removed" or "changed"; `because` the chain, the line of text last.

    `edits` are the numbers (from 1) of all edits that reach it. `lowers` says how it lowers safety, "" if it does not.
    `labels` names every value that changed alike.
    """

    key: str
    area: str
    labels: tuple[str, ...]
    subject: str
    kind: str
    before: str
    after: str
    because: tuple[Cause, ...]
    edits: tuple[int, ...] = ()
    lowers: str = ""


@dataclass(frozen=True, slots=True)
class FindingChange:
    """A finding gained, lost, changed or accepted."""

    kind: str
    rule: str
    severity: str
    subject: str
    message: str
    place: str
    because: tuple[Cause, ...] = ()
    lowers: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class BillChange:
    """A line of the bill whose quantity changed; 0 on the side where it is not."""

    list_name: str
    description: str
    unit: str
    before: float
    after: float
    because: tuple[Cause, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetChange:
    """A sheet that is added, removed or changed, and the tags for which it is."""

    kind: str
    document: str
    title: str
    tags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Rename:
    """A tag that was given another name; everything else about it is the same."""

    old: str
    new: str
    place: str


@dataclass(frozen=True, slots=True)
class Difference:
    """The whole comparison. Nothing that is unchanged is in it; `minor` counts values that changed by a trifle."""

    old: str
    new: str
    renames: tuple[Rename, ...]
    edits: tuple[Edit, ...]
    changes: tuple[Change, ...]
    findings: tuple[FindingChange, ...]
    bill: tuple[BillChange, ...]
    sheets: tuple[SheetChange, ...]
    minor: int = 0

    @property
    def same(self) -> bool:
        """Whether both sides are the same design."""
        parts = (self.renames, self.edits, self.changes, self.findings, self.bill, self.sheets)
        return not any(parts) and not self.minor

    @property
    def lowering(self) -> int:
        """How many of the changes lower safety."""
        marks = [each.lowers for each in self.edits]
        marks += [each.lowers for each in self.changes] + [each.lowers for each in self.findings]
        return sum(1 for mark in marks if mark)
