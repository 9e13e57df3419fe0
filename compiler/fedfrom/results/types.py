"""The results of a compilation: what documents, drawings, `results.json` and rules read.

Units: A, VA, V, ft, percent, ohm, degrees C, as each field's name ends. Arrays by phase have shape (3,) in the order
A B C (single-phase gear uses A and B, the third is 0). A field that is None is *not known* (a fact is missing, or the
method does not cover the case) and must be shown as such, never as passing and never as 0.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fedfrom.findings import Finding
from fedfrom.model.items import Origin, Status
from fedfrom.quantity import VoltageSystem
from fedfrom.results.assembly import Assembly, ClassMeasure, MountedDevice, RoomResult
from fedfrom.results.derivation import Derivation
from fedfrom.source import Span

PhaseVA = tuple[float, float, float]


# --- loads ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CategoryLoad:
    """One load category at one node: connected and demand, with the factor in words and its clause.

    `category` is a load kind of the vocabulary, or "largest motor" for its 25 % line, "existing (measured)", "growth".
    `factor` e.g. "10 kVA at 100 %, rest at 50 %". `continuous_va` is the part of `demand_va` that is continuous;
    `phase_va` the connected load by phase.
    """

    category: str
    connected_va: float
    demand_va: float
    factor: str
    clause: str
    continuous_va: float = 0.0
    count: int = 0
    phase_va: PhaseVA = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class NodeLoad:
    """The load at a node in one state. `design_a` = noncontinuous + 125 % of continuous, for sizing; with growth in
    `design_with_growth_a`. `phase_va` connected by phase. `phase_demand_a` with the general loads of dwelling units
    spread evenly (210.11(B)). `neutral_a` the greatest unbalanced neutral current, `neutral_va` the load to neutral of
    all lines, `neutral_nonlinear_a` what loads written as nonlinear put on the line that governs it.
    `complete` False when some load below is not known (then every number is a lower bound and must say so).
    `conductor_va` the demand on A, B, C to neutral, AB, BC, CA and balanced three-phase, () where it was not divided.
    """

    state: str
    categories: tuple[CategoryLoad, ...]
    connected_va: float
    demand_va: float
    demand_a: float
    design_a: float
    design_with_growth_a: float
    continuous_va: float
    phase_va: PhaseVA
    phase_demand_a: PhaseVA
    neutral_a: float
    power_factor: float
    motor_va: float
    complete: bool = True
    neutral_va: float = 0.0
    neutral_nonlinear_a: float = 0.0
    conductor_va: tuple[float, ...] = ()


# --- devices and conductors ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class DeviceResult:
    """An overcurrent or switching device after sizing. `rating_a` trip (or switch rating, then `fuse_a`)."""

    kind: str
    rating_a: float
    frame_a: float | None
    poles: int
    functions: str = ""
    fuse_a: float | None = None
    fuse_class: str = ""
    options: tuple[str, ...] = ()
    arc_reduction: str = ""
    interrupting_a: float | None = None
    fault_a: float | None = None
    fault_state: str = ""
    rating_basis: str = ""
    origin: Origin = Origin.CHOSEN
    status: Status = Status.NEW
    by: str = ""
    span: Span | None = None

    @property
    def protects_a(self) -> float:
        """The ampere rating that protects the conductors: the fuse where there is one, else the trip."""
        return self.fuse_a if self.fuse_a is not None else self.rating_a


@dataclass(frozen=True, slots=True)
class ConductorResult:
    """Conductors of a feeder or branch circuit after sizing.

    Sizes are table names ("12", "3/0", "250"); `ungrounded` conductors in each set; `neutral` "" for none;
    `ground` "" for none, `ground_kind` "equipment grounding conductor", "supply-side bonding jumper", "raceway" or "".
    `ampacity_a` is what may be used, all sets together, after correction, adjustment and the terminal rule.
    `r_ohm_per_kft`, `x_ohm_per_kft` of one set, at 75 C. `by` non-empty: drawn and checked, not bought.
    """

    sets: int
    ungrounded: int
    phase: str
    neutral: str
    ground: str
    ground_kind: str
    material: str
    insulation: str
    raceway_kind: str
    raceway_size: str
    ampacity_a: float
    terminal_c: int
    ambient_factor: float
    adjustment_factor: float
    fill_pct: float | None
    r_ohm_per_kft: float | None
    x_ohm_per_kft: float | None
    origins: Mapping[str, Origin] = field(default_factory=dict)
    by: str = ""


@dataclass(frozen=True, slots=True)
class FeederResult:
    """A feeder: from the device at the source to the load end. Keyed by `Feed.feeder_id`.

    `load_a` the current used for voltage drop; `design_a` what device and conductors were sized for (worst state).
    `fault_load_end_a` three-phase at the load end; `least_fault_a` the smallest fault there (any kind, weakest state,
    no motors), which its device must see.
    `kind`: "service", "feeder", "secondary", "tap", "generator", "inside".
    """

    id: str
    source: str
    target: str
    verb: str
    point: str
    kind: str
    system: VoltageSystem | None
    length_ft: float | None
    device: DeviceResult | None
    conductors: ConductorResult | None
    design_a: float | None
    load_a: float | None
    power_factor: float | None
    drop_v: float | None = None
    drop_pct: float | None = None
    cumulative_drop_pct: float | None = None
    drop_limit_pct: float | None = None
    fault_load_end_a: float | None = None
    worst_state: str = ""
    positions: tuple[int, ...] = ()
    meter: str = ""
    status: Status = Status.NEW
    by: str = ""
    length_assumed: bool = False
    span: Span | None = None
    least_fault_a: float | None = None
    least_fault_state: str = ""


@dataclass(frozen=True, slots=True)
class CircuitResult:
    """One row of a schedule: a branch circuit, a feeder leaving the gear, a spare or a space.

    `kind`: "load", "feeder", "spare", "space", "tap". `key`: "LP1.3" (positions joined, first one names it) or, on gear
    without numbered positions, "MCC1.4" by order. `positions` () on such gear; `pinned` positions were written.
    `phases` of the poles in order ("A", "AB", "ABC" …). `va_by_phase` connected. `continuous_a` the part of `load_a`
    that takes 125 %. `category` load kind(s), words of the
    vocabulary; `feeder_id` for kind "feeder". `start_dip_pct` of the gear's voltage at a motor's start, weakest state.
    """

    key: str
    gear: str
    kind: str
    positions: tuple[int, ...]
    order: int
    poles: int
    phases: str
    name: str
    tag: str
    category: str
    connected_va: float | None
    va_by_phase: PhaseVA
    load_a: float | None
    continuous: bool
    device: DeviceResult | None
    conductors: ConductorResult | None
    length_ft: float | None
    drop_v: float | None = None
    drop_pct: float | None = None
    cumulative_drop_pct: float | None = None
    fault_load_end_a: float | None = None
    feeder_id: str = ""
    pinned: bool = False
    notes: tuple[str, ...] = ()
    detail: str = ""
    multiwire: bool = False
    continuous_a: float | None = None
    motor_hp: float | None = None
    table_a: float | None = None
    mca_a: float | None = None
    mocp_a: float | None = None
    status: Status = Status.NEW
    by: str = ""
    span: Span | None = None
    start_dip_pct: float | None = None
    start_dip_state: str = ""
    drop_state: str = ""
    least_fault_a: float | None = None
    least_fault_state: str = ""


# --- faults --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FaultResult:
    """Available fault current at a node's bus in one state, rms symmetrical A, motor contribution included.

    `z_ohm` = (R, X) of the source side, line to neutral, at the node's voltage. `line_ground_a` None where the system
    has no grounded conductor. `basis` says what the source data rest on. `phases` 1: there is no three-phase fault, and
    `three_phase_a` repeats the greatest of the others so that no reader takes it for less. `asymmetrical_a`: total rms
    of the first half cycle of `greatest_a` with full offset.
    """

    state: str
    three_phase_a: float
    line_line_a: float | None
    line_ground_a: float | None
    x_over_r: float | None
    motor_contribution_a: float
    z_ohm: tuple[float, float]
    basis: str = ""
    assumed: bool = False
    phases: int = 3
    asymmetrical_a: float | None = None

    @property
    def greatest_a(self) -> float:
        """The greatest of the three, which ratings must withstand."""
        return max(self.three_phase_a, self.line_line_a or 0.0, self.line_ground_a or 0.0)


# --- gear ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ClassVerdict:
    """One class held against one piece of gear. `fits`; `reasons` full sentences a customer understands (for a class
    that is ruled out: the facts that rule it out, hardest first); `near_miss` "" or what would let it fit."""

    gear_class: str
    fits: bool
    reasons: tuple[str, ...]
    near_miss: str = ""
    spans: tuple[Span, ...] = ()
    measures: tuple[ClassMeasure, ...] = ()


@dataclass(frozen=True, slots=True)
class SectionResult:
    """One section of a line-up: kind ("pull", "utility metering", "main", "tie", "distribution", "transition"; also
    "panel interior", "motor control", "meter stack") and its devices from the top.

    `bus_a` the section bus, `through_bus_a` the bus that joins sections; `usable_in` and `used_in` height for devices.
    """

    number: int
    kind: str
    circuit_keys: tuple[str, ...]
    bus_a: float | None = None
    note: str = ""
    devices: tuple[MountedDevice, ...] = ()
    through_bus_a: float | None = None
    usable_in: float | None = None
    used_in: float | None = None
    width_in: float | None = None
    depth_in: float | None = None
    height_in: float | None = None
    weight_lb: float | None = None


@dataclass(frozen=True, slots=True)
class GearResult:
    """Distribution gear (any item with a bus).

    `gear_class`: "load center", "panelboard", "switchboard", or the item's own kind ("motor control center" …);
    `class_origin` written or chosen; `verdicts` one for each class considered; `why` the sentences for the one kept.
    `main`: the main device, None for lugs only. `bus_a` chosen or written. `sccr_a` the short-circuit rating; needed:
    `fault_a` in `fault_state`. `sccr_basis`: "fully rated", "series rated with …", "not established".
    """

    tag: str
    title: str
    gear_class: str
    class_origin: Origin
    why: tuple[str, ...]
    verdicts: tuple[ClassVerdict, ...]
    system: VoltageSystem | None
    fed_from: str
    bus_a: float | None
    bus_material: str
    bus_origin: Origin
    main: DeviceResult | None
    main_lugs: bool
    sccr_a: float | None
    sccr_origin: Origin
    sccr_basis: str
    fault_a: float | None
    fault_state: str
    enclosure: str
    enclosure_origin: Origin
    place: str
    metering: str
    sections: tuple[SectionResult, ...] = ()
    positions_total: int = 0
    positions_used: int = 0
    spare_ampacity_a: float | None = None
    imbalance_pct: float | None = None
    service_equipment: bool = False
    electrodes: tuple[str, ...] = ()
    electrode_conductors: tuple[str, ...] = ()
    grounding_electrode_conductor: str = ""
    main_bonding_jumper: str = ""
    assembly: Assembly | None = None
    status: Status = Status.NEW
    by: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class TransformerResult:
    """A transformer (also the one inside a pdu, or the utility's when `by` is "utility").

    `regulation_pct`: drop of its secondary voltage under the greatest demand, sending voltage held."""

    tag: str
    title: str
    kva: float | None
    kva_origin: Origin
    primary: VoltageSystem | None
    secondary: VoltageSystem | None
    connection: str
    impedance_pct: float | None
    impedance_origin: Origin
    x_over_r: float | None
    k_factor: str
    primary_a: float | None
    secondary_a: float | None
    primary_device: DeviceResult | None
    secondary_device: DeviceResult | None
    loading_pct: float | None
    fault_primary_a: float | None
    fault_secondary_a: float | None
    system_bonding_jumper: str = ""
    supply_side_bonding_jumper: str = ""
    grounding_electrode_conductor: str = ""
    electrodes: tuple[str, ...] = ()
    electrode_conductors: tuple[str, ...] = ()
    place: str = ""
    fed_from: str = ""
    status: Status = Status.NEW
    by: str = ""
    span: Span | None = None
    regulation_pct: float | None = None


@dataclass(frozen=True, slots=True)
class SourceResult:
    """A utility service or generator: `kind`, what it delivers, and the basis of its fault figure."""

    tag: str
    title: str
    kind: str
    system: VoltageSystem | None
    rating_va: float | None
    rating_text: str
    fault_a: float | None
    x_over_r: float | None
    basis: str
    assumed: bool
    main: DeviceResult | None = None
    transformer: TransformerResult | None = None
    demand_a: float | None = None
    bond: str = ""
    place: str = ""
    status: Status = Status.NEW
    by: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class TransferResult:
    """A transfer switch, UPS or maintenance bypass."""

    tag: str
    title: str
    kind: str
    system: VoltageSystem | None
    rating_a: float | None
    rating_origin: Origin
    poles: int
    system_class: str
    transition: str
    bypass: str
    withstand_a: float | None
    fault_a: float | None
    fault_state: str
    normal_from: str
    emergency_from: str
    place: str = ""
    status: Status = Status.NEW
    by: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class TieResult:
    """A bus tie: `ends`, device, whether it is normally open, and its conductors when it is a cable tie."""

    tag: str
    ends: tuple[str, str]
    device: DeviceResult | None
    normally_open: bool
    length_ft: float | None
    conductors: ConductorResult | None
    status: Status = Status.NEW


@dataclass(frozen=True, slots=True)
class StateInfo:
    """An operating state for readers: its name, what is lost, opened, closed, and what is dead in it."""

    name: str
    lost: tuple[str, ...]
    opened: tuple[str, ...]
    closed: tuple[str, ...]
    dead: tuple[str, ...]
    derived: bool


@dataclass(frozen=True, slots=True)
class BillLine:
    """One line of the bill of materials. `list_name`: "factory gear" or "field material".

    `key` joins a user's own catalogue. `net`, `allowance`, `quantity` = gross; equal for counted items.
    `part_of`: the key of the assembly that includes this line, "" for a line of its own; parts are never priced twice.
    """

    list_name: str
    key: str
    section: str
    tags: tuple[str, ...]
    description: str
    quantity: float
    unit: str
    net: float
    allowance: float
    kind: str
    status: str
    note: str = ""
    assumed: tuple[str, ...] = ()
    part_of: str = ""


@dataclass(frozen=True, slots=True)
class ProjectInfo:
    """Title blocks. `revisions`: mark, date, description; `sheet_size` "ANSI D" …, "" for the default; `notes`."""

    title: str
    number: str
    code: str
    drawn_by: str
    revisions: tuple[tuple[str, str, str], ...] = ()
    address: str = ""
    owner: str = ""
    designer: str = ""
    occupancy: str = ""
    checked_by: str = ""
    notes: tuple[str, ...] = ()
    sheet_size: str = ""


@dataclass(frozen=True, slots=True)
class AssumptionInfo:
    """An assumed value for the printed list."""

    subject: str
    what: str
    reason: str


@dataclass(frozen=True, slots=True)
class ExpectResult:
    """The outcome of one `expect`: `met` True, False, or None (not checked; `note` says what it needs)."""

    text: str
    measured: str
    met: bool | None
    note: str
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class RuleOutcome:
    """How one check came out. `outcome`: "passed", "failed", "accepted", "not checked" or "not applicable".

    `findings`, `accepted`, `unchecked`: how many places; `needs` what is missing where something is not checked.
    """

    outcome: str
    findings: int = 0
    accepted: int = 0
    unchecked: int = 0
    needs: str = ""


@dataclass(frozen=True, slots=True)
class Results:
    """Everything. Mappings are in source order. `loads[tag][state]`, `faults[tag][state]`; circuits by gear tag.

    `rule_counts` findings by rule; `review` the outcome of every check by rule (counts by outcome: `review_counts`).
    `digest` names the design (a hash of the model's content, not of paths or time) for title blocks.
    """

    project: ProjectInfo
    states: tuple[StateInfo, ...]
    sources: Mapping[str, SourceResult]
    gear: Mapping[str, GearResult]
    transformers: Mapping[str, TransformerResult]
    transfers: Mapping[str, TransferResult]
    ties: Mapping[str, TieResult]
    feeders: Mapping[str, FeederResult]
    circuits: Mapping[str, tuple[CircuitResult, ...]]
    loads: Mapping[str, Mapping[str, NodeLoad]]
    faults: Mapping[str, Mapping[str, FaultResult]]
    bill: tuple[BillLine, ...] = ()
    derivations: Mapping[str, Derivation] = field(default_factory=dict)
    assumptions: tuple[AssumptionInfo, ...] = ()
    expectations: tuple[ExpectResult, ...] = ()
    findings: tuple[Finding, ...] = ()
    accepted: tuple[tuple[Finding, str], ...] = ()
    rule_counts: Mapping[str, int] = field(default_factory=dict)
    digest: str = ""
    review: Mapping[str, RuleOutcome] = field(default_factory=dict)
    rooms: Mapping[str, RoomResult] = field(default_factory=dict)
