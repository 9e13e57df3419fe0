"""Overcurrent and switching devices: the smallest standard one that serves, or the written one completed."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas.overcurrent import next_standard_rating
from fedfrom.model.items import Device, Origin, Status
from fedfrom.results.types import DeviceResult
from fedfrom.tables import Edition, lookup

FUSED_KINDS = ("fused switch", "bolted-pressure switch")


@dataclass(frozen=True, slots=True)
class DeviceRequest:
    """What a device must do: rating at least `needed_a`, None where the load is not known (then nothing is chosen).

    `written` the device as written, None where left out. `electronic` False for branch circuits, whose breakers get no
    trip functions of their own.
    """

    written: Device | None
    needed_a: float | None
    poles: int
    electronic: bool = True
    status: Status = Status.NEW


def is_fused(device: Device | DeviceResult | None) -> bool:
    """Whether a fuse does the protecting."""
    return device is not None and device.kind in FUSED_KINDS


def protecting_rating(device: DeviceResult | None) -> float | None:
    """The ampere rating that protects conductors; None for no device and for a switch without fuses."""
    return None if device is None or device.kind == "switch" else device.protects_a


def size_device(edition: Edition, request: DeviceRequest) -> DeviceResult | None:
    """The device, or None where nothing says how large it must be or no standard rating is large enough."""
    written = request.written
    kind = written.kind if written else "breaker"
    if kind in FUSED_KINDS:
        return _fused(edition, request, kind)
    if kind == "switch":
        return _switch(edition, request)
    return _breaker(edition, request)


def _breaker(edition: Edition, request: DeviceRequest) -> DeviceResult | None:
    written = request.written
    rating, origin = _rating(edition, request, "breaker")
    if rating is None:
        return None
    frame = written.frame_a.value if written and written.frame_a else _frame(edition, request, rating)
    functions = written.functions if written else ""
    threshold = float(lookup.choice(edition, "electronic_trip_from_frame"))
    magnetic = written is not None and {"thermal-magnetic", "magnetic only"} & written.options
    if not functions and request.electronic and not magnetic and frame is not None and frame >= threshold:
        functions = lookup.choice(edition, "electronic_trip_functions")
    return _result(request, "breaker", rating, frame, functions, origin)


def _frame(edition: Edition, request: DeviceRequest, rating: float) -> float | None:
    """The frame; none for small branch breakers, which are bought by their trip alone (common practice)."""
    smallest = lookup.frame_for(edition, 1.0)
    if not request.electronic and smallest is not None and rating <= smallest:
        return None
    return lookup.frame_for(edition, rating)


def _fused(edition: Edition, request: DeviceRequest, kind: str) -> DeviceResult | None:
    written = request.written
    assert written is not None
    switches = lookup.ampere_ratings(edition, "bolted_pressure_switch" if kind != "fused switch" else "fusible_switch")
    fuses = lookup.standard_ratings(edition, "fuse")
    origin = Origin.WRITTEN
    if written.fuse_a is not None:
        fuse: float | None = written.fuse_a.value
    elif written.rating_a is not None:
        fuse = written.rating_a.value  # the rating of a fused switch is its fuse where no fuse is named
    else:
        origin = Origin.CHOSEN
        fuse = None if request.needed_a is None else next_standard_rating(request.needed_a, fuses)
    if fuse is None:
        return None
    switch = written.rating_a.value if written.rating_a else next((size for size in switches if size >= fuse), fuse)
    limit = 600
    fuse_class = written.fuse_class or lookup.choice(
        edition, "fuse_class_to_600_a" if fuse <= limit else "fuse_class_above_600_a"
    )
    return _result(request, kind, switch, None, written.functions, origin, fuse, fuse_class)


def _switch(edition: Edition, request: DeviceRequest) -> DeviceResult | None:
    written = request.written
    if written is not None and written.rating_a is not None:
        return _result(request, "switch", written.rating_a.value, None, "", Origin.WRITTEN)
    if request.needed_a is None:
        return None
    switches = lookup.ampere_ratings(edition, "fusible_switch")
    rating = next((size for size in switches if size >= request.needed_a - 0.001), None)
    return None if rating is None else _result(request, "switch", rating, None, "", Origin.CHOSEN)


def _rating(edition: Edition, request: DeviceRequest, kind: str) -> tuple[float | None, Origin]:
    written = request.written
    if written is not None and written.rating_a is not None:
        return written.rating_a.value, written.rating_a.origin
    if request.needed_a is None:
        return None, Origin.CHOSEN
    return next_standard_rating(request.needed_a, lookup.standard_ratings(edition, kind)), Origin.CHOSEN


def _result(
    request: DeviceRequest,
    kind: str,
    rating: float,
    frame: float | None,
    functions: str,
    origin: Origin,
    fuse: float | None = None,
    fuse_class: str = "",
) -> DeviceResult:
    written = request.written
    return DeviceResult(
        kind=kind,
        rating_a=rating,
        frame_a=frame,
        poles=written.poles if written and written.poles else request.poles,
        functions=functions,
        fuse_a=fuse,
        fuse_class=fuse_class,
        options=tuple(sorted(written.options)) if written else (),
        arc_reduction=written.arc_reduction if written else "",
        interrupting_a=written.interrupting_a.value if written and written.interrupting_a else None,
        origin=origin,
        status=(written.status if written and written.status else None) or request.status,
        by=written.by if written else "",
        span=written.span if written else None,
    )
