"""The words beside each symbol: one place, so that every value has one form. Lines are already fit for lettering."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.drawing.lettering import capitals, measure, printable, wrap
from fedfrom.drawing.outline import Part, Run
from fedfrom.drawing.style import STATUS_MARKS, TEXT
from fedfrom.graph.network import Network
from fedfrom.model.items import Status
from fedfrom.quantity import VoltageSystem
from fedfrom.results.notation import (
    amperes_text,
    conductor_lines,
    device_lines,
    kiloamperes_text,
    kva_text,
    length_text,
    size_text,
)
from fedfrom.results.types import DeviceResult, GearResult, NodeLoad, Results, TransformerResult

CALLOUT_WIDTH = 1.30
LABEL_WIDTH = 2.60
BOX_WIDTH = 1.50


def system_text(system: VoltageSystem | None) -> str:
    """A voltage system with phases and wires: "480Y/277 V, 3PH 4W"; "VOLTAGE NOT KNOWN" for None."""
    if system is None:
        return "VOLTAGE NOT KNOWN"
    literal = system.literal.replace(" ungrounded", " UNGROUNDED")
    head, _, words = literal.partition(" V")
    return (
        f"{head} V{words.upper()}, {system.wires}W DC"
        if system.is_dc
        else (f"{head} V{words.upper()}, {system.phases}PH {system.wires}W")
    )


def name_text(tag: str, status: Status, by: str = "") -> str:
    """A tag as written with its status letter; "BY UTILITY" and the like behind it."""
    mark = STATUS_MARKS[status]
    words = [printable(tag), mark, f"BY {capitals(by)}" if by else ""]
    return " ".join(word for word in words if word)


def fault_lines(fault_a: float | None, rating_a: float | None, basis: str, word: str = "RATED") -> list[str]:
    """Available fault current and the rating held against it. Without one of them nothing is established, loudly."""
    unknown = "RATING NOT ESTABLISHED" if word == "RATED" else f"{word} NOT ESTABLISHED"
    rating = f"{word} {kiloamperes_text(rating_a)}" if rating_a is not None else unknown
    lines = [f"AFC {kiloamperes_text(fault_a)}", rating]
    if rating_a is not None and fault_a is None:
        lines.append("ADEQUACY NOT ESTABLISHED")
    if "series" in basis:
        lines.append(capitals(basis))
    return lines


def main_text(gear: GearResult) -> str:
    """The mains of gear on one line: "225 A MCB", "MLO"."""
    if gear.main is None:
        return "MLO" if gear.main_lugs else ""
    if gear.main.kind == "breaker":
        return f"{amperes_text(gear.main.rating_a)} MCB"
    if gear.main.fuse_a is not None:
        return f"{amperes_text(gear.main.rating_a)} MAIN SWITCH, {amperes_text(gear.main.fuse_a)} FUSE"
    return f"{amperes_text(gear.main.rating_a)} MAIN SWITCH"


def load_line(loads: dict[str, NodeLoad]) -> str:
    """Connected and demand load in the state with the greatest design current."""
    if not loads:
        return "LOAD NOT KNOWN"
    worst = max(loads.values(), key=lambda load: load.design_a)
    least = "" if worst.complete else "AT LEAST "
    return f"LOAD {least}{kva_text(worst.connected_va)} CONN., {kva_text(worst.demand_va)} DEMAND"


def _load_lines(loads: dict[str, NodeLoad]) -> tuple[str, ...]:
    """The same in short lines, for boxes."""
    if not loads:
        return ("LOAD NOT KNOWN",)
    worst = max(loads.values(), key=lambda load: load.design_a)
    least = "" if worst.complete else "AT LEAST "
    return (f"{least}{kva_text(worst.connected_va)} CONN.", f"{least}{kva_text(worst.demand_va)} DEMAND")


def _fold(lines: list[str], width: float) -> tuple[str, ...]:
    """Drop empty lines, break long ones."""
    folded: list[str] = []
    for text in lines:
        folded.extend(wrap(text, width, TEXT) if measure(printable(text), TEXT) > width else [text] if text else [])
    return tuple(folded)


def board_lines(part: Part, results: Results, network: Network) -> tuple[str, ...]:
    """The label of a drawn bus; the first line is its name."""
    gear = results.gear.get(part.key)
    node = network.nodes[part.key]
    if gear is None:
        lines = [capitals(node.item.title), system_text(node.system), "AFC NOT KNOWN, RATING NOT ESTABLISHED"]
        return (name_text(part.key, part.status, node.item.by), *_fold(lines, LABEL_WIDTH))
    bus = f"{amperes_text(gear.bus_a)} {gear.bus_material.upper()} BUS" if gear.bus_a is not None else "BUS NOT KNOWN"
    mains = "MLO" if gear.main is None and gear.main_lugs else ""
    kind = capitals(gear.gear_class) if gear.gear_class.lower() not in gear.title.lower() else ""
    lines = [
        capitals(gear.title),
        kind,
        ", ".join(word for word in (bus, mains, _sections(gear)) if word),
        system_text(gear.system),
        ", ".join(word for word in (_enclosure(gear.enclosure), capitals(gear.place)) if word),
        ", ".join(fault_lines(gear.fault_a, gear.sccr_a, gear.sccr_basis)),
        load_line(dict(results.loads.get(part.key, {}))),
        "SUITABLE FOR USE AS SERVICE EQUIPMENT" if gear.service_equipment else "",
    ]
    return (name_text(gear.tag, part.status, gear.by), *_fold(lines, LABEL_WIDTH))


def _sections(gear: GearResult) -> str:
    count = len(gear.sections)
    return f"{count} SECTION{'S' if count > 1 else ''}" if count else ""


def _enclosure(text: str) -> str:
    """ "TYPE 3R" for "3R" and for "Type 3R"."""
    words = capitals(text)
    return f"TYPE {words}" if words and not words.startswith("TYPE") else words


def panel_lines(part: Part, results: Results, network: Network, width: float = BOX_WIDTH) -> tuple[str, ...]:
    """The text inside a panelboard's box, no line wider than `width` inches; the first line is its name."""
    tag = part.key.removesuffix("/panel")
    gear = results.gear.get(tag)
    node = network.nodes[tag]
    if gear is None:
        lines = [*wrap(capitals(node.item.title), width, TEXT, most=2), _short_system(node.system), "AFC NOT KNOWN"]
        return (name_text(tag, part.status, node.item.by), *lines)
    bus = f"{amperes_text(gear.bus_a)} BUS" if gear.bus_a is not None else "BUS NOT KNOWN"
    lines = [
        *wrap(capitals(gear.title), width, TEXT, most=2),
        ", ".join(word for word in (bus, main_text(gear)) if word),
        _short_system(gear.system),
        *fault_lines(gear.fault_a, gear.sccr_a, gear.sccr_basis),
        *_load_lines(dict(results.loads.get(tag, {}))),
        ", ".join(word for word in (_enclosure(gear.enclosure), capitals(gear.place)) if word),
        *_service_lines(gear),
    ]
    return (name_text(gear.tag, part.status, gear.by), *_fold(lines, width))


def _service_lines(gear: GearResult) -> list[str]:
    """What service equipment without a drawn bus says of itself and of its grounding."""
    if not gear.service_equipment:
        return []
    sizes = [
        f"{word} {size_text(size)}"
        for word, size in (("MBJ", gear.main_bonding_jumper), ("GEC", gear.grounding_electrode_conductor))
        if size
    ]
    return ["SERVICE EQUIPMENT", ", ".join(sizes) or "GEC NOT KNOWN", *(capitals(each) for each in gear.electrodes)]


def _short_system(system: VoltageSystem | None) -> str:
    return system_text(system)


def device_caption(run: Run) -> tuple[str, ...]:
    """The text at a device: circuit, frame/trip, poles and functions, interrupting rating."""
    lines: list[str] = [f"CKT {run.circuit}"] if run.circuit else []
    if run.device is not None:
        lines += device_words(run.device)
    elif _wants_device(run):
        lines.append("DEVICE NOT KNOWN")
    point = {"feed-through lugs": "FEED-THRU LUGS", "sub-feed lugs": "SUB-FEED LUGS", "tap": "TAP"}.get(run.point)
    if point:
        lines.append(point)
    if run.note:
        lines.append(run.note)
    return _fold(lines, CALLOUT_WIDTH)


def _wants_device(run: Run) -> bool:
    """Whether a feeder on a bus has a device by its kind of connection."""
    return bool(run.circuit) and bool(run.tag) and run.point in ("bus", "opposite end")


def device_words(device: DeviceResult, width: float = CALLOUT_WIDTH) -> list[str]:
    """A device in short lines of at most `width` inches, with a word for what the symbol alone does not show."""
    lines = [printable(text) for text in device_lines(device)]
    if device.kind == "bolted-pressure switch":
        lines[0] = f"BPS {lines[0]}"
    if STATUS_MARKS[device.status]:
        lines[-1] += f" {STATUS_MARKS[device.status]}"
    if device.by:
        lines.append(f"BY {capitals(device.by)}")
    return list(_fold(lines, width))


def callout(run: Run, insulation: str, whole: bool = False) -> tuple[str, ...]:
    """The conductors of a run, its length and who provides it; `insulation` is what the sheet's note already says.

    `whole` keeps long lines unbroken.
    """
    if run.plain:
        return ()
    lines: list[str] = []
    if run.conductors is None:
        lines.append("CONDUCTORS NOT KNOWN" if not run.by else "")
    else:
        lines += conductor_lines(run.conductors)
        if run.conductors.insulation and run.conductors.insulation != insulation:
            lines.append(capitals(run.conductors.insulation))
    if whole and lines and lines[0].endswith("SETS OF"):
        lines[:2] = [" ".join(lines[:2])]
    by = run.by or (run.conductors.by if run.conductors else "")
    length = length_text(run.length_ft) if run.length_ft is not None else "LENGTH NOT KNOWN"
    lines.append(f"{length}, {run.drop_pct:.1f} % DROP" if run.drop_pct is not None else length)
    if by:
        lines.append(f"BY {capitals(by)}")
    clean = [printable(text) for text in lines if text]
    return tuple(clean) if whole else tuple(part for text in clean for part in _break(text))


def _break(text: str) -> tuple[str, ...]:
    """Break a long conductor line behind a comma."""
    if measure(text, TEXT) <= CALLOUT_WIDTH or ", " not in text:
        return (text,)
    pieces: list[str] = []
    for word in text.split(", "):
        joined = f"{pieces[-1]}, {word}" if pieces else word
        if pieces and measure(joined, TEXT) <= CALLOUT_WIDTH:
            pieces[-1] = joined
        else:
            pieces.append(word)
    return tuple(f"{piece}," if index < len(pieces) - 1 else piece for index, piece in enumerate(pieces))


def joined(lines: Sequence[str], width: float) -> tuple[str, ...]:
    """Fewer, longer lines for turned text: neighbours joined by a comma while they stay within `width` inches."""
    found: list[str] = []
    for text in lines:
        longer = f"{found[-1]}, {text}" if found else text
        if found and measure(longer, TEXT) <= width:
            found[-1] = longer
        else:
            found.append(text)
    return tuple(found)


def transformer_lines(tag: str, status: Status, results: Results, network: Network) -> tuple[str, ...]:
    """The text beside a transformer; the first line is its name."""
    found = results.transformers.get(tag)
    if found is None:
        title = network.nodes[tag].item.title if tag in network.nodes else ""
        return (name_text(tag, status), *wrap(capitals(title), 1.9, TEXT), "RATING NOT KNOWN")
    words = wrap(capitals(found.title), 1.9, TEXT)
    return (name_text(tag, status, found.by), *words, *transformer_words(found))


def transformer_words(found: TransformerResult) -> tuple[str, ...]:
    """Rating, voltages, connection, impedance, bonding."""
    kva = f"{found.kva:g} kVA" if found.kva is not None else "kVA NOT KNOWN"
    volts = [system.literal.removesuffix(" V") for system in (found.primary, found.secondary) if system is not None]
    connection = capitals(found.connection)
    impedance = f"{found.impedance_pct:g} %Z" if found.impedance_pct is not None else "%Z NOT KNOWN"
    bonding = [
        f"{word} {size_text(size)}"
        for word, size in (("SBJ", found.system_bonding_jumper), ("GEC", found.grounding_electrode_conductor))
        if size
    ]
    k_factor = capitals(found.k_factor)
    lines = [
        f"{kva}, {k_factor}" if k_factor else kva,
        f"{' - '.join(volts)} V" if volts else "",
        ", ".join(word for word in (connection, impedance) if word),
        ", ".join(bonding),
        capitals(", ".join(found.electrodes)) if found.grounding_electrode_conductor else "",
        capitals(found.place),
    ]
    return _fold(lines, 1.9)


def source_lines(part: Part, results: Results, network: Network) -> tuple[str, ...]:
    """The text beside a utility or generator; the first line is its name."""
    source = results.sources.get(part.key)
    if source is None:
        node = network.nodes[part.key]
        return (name_text(part.key, part.status), *wrap(capitals(node.item.title), 2.2, TEXT), "AFC NOT KNOWN")
    fault = f"AFC {kiloamperes_text(source.fault_a)}"
    if source.x_over_r is not None:
        fault += f", X/R {source.x_over_r:.3g}"
    basis = _units(source.basis.partition(";")[0])
    lines = [
        capitals(source.title),
        _units(source.rating_text),
        system_text(source.system),
        fault,
        f"{basis} (ASSUMED)" if source.assumed and "ASSUMED" not in basis else basis,
        f"NEUTRAL BOND: {capitals(source.bond)}" if source.bond else "",
        capitals(source.place),
    ]
    return (name_text(part.key, part.status), *_fold(lines, 2.2))


def _units(text: str) -> str:
    """Capitals with units kept: "150 kW, 12 %"."""
    kept = {"kw", "kva", "mva", "kv", "ka"}
    proper = {"kw": "kW", "kva": "kVA", "mva": "MVA", "kv": "kV", "ka": "kA"}
    words = [proper[word.strip(",.;").lower()] + word[len(word.rstrip(",.;")):] if word.strip(",.;").lower() in kept
             else word.upper() for word in printable(text).split()]  # fmt: skip
    return " ".join(words)


def transfer_lines(part: Part, results: Results, network: Network) -> tuple[str, ...]:
    """The text beside a transfer switch, UPS or bypass; the first line is its name."""
    found = results.transfers.get(part.key)
    node = network.nodes[part.key]
    if found is None:
        return (name_text(part.key, part.status), *wrap(capitals(node.item.title), 1.9, TEXT), "RATING NOT KNOWN")
    poles = f", {found.poles}P" if found.poles else ""
    withstand = fault_lines(found.fault_a, found.withstand_a, "", "WCR")
    bypass = capitals(found.bypass)
    lines = [
        capitals(found.title),
        f"{amperes_text(found.rating_a)}{poles}" if found.rating_a is not None else "RATING NOT KNOWN",
        capitals(found.system_class) if capitals(found.system_class) != capitals(found.title) else "",
        f"{capitals(found.transition)} TRANSITION" if found.transition else "",
        bypass if not bypass or "BYPASS" in bypass else f"BYPASS-{bypass}",
        *withstand,
        capitals(found.place),
    ]
    return (name_text(part.key, part.status, found.by), *_fold(lines, 1.9))


def load_lines(part: Part) -> tuple[str, ...]:
    """The text of a load: name (bold), what it is, its nameplate figures."""
    row = part.circuit
    assert row is not None
    head = row.tag or row.key
    figures: list[str] = []
    if row.motor_hp is not None:
        figures.append(f"{_horsepower(row.motor_hp)} HP")
    elif row.mca_a is not None:
        figures.append(f"MCA {row.mca_a:g} A")
        if row.mocp_a is not None:
            figures.append(f"MOCP {row.mocp_a:g} A")
    else:
        figures.append(kva_text(row.connected_va))
    words = wrap(capitals(row.name) or capitals(row.category), BOX_WIDTH, TEXT, most=3)
    return (name_text(head, row.status), *words, *figures)


def _horsepower(value: float) -> str:
    """Horsepower as spoken: 7.5 -> "7-1/2"."""
    whole = int(value)
    part = {0.25: "1/4", 1 / 3: "1/3", 0.5: "1/2", 0.75: "3/4", 1 / 6: "1/6"}
    for fraction, text in part.items():
        if abs(value - whole - fraction) < 0.005:
            return f"{whole}-{text}" if whole else text
    return f"{value:g}"


def horsepower(row_hp: float | None) -> str:
    """What stands in a motor's circle: its horsepower, "M" where not known."""
    return _horsepower(row_hp) if row_hp is not None else "M"
