"""too much motor load stands between the devices of a series-rated pair."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.fault_current import series_motor_limit
from fedfrom.passes.rating_review import series_partner
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag in design.results.gear:
        if not series_partner(design.results, tag):
            continue
        rows = design.results.circuits.get(tag, ())
        devices = [row.device.interrupting_a for row in rows if row.device and row.device.interrupting_a]
        motors = sum(row.table_a or row.mca_a or row.load_a or 0.0 for row in rows if row.category in MOTOR_KINDS)
        if not devices or not motors:
            continue
        limit = series_motor_limit(min(devices))
        if motors > limit:
            fact = design.model.items[tag].facts.first("series rated")
            yield breach(
                "series-motors",
                tag,
                f"{motors:.0f} A of motors on {tag} are more than 1 % of the lower rating, {limit:.0f} A",
                fact.span if fact is not None else None,
                design.edition.clause("240.86"),
                (f"lowest interrupting rating there: {min(devices) / 1000:g} kA",),
                "take fully rated devices for this gear",
            )


MOTOR_KINDS = ("motor", "hvac", "elevator", "cooling")


RULE = Rule(
    id="series-motors",
    severity=Severity.ERROR,
    title="too much motor load stands between the devices of a series-rated pair",
    why="Motors feed the fault past the upstream device, which then does not see all of it.",
    clause="240.86",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
}
panelboard LP1 "Pumps" {
    fed from        MSB, 15 ft, breaker 400 A
    place           indoor "Electrical room"
    series rated    65 kA with MSB because "listing report, tested pair"
    motor       "Pump"          50 hp x 3, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
}
panelboard LP1 "Pumps" {
    fed from        MSB, 15 ft, breaker 400 A
    place           indoor "Electrical room"
    series rated    65 kA with MSB because "listing report, tested pair"
    motor       "Pump"          5 hp, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.has_fact("series rated"),
)
