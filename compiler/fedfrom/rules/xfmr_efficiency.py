"""A transformer is less efficient than federal law allows to be sold."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Status
from fedfrom.quantity import Dimension
from fedfrom.results.types import TransformerResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, result in design.results.transformers.items():
        item = design.model.items.get(tag)
        fact = item.facts.first("minimum efficiency") if item is not None else None
        stated = amount(fact, Dimension.PERCENT)
        if fact is None or stated is None or result.kva is None or result.status is not Status.NEW:
            continue
        least = _least(design, result)
        if least is not None and stated < least - 1e-9:
            yield breach(
                "xfmr-efficiency",
                tag,
                f"{tag}: {stated:g} % at 35 % load, {least:g} % is the least for {result.kva:g} kVA",
                fact.span,
                design.edition.clause("10 CFR 431.196"),
                advice="take a transformer that keeps the level; the specification asks for it",
            )


def _least(design: Design, result: TransformerResult) -> float | None:
    phases = result.primary.phases if result.primary is not None else 3
    for row in design.edition.rows("transformer_kva"):
        if row["type"] == f"{phases}-phase dry-type" and float(row["kva"]) == result.kva:
            text = row["doe2016_minimum_efficiency_percent_at_35_percent_load"]
            return float(text) if text else None
    return None


def _needs(design: Design) -> str:
    """Where no efficiency is stated the specification asks for the federal level; here there is nothing to check."""
    return "" if reach.has_fact("minimum efficiency")(design) else "the `minimum efficiency` from transformer data"


RULE = Rule(
    id="xfmr-efficiency",
    severity=Severity.ERROR,
    title="a transformer is less efficient than federal law allows to be sold",
    why=(
        "Its losses run day and night for thirty years. Below the federal level it may not be made or brought "
        "in for sale."
    ),
    clause="10 CFR 431.196",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft
    rating      150 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
    place       indoor "Storage 12"
    insulation class 220 C
    minimum efficiency 98.2 %
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 400 A
    place       indoor "Storage 12"
    equipment   "Copier"        30 kVA, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft
    rating      150 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
    place       indoor "Storage 12"
    insulation class 220 C
    minimum efficiency 99 %
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 400 A
    place       indoor "Storage 12"
    equipment   "Copier"        30 kVA, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.kinds("transformer"),
    needs=_needs,
)
