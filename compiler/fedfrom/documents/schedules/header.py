"""The header block and the load block that every gear schedule carries."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fedfrom.documents.tables import Cell, Table, cell_text, number_column, text_column
from fedfrom.documents.words import STATUS_MARKS, category_mark, enclosure_text, mains_text, system_text
from fedfrom.model.fact_words import fact_words
from fedfrom.model.items import Origin
from fedfrom.results.assembly import PLANNING
from fedfrom.results.governing import feeders_to, governing_load
from fedfrom.results.notation import amperes_text, conductor_text, device_text, kiloamperes_text, length_text
from fedfrom.results.types import FeederResult, GearResult, NodeLoad, Results
from fedfrom.rules.registry import Design

Fields = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class LoadBlock:
    """The foot of a gear schedule: load by category, the sums, and notes."""

    categories: Table
    sums: Fields
    phases: Fields
    notes: tuple[str, ...]


def header_fields(design: Design, gear: GearResult) -> Fields:
    """Label and value of the header block, in a fixed order; optional facts only where they were stated."""
    feeds = feeders_to(design.results, gear.tag)
    fields = [
        ("FED FROM", _fed_from(gear, feeds)),
        ("VOLTAGE", system_text(gear.system)),
        ("BUS", _bus(gear)),
        ("MAINS", mains_text(gear)),
        ("SHORT-CIRCUIT RATING", _rating(gear)),
        ("AVAILABLE FAULT", _fault(gear)),
        ("FEEDER", "; ".join(_feeder_text(feed) for feed in feeds) or "NONE"),
        ("FEEDER DEVICE", "; ".join(_device_text(design.results, feed) for feed in feeds) or "NONE"),
        ("LOCATION", gear.place or "NOT STATED"),
        ("ENCLOSURE", _enclosure(gear)),
        ("CLASS", f"{gear.gear_class.upper()} ({_origin(gear.class_origin)})"),
        ("STATUS", STATUS_MARKS[gear.status] or "NEW"),
    ]
    if gear.positions_total:
        fields.append(("POSITIONS", f"{gear.positions_total}, {gear.positions_used} USED"))
    if gear.sections:
        fields.append(("SECTIONS", ", ".join(f"{item.number} {item.kind.upper()}" for item in gear.sections)))
    fields += _built(gear)
    if gear.metering:
        fields.append(("METERING", gear.metering.upper()))
    if gear.service_equipment:
        fields.append(("SERVICE", "SUITABLE FOR USE AS SERVICE EQUIPMENT"))
    if gear.by:
        fields.append(("PROVIDED BY", gear.by.upper()))
    return (*fields, *_stated(design, gear.tag))


def _built(gear: GearResult) -> Iterator[tuple[str, str]]:
    """Size, weight, pad, shipping splits and interiors, as far as they are known."""
    built = gear.assembly
    if built is None:
        return
    sides = (built.width_in, built.depth_in, built.height_in)
    if None not in sides:
        size = " x ".join(f"{side:g}" for side in sides if side is not None)
        weight = f", ABOUT {built.weight_lb:,.0f} LB" if built.weight_lb is not None else ""
        basis = "PLANNING" if built.basis == PLANNING else built.basis.upper()
        yield ("SIZE W x D x H", f"{size} IN{weight} ({basis})")
    if len(built.interiors) > 1:
        yield ("INTERIORS", " + ".join(str(positions) for positions in built.interiors))
    if built.pad is not None:
        yield ("PAD", " x ".join(f"{side:g}" for side in built.pad) + " IN")
    if len(built.shipping) > 1:
        yield ("SHIPPED AS SECTIONS", "; ".join(", ".join(map(str, piece)) for piece in built.shipping))
    for label, tags in (("FEED-THROUGH LUGS TO", built.feed_through), ("SUB-FEED LUGS TO", built.sub_feed)):
        if tags:
            yield (label, ", ".join(tags))
    if built.joined:
        yield ("ON ONE THROUGH BUS WITH", built.joined)


# Facts that have no field of their own, printed where they were written: property -> label.
STATED = (
    ("frequency", "FREQUENCY"),
    ("through bus", "THROUGH BUS"),
    ("neutral bus", "NEUTRAL BUS"),
    ("isolated ground bus", "ISOLATED GROUND BUS"),
    ("mounting", "MOUNTING"),
    ("access", "ACCESS"),
    ("entry", "ENTRY"),
    ("feed entry", "FEED ENTRY"),
    ("devices", "DEVICE MOUNTING"),
    ("surge device", "SURGE DEVICE"),
    ("mimic bus", "MIMIC BUS"),
    ("door", "DOOR"),
)


def _stated(design: Design, tag: str) -> Fields:
    item = design.model.items.get(tag)
    if item is None:
        return ()
    found = []
    for name, label in STATED:
        fact = item.facts.first(name)
        if fact is not None:
            found.append((label, fact_words(fact).upper() or "YES"))
    return tuple(found)


def _origin(origin: Origin) -> str:
    return "AS WRITTEN" if origin is Origin.WRITTEN else "CHOSEN"


def _bus(gear: GearResult) -> str:
    if gear.bus_a is None:
        return "NOT KNOWN"
    return f"{amperes_text(gear.bus_a)} {gear.bus_material.upper()}".strip()


def _rating(gear: GearResult) -> str:
    if gear.sccr_a is None:
        return "NOT ESTABLISHED"
    return f"{kiloamperes_text(gear.sccr_a)}, {gear.sccr_basis.upper()}"


def _fault(gear: GearResult) -> str:
    if gear.fault_a is None:
        return "NOT KNOWN"
    state = f" ({gear.fault_state.upper()})" if gear.fault_state else ""
    return f"{kiloamperes_text(gear.fault_a)}{state}"


def _enclosure(gear: GearResult) -> str:
    if not gear.enclosure:
        return "NOT KNOWN"
    return f"{enclosure_text(gear.enclosure).upper()} ({_origin(gear.enclosure_origin)})"


def _fed_from(gear: GearResult, feeds: tuple[FeederResult, ...]) -> str:
    if not feeds:
        return gear.fed_from or "NOT KNOWN"
    words = []
    for feed in feeds:
        positions = f".{','.join(map(str, feed.positions))}" if feed.positions else ""
        point = "" if feed.point == "bus" else f" {feed.point.upper()}"
        verb = "" if feed.verb == "fed from" else f"{feed.verb.removesuffix(' from').upper()}: "
        words.append(f"{verb}{feed.source}{positions}{point}")
    return "; ".join(words)


def _feeder_text(feed: FeederResult) -> str:
    if feed.conductors is None and feed.kind == "inside":
        return "BUS-CONNECTED IN ONE ENCLOSURE"
    by = f", BY {feed.conductors.by.upper()}" if feed.conductors and feed.conductors.by else ""
    assumed = " (ASSUMED)" if feed.length_assumed else ""
    wires = conductor_text(feed.conductors) if feed.conductors else "CONDUCTORS NOT KNOWN"
    length = "LENGTH NOT KNOWN" if feed.length_ft is None else length_text(feed.length_ft)
    return f"{wires}, {length}{assumed}{by}"


def _device_text(results: Results, feed: FeederResult) -> str:
    return device_text(feed.device) if feed.device else no_device_reason(results, feed).upper() or "NOT KNOWN"


def no_device_reason(results: Results, feed: FeederResult) -> str:
    """Why a feeder has no device at its source by its nature; "" where it should have one (then it is not known)."""
    if feed.source in results.transfers:
        return f"none ({results.transfers[feed.source].kind})"
    if "lugs" in feed.point:
        return f"none ({feed.point})"
    return f"none ({feed.kind})" if feed.kind in {"service", "secondary", "tap", "inside"} else ""


# --- the load block ------------------------------------------------------------------------------------------------

CATEGORY_COLUMNS = (
    text_column("LOAD CATEGORY", 1.5),
    number_column("CONNECTED", "VA", 0.8),
    text_column("FACTOR", 2.3),
    text_column("CLAUSE", 1.5),
    number_column("DEMAND", "VA", 0.8),
)


def category_table(load: NodeLoad | None) -> Table:
    """Load by category with the factor and its clause; the 25 % of continuous load is a line of its own."""
    rows: list[tuple[Cell, ...]] = []
    for line in load.categories if load else ():
        name = "25 % OF LARGEST MOTOR" if line.category == "largest motor" else line.category.upper()
        rows.append((name, line.connected_va, line.factor, line.clause, line.demand_va))
    if load is not None:
        rows.append(("TOTAL", load.connected_va, "", "", load.demand_va))
    if load is not None and load.continuous_va:
        quarter = 0.25 * load.continuous_va
        rows.append(("25 % OF CONTINUOUS LOAD", "", "for sizing, not load", "", quarter))
    return Table("LOAD BY CATEGORY", CATEGORY_COLUMNS, tuple(rows))


def load_block(design: Design, gear: GearResult, notes: tuple[str, ...]) -> LoadBlock:
    """Categories, sums and notes of a piece of gear in the state that governs it."""
    load = governing_load(design.results, gear.tag)
    item = design.model.items.get(gear.tag)
    written = tuple(fact_words(fact) for fact in item.facts.all("note")) if item else ()
    own = _notes(gear, load, (*written, *notes))
    return LoadBlock(category_table(load), _sums(design, gear, load), _phases(gear, load), own)


def _phases(gear: GearResult, load: NodeLoad | None) -> Fields:
    if load is None:
        return (("CONNECTED", "NOT KNOWN"),)
    letters = "ABC" if gear.system is None or gear.system.phases == 3 else "AB"
    named = [(f"PHASE {letter}", f"{cell_text(load.phase_va[at])} VA") for at, letter in enumerate(letters)]
    return (*named, ("CONNECTED", f"{cell_text(load.connected_va)} VA"))


def _sums(design: Design, gear: GearResult, load: NodeLoad | None) -> Fields:
    if load is None:
        return (("DEMAND", "NOT KNOWN"), ("DESIGN", "NOT KNOWN"))
    main = gear.main.protects_a if gear.main else None
    least = "" if load.complete else ">= "
    fields = [
        ("DEMAND", f"{least}{cell_text(load.demand_va / 1000, 1)} kVA, {amperes_text(load.demand_a)}"),
        ("DESIGN (125 % CONT)", f"{least}{amperes_text(load.design_a)}"),
        ("DESIGN WITH GROWTH", f"{least}{amperes_text(load.design_with_growth_a)}{_target(design, 'load')}"),
        ("DESIGN OF BUS", share_text(load.design_a, gear.bus_a)),
        ("DESIGN OF MAINS", "LUGS ONLY" if gear.main_lugs else share_text(load.design_a, main)),
        ("NEUTRAL", amperes_text(load.neutral_a)),
        ("PHASE IMBALANCE", "NOT KNOWN" if gear.imbalance_pct is None else f"{gear.imbalance_pct:.1f} %"),
        ("SPARE", amperes_text(gear.spare_ampacity_a)),
    ]
    if gear.positions_total:
        fields.append(("SPARE POLES", _spare_poles(design, gear)))
    if load.state and len(design.results.states) > 1:
        fields.append(("STATE", load.state.upper()))
    return tuple(fields)


def share_text(part: float, whole: float | None) -> str:
    """A share in percent, "NOT KNOWN" where the whole is not known."""
    return "NOT KNOWN" if not whole else f"{100 * part / whole:.0f} %"


def _spare_poles(design: Design, gear: GearResult) -> str:
    free = gear.positions_total - gear.positions_used
    return f"{free} ({100 * free / gear.positions_total:.0f} %){_target(design, 'poles')}"


def _target(design: Design, what: str) -> str:
    defaults = design.model.defaults
    value = defaults.growth_load_pct if what == "load" else defaults.growth_poles_pct
    return "" if value is None else f", TARGET {value.value:g} %"


def _notes(gear: GearResult, load: NodeLoad | None, notes: tuple[str, ...]) -> tuple[str, ...]:
    own = []
    if load is None:
        own.append("The load is not known; see the findings.")
    elif not load.complete:
        own.append("A load below is not known: the sums are lower bounds.")
    if gear.sccr_a is None:
        own.append("The short-circuit rating is not established; see the findings.")
    return (*own, *notes)


def category_of(kind: str, category: str) -> str:
    """The load-category cell of a row."""
    return "FDR" if kind == "feeder" else category_mark(category)
