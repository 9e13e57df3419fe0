"""A device and its conductors as values that may be pinned: of feeders, mains, ties and branch circuits."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.editing import pin_words
from fedfrom.editing.pin_types import Candidate, Home, How, Reach
from fedfrom.model.items import Conductors, Device
from fedfrom.results.types import ConductorResult, DeviceResult


def conductor_candidates(
    subject: str, stated: Conductors, result: ConductorResult | None, home: Home, reach: Reach = Reach.ITEM
) -> Iterator[Candidate]:
    """The sizes of a feeder or circuit: `phase` (with its sets), `neutral`, `ground`, `raceway`."""
    written = {
        "phase": stated.phase,
        "neutral": stated.neutral,
        "ground": stated.ground,
        "raceway": stated.raceway,
    }
    words = pin_words.conductors(result)
    for name, value in written.items():
        if value is not None and value.span is not None:
            yield Candidate(f"{subject}.{name}", name, How.OPTION, home, written=value.span, reach=reach)
        elif name in words:
            said = words[name]
            if name == "phase" and stated.sets is not None:
                said = said.rpartition(", ")[2]
            yield Candidate(f"{subject}.{name}", said, How.OPTION, home, reach=reach)


def device_candidate(
    subject: str, device: Device | None, result: DeviceResult | None, home: Home, reach: Reach = Reach.ITEM
) -> Candidate:
    """The kind and rating of a device; a rating alone where its kind is written."""
    if device is not None and device.rating_a is not None:
        span = device.rating_a.span or device.span
        return Candidate(subject, "", How.RATING, home, written=span, reach=reach)
    words = pin_words.device(result)
    if not words or result is None:
        reason = "it is not known" if result is None else f"the language has no word for a {result.kind}"
        return Candidate(subject, "", How.OPTION, home, reason=reason, reach=reach)
    if device is None:
        return Candidate(subject, words, How.OPTION, home, reach=reach)
    return Candidate(subject, words, How.RATING, home, reach=reach)


def interrupting_candidate(subject: str, device: Device | None, result: DeviceResult | None, home: Home) -> Candidate:
    name = f"{subject}.interrupting"
    if device is not None and device.interrupting_a is not None:
        return Candidate(name, "", How.OPTION, home, written=device.interrupting_a.span, reach=Reach.NAME)
    rating = result.interrupting_a if result is not None else None
    words = f"interrupting {pin_words.kiloamperes(rating)}" if rating else ""
    return Candidate(name, words, How.OPTION, home, reason="" if words else "it is not known", reach=Reach.NAME)
