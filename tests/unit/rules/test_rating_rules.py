"""The rules on drop, faults, ratings and class: the bad program gives its finding, the good one does not."""

import importlib

import pytest
from tests.support.sizing import compile_text

from fedfrom.rules.registry import Rule

RATING = (
    *("drop-branch", "drop-feeder", "drop-total", "interrupting-rating", "sccr-gear", "series-declared"),
    *("series-motors", "equipment-sccr", "xr-test", "rating-margin", "class-limits", "enclosure-type"),
    *("gfp-service", "gfp-feeder", "gfp-exempt", "arc-energy", "service-disconnects", "slash-rating"),
    *("generator-capacity", "ats-rating", "ungrounded-detect", "dc-rated", "selective-required"),
    *("transformer-impedance-assumed", "source-x-over-r-assumed", "utility-figures-disagree", "fault-not-computed"),
    *("start-dip", "least-fault"),
)


def rule(name: str) -> Rule:
    found = importlib.import_module(f"fedfrom.rules.{name.replace('-', '_')}").RULE
    assert isinstance(found, Rule)
    return found


@pytest.mark.parametrize("name", RATING)
def test_bad_program_gives_this_finding_alone(name: str) -> None:
    checked = rule(name)
    _, findings = compile_text(checked.bad)
    assert {finding.rule for finding in findings if finding.severity >= checked.severity} == {name}
    for finding in findings:
        if finding.rule == name:
            assert finding.span is not None
            assert finding.help
            assert finding.clause
            assert finding.subject


@pytest.mark.parametrize("name", RATING)
def test_good_program_does_not(name: str) -> None:
    _, findings = compile_text(rule(name).good)
    assert name not in {finding.rule for finding in findings}
