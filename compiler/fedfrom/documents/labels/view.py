"""Which labels a design needs, with the exact data of each.

The wording is ours: where the adopted edition prescribes words, those govern (said on the sheet). Nothing is invented:
no incident energy, no clearing time, no date. What a study or a person must fill in is a blank.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from fedfrom.documents.labels.label import BLANK, PLATE, WIDE, Label, cited
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import FeederResult, GearResult, TransferResult
from fedfrom.rules.registry import Design

BOARDS = ("switchboard", "panelboard", "load center")
# Gear that is likely to be worked on while live (NEC 110.16(A)).
WORKED_ON = (*BOARDS, "motor control center", "meter center", "isolated power panel", "fire pump controller",
             "disconnect", "pdu")  # fmt: skip
PLATED = ("switchboard", "motor control center", "meter center")
SERIES = "series rated with "
# From this year on 408.6 asks for the fault current at boards too; before it was asked for at the service only.
BOARD_FAULT_YEAR = 2020
# From this year on feeder-supplied equipment is included in 110.16(B).
FEEDER_ARC_YEAR = 2023


def labels(design: Design) -> tuple[Label, ...]:
    """Every label in source order, gear by gear; then those of transfer switches."""
    found: list[Label] = []
    for gear in design.results.gear.values():
        if not gear.status.is_gone:
            for make in MAKERS:
                found.extend(make(design, gear))
    for transfer in design.results.transfers.values():
        if not transfer.status.is_gone:
            found.extend(_transfer(design, transfer))
    return tuple(found)


def _is_dwelling(design: Design, gear: GearResult) -> bool:
    """Inside a dwelling unit: the text says so of the gear, or of the whole building."""
    item = design.model.items.get(gear.tag)
    if item is not None and item.facts.first("dwelling") is not None:
        return True
    occupancy = design.model.project.facts.word("occupancy")
    return occupancy is not None and occupancy.value == "dwelling"


def _label(design: Design, gear: GearResult, kind: str, keys: tuple[str, ...], heading: str, lines: tuple[str, ...],
           size: str = "4 x 2 in", needs: str = "", note: str = "") -> Label:  # fmt: skip
    return Label(
        kind, gear.tag, gear.place, cited(design.edition, *keys), heading, lines, size, 1, needs, note,
        gear.status.value,
    )  # fmt: skip


def _fault(design: Design, gear: GearResult) -> Iterator[Label]:
    """Available fault current, at the service and, by edition, at every board outside one- and two-family dwellings."""
    if _is_dwelling(design, gear):
        return
    board = gear.gear_class in BOARDS and design.edition.year >= BOARD_FAULT_YEAR
    if not gear.service_equipment and not board:
        return
    keys = (("110.24(A)",) if gear.service_equipment else ()) + (("408.6",) if board else ())
    known = gear.fault_a is not None
    amperes = f"{gear.fault_a:,.0f} A" if gear.fault_a is not None else "NOT ESTABLISHED"
    lines = (gear.tag, f"AVAILABLE FAULT CURRENT {amperes}", f"DATE OF CALCULATION {BLANK}")
    needs = "" if known else "the fault current: the utility's figure and every length up to here"
    note = "date it when it is issued; a change of the system makes it stale (110.24(B))"
    yield _label(design, gear, "available fault current", keys, "NOTICE", lines, needs=needs, note=note)


def _source(design: Design, gear: GearResult) -> Iterator[Label]:
    """Where the power comes from, for boards that a feeder supplies."""
    if gear.gear_class not in BOARDS or gear.service_equipment or _is_dwelling(design, gear):
        return
    feeders = [feeder for feeder in design.results.feeders.values() if feeder.target == gear.tag]
    if not feeders:
        return
    lines = [gear.tag, *(_from(design, feeder) for feeder in feeders)]
    lines.append(gear.system.literal if gear.system is not None else "VOLTAGE NOT KNOWN")
    note = "permanent, not written by hand"
    yield _label(design, gear, "source of supply", ("408.4(B)",), "", tuple(lines), note=note)


def _from(design: Design, feeder: FeederResult) -> str:
    """ "FED FROM MSB, DEVICE MSB.4, E101, Main electrical"; through a transformer, its own source is named too."""
    results = design.results
    row = next(
        (each for each in results.circuits.get(feeder.source, ()) if each.feeder_id == feeder.id and each.device), None
    )
    device = (
        f", DEVICE {row.key}" if row is not None else (f", {feeder.point.upper()}" if feeder.point != "bus" else "")
    )
    source = results.gear.get(feeder.source)
    transformer = results.transformers.get(feeder.source)
    place = source.place if source is not None else (transformer.place if transformer is not None else "")
    behind = f", FED FROM {transformer.fed_from}" if transformer is not None and transformer.fed_from else ""
    where = f", {place}" if place else ""
    verb = "FED FROM" if feeder.verb == "fed from" else feeder.verb.upper()
    return f"{verb} {feeder.source}{device}{behind}{where}"


def _series(design: Design, gear: GearResult) -> Iterator[Label]:
    """Series-rated combinations, at both devices."""
    if not gear.sccr_basis.startswith(SERIES):
        return
    partner = gear.sccr_basis.removeprefix(SERIES)
    rating = f"{gear.sccr_a:,.0f} A" if gear.sccr_a is not None else BLANK
    lines = (
        f"SERIES COMBINATION OF {partner} AND {gear.tag}",
        f"RATED {rating}",
        "REPLACE ONLY WITH THE IDENTIFIED COMPONENTS",
    )
    needs = "" if gear.sccr_a is not None else "the rating of the combination"
    keys = ("110.22(C)", "240.86(B)")
    note = "the wording of the adopted edition governs"
    yield _label(design, gear, "series rating", keys, "CAUTION", lines, needs=needs, note=note)
    upper = design.results.gear.get(partner.split(".")[0])
    if upper is not None:
        yield _label(design, upper, "series rating", keys, "CAUTION", lines, needs=needs, note=note)


def _arc_flash(design: Design, gear: GearResult) -> Iterator[Label]:
    """The warning of 110.16(A), and from its amperes on the data label of 110.16(B) with the study's figures blank."""
    if gear.gear_class not in WORKED_ON or _is_dwelling(design, gear):
        return
    lines = (gear.tag, "ARC-FLASH AND SHOCK HAZARD", "WORK ONLY BY QUALIFIED PERSONS WITH PROTECTIVE EQUIPMENT")
    yield _label(design, gear, "arc-flash warning", ("110.16(A)",), "WARNING", lines, note="visible before opening")
    from_a = _arc_threshold(design, gear)
    if from_a is None or gear.bus_a is None or gear.bus_a < from_a:
        return
    volts = f"{gear.system.line_to_line_v:g} V" if gear.system is not None else BLANK
    fault = f"{gear.fault_a:,.0f} A" if gear.fault_a is not None else BLANK
    data = (
        gear.tag,
        f"NOMINAL VOLTAGE {volts}",
        f"AVAILABLE FAULT CURRENT {fault}",
        f"CLEARING TIME {BLANK} (STUDY)",
        f"DATE {BLANK}",
    )
    needs = "" if gear.fault_a is not None else "the fault current"
    note = "clearing time and protection from the arc-flash study; none is computed here"
    yield _label(design, gear, "arc-flash data", ("110.16(B)",), "WARNING", data, WIDE, needs, note)


def _arc_threshold(design: Design, gear: GearResult) -> float | None:
    """The amperes from which on 110.16(B) asks for a dated label; before 2023 at service equipment only."""
    if not gear.service_equipment and design.edition.year < FEEDER_ARC_YEAR:
        return None
    for row in design.edition.rows("gear_rules_nec"):
        if row["key"].startswith("arc_flash_label") and row["value"]:
            return float(row["value"])
    return None


def _disconnects(design: Design, gear: GearResult) -> Iterator[Label]:
    """What each disconnect is for: the main, and on boards without a directory every device."""
    if gear.service_equipment and gear.main is not None:
        lines = (f"{gear.tag}.main", "SERVICE DISCONNECT", amperes_text(gear.main.protects_a))
        yield _label(design, gear, "disconnect", ("110.22(A)", "230.70(B)"), "", lines, PLATE)
    elif gear.main is not None and gear.gear_class in PLATED:
        yield _label(design, gear, "disconnect", ("110.22(A)",), "", (f"{gear.tag}.main", f"MAIN OF {gear.tag}"), PLATE)
    if gear.gear_class == "disconnect":
        purpose = gear.title or f"FED FROM {gear.fed_from}"
        yield _label(design, gear, "disconnect", ("110.22(A)",), "", (gear.tag, purpose), PLATE)
    if gear.gear_class not in PLATED:
        return
    for row in design.results.circuits.get(gear.tag, ()):
        if row.kind in ("load", "feeder", "spare") and not row.status.is_gone:
            feeder = design.results.feeders.get(row.feeder_id)
            target = feeder.target if feeder is not None else row.tag
            purpose = "SPARE" if row.kind == "spare" else " ".join(part for part in (target, row.name) if part)
            yield _label(design, gear, "disconnect", ("110.22(A)",), "", (row.key, purpose), PLATE)


def _high_leg(design: Design, gear: GearResult) -> Iterator[Label]:
    if gear.system is None or "high-leg" not in gear.system.literal:
        return
    lines = (gear.tag, f"PHASE B HAS {gear.system.to_ground_v:.0f} V TO GROUND")
    yield _label(design, gear, "high leg", ("408.3(F)", "110.15"), "CAUTION", lines)


def _transfer(design: Design, transfer: TransferResult) -> Iterator[Label]:
    """Both sources of a transfer switch, and its arc-flash warning."""
    where = (transfer.tag, transfer.place)
    status = transfer.status.value
    if transfer.normal_from and transfer.emergency_from:
        lines = (
            transfer.tag,
            f"NORMAL FROM {transfer.normal_from}",
            f"EMERGENCY FROM {transfer.emergency_from}",
            "TWO SOURCES: OPENING ONE DOES NOT DE-ENERGIZE IT",
        )
        yield Label("two sources", *where, cited(design.edition, "110.22(A)"), "CAUTION", lines, status=status)
    hazard = (transfer.tag, "ARC-FLASH AND SHOCK HAZARD", "WORK ONLY BY QUALIFIED PERSONS WITH PROTECTIVE EQUIPMENT")
    yield Label("arc-flash warning", *where, cited(design.edition, "110.16(A)"), "WARNING", hazard, status=status,
                note="visible before opening")  # fmt: skip


# In the order in which the labels of one piece of gear are listed. A further kind is one more function here.
MAKERS: tuple[Callable[[Design, GearResult], Iterator[Label]], ...] = (
    _fault,
    _source,
    _series,
    _arc_flash,
    _disconnects,
    _high_leg,
)
