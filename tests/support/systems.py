"""Power systems for tests of drawings: a terse builder of `Results` and `Network`, samples, strategies.

Figures are plausible but computed by nobody: drawings show values, they do not make them.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from hypothesis import strategies as st

from fedfrom.graph.network import Edge, Network, Node, State, StatePlan
from fedfrom.model.items import Conductors as WrittenConductors
from fedfrom.model.items import Device, Fact, FactTable, Feed, Item, Origin, Status, Tie
from fedfrom.quantity import SYSTEMS, Quantity, VoltageSystem
from fedfrom.results.types import (
    CircuitResult,
    ConductorResult,
    DeviceResult,
    FeederResult,
    GearResult,
    NodeLoad,
    ProjectInfo,
    Results,
    SourceResult,
    StateInfo,
    TieResult,
    TransferResult,
    TransformerResult,
)
from fedfrom.source import Span

WYE_480 = SYSTEMS["480Y/277 V"]
WYE_208 = SYSTEMS["208Y/120 V"]
HERE = Span("sample.fed", 0, 1)
SIZES = ((30, "10"), (60, "6"), (100, "1"), (150, "1/0"), (200, "3/0"), (225, "4/0"), (400, "500"))


def breaker(rating: float, poles: int = 3, functions: str = "", **more: Any) -> DeviceResult:
    base = DeviceResult("breaker", rating, max(rating, 100.0), poles, functions, interrupting_a=65_000.0)
    return replace(base, **more)


def wires(amperes: float, neutral: bool = True, **more: Any) -> ConductorResult:
    sets = max(1, -(-int(amperes) // 400))
    size = next((size for limit, size in SIZES if amperes / sets <= limit), "600")
    base = ConductorResult(
        sets,
        3,
        size,
        size if neutral else "",
        "3",
        "equipment grounding conductor",
        "Cu",
        "THHN/THWN-2",
        "EMT",
        "3",
        amperes,
        75,
        1.0,
        1.0,
        32.0,
        0.06,
        0.04,
    )
    return replace(base, **more)


@dataclass(repr=False)
class System:
    """Collects parts in order; `build()` gives what a drawing needs."""

    title: str = "Marrow Lane Works"
    items: dict[str, Item] = field(default_factory=dict)
    systems: dict[str, VoltageSystem | None] = field(default_factory=dict)
    roles: dict[str, str] = field(default_factory=dict)
    edges: dict[str, Edge] = field(default_factory=dict)
    sources: dict[str, SourceResult] = field(default_factory=dict)
    gear: dict[str, GearResult] = field(default_factory=dict)
    transformers: dict[str, TransformerResult] = field(default_factory=dict)
    transfers: dict[str, TransferResult] = field(default_factory=dict)
    ties: dict[str, TieResult] = field(default_factory=dict)
    feeders: dict[str, FeederResult] = field(default_factory=dict)
    circuits: dict[str, list[CircuitResult]] = field(default_factory=dict)

    def __repr__(self) -> str:
        """Short, so that a failing example can be read."""
        return f"System({list(self.items)}, edges={[(e.id, e.source, e.target) for e in self.edges.values()]})"

    def _item(self, kind: str, tag: str, title: str, role: str, system: VoltageSystem | None, **more: Any) -> None:
        self.items[tag] = Item(kind, tag, title, HERE, HERE, len(self.items), **more)
        self.roles[tag] = role
        self.systems[tag] = system

    def utility(self, tag: str, fault_a: float | None = 38_000.0, **more: Any) -> str:
        self._item("utility", tag, "Utility service", "source", WYE_480)
        base = SourceResult(
            tag,
            "Utility service",
            "utility",
            WYE_480,
            None,
            "1500 kVA, 5.75 %",
            fault_a,
            8.0,
            "utility letter pending",
            True,
        )
        self.sources[tag] = replace(base, **more)
        return tag

    def generator(self, tag: str, kw: float = 250.0, **more: Any) -> str:
        self._item("generator", tag, "Standby generator", "source", WYE_480)
        base = SourceResult(
            tag,
            "Standby generator",
            "generator",
            WYE_480,
            kw * 1250,
            f"{kw:g} kW",
            3_100.0,
            None,
            "subtransient reactance 12 %",
            False,
            main=breaker(400, 3, "LSI"),
            bond="none",
        )
        self.sources[tag] = replace(base, **more)
        return tag

    def pv(self, tag: str, host: str) -> str:
        self._item("pv", tag, "Roof array", "source", WYE_480)
        self.sources[tag] = SourceResult(
            tag, "Roof array", "pv", WYE_480, 60_000.0, "60 kW", 120.0, None, "inverter", False
        )
        self.feed(host, tag, 80.0, verb="connects to", point="opposite end")
        return tag

    def board(
        self, tag: str, parent: str = "", amperes: float = 400.0, title: str = "Distribution", **more: Any
    ) -> str:
        facts = more.pop("facts", FactTable())
        system = more.get("system", WYE_480)
        self._item("switchboard", tag, title, "bus", system, facts=facts, status=more.get("status", Status.NEW))
        base = GearResult(
            tag,
            title,
            "switchboard",
            Origin.WRITTEN,
            (),
            (),
            system,
            parent,
            amperes,
            "Cu",
            Origin.CHOSEN,
            None,
            True,
            65_000.0,
            Origin.CHOSEN,
            "fully rated",
            38_400.0,
            "Normal",
            "Type 1",
            Origin.CHOSEN,
            "E101",
            "",
        )
        verb = more.pop("verb", "fed from")
        self.gear[tag] = replace(base, **more)
        if parent:
            self.feed(parent, tag, amperes, verb=verb, status=more.get("status", Status.NEW))
        return tag

    def service(self, tag: str, parent: str, amperes: float = 2000.0, **more: Any) -> str:
        surge = FactTable((Fact("surge device", {"rating": Quantity.of(200, "kA")}, {}, HERE),))
        main = breaker(amperes, 3, "LSIG", options=("drawout",))
        return self.board(
            tag,
            parent,
            amperes,
            "Main switchboard",
            main=main,
            main_lugs=False,
            metering="utility",
            facts=surge,
            service_equipment=True,
            grounding_electrode_conductor="3/0",
            main_bonding_jumper="250",
            electrodes=("water pipe", "building steel"),
            **more,
        )

    def panel(self, tag: str, parent: str, amperes: float = 225.0, title: str = "Lighting", **more: Any) -> str:
        self.board(tag, parent, amperes, title, gear_class="panelboard", positions_total=42, **more)
        self.items[tag] = replace(self.items[tag], kind="panelboard")
        return tag

    def transformer(self, tag: str, parent: str, kva: float = 75.0, **more: Any) -> str:
        self._item("transformer", tag, "", "transformer", WYE_208)
        base = TransformerResult(
            tag,
            "",
            kva,
            Origin.CHOSEN,
            WYE_480,
            WYE_208,
            "delta-wye",
            4.2,
            Origin.DEFAULT,
            2.4,
            "K-4",
            90.0,
            208.0,
            None,
            None,
            60.0,
            27_000.0,
            4_900.0,
            "2",
            "2",
            "4",
            ("building steel",),
            "E101",
            parent,
        )
        self.transformers[tag] = replace(base, **more)
        self.feed(parent, tag, kva * 1.7)
        return tag

    def transfer(
        self, tag: str, normal: str, emergency: str, amperes: float = 400.0, kind: str = "transfer switch"
    ) -> str:
        self._item(kind, tag, "", "transfer", WYE_480)
        self.transfers[tag] = TransferResult(
            tag,
            "",
            kind,
            WYE_480,
            amperes,
            Origin.CHOSEN,
            4,
            "legally required",
            "open",
            "isolation",
            42_000.0,
            24_000.0,
            "Normal",
            normal,
            emergency,
            "E101",
        )
        self.feed(normal, tag, amperes, verb="normal from", feeder_id=f"{tag}.normal")
        if emergency:
            self.feed(emergency, tag, amperes, verb="emergency from", feeder_id=f"{tag}.emergency")
        return tag

    def feed(
        self,
        source: str,
        target: str,
        amperes: float,
        verb: str = "fed from",
        point: str = "bus",
        feeder_id: str = "",
        status: Status = Status.NEW,
        **more: Any,
    ) -> str:
        feeder_id = feeder_id or target
        written = Feed(verb, source, feeder_id, HERE, HERE, point, conductors=WrittenConductors(), status=status)
        self.items[target] = replace(self.items[target], feeds=(*self.items[target].feeds, written))
        self.edges[feeder_id] = Edge(feeder_id, source, target, "feed", written)
        has_device = self.roles.get(source) == "bus" and point not in ("tap", "feed-through lugs")
        base = FeederResult(
            feeder_id,
            source,
            target,
            verb,
            point,
            "feeder",
            WYE_480,
            120.0,
            breaker(amperes, 3, "LSI" if amperes >= 400 else "") if has_device else None,
            wires(amperes),
            amperes * 0.8,
            amperes * 0.7,
            0.9,
            status=status,
        )
        self.feeders[feeder_id] = replace(base, **more)
        return feeder_id

    def load(
        self, gear: str, name: str, tag: str = "", category: str = "motor", hp: float | None = None, **more: Any
    ) -> str:
        rows = self.circuits.setdefault(gear, [])
        order = len(rows) + 1
        base = CircuitResult(
            f"{gear}.{order}",
            gear,
            "load",
            (),
            order,
            3,
            "ABC",
            name,
            tag,
            category,
            20_000.0,
            (6_667.0,) * 3,
            24.0,
            False,
            breaker(60),
            wires(60, neutral=False),
            90.0,
            motor_hp=hp,
        )
        rows.append(replace(base, **more))
        return rows[-1].key

    def motors(self, tag: str, parent: str, count: int) -> str:
        self.board(tag, parent, 600.0, "Process motors", gear_class="motor control center")
        for number in range(1, count + 1):
            self.load(tag, f"Pump {number}", f"P-{number}", hp=7.5 * number, detail="drive" if number % 3 == 0 else "")
        return tag

    def spare(self, gear: str, rating: float = 400.0, kind: str = "spare") -> None:
        self.load(gear, "", "", "", kind=kind, device=breaker(rating, 3, "LSI"), conductors=None)

    def tie(self, tag: str, left: str, right: str, normally_open: bool = True, **more: Any) -> None:
        written = Tie(tag, (left, right), Device("breaker", HERE), normally_open, None, WrittenConductors(), HERE, 0)
        self.edges[tag] = Edge(tag, left, right, "tie", None, written)
        base = TieResult(tag, (left, right), breaker(2000, 3, "LSI", options=("drawout",)), normally_open, None, None)
        self.ties[tag] = replace(base, **more)

    def build(self) -> tuple[Results, Network, StatePlan]:
        outgoing: dict[str, list[str]] = {tag: [] for tag in self.items}
        incoming: dict[str, list[str]] = {tag: [] for tag in self.items}
        for edge in self.edges.values():
            outgoing[edge.source].append(edge.id)
            incoming[edge.target].append(edge.id)
        nodes = {
            tag: Node(tag, item, self.roles[tag], self.systems[tag], self.systems[tag])
            for tag, item in self.items.items()
        }
        network = Network(
            nodes,
            self.edges,
            {tag: tuple(ids) for tag, ids in outgoing.items()},
            {tag: tuple(ids) for tag, ids in incoming.items()},
        )
        rows = {tag: tuple(self._rows(tag)) for tag in self.gear}
        load = NodeLoad(
            "Normal",
            (),
            412_000.0,
            360_000.0,
            433.0,
            480.0,
            560.0,
            90_000.0,
            (1.0,) * 3,
            (433.0,) * 3,
            20.0,
            0.9,
            100_000.0,
        )
        results = Results(
            ProjectInfo(
                self.title, "ML-0411", "NEC 2023", "Electrical group", (("A", "2026-05-31", "Issued for review"),)
            ),
            (StateInfo("Normal", (), (), (), (), True),),
            self.sources,
            self.gear,
            self.transformers,
            self.transfers,
            self.ties,
            self.feeders,
            rows,
            {tag: {"Normal": load} for tag in self.gear},
            {},
            digest="4c1f90ab",
        )
        normal = State("Normal", (), (), (), {}, tuple(self.items), ())
        return results, network, StatePlan((normal,))

    def _rows(self, tag: str) -> list[CircuitResult]:
        rows = list(self.circuits.get(tag, ()))
        for edge in self.edges.values():
            if edge.source != tag or edge.kind == "tie":
                continue
            feeder = self.feeders[edge.id]
            rows.append(
                CircuitResult(
                    f"{tag}.{len(rows) + 1}",
                    tag,
                    "feeder",
                    (),
                    len(rows) + 1,
                    3,
                    "ABC",
                    edge.target,
                    edge.target,
                    "",
                    100_000.0,
                    (33_333.0,) * 3,
                    120.0,
                    False,
                    feeder.device,
                    feeder.conductors,
                    feeder.length_ft,
                    feeder_id=edge.id,
                    status=feeder.status,
                )
            )
        return rows


Sample = tuple[Results, Network, StatePlan]


def small() -> System:
    """A service of 2000 A: step-down transformers, a motor control center, a generator with its transfer switch."""
    s = System()
    s.utility("UT")
    s.service("MSB", "UT")
    s.panel("HP-1", "MSB", 400, "Hall lighting")
    s.transformer("T-2", "MSB")
    s.panel("LP-1", "T-2", 225, "Offices", system=WYE_208)
    s.transformer("T-3", "MSB", 112.5)
    s.board("DP-2", "T-3", 400, "Shops", system=WYE_208, main=breaker(400), main_lugs=False)
    for letter in "ABC":
        s.panel(f"LP-2{letter}", "DP-2", 100, f"Shop {letter}", system=WYE_208)
    s.motors("MCC-1", "MSB", 6)
    s.generator("G-1")
    s.transfer("ATS-1", "MSB", "G-1")
    s.board("EDP", "ATS-1", 400, "Emergency distribution")
    s.panel("EHP-1", "EDP", 100, "Egress lighting")
    s.transformer("T-4", "EDP", 45)
    s.panel("ELP-1", "T-4", 150, "Emergency receptacles", system=WYE_208)
    s.load(
        "MSB",
        "Elevator",
        "EL-1",
        "elevator",
        40.0,
        device=replace(breaker(100), kind="fused switch", fuse_a=80.0, fuse_class="J"),
    )
    s.load("MSB", "Chiller", "CH-1", "hvac", mca_a=412.0, mocp_a=600.0, device=breaker(600, 3, "LSIG"))
    s.spare("MSB")
    s.spare("MSB")
    s.spare("MSB", 800, "space")
    return s


def tower(floors: int = 12) -> System:
    """A tower: a distribution board a floor with its transformer, motors, three transfer switches on one board."""
    s = System(title="Quarry Street Tower")
    s.utility("UT", 61_000.0)
    s.service("MSB", "UT", 4000)
    for floor in range(1, floors + 1):
        s.board(f"DP-{floor}", "MSB", 400, f"Level {floor}")
        s.panel(f"HL-{floor}", f"DP-{floor}", 100, f"Level {floor} lighting")
        s.transformer(f"T-{floor}", f"DP-{floor}", 112.5)
        s.board(f"RDP-{floor}", f"T-{floor}", 400, f"Level {floor} receptacles", system=WYE_208)
        for letter in "ABCD":
            s.panel(f"LP-{floor}{letter}", f"RDP-{floor}", 100, "Receptacles", system=WYE_208)
        s.panel(f"HM-{floor}", f"DP-{floor}", 225, f"Level {floor} mechanical")
    s.motors("MCC-R", "MSB", 10)
    s.generator("G-1", 800)
    s.board("EGB", "G-1", 1200, "Generator board")
    for name in ("EM", "LR", "SB"):
        s.transfer(f"ATS-{name}", "MSB", "EGB")
        s.board(f"EDP-{name}", f"ATS-{name}", 400, "Emergency distribution")
        s.panel(f"{name}P-1", f"EDP-{name}", 100, "Panel 1")
        s.panel(f"{name}P-2", f"EDP-{name}", 100, "Panel 2")
    return s


def clinic() -> System:
    """One service, a generator board, three transfer switches."""
    s = System(title="Fennel Street Clinic")
    s.utility("UT")
    s.service("MSB", "UT")
    s.generator("G-1", 400)
    s.board("EGB", "G-1", 800, "Generator board")
    for name in ("LS", "CR", "EQ"):
        s.transfer(f"ATS-{name}", "MSB", "EGB")
        s.board(f"DP-{name}", f"ATS-{name}", 400, "Branch distribution")
        s.panel(f"{name}-1", f"DP-{name}", 100, "Panel 1")
        s.panel(f"{name}-2", f"DP-{name}", 100, "Panel 2")
    s.panel("NH-1", "MSB", 225, "Normal lighting")
    return s


def double_ended() -> System:
    """Two services with a tie, a generator board, three transfer switches."""
    s = System(title="Saddle Mill Hospital")
    s.utility("UT-1")
    s.utility("UT-2")
    s.service("MSB-A", "UT-1")
    s.service("MSB-B", "UT-2")
    s.tie("TIE", "MSB-A", "MSB-B")
    s.generator("G-1", 800)
    s.generator("G-2", 800)
    s.board("EPS", "G-1", 1200, "Paralleling switchboard")
    s.edges.pop("EPS")
    s.feeders.pop("EPS")
    s.items["EPS"] = replace(s.items["EPS"], feeds=())
    s.feed("G-1", "EPS", 1200, feeder_id="EPS.G-1")
    s.feed("G-2", "EPS", 1200, feeder_id="EPS.G-2")
    s.panel("HP-1", "MSB-A", 400, "Wing A")
    s.panel("HP-2", "MSB-B", 400, "Wing B")
    s.panel("HP-3", "MSB-B", 225, "Wing C")
    for index, name in enumerate(("LS", "CR", "EQ")):
        s.transfer(f"ATS-{name}", "MSB-A" if index != 1 else "MSB-B", "EPS")
        s.board(f"DP-{name}", f"ATS-{name}", 400, "Branch distribution")
        s.panel(f"{name}-1", f"DP-{name}", 100, "Panel 1")
        s.panel(f"{name}-2", f"DP-{name}", 100, "Panel 2")
    return s


def forty_feeders(count: int = 40) -> System:
    """One board with very many panels."""
    s = System(title="Long Hall")
    s.utility("UT")
    s.service("MSB", "UT", 4000)
    for number in range(1, count + 1):
        s.panel(f"PNL-{number}", "MSB", 225, f"Bay {number}")
    return s


def lone_panel() -> System:
    """A panel and nothing that feeds it."""
    s = System(title="Shed")
    s.panel("LP", "", 100, "Shed")
    return s


def deep(levels: int = 12) -> System:
    """Boards one under the other."""
    s = System(title="Long Chain")
    s.utility("UT")
    above = s.service("B-0", "UT")
    for level in range(1, levels + 1):
        above = s.board(f"B-{level}", above, 400, f"Board {level}", main=breaker(400), main_lugs=False)
        s.panel(f"P-{level}", above, 100, f"Panel {level}")
    return s


def retrofit() -> System:
    """Existing, new, relocated, future and demolished gear on one board."""
    s = System(title="Alder Fork School")
    s.utility("UT", status=Status.EXISTING)
    s.board(
        "MDP",
        "UT",
        800,
        "Main distribution",
        status=Status.EXISTING,
        sccr_a=None,
        sccr_basis="not established",
        metering="utility",
        main=replace(breaker(800), kind="fused switch", fuse_a=800.0, fuse_class="L"),
        main_lugs=False,
    )
    s.panel("LP-A", "MDP", 225, "South classrooms", status=Status.EXISTING, fault_a=None)
    s.panel("KP-OLD", "MDP", 100, "Old kitchen", status=Status.DEMOLISH)
    s.panel("KP-1", "MDP", 400, "Kitchen")
    s.panel("LP-R", "MDP", 100, "Stage", status=Status.RELOCATED)
    s.panel("LP-F", "MDP", 225, "North wing", status=Status.FUTURE)
    s.feeders["KP-1"] = replace(s.feeders["KP-1"], length_ft=None, conductors=None)
    s.pv("PV-1", "MDP")
    return s


# --- random systems ------------------------------------------------------------------------------------------------

TAGS = st.text("ABCDEFGHKLMNPRSTUVWX0123456789-", min_size=1, max_size=30)
TITLES = st.text(st.characters(codec="latin-1", categories=("L", "N", "P", "Zs")), max_size=40)
KINDS = (
    *("board", "board", "panel", "panel", "panel", "transformer", "transfer", "load", "spare"),
    *("alternate", "pv", "ahead", "lugs", "inside", "metered"),
)


class _Growing:
    """A random system while it grows: tags used, places that can feed something, boards."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.s = System(title=draw(TITLES))
        self.boards: list[str] = []
        self.count = 0
        self.places = [self._source() for _ in range(draw(st.integers(1, 3)))]

    def tag(self, prefix: str) -> str:
        self.count += 1
        return f"{prefix}{self.count}-{self.draw(TAGS)}"[:30]

    def _source(self) -> str:
        if self.draw(st.booleans()):
            return self.s.utility(self.tag("U"))
        return self.s.generator(self.tag("G"))

    def grow(self, kind: str) -> None:
        """Add one thing; kinds that need a board do nothing before there is one."""
        draw, s = self.draw, self.s
        parent = draw(st.sampled_from(self.places))
        status = draw(st.sampled_from(list(Status)))
        amperes = float(draw(st.sampled_from((60, 100, 225, 400, 800, 1600))))
        if kind == "board":
            self.boards.append(s.board(self.tag("B"), parent, amperes, draw(TITLES), status=status))
            self.places.append(self.boards[-1])
        elif kind == "panel":
            s.panel(self.tag("P"), parent, amperes, draw(TITLES), status=status)
        elif kind == "transformer":
            self.places.append(s.transformer(self.tag("T"), parent))
        elif kind == "transfer":
            self.places.append(s.transfer(self.tag("A"), parent, draw(st.sampled_from(self.places))))
        elif self.boards:
            self._on_board(kind, draw(st.sampled_from(self.boards)), amperes)

    def _on_board(self, kind: str, board: str, amperes: float) -> None:
        draw, s = self.draw, self.s
        if kind == "load":
            s.load(board, draw(TITLES), hp=draw(st.sampled_from((None, 5.0, 40.0))))
        elif kind == "spare":
            s.spare(board)
        elif kind == "alternate":
            target = draw(st.sampled_from(list(s.items)))
            if target != board and s.roles[target] != "source":
                s.feed(board, target, amperes, verb="alternate from", feeder_id=f"{target}.alternate{len(s.edges)}")
        elif kind == "pv":
            s.pv(self.tag("V"), board)
        else:
            point = {"ahead": "ahead of main", "lugs": "feed-through lugs"}.get(kind, "bus")
            tag = s.panel(self.tag("P"), "", amperes, draw(TITLES))
            s.feed(board, tag, amperes, point=point, meter="tenant" if kind == "metered" else "")
            if kind == "inside":
                s.edges[tag] = Edge(tag, board, tag, "inside")


@st.composite
def systems(draw: st.DrawFn, most: int = 24) -> System:
    """A random system: sources, boards, panels, transformers, switches with two sources, ties, loads, any status."""
    growing = _Growing(draw)
    for kind in draw(st.lists(st.sampled_from(KINDS), min_size=1, max_size=most)):
        growing.grow(kind)
    boards = growing.boards
    if len(boards) > 1 and draw(st.booleans()):
        for number in range(draw(st.integers(1, 2))):
            ends = draw(st.lists(st.sampled_from(boards), min_size=2, max_size=2, unique=True))
            length = draw(st.sampled_from((None, 40.0)))
            growing.s.tie(f"TIE-{number}", ends[0], ends[1], draw(st.booleans()), length_ft=length)
    return growing.s
