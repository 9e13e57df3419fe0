"""the devices here need a straight voltage rating."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        system = gear.system
        if system is None or system.is_dc or gear.status is Status.DEMOLISH or not design.results.circuits.get(tag):
            continue
        if system.grounding in ("ungrounded", "corner", "resistance", "isolated") and system.line_to_line_v > 150:
            reason = f"{system.literal} is not solidly grounded at its middle"
        elif system.kind == "high-leg delta":
            reason = f"the high leg of {system.literal} stands at {system.to_ground_v:g} V to ground"
        else:
            continue
        yield breach(
            "slash-rating",
            tag,
            f"{tag}: devices need a straight {system.line_to_line_v:g} V rating, as {reason}",
            gear.span,
            design.edition.clause("240.85"),
            advice="no slash-rated breakers on this gear; individual pole ratings count for corner grounding",
            severity=Severity.NOTE,
        )


RULE = Rule(
    id="slash-rating",
    severity=Severity.NOTE,
    title="the devices here need a straight voltage rating",
    why="A slash-rated breaker is tested with less than full voltage across one pole; this system can put it there.",
    clause="240.85",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480 V ungrounded
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    monitor     ground detection
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.conductors,
)
