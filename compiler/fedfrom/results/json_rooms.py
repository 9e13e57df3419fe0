"""Parts of `results.json` on what gear is built of and what stands in rooms."""

from __future__ import annotations

from typing import Any

from fedfrom.results.assembly import Assembly, MountedDevice, RoomDoor, RoomItem, RoomResult
from fedfrom.results.rounding import rounded
from fedfrom.results.types import SectionResult

Json = dict[str, Any]


def section_object(section: SectionResult) -> Json:
    """One section of a line-up."""
    return {
        "number": section.number,
        "kind": section.kind,
        "circuits": list(section.circuit_keys),
        "bus_a": rounded("bus_a", section.bus_a),
        "through_bus_a": rounded("through_bus_a", section.through_bus_a),
        "usable_in": rounded("usable_in", section.usable_in),
        "used_in": rounded("used_in", section.used_in),
        "width_in": rounded("width_in", section.width_in),
        "depth_in": rounded("depth_in", section.depth_in),
        "height_in": rounded("height_in", section.height_in),
        "weight_lb": rounded("weight_lb", section.weight_lb),
        "devices": [_mounted(device) for device in section.devices],
        "note": section.note,
    }


def _mounted(device: MountedDevice) -> Json:
    return {
        "key": device.key,
        "role": device.role,
        "name": device.name,
        "mounting": device.mounting,
        "frame_a": rounded("frame_a", device.frame_a),
        "top_in": rounded("top_in", device.top_in),
        "height_in": rounded("height_in", device.height_in),
        "side": device.side,
    }


def assembly_object(built: Assembly | None) -> Json | None:
    """How gear is built, null where that is not known."""
    if built is None:
        return None
    return {
        "width_in": rounded("width_in", built.width_in),
        "depth_in": rounded("depth_in", built.depth_in),
        "height_in": rounded("height_in", built.height_in),
        "weight_lb": rounded("weight_lb", built.weight_lb),
        "mounting": built.mounting,
        "basis": built.basis,
        "access": built.access,
        "entry": built.entry,
        "feed_entry": built.feed_entry,
        "mains": built.mains,
        "interiors": list(built.interiors),
        "feed_through": list(built.feed_through),
        "sub_feed": list(built.sub_feed),
        "shipping": [list(piece) for piece in built.shipping],
        "pad_in": [rounded("_in", side) for side in built.pad] if built.pad is not None else None,
        "joined": built.joined,
        "notes": list(built.notes),
    }


def room_object(room: RoomResult) -> Json:
    """A room; `fits` null: not checked, `needs` says what for."""
    return {
        "title": room.title,
        "level": room.level,
        "length_ft": rounded("length_ft", room.length_ft),
        "width_ft": rounded("width_ft", room.width_ft),
        "height_ft": rounded("height_ft", room.height_ft),
        "facing": room.facing,
        "entrances_needed": room.entrances_needed,
        "panic_hardware_needed": room.panic_hardware_needed,
        "wall_needed_ft": rounded("wall_needed_ft", room.wall_needed_ft),
        "fits": room.fits,
        "needs": list(room.needs),
        "misfits": list(room.misfits),
        "assumed": list(room.assumed),
        "equipment": {item.tag: _item(item) for item in room.items},
        "doors": [_door(door) for door in room.doors],
    }


def _item(item: RoomItem) -> Json:
    return {
        "width_in": rounded("width_in", item.width_in),
        "depth_in": rounded("depth_in", item.depth_in),
        "height_in": rounded("height_in", item.height_in),
        "mounting": item.mounting,
        "wall": item.wall,
        "left_ft": rounded("left_ft", item.left_ft),
        "top_ft": rounded("top_ft", item.top_ft),
        "right_ft": rounded("right_ft", item.right_ft),
        "bottom_ft": rounded("bottom_ft", item.bottom_ft),
        "condition": item.condition,
        "volts_to_ground_v": rounded("volts_to_ground_v", item.volts_to_ground),
        "work_depth_ft": rounded("work_depth_ft", item.work_depth_ft),
        "work_width_ft": rounded("work_width_ft", item.work_width_ft),
        "rear_ft": rounded("rear_ft", item.rear_ft),
        "two_entrances": item.two_entrances,
        "panic_hardware": item.panic_hardware,
    }


def _door(door: RoomDoor) -> Json:
    return {
        "width_ft": rounded("width_ft", door.width_ft),
        "swings": door.swings,
        "panic_hardware": door.panic_hardware,
        "wall": door.wall,
        "start_ft": rounded("start_ft", door.start_ft),
    }
