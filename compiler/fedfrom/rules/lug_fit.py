"""Conductors are larger than the usual lugs of their device take."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Origin, Status
from fedfrom.results.notation import size_text
from fedfrom.results.types import ConductorResult, DeviceResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach
from fedfrom.source import Span
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for subject, device, conductors, span, status in _ends(design):
        area = lookup.area_kcmil(design.edition, conductors.phase)
        if status is not Status.NEW or conductors.by or area is None:
            continue
        choices = lugs(design, device)
        if not choices or any(_takes(design, choice, conductors.sets, area) for choice in choices):
            continue
        usual = " or ".join(f"{sets} x {size_text(largest)}" for sets, largest in choices)
        size = f"{conductors.sets} x {size_text(conductors.phase)}"
        chosen = conductors.origins.get("phase") is not Origin.WRITTEN
        grown = ", sized up," if chosen else ""
        yield breach(
            "lug-fit",
            subject,
            f"{subject}: {size}{grown} on a device of {_size(device):g} A, whose usual lugs take {usual}",
            span,
            design.edition.clause("110.14"),
            ("lug ranges from memory; makers differ",),
            REDUCE if chosen else LARGER,
            Severity.NOTE if chosen else Severity.WARNING,
        )


LARGER = "order larger lugs or a larger frame, or end the large conductors in a box near it"
# What is done on site with conductors that grew for the drop alone: it costs nothing to say so on the drawing.
REDUCE = (
    "splice to the smaller size that the load asks for, in a box beside the device, with a splice listed for both "
    "sizes; or use a reducing terminal listed with the device, or order larger lugs"
)


def lugs(design: Design, device: DeviceResult) -> list[tuple[int, str]]:
    """(sets, largest size) of the usual lugs of a device; () where the table has none."""
    rows = [row for row in design.edition.rows("lug_ranges") if _size(device) <= float(row["up_to_a"])]
    first = min((float(row["up_to_a"]) for row in rows), default=0.0)
    return [(int(row["most_sets"]), row["largest"]) for row in rows if float(row["up_to_a"]) == first]


def _size(device: DeviceResult) -> float:
    return max(device.frame_a or 0.0, device.rating_a)


def _takes(design: Design, choice: tuple[int, str], sets: int, area: float) -> bool:
    largest = lookup.area_kcmil(design.edition, choice[1]) or 0.0
    return sets <= choice[0] and area <= largest


End = tuple[str, DeviceResult, ConductorResult, Span | None, Status]


def _ends(design: Design) -> Iterator[End]:
    """Every device with the conductors that leave it, and the mains with those that come in."""
    for feeder in design.results.feeders.values():
        if feeder.conductors is None:
            continue
        if feeder.device is not None and feeder.device.status is Status.NEW:
            yield feeder.id, feeder.device, feeder.conductors, feeder.span, feeder.status
        gear = design.results.gear.get(feeder.target)
        if gear is not None and gear.main is not None and feeder.kind != "inside":
            yield f"{feeder.target}.main", gear.main, feeder.conductors, feeder.span, gear.status
    for rows in design.results.circuits.values():
        for row in rows:
            if row.kind == "load" and row.device is not None and row.conductors is not None:
                yield row.key, row.device, row.conductors, row.span, row.status


RULE = Rule(
    id="lug-fit",
    severity=Severity.WARNING,
    title="conductors are larger than the usual lugs of their device take",
    why=(
        "A feeder sized up for voltage drop often ends at a breaker whose lugs are too small. The electrician "
        "then cuts strands off, which nobody sees."
    ),
    clause="110.14",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    receptacles "Far hall" 4 outlets, 400 ft, phase 4 AWG, neutral 4 AWG, ground 4 AWG, breaker 20 A
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    receptacles "Far hall" 4 outlets, 200 ft, phase 8 AWG, neutral 8 AWG, ground 8 AWG, breaker 20 A
}
""",
    check=check,
    applies=reach.conductors,
)
