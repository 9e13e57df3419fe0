"""The devices of a design with the bus that each stands on: what the rules on ratings look at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fedfrom.formulas.fault_current import multiplying_factor
from fedfrom.passes.ratings import interrupting_test
from fedfrom.results.types import DeviceResult, FaultResult, Results
from fedfrom.source import Span


@dataclass(frozen=True, slots=True)
class PlacedDevice:
    """A device: `subject` for findings ("LP1.3", "DP1.main", a feeder's id), `bus` the tag of its line side."""

    subject: str
    bus: str
    device: DeviceResult
    span: Span | None


def placed_devices(results: Results) -> Iterator[PlacedDevice]:
    """Every overcurrent device once, in source order: mains, feeders, circuits, transformer secondaries, ties."""
    for tag, source in results.sources.items():
        if source.main is not None:
            yield PlacedDevice(f"{tag}.main", tag, source.main, source.main.span or source.span)
    for tag, gear in results.gear.items():
        if gear.main is not None:
            yield PlacedDevice(f"{tag}.main", tag, gear.main, gear.main.span or gear.span)
    for feeder in results.feeders.values():
        if feeder.device is not None:
            yield PlacedDevice(feeder.id, feeder.source, feeder.device, feeder.device.span or feeder.span)
    for tag, rows in results.circuits.items():
        for row in rows:
            if row.device is not None and row.kind in ("load", "spare", "tap"):
                yield PlacedDevice(row.key, tag, row.device, row.device.span or row.span)
    for tag, transformer in results.transformers.items():
        device = transformer.secondary_device
        if device is not None:
            yield PlacedDevice(f"{tag}.secondary", tag, device, device.span or transformer.span)
    for tag, tie in results.ties.items():
        if tie.device is not None:
            yield PlacedDevice(tag, tie.ends[0], tie.device, tie.device.span)


def series_partner(results: Results, bus: str) -> str:
    """The partner of the declared series combination of a bus, "" without one."""
    gear = results.gear.get(bus)
    prefix = "series rated with "
    if gear is None or not gear.sccr_basis.startswith(prefix):
        return ""
    return gear.sccr_basis.removeprefix(prefix)


def adjusted_duty(results: Results, placed: PlacedDevice) -> float | None:
    """The fault times the multiplying factor of a high X/R, A; None where rating or fault is not known."""
    device = placed.device
    fault = fault_of(results, placed.bus, device)
    if device.interrupting_a is None or device.fault_a is None or fault is None:
        return None
    return device.fault_a * multiplying_factor(interrupting_test(device), device.interrupting_a, fault.x_over_r)


def fault_of(results: Results, bus: str, device: DeviceResult) -> FaultResult | None:
    """The fault that a device is rated for."""
    return results.faults.get(bus, {}).get(device.fault_state)
