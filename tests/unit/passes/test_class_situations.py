"""At least forty small situations through the compiler: text in, class and key reason out; pinned classes as findings.

source: the limits are those of tables/practice/gear_classes.csv, each with its source or the mark "common practice";
what comes out for each situation was decided by hand from them.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.support.texts import Outcome, computed

from fedfrom.results.types import GearResult
from fedfrom.tables import load_edition

CASES = tomllib.loads((Path(__file__).parent / "class_situations.toml").read_text(encoding="utf-8"))
SITUATIONS: list[dict[str, Any]] = CASES["situation"]
PINNED: list[dict[str, Any]] = CASES["pinned"]


def program(case: dict[str, Any], kind: str) -> str:
    """The whole text of a situation: a utility, a switchboard ahead where the gear is fed by a feeder, the gear."""
    direct = "DC" in case["volts"]
    source = f"utility UT {{\n voltage {case['volts']}\n fault {case['fault']} at service point, X/R 4\n}}\n"
    if direct:
        source = (
            "utility UT {\n voltage 480Y/277 V\n fault 5 kA at service point, X/R 4\n}\n"
            f"rectifier RC {{\n fed from UT, 20 ft\n rating 10 kW\n secondary {case['volts']}\n}}\n"
        )
    ahead = ""
    name = "RC" if direct else "UT"
    if case.get("feeder", True) and not direct:
        ahead = "switchboard MSB {\n fed from UT, 5 ft\n main lugs\n bus 6000 A\n}\n"
        name = "MSB"
    body = "\n ".join(case["gear"].splitlines())
    place = "" if "place" in case["gear"] else '\n place indoor "Electrical room"'
    gear = f'{kind} G1 "Gear" {{\n fed from {name}, 20 ft\n {body}{place}\n}}\n'
    return f'fedfrom 1\nproject "Test" {{ code NEC 2023 }}\n{source}{ahead}{gear}{case.get("more", "")}\n'


@cache
def outcome(title: str) -> Outcome:
    case = next(each for each in (*SITUATIONS, *PINNED) if each["title"] == title)
    return computed(program(case, case.get("kind", "gear")))


def sentences(gear: GearResult) -> str:
    return " ".join([*gear.why, *(reason for verdict in gear.verdicts for reason in verdict.reasons)])


def test_there_are_at_least_forty() -> None:
    assert len(SITUATIONS) >= 40
    assert len({case["title"] for case in (*SITUATIONS, *PINNED)}) == len(SITUATIONS) + len(PINNED)


@pytest.mark.parametrize("case", SITUATIONS, ids=lambda case: str(case["title"]))
def test_the_lightest_class_that_fits(case: dict[str, Any]) -> None:
    gear = outcome(case["title"]).results.gear["G1"]
    assert gear.gear_class == case["class"], gear.why
    assert case["reason"] in sentences(gear)


@pytest.mark.parametrize("case", PINNED, ids=lambda case: str(case["title"]))
def test_a_pinned_class_is_told_at_the_place_of_the_fact(case: dict[str, Any]) -> None:
    found = outcome(case["title"])
    entry = next(each for each in found.findings if each.rule == "class-limits")
    assert entry.severity.word == case["severity"], entry.message
    assert entry.span is not None
    text = program(case, case["kind"])
    assert text[entry.span.start : entry.span.end].startswith(case["at"]), text[entry.span.start : entry.span.end]
    assert case["help"] in entry.help
    assert ("makers differ" in " ".join(entry.notes)) == (case["severity"] == "warning")


def test_an_error_stands_on_a_published_bound() -> None:
    """A limit on practice alone warns; only one with a source may be an error."""
    for row in load_edition("NEC 2023").rows("gear_classes"):
        if row["severity"] == "error":
            assert row["source"], row


def test_every_sentence_is_a_sentence() -> None:
    """What a customer reads: a capital, a full stop, no hole left by a missing word."""
    for case in SITUATIONS:
        gear = outcome(case["title"]).results.gear["G1"]
        for line in [*gear.why, *(reason for verdict in gear.verdicts for reason in verdict.reasons)]:
            assert line.endswith("."), line
            assert line[0].isupper() or line[0].isdigit(), line
            assert "  " not in line, line
            assert "()" not in line, line
            assert "None" not in line, line
