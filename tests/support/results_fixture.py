"""Hand-made designs for tests of documents: a bottling works, a dwelling, and a large and ugly panel.

The figures are plausible but computed by nobody; they test how values are shown, never whether they are right.
"""

from __future__ import annotations

from dataclasses import replace

from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Network, Node, State, StatePlan
from fedfrom.model.items import Defaults, Item, Model, Origin, Project, Status, Value
from fedfrom.quantity import SYSTEMS, VoltageSystem
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.types import (
    AssumptionInfo,
    BillLine,
    CategoryLoad,
    CircuitResult,
    ClassVerdict,
    ConductorResult,
    DeviceResult,
    ExpectResult,
    FaultResult,
    FeederResult,
    GearResult,
    NodeLoad,
    ProjectInfo,
    Results,
    SectionResult,
    SourceResult,
    StateInfo,
    TransferResult,
    TransformerResult,
)
from fedfrom.rules.registry import Design
from fedfrom.source import SourceFile, Span
from fedfrom.tables import load_edition

WYE_480 = SYSTEMS["480Y/277 V"]
WYE_208 = SYSTEMS["208Y/120 V"]
SINGLE = SYSTEMS["120/240 V"]
TEXT = "fedfrom 1\nswitchboard MSB {\n    fed from UT, 60 ft\n}\n"


def breaker(
    rating: float,
    poles: int = 3,
    functions: str = "",
    frame: float | None = None,
    kind: str = "breaker",
    interrupting: float | None = 65_000.0,
    options: tuple[str, ...] = (),
    fuse: float | None = None,
    status: Status = Status.NEW,
) -> DeviceResult:
    return DeviceResult(
        kind,
        rating,
        frame or rating,
        poles,
        functions,
        fuse_a=fuse,
        fuse_class="L" if fuse else "",
        options=options,
        interrupting_a=interrupting,
        fault_a=38_400.0,
        fault_state="Normal",
        rating_basis="fully rated",
        status=status,
    )


def wires(
    phase: str,
    ground: str,
    ampacity: float,
    sets: int = 1,
    neutral: str = "",
    raceway: str = "2",
    hots: int = 3,
    material: str = "Cu",
    kind: str = "EMT",
    by: str = "",
    ground_kind: str = "equipment grounding conductor",
) -> ConductorResult:
    return ConductorResult(
        sets,
        hots,
        phase,
        neutral,
        ground,
        ground_kind if ground else "",
        material,
        "THHN/THWN-2" if material == "Cu" else "XHHW-2",
        kind,
        raceway,
        ampacity,
        75,
        0.94,
        1.0,
        31.2,
        0.062,
        0.041,
        {"phase": Origin.CHOSEN},
        by,
    )


def load_of(
    connected: float,
    demand: float,
    volts: float,
    phases: int = 3,
    complete: bool = True,
    categories: tuple[CategoryLoad, ...] = (),
    continuous: float = 0.0,
) -> dict[str, NodeLoad]:
    root = 3**0.5 if phases == 3 else 1.0
    amperes = demand / (volts * root)
    design = (demand + 0.25 * continuous) / (volts * root)
    third = connected / 3
    by_phase = (third * 1.04, third, third * 0.96) if phases == 3 else (connected / 2, connected / 2, 0.0)
    return {
        "Normal": NodeLoad(
            "Normal",
            categories,
            connected,
            demand,
            amperes,
            design,
            design * 1.2,
            continuous,
            by_phase,
            (amperes, amperes, amperes if phases == 3 else 0.0),
            amperes * 0.2,
            0.88,
            connected * 0.3,
            complete,
        )
    }


def fault_of(three_phase: float, ground: float | None = None) -> dict[str, FaultResult]:
    return {
        "Normal": FaultResult(
            "Normal",
            three_phase,
            three_phase * 0.866,
            three_phase * 0.92 if ground is None else ground,
            6.4,
            900.0,
            (0.0012, 0.0071),
            "utility letter pending",
            True,
        )
    }


def circuit(
    gear: str,
    positions: tuple[int, ...],
    phases: str,
    name: str,
    va: float | None,
    amperes: float = 20.0,
    category: str = "lighting",
    kind: str = "load",
    order: int = 0,
    device: DeviceResult | None = None,
    conductors: ConductorResult | None = None,
    continuous: bool = False,
    drop: float | None = 1.4,
    feeder: str = "",
    tag: str = "",
    detail: str = "",
    notes: tuple[str, ...] = (),
    status: Status = Status.NEW,
    by: str = "",
    length: float | None = 95.0,
) -> CircuitResult:
    poles = len(phases)
    share = 0.0 if va is None else va / max(poles, 1)
    by_phase = tuple(share if letter in phases else 0.0 for letter in "ABC")
    real = kind in {"load", "feeder"}
    if device is None and kind != "space":
        device = breaker(amperes, poles, frame=100.0, interrupting=22_000.0)
    if conductors is None and kind == "load":
        conductors = wires("12", "12", 20.0, raceway="1/2", hots=poles, neutral="12" if poles == 1 else "")
    key = f"{gear}.{positions[0] if positions else order}"
    return CircuitResult(
        key,
        gear,
        kind,
        positions,
        order,
        poles,
        phases,
        name,
        tag,
        category,
        va if real else 0.0,
        (by_phase[0], by_phase[1], by_phase[2]),
        9.2 if real else None,
        continuous,
        device,
        conductors,
        length if real else None,
        1.7 if drop is not None and real else None,
        drop if real else None,
        2.9 if drop is not None and real else None,
        4200.0 if real else None,
        feeder,
        False,
        notes,
        detail,
        status=status,
        by=by,
    )


def gear_of(
    tag: str,
    title: str,
    gear_class: str,
    system: VoltageSystem | None,
    fed_from: str,
    bus: float | None,
    main: DeviceResult | None,
    sccr: float | None,
    fault: float | None,
    **more: object,
) -> GearResult:
    base = GearResult(
        tag,
        title,
        gear_class,
        Origin.CHOSEN,
        (f"{title} is a {gear_class} because it is the lightest class that fits.",),
        (
            ClassVerdict("load center", False, ("480Y/277 V rules out the load center.",)),
            ClassVerdict(
                "panelboard",
                gear_class == "panelboard",
                ("At 1600 A the panelboard class stops at 1200 A.",),
                "A panelboard would fit if the main were 1200 A or less.",
            ),
        ),
        system,
        fed_from,
        bus,
        "Al",
        Origin.CHOSEN,
        main,
        main is None,
        sccr,
        Origin.CHOSEN,
        "fully rated" if sccr else "not established",
        fault,
        "Normal" if fault else "",
        "Type 1",
        Origin.CHOSEN,
        "Room E101",
        "",
    )
    return replace(base, **more)  # type: ignore[arg-type]


MSB_LOADS = (
    CategoryLoad("motor", 310_000, 310_000, "100 %", "NEC 2023, 430.24", 0.0, 14),
    CategoryLoad("largest motor", 0, 20_000, "25 % of the largest motor", "NEC 2023, 430.24"),
    CategoryLoad("lighting", 62_000, 62_000, "125 % for sizing only", "NEC 2023, 220.42", 62_000, 30),
    CategoryLoad("receptacles", 24_000, 17_000, "10 kVA at 100 %, rest at 50 %", "NEC 2023, 220.47", 0.0, 133),
    CategoryLoad("hvac", 140_000, 140_000, "100 %", "NEC 2023, 440.33", 0.0, 4),
)
LP1_LOADS = MSB_LOADS[2:4]


def _feeder(
    source: str,
    target: str,
    kind: str,
    system: VoltageSystem | None,
    length: float | None,
    device: DeviceResult | None,
    conductors: ConductorResult | None,
    design: float | None,
    **more: object,
) -> FeederResult:
    base = FeederResult(
        target,
        source,
        target,
        "fed from",
        "bus",
        kind,
        system,
        length,
        device,
        conductors,
        design,
        None if design is None else design * 0.8,
        0.88,
        2.2,
        0.79,
        1.6,
        2.0,
        18_500.0,
        "Normal",
    )
    return replace(base, **more)  # type: ignore[arg-type]


def works() -> Design:
    """A bottling works: service switchboard, distribution and lighting panelboards, MCC, transformer, generator."""
    normal = "Normal"
    circuits = {
        "MSB": (
            circuit(
                "MSB",
                (),
                "ABC",
                "Bottling hall distribution",
                320_000,
                600,
                "motor",
                "feeder",
                1,
                breaker(600, 3, "LSI", 600),
                feeder="DP1",
                tag="DP1",
            ),
            circuit(
                "MSB",
                (),
                "ABC",
                "T1",
                75_000,
                125,
                "lighting",
                "feeder",
                2,
                breaker(125, 3, "", 250),
                feeder="T1",
                tag="T1",
            ),
            circuit(
                "MSB",
                (),
                "ABC",
                "Process motors",
                141_000,
                400,
                "motor",
                "feeder",
                3,
                breaker(400, 3, "LSI", 400),
                feeder="MCC1",
                tag="MCC1",
            ),
            circuit("MSB", (), "ABC", "", 0, 400, "", "spare", 4, breaker(400, 3, "LSI", 400)),
            circuit("MSB", (), "ABC", "", 0, 400, "", "space", 5),
        ),
        "DP1": (
            circuit(
                "DP1",
                (1, 3, 5),
                "ABC",
                "Bottle washer",
                27_000,
                60,
                "motor",
                detail="25 hp",
                conductors=wires("6", "10", 65, raceway="1"),
            ),
            circuit(
                "DP1",
                (2, 4, 6),
                "ABC",
                "Shrink tunnel",
                36_000,
                60,
                "equipment",
                continuous=True,
                conductors=wires("4", "10", 85, raceway="1-1/4"),
                notes=("Disconnect within sight by others",),
            ),
            circuit(
                "DP1",
                (7, 9, 11),
                "ABC",
                "Makeup air unit",
                34_000,
                60,
                "hvac",
                by="mechanical",
                detail="MCA 41 A, MOCP 60 A",
                conductors=wires("8", "10", 50, raceway="3/4"),
            ),
        ),
        "LP1": (
            circuit("LP1", (1,), "A", "Packing hall", 2_400, continuous=True),
            circuit("LP1", (3,), "B", "Offices", 1_440, category="receptacles"),
            circuit("LP1", (2, 4), "AB", "Label printer", 3_100, category="equipment"),
            circuit("LP1", (5,), "C", "Break room", 720, category="receptacles", drop=None, length=None),
            circuit("LP1", (6,), "C", "Old oven", 1_200, category="kitchen", status=Status.DEMOLISH),
            circuit("LP1", (7,), "A", "", 0, kind="spare"),
            circuit("LP1", (8,), "A", "", 0, kind="spare"),
            circuit("LP1", (9,), "B", "", 0, kind="space"),
        ),
        "MCC1": (
            circuit("MCC1", (), "ABC", "Conveyor drive", 8_000, 20, "motor", order=1, detail="7-1/2 hp, drive"),
            circuit("MCC1", (), "ABC", "Cooling water pump", 40_000, 100, "motor", order=2, detail="40 hp"),
        ),
        "EP1": (circuit("EP1", (1, 3, 5), "ABC", "Egress lighting", 9_000, 20, "lighting", continuous=True),),
    }
    gear = {
        "MSB": gear_of(
            "MSB",
            "Main switchboard",
            "switchboard",
            WYE_480,
            "UT",
            1600,
            breaker(1600, 3, "LSIG", 1600),
            65_000,
            38_400,
            metering="utility",
            service_equipment=True,
            electrodes=("water pipe", "building steel"),
            grounding_electrode_conductor="3/0",
            main_bonding_jumper="250",
            spare_ampacity_a=420.0,
            imbalance_pct=1.2,
            sections=(
                SectionResult(1, "utility metering", ()),
                SectionResult(2, "main", ("MSB.main",)),
                SectionResult(3, "distribution", tuple(c.key for c in circuits["MSB"]), 1600),
            ),
        ),
        "DP1": gear_of(
            "DP1",
            "Bottling hall distribution",
            "panelboard",
            WYE_480,
            "MSB",
            600,
            None,
            35_000,
            26_100,
            positions_total=42,
            positions_used=9,
            enclosure="Type 12",
            imbalance_pct=4.0,
            place="Bottling hall, column C4",
        ),
        "LP1": gear_of(
            "LP1",
            "Offices and lighting",
            "panelboard",
            WYE_208,
            "T1",
            225,
            breaker(225, interrupting=10_000),
            10_000,
            4_700,
            positions_total=42,
            positions_used=9,
            imbalance_pct=12.4,
            spare_ampacity_a=31.0,
        ),
        "MCC1": gear_of("MCC1", "Process motors", "motor control center", WYE_480, "MSB", 600, None, 65_000, 24_000),
        "EP1": gear_of(
            "EP1",
            "Emergency lighting",
            "panelboard",
            WYE_480,
            "ATS1",
            100,
            None,
            14_000,
            9_000,
            positions_total=18,
            positions_used=3,
        ),
    }
    transformers = {
        "T1": TransformerResult(
            "T1",
            "",
            75.0,
            Origin.CHOSEN,
            WYE_480,
            WYE_208,
            "delta-wye",
            5.1,
            Origin.DEFAULT,
            2.4,
            "K-4",
            90.2,
            208.2,
            breaker(125),
            breaker(225, interrupting=10_000),
            61.0,
            27_000,
            4_900,
            "2",
            "2",
            "4",
            ("building steel",),
            "Room E101",
            "MSB",
        )
    }
    feeders = {
        "MSB": _feeder(
            "UT", "MSB", "service", WYE_480, 60.0, None, wires("600", "", 1680, 4, "600", "4", by="utility"), 1260.0
        ),
        "DP1": _feeder(
            "MSB",
            "DP1",
            "feeder",
            WYE_480,
            180.0,
            breaker(600, 3, "LSI", 600),
            wires("350", "1", 620, 2, "", "3"),
            512.0,
        ),
        "T1": _feeder("MSB", "T1", "feeder", WYE_480, 40.0, breaker(125), wires("1", "6", 130, raceway="1-1/2"), 113.0),
        "LP1": _feeder(
            "T1",
            "LP1",
            "secondary",
            WYE_208,
            15.0,
            None,
            wires("4/0", "2", 230, 1, "4/0", "2-1/2", ground_kind="supply-side bonding jumper"),
            170.0,
        ),
        "MCC1": _feeder(
            "MSB",
            "MCC1",
            "feeder",
            WYE_480,
            None,
            breaker(400, 3, "LSI", 400),
            None,
            333.0,
            drop_v=None,
            drop_pct=None,
            cumulative_drop_pct=None,
            fault_load_end_a=None,
            load_a=None,
        ),
        "ATS1.normal": replace(
            _feeder("MSB", "ATS1", "feeder", WYE_480, 30.0, breaker(100), wires("1", "8", 130, raceway="1-1/2"), 14.0),
            id="ATS1.normal",
        ),
        "EP1": _feeder("ATS1", "EP1", "feeder", WYE_480, 12.0, None, wires("1", "8", 130, raceway="1-1/2"), 14.0),
    }
    loads = {
        "MSB": load_of(536_000, 529_000, 480, categories=MSB_LOADS, continuous=62_000),
        "DP1": load_of(97_000, 103_000, 480, categories=MSB_LOADS[:2], continuous=36_000),
        "LP1": load_of(8_860, 8_860, 208, categories=LP1_LOADS, continuous=2_400),
        "MCC1": load_of(48_000, 58_000, 480, complete=False, categories=MSB_LOADS[:1]),
        "EP1": load_of(9_000, 9_000, 480, categories=MSB_LOADS[2:3], continuous=9_000),
    }
    faults = {
        "UT": fault_of(38_000),
        "MSB": fault_of(38_400),
        "DP1": fault_of(26_100),
        "LP1": fault_of(4_700, None),
        "EP1": {normal: replace(fault_of(9_000)[normal], line_ground_a=None)},
    }
    sources = {
        "UT": SourceResult(
            "UT",
            "Utility",
            "utility",
            WYE_480,
            None,
            "1500 kVA, 5.75 %",
            38_000,
            8.0,
            "utility letter pending",
            True,
            demand_a=637.0,
        ),
        "G1": SourceResult(
            "G1",
            "Standby generator",
            "generator",
            WYE_480,
            187_500,
            "150 kW",
            1_900,
            None,
            "subtransient reactance 12 %",
            False,
            main=breaker(250, 3, "LSI", 250),
            demand_a=11.0,
            bond="none",
            place="Generator house",
        ),
    }
    transfers = {
        "ATS1": TransferResult(
            "ATS1",
            "",
            "transfer switch",
            WYE_480,
            100,
            Origin.CHOSEN,
            4,
            "legally required",
            "open",
            "",
            22_000,
            21_000,
            "Normal",
            "MSB",
            "G1",
            "Room E101",
        )
    }
    bill = (
        BillLine(
            "factory gear",
            "switchboard|480Y/277 V|1600",
            "26 24 13",
            ("MSB",),
            "Switchboard, service, 480Y/277 V, 1600 A Al bus, 65 kA, 3 sections",
            1,
            "ea",
            1,
            0,
            "engineered",
            "new",
        ),
        BillLine(
            "factory gear",
            "panelboard|208Y/120 V|225",
            "26 24 16",
            ("LP1", "LP2"),
            "Panelboard, 208Y/120 V, 225 A Al bus",
            2,
            "ea",
            2,
            0,
            "stock",
            "new",
            "",
            ("bus material",),
        ),
        BillLine(
            "field material",
            "conductor|Cu|THHN/THWN-2|350",
            "26 05 19",
            ("DP1",),
            "Conductor, Cu, THHN/THWN-2, 350 kcmil",
            1287,
            "ft",
            1080,
            207,
            "stock",
            "new",
        ),
    )
    derivation = Derivation(
        "DP1.feeder.device",
        "Overcurrent device of feeder DP1",
        "600 A",
        Origin.CHOSEN,
        (Input("I", "design current", "512 A"),),
        (Step("I_n >= I", "600 A >= 512 A", "600 A", "NEC 2023, 240.6(A)"),),
    )
    findings = (
        Finding(
            "utility-fault-missing",
            Severity.WARNING,
            "UT",
            "The utility fault is assumed.",
            Span("plant.fed", 40, 42),
            clause="NEC 2023, 110.24",
        ),
        Finding(
            "length-missing",
            Severity.NOT_CHECKED,
            "MCC1",
            "Voltage drop of MCC1 is not checked: needs its length.",
            Span("plant.fed", 10, 21),
            notes=("Design current 333 A.",),
            help="Write the length.",
        ),
        Finding("phase-balance", Severity.NOTE, "LP1", "Phases of LP1 differ by 12.4 %.", None),
    )
    accepted = (
        (
            replace(findings[0], rule="drop-branch", subject="LP1.3", message="Drop of LP1.3 is 3.4 %."),
            "existing raceway, owner letter of 2026-03-02",
        ),
    )
    results = Results(
        ProjectInfo(
            "Ostrel Bottling Works",
            "OB-0142",
            "NEC 2023",
            "Electrical group",
            (("1", "2026-03-02", "Addendum 1: shrink tunnel"),),
        ),
        (StateInfo(normal, (), (), (), ("G1",), True), StateInfo("UT lost", ("UT",), (), (), ("MSB",), True)),
        sources,
        gear,
        transformers,
        transfers,
        {},
        feeders,
        circuits,
        loads,
        faults,
        bill,
        {"DP1.feeder.device": derivation},
        (AssumptionInfo("UT", "38 kA at service point", "utility letter pending"),),
        (
            ExpectResult("fault at LP1 <= 10 kA", "4.7 kA", True, ""),
            ExpectResult("drop at MCC1 <= 3 %", "", None, "needs a length"),
        ),
        findings,
        accepted,
        {"drop-branch": 12, "length-missing": 4},
        "7f3a9c",
    )
    return design_of(results)


def dwelling() -> Design:
    """A house: one load center on a single-phase service whose fault is not known."""
    circuits = {
        "LC1": (
            circuit("LC1", (1, 3), "AB", "Range", 9_600, 50, "range", conductors=wires("6", "10", 55, hots=2)),
            circuit("LC1", (2,), "A", "Kitchen counter", 1_500, category="receptacles"),
            circuit("LC1", (4,), "B", "Bath", None, category="receptacles"),
        )
    }
    gear = {
        "LC1": gear_of(
            "LC1",
            "House",
            "load center",
            SINGLE,
            "UT",
            200,
            breaker(200, 2, interrupting=None),
            None,
            None,
            positions_total=30,
            positions_used=4,
            service_equipment=True,
            electrodes=("rod",),
            bus_material="",
        )
    }
    feeders = {
        "LC1": _feeder(
            "UT",
            "LC1",
            "service",
            SINGLE,
            40.0,
            None,
            wires("4/0", "", 205, 1, "2/0", "2", 2, "Al"),
            150.0,
            fault_load_end_a=None,
        )
    }
    results = Results(
        ProjectInfo("House at Fenwick Lane", "", "NEC 2020", ""),
        (StateInfo("Normal", (), (), (), (), True),),
        {"UT": SourceResult("UT", "", "utility", SINGLE, None, "", None, None, "", False)},
        gear,
        {},
        {},
        {},
        feeders,
        circuits,
        {"LC1": load_of(11_100, 9_000, 240, 1, complete=False)},
        {},
    )
    return design_of(results)


LONG = "Refrigerated packing hall and cold store, north-east bay row 12"


def ugly() -> Design:
    """An 84-position panel full of 60-character names, notes and unknown values."""
    rows = []
    for index in range(1, 85):
        letter = "ABC"[((index - 1) // 2) % 3]
        unknown = index % 5 == 0
        rows.append(
            circuit(
                "LP-NORTH-EAST-WING-LEVEL-12-B",
                (index,),
                letter,
                f"{LONG} {index}",
                None if unknown else 1_234.5,
                category="refrigeration and process equipment" if index % 7 == 0 else "receptacles",
                drop=None if unknown else 12.345,
                length=None if unknown else 1234.5,
                continuous=index % 2 == 0,
                notes=(f"Coordinate final connection number {index} with the equipment supplier before rough-in",)
                if index % 9 == 0
                else (),
                status=Status.EXISTING if index % 11 == 0 else Status.NEW,
                device=breaker(20, 1, options=("GFPE", "lock-on", "shunt trip")),
            )
        )
    tag = "LP-NORTH-EAST-WING-LEVEL-12-B"
    gear = {
        tag: gear_of(
            tag,
            LONG + " panelboard, section one of two",
            "panelboard",
            WYE_208,
            "",
            None,
            None,
            None,
            None,
            positions_total=84,
            positions_used=84,
            place=LONG + ", behind column line Q and next to the stair",
        )
    }
    categories = tuple(
        CategoryLoad(
            f"category number {index} with a long name",
            1e6 * index,
            9e5 * index,
            "first 10 kVA at 100 %, remainder at 50 %, existing measured load at 125 %",
            "NEC 2023, 220.87 and 220.61(B)(1)(a)",
            0.0,
            index,
        )
        for index in range(1, 15)
    )
    results = Results(
        ProjectInfo(
            "The refrigerated packing hall and cold store of the Ostrel and Fenwick valley growers",
            "X-1",
            "NEC 2023",
            "",
        ),
        (StateInfo("Normal", (), (), (), (), True),),
        {},
        gear,
        {},
        {},
        {},
        {
            tag: _feeder(
                "NOWHERE",
                tag,
                "feeder",
                None,
                None,
                None,
                None,
                None,
                drop_v=None,
                drop_pct=None,
                cumulative_drop_pct=None,
                drop_limit_pct=None,
                fault_load_end_a=None,
                load_a=None,
                power_factor=None,
            )
        },
        {tag: tuple(rows)},
        {tag: load_of(1.05e8, 9.4e7, 208, complete=False, categories=categories)},
        {},
    )
    return design_of(results)


KINDS = {"utility": "utility", "generator": "generator"}


def design_of(results: Results) -> Design:
    """A design around results: one bare item and node for each thing in them."""
    things: dict[str, str] = {tag: source.kind for tag, source in results.sources.items()}
    things |= {tag: gear.gear_class for tag, gear in results.gear.items()}
    things |= dict.fromkeys(results.transformers, "transformer")
    things |= dict.fromkeys(results.transfers, "transfer switch")
    span = Span("plant.fed", 0, 1)
    items = {tag: Item(kind, tag, "", span, span, order) for order, (tag, kind) in enumerate(things.items())}
    defaults = Defaults(growth_load_pct=Value(20.0), growth_poles_pct=Value(25.0))
    model = Model(Project(results.project.title, results.project.number), defaults, items)
    nodes = {tag: Node(tag, item, "bus", None, None) for tag, item in items.items()}
    network = Network(nodes, {}, {}, {})
    plan = StatePlan((State("Normal", (), (), (), {}, tuple(items), ()),))
    edition = load_edition(results.project.code)
    return Design(model, network, plan, results, edition, {"plant.fed": SourceFile("plant.fed", TEXT)})
