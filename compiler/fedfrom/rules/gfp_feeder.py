"""a large feeder disconnect has no ground-fault protection, and none stands ahead of it."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.protection import ground_fault_ahead, has_ground_fault, needs_ground_fault
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        device, node = feeder.device, design.network.nodes.get(feeder.source)
        if device is None or node is None or device.status is not Status.NEW or has_ground_fault(device):
            continue
        if design.model.items[feeder.target].kind == "fire pump controller":
            continue
        if not needs_ground_fault(design.edition, node.system, device.protects_a, False):
            continue
        if ground_fault_ahead(design.network, design.results, feeder.source):
            continue
        yield breach(
            "gfp-feeder",
            feeder.id,
            f"{feeder.id}: a {device.protects_a:g} A feeder disconnect needs ground-fault protection; "
            "there is none ahead of it",
            device.span or feeder.span,
            design.edition.clause("215.10"),
            advice="write `LSIG` on the feeder, or give the main ahead ground-fault protection",
        )


RULE = Rule(
    id="gfp-feeder",
    severity=Severity.ERROR,
    title="a large feeder disconnect has no ground-fault protection, and none stands ahead of it",
    why="The rule for services holds for feeders too, unless the protection ahead covers them.",
    clause="215.10",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
existing utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
existing switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 2000 A, LSI, interrupting 65 kA
    sccr        65 kA
    measured    300 A, 12 months, to 2026-05-31, because "utility bills"
    place       indoor "Electrical room"
}
new switchboard DS1 "Plant" {
    fed from    MSB, 60 ft, new breaker 1200 A, LSI, arc reduction maintenance switch
    place       indoor "Plant"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
existing utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
existing switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 2000 A, LSI, interrupting 65 kA
    sccr        65 kA
    measured    300 A, 12 months, to 2026-05-31, because "utility bills"
    place       indoor "Electrical room"
}
new switchboard DS1 "Plant" {
    fed from    MSB, 60 ft, new breaker 1200 A, LSIG, arc reduction maintenance switch
    place       indoor "Plant"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.feeders,
)
