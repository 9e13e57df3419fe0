"""The typed model: what the engineer wrote, before anything is computed or chosen.

Numbers are floats in the unit that the field's name ends in (ft, a, v, va, c, kv …). A field that is None was left out:
a choice is then chosen by a pass, and what depends on a missing fact is *not checked: needs …*.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from fedfrom.quantity import Dimension, Quantity, VoltageSystem
from fedfrom.source import Span
from fedfrom.syntax.tree import Site
from fedfrom.tables.edition import OwnTable

T = TypeVar("T")


class Origin(enum.Enum):
    """Where a value comes from."""

    WRITTEN = "written"
    DEFAULT = "default"
    CHOSEN = "chosen"


class Status(enum.Enum):
    """Existing, new …; inherited by everything inside."""

    NEW = "new"
    EXISTING = "existing"
    RELOCATED = "relocated"
    FUTURE = "future"
    DEMOLISH = "demolish"

    @property
    def is_gone(self) -> bool:
        """Not there when the work is done: taken out, or not built yet. It carries nothing and is not checked."""
        return self in (Status.DEMOLISH, Status.FUTURE)


@dataclass(frozen=True, slots=True)
class Value(Generic[T]):
    """A value with its provenance. `reason` is the text after `because`; `assumed` prints it in the assumption list."""

    value: T
    origin: Origin = Origin.WRITTEN
    span: Span | None = None
    assumed: bool = False
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """One property line as lowered: `name` and its parts by the names of the vocabulary's pattern.

    `values` holds Quantity, str (words, texts, tags, sizes), int, VoltageSystem or tuples of those, by part name;
    `options` the comma facts after the first run in the same form (name -> values). `computed` is False where the
    vocabulary says that no pass uses it yet: then a *not computed yet* note is given.
    """

    name: str
    values: Mapping[str, object]
    options: Mapping[str, Mapping[str, object]]
    span: Span
    assumed: bool = False
    reason: str = ""
    by: str = ""
    status: Status | None = None
    origin: Origin = Origin.WRITTEN


@dataclass(frozen=True, slots=True)
class FactTable:
    """The facts of an item by property name (several where a property may repeat, as `door` or `electrode`)."""

    facts: tuple[Fact, ...] = ()

    def all(self, name: str) -> tuple[Fact, ...]:
        return tuple(fact for fact in self.facts if fact.name == name)

    def first(self, name: str) -> Fact | None:
        return next((fact for fact in self.facts if fact.name == name), None)

    def amount(self, name: str, part: str = "", dimension: Dimension | None = None) -> Value[float] | None:
        """The quantity of property `name` in base units (the part named, else the first quantity), or None."""
        fact = self.first(name)
        if fact is None:
            return None
        for key, value in fact.values.items():
            fits = isinstance(value, Quantity) and (dimension is None or value.dimension is dimension)
            if fits and (not part or key == part):
                return Value(float(value), fact.origin, fact.span, fact.assumed, fact.reason)  # type: ignore[arg-type]
        return None

    def word(self, name: str, part: str = "") -> Value[str] | None:
        """The word or text of property `name` (the part named, else the first), or None."""
        fact = self.first(name)
        if fact is None:
            return None
        for key, value in fact.values.items():
            if isinstance(value, str) and (not part or key == part):
                return Value(value, fact.origin, fact.span, fact.assumed, fact.reason)
        return None


# --- what stands in a feed or on a load line -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Device:
    """An overcurrent or switching device as written; every field None or empty where left open.

    `kind`: "breaker", "fused switch", "bolted-pressure switch", "switch". `rating_a` is the trip (breaker) or the
    switch rating; `fuse_a` the fuse. `functions`: "LI", "LSI", "LSIG" or "". `options`: "shunt trip", "GFCI", "GFPE",
    "AFCI", "HACR", "SWD", "lock-on", "drawout", "electronic", "100 % rated", "electrical operator", "meter" ….
    `arc_reduction`: the means named ("maintenance switch", "zone interlock" …) or "". `status` as `existing breaker`.
    """

    kind: str
    span: Span
    rating_a: Value[float] | None = None
    frame_a: Value[float] | None = None
    fuse_a: Value[float] | None = None
    fuse_class: str = ""
    functions: str = ""
    options: frozenset[str] = frozenset()
    interrupting_a: Value[float] | None = None
    arc_reduction: str = ""
    poles: int | None = None
    status: Status | None = None
    by: str = ""


@dataclass(frozen=True, slots=True)
class Wire:
    """`wire Cu THHN/THWN-2 in EMT`: material, insulation and raceway kind, each None where left out."""

    material: Value[str] | None = None
    insulation: Value[str] | None = None
    raceway_kind: Value[str] | None = None
    by: str = ""


@dataclass(frozen=True, slots=True)
class Conductors:
    """Conductors as written. Sizes are names of the table ("3/0", "250", "12"): AWG or kcmil is clear from the name.

    `neutral`: a size, "none", or a percentage such as "200 %". `raceway` is the trade size ("4", "1-1/4").
    `impedance`: (R, X) of one conductor of a set, ohm per 1000 ft, where it is stated and not the table's.
    """

    wire: Wire = Wire()
    sets: Value[int] | None = None
    phase: Value[str] | None = None
    neutral: Value[str] | None = None
    ground: Value[str] | None = None
    raceway: Value[str] | None = None
    impedance: Value[tuple[float, float]] | None = None


@dataclass(frozen=True, slots=True)
class RouteRun:
    """One stretch of a feeder: `run 40 ft in EMT on roof, 50 C`."""

    length_ft: Value[float]
    raceway_kind: Value[str] | None
    environment: str
    ambient_c: Value[float] | None
    span: Span


@dataclass(frozen=True, slots=True)
class Feed:
    """One `fed from` line with all that belongs to it.

    `verb`: "fed from", "normal from", "emergency from", "alternate from", "bypass from", "connects to".
    `point` on the source: "bus", "ahead of main", "feed-through lugs", "sub-feed lugs", "tap", "opposite end".
    `feeder_id`: the destination's tag when it has one feed, else "TAG.normal", "TAG.emergency", "TAG.G1" ….
    `length_ft` is the total (the runs added up when `runs` are given), None where left out.
    `system`/`phases`: volts and phases written on the feed (`208 V 1-phase`), line-to-line volts in `volts`.
    """

    verb: str
    source: str
    feeder_id: str
    span: Span
    source_span: Span
    point: str = "bus"
    length_ft: Value[float] | None = None
    runs: tuple[RouteRun, ...] = ()
    at_ft: Value[float] | None = None
    positions: tuple[int, ...] = ()
    positions_span: Span | None = None
    device: Device | None = None
    conductors: Conductors = Conductors()
    ambient_c: Value[float] | None = None
    meter: str = ""
    volts: Value[float] | None = None
    phases: int | None = None
    by: str = ""
    status: Status = Status.NEW
    trail: tuple[Site, ...] = ()
    facts: FactTable = FactTable()


@dataclass(frozen=True, slots=True)
class LoadAmount:
    """How big a load is, in the way that it was written; exactly the fields of its form are set.

    Forms: "va" (apparent), "w" (real), "a" (current), "hp" (shaft), "outlets" (count), "area" (area_ft2 + occupancy),
    "mca" (mca_a, mocp_a), "length" (length_ft of track, show window, multioutlet), "x-ray" (momentary_va, longtime_va),
    "none" (left out). `quantity` is the number in base units for the simple forms.
    """

    form: str
    quantity: float | None = None
    area_ft2: float | None = None
    occupancy: str = ""
    mca_a: float | None = None
    mocp_a: float | None = None
    momentary_va: float | None = None
    longtime_va: float | None = None
    span: Span | None = None
    assumed: bool = False
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Load:
    """One load line (or the head of a `circuit` with several).

    `kind` is a load kind of the vocabulary or "circuit" (then `parts` holds the loads on it). `tag` "" where none.
    `positions` pinned branch-circuit positions, () where open. `phases`: 1 or 3, None = rule of decision 22.
    `volts` nameplate or system volts line to line (or line to neutral for 120, 277 …) as written, None = gear's.
    `count`: `x N` = N circuits. `facts` holds the rest (drive, code, duty, sccr, through, starter, note …) by name.
    """

    kind: str
    tag: str
    name: str
    amount: LoadAmount
    span: Span
    index: int
    positions: tuple[int, ...] = ()
    positions_span: Span | None = None
    volts: Value[float] | None = None
    phases: int | None = None
    length_ft: Value[float] | None = None
    at_ft: Value[float] | None = None
    count: int = 1
    continuous: bool | None = None
    multiwire: bool = False
    cord: str = ""
    device: Device | None = None
    conductors: Conductors = Conductors()
    parts: tuple[Load, ...] = ()
    facts: FactTable = FactTable()
    status: Status = Status.NEW
    by: str = ""
    trail: tuple[Site, ...] = ()


@dataclass(frozen=True, slots=True)
class Reserve:
    """A `spare` (device bought) or `space` (place bought) line: how many, poles of each, rating if given."""

    kind: str
    rating_a: float | None
    poles: int
    count: int
    positions: tuple[int, ...]
    span: Span
    status: Status = Status.NEW
    device_kind: str = "breaker"


@dataclass(frozen=True, slots=True)
class Main:
    """The `main` of a piece of gear: a device, "lugs", or left open (then the item's `main` is None)."""

    lugs: bool
    device: Device | None
    span: Span


@dataclass(frozen=True, slots=True)
class Electrode:
    """An `electrode` line: kind ("water pipe", "building steel", "concrete-encased", "rod", "ground ring", "plate")."""

    kind: str
    count: int
    length_ft: Value[float] | None
    size: Value[str] | None
    span: Span


# --- items ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Item:
    """One tagged piece of the power system: gear, transformer, transfer switch, generator, utility …

    `kind` is an item kind of the vocabulary ("panelboard", "gear", "transformer", "transfer switch", "utility" …).
    `enclosing` is the tag of the item that this one is written inside ("" where none): same enclosure, bus-connected.
    `facts` holds every property that has no field of its own, by name (bus, sections, rating, impedance, system,
    subtransient, primary, fault, place, enclosure, metering, sccr, measured, growth, method, dwelling …).
    `unreadable`: a line inside or the head had an error; passes treat what depends on it as not known.
    """

    kind: str
    tag: str
    title: str
    span: Span
    tag_span: Span
    order: int
    status: Status = Status.NEW
    by: str = ""
    feeds: tuple[Feed, ...] = ()
    system: Value[VoltageSystem] | None = None
    secondary: Value[VoltageSystem] | None = None
    phases: str = ""
    main: Main | None = None
    loads: tuple[Load, ...] = ()
    reserves: tuple[Reserve, ...] = ()
    electrodes: tuple[Electrode, ...] = ()
    paralleling: bool = False
    enclosing: str = ""
    enclosed: tuple[str, ...] = ()
    facts: FactTable = FactTable()
    trail: tuple[Site, ...] = ()
    unreadable: bool = False


@dataclass(frozen=True, slots=True)
class Tie:
    """`tie TAG between A and B, device, normally open`. `length_ft` None: one line-up; else a cable tie."""

    tag: str
    ends: tuple[str, str]
    device: Device | None
    normally_open: bool
    length_ft: Value[float] | None
    conductors: Conductors
    span: Span
    order: int
    status: Status = Status.NEW


@dataclass(frozen=True, slots=True)
class Interlock:
    """`interlock key, at most 2 of A.main, B.main, TIE`."""

    kind: str
    at_most: int
    members: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class StateLine:
    """`state "name" { lost …; open …; close … }`."""

    name: str
    lost: tuple[str, ...]
    opened: tuple[str, ...]
    closed: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Noncoincident:
    """`noncoincident A, B or C`: groups of load tags of which only the largest runs."""

    groups: tuple[tuple[str, ...], ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Room:
    """A `room` with what was stated of it."""

    tag: str
    title: str
    facts: FactTable
    span: Span


@dataclass(frozen=True, slots=True)
class Acceptance:
    """`accept RULE on SUBJECT because "…"`: subjects as tags ("LP1.3") or ("LP1", "Break room")."""

    rule: str
    rule_span: Span
    subjects: tuple[tuple[str, str], ...]
    reason: str
    span: Span


@dataclass(frozen=True, slots=True)
class Expectation:
    """`expect fault at LP1 <= 10 kA`: quantity word(s), subject tag, comparison and value."""

    measure: str
    subject: str
    subject_span: Span | None
    compare: str
    value: Quantity | str
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Contactor:
    """`contactor LC1 { coil HP.8, held electrically, control "photocell" }`."""

    tag: str
    facts: FactTable
    span: Span
    status: Status = Status.NEW


@dataclass(frozen=True, slots=True)
class Project:
    """The `project` statement. `code` is the edition key ("NEC 2023")."""

    title: str = ""
    number: str = ""
    code: Value[str] = Value("NEC 2023", Origin.DEFAULT)
    drawn_by: str = ""
    facts: FactTable = FactTable()
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Defaults:
    """Project defaults with their spans; the values stand here also where the compiler's own default applies."""

    wire: Wire = Wire()
    ambient_c: Value[float] = Value(30.0, Origin.DEFAULT)
    drop_feeder_pct: Value[float] | None = None
    drop_branch_pct: Value[float] | None = None
    drop_total_pct: Value[float] | None = None
    growth_load_pct: Value[float] | None = None
    growth_poles_pct: Value[float] | None = None
    series_rated_forbidden: bool = False
    by_class: Mapping[str, FactTable] = field(default_factory=dict)
    facts: FactTable = FactTable()


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value written with `assumed because`: where, what, why."""

    subject: str
    what: str
    reason: str
    span: Span


@dataclass(frozen=True, slots=True)
class Model:
    """The whole project. `items` are in source order (root file first, included files in the order of inclusion)."""

    project: Project
    defaults: Defaults
    items: Mapping[str, Item]
    ties: tuple[Tie, ...] = ()
    interlocks: tuple[Interlock, ...] = ()
    states: tuple[StateLine, ...] = ()
    noncoincident: tuple[Noncoincident, ...] = ()
    rooms: Mapping[str, Room] = field(default_factory=dict)
    contactors: Mapping[str, Contactor] = field(default_factory=dict)
    acceptances: tuple[Acceptance, ...] = ()
    expectations: tuple[Expectation, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    catalog: str = ""
    own_tables: Mapping[str, OwnTable] = field(default_factory=dict)
    incomplete: bool = False
