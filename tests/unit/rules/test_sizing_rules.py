"""The rules of sizing: each one's bad program gives its finding, the good one does not (and gives no graver one)."""

import importlib

import pytest
from tests.support.sizing import compile_text

from fedfrom.rules.registry import Rule
from fedfrom.tables import load_edition

SIZING = (
    *("standard-rating", "trip-over-frame", "small-conductor", "conductor-ampacity", "terminal-temperature"),
    *("ambient-correction", "bundle-adjustment", "continuous-125", "circuit-overload", "feeder-overload"),
    *("parallel-min", "egc-size", "bonding-jumper-size", "neutral-size", "raceway-fill", "tap-rule"),
    *("secondary-length", "panel-secondary-ocpd", "panel-ocpd", "motor-branch-ocpd", "motor-branch-wire"),
    *(
        "motor-feeder-ocpd",
        "nameplate-hvac",
        "welder-ocpd",
        "compressor-ocpd",
        "xfmr-ocpd",
        "xfmr-loading",
        "generator-conductor",
    ),
    *("gec-size", "sds-bonding", "existing-conductors"),
)


def rule(name: str) -> Rule:
    found = importlib.import_module(f"fedfrom.rules.{name.replace('-', '_')}").RULE
    assert isinstance(found, Rule)
    return found


@pytest.mark.parametrize("name", SIZING)
def test_bad_program_gives_this_finding_alone(name: str) -> None:
    checked = rule(name)
    _, findings = compile_text(checked.bad)
    grave = {finding.rule for finding in findings if finding.severity >= checked.severity}
    assert grave == {name}


@pytest.mark.parametrize("name", SIZING)
def test_good_program_does_not(name: str) -> None:
    _, findings = compile_text(rule(name).good)
    assert name not in {finding.rule for finding in findings}


@pytest.mark.parametrize("name", SIZING)
def test_findings_say_where_why_and_what_to_do(name: str) -> None:
    _, findings = compile_text(rule(name).bad)
    for finding in findings:
        if finding.rule == name:
            assert finding.span is not None
            assert finding.help
            assert finding.subject in finding.message


@pytest.mark.parametrize("edition", ["NEC 2017", "NEC 2020", "NEC 2023"])
def test_clauses_are_known_in_every_edition(edition: str) -> None:
    for name in SIZING:
        if rule(name).clause:
            assert load_edition(edition).clause(rule(name).clause)
