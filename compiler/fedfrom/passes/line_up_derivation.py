"""The history of a line-up and of a working space, for `fedfrom explain` and the calculation book."""

from __future__ import annotations

from fedfrom.model.items import Origin
from fedfrom.results.assembly import RoomItem, RoomResult
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import GearResult, SectionResult
from fedfrom.tables import Edition

PRACTICE = "practice"


def line_up_derivation(edition: Edition, gear: GearResult) -> Derivation | None:
    """How gear was divided into sections, None for gear without any. Subject "TAG.line-up"."""
    built = gear.assembly
    if built is None or not gear.sections:
        return None
    count = len(gear.sections)
    size = f", {built.width_in:g} in wide" if built.width_in is not None else ""
    return Derivation(
        subject=f"{gear.tag}.line-up",
        title=f"Line-up of {gear.tag}",
        value=f"{count} section{'s' if count > 1 else ''}{size}",
        origin=Origin.CHOSEN,
        inputs=(
            Input("", "through bus", amperes_text(gear.bus_a) if gear.bus_a is not None else "not known"),
            Input("", "sizes", built.basis),
        ),
        steps=tuple(Step("", _section_words(section), "") for section in gear.sections),
        rounding="devices from the top in the order of the schedule, a new section where the height is used up",
        clause=edition.clause(PRACTICE),
        span=gear.span,
    )


def _section_words(section: SectionResult) -> str:
    parts = [f"section {section.number}, {section.kind}"]
    held = sum(1 for device in section.devices if device.height_in)
    if held:
        parts.append(f"{held} place{'s' if held > 1 else ''}")
    if section.used_in is not None and section.usable_in is not None:
        parts.append(f"{section.used_in:g} in of {section.usable_in:g} in used")
    if section.bus_a is not None:
        parts.append(f"bus {amperes_text(section.bus_a)}")
    if section.note:
        parts.append(section.note)
    return ", ".join(parts)


def working_space_derivation(edition: Edition, room: RoomResult, item: RoomItem) -> Derivation | None:
    """The working space of equipment in a room, None where it has none or it is not known. "TAG.working-space"."""
    if item.work_depth_ft is None or item.work_width_ft is None or item.volts_to_ground is None:
        return None
    condition = f"condition {item.condition}" if item.condition is not None else "not stated: condition 3 is taken"
    width = f"{item.width_in:g} in" if item.width_in is not None else "not known"
    steps = (
        Step("depth by voltage to ground and condition", f"{item.volts_to_ground:g} V, {condition}",
             _feet(item.work_depth_ft), edition.clause("110.26(A)(1)")),
        Step("the width of the equipment, at least 30 in", width, _feet(item.work_width_ft),
             edition.clause("110.26(A)(2)")),
    )  # fmt: skip
    rejected: tuple[Rejected, ...] = ()
    if item.two_entrances:
        rejected = (
            Rejected("one entrance", "1200 A or more, wider than 6 ft, and less than twice the depth is clear"),
        )
    return Derivation(
        subject=f"{item.tag}.working-space",
        title=f"Working space of {item.tag}",
        value=f"{_feet(item.work_depth_ft)} deep, {_feet(item.work_width_ft)} wide",
        origin=Origin.CHOSEN,
        inputs=(
            Input("", "room", " ".join(part for part in (room.tag, room.title) if part), span=room.span),
            Input("", "facing", room.facing or "not stated"),
        ),
        steps=steps,
        clause=edition.clause("110.26(A)(1)"),
        rejected=rejected,
        span=item.span,
    )


def _feet(value: float) -> str:
    """ "3 ft 6 in"."""
    whole, rest = divmod(round(value * 12), 12)
    return f"{whole} ft {rest} in" if rest else f"{whole} ft"
