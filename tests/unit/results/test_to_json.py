"""`results.json` keeps the promises of its schema, and null is the only way to say "not known"."""

from __future__ import annotations

import json
import math
from collections.abc import Callable

import pytest
from jsonschema import Draft202012Validator
from tests.support.results_fixture import dwelling, ugly, works

from fedfrom.results.rounding import rounded
from fedfrom.results.schema import load_schema
from fedfrom.results.to_json import results_bytes, to_json
from fedfrom.rules.registry import Design

DESIGNS = [works, dwelling, ugly]


def test_the_schema_is_a_valid_schema_and_describes_every_name() -> None:
    schema = load_schema()
    Draft202012Validator.check_schema(schema)
    for name, part in schema["$defs"].items():
        assert part["additionalProperties"] is False, name
        for key, value in part["properties"].items():
            assert value.get("description") or "$ref" in value, f"{name}.{key} has no description"


@pytest.mark.parametrize("make", DESIGNS)
def test_results_keep_the_schema(make: Callable[[], Design]) -> None:
    design = make()
    document = json.loads(results_bytes(design.results, design.files))
    assert list(Draft202012Validator(load_schema()).iter_errors(document)) == []


def test_a_wrong_name_or_a_text_for_a_number_breaks_the_schema() -> None:
    design = works()
    document = to_json(design.results, design.files)
    validator = Draft202012Validator(load_schema())
    document["gear"]["MSB"]["bus_a"] = "1600 A"
    assert not validator.is_valid(document)
    document["gear"]["MSB"]["bus_a"] = 1600
    assert validator.is_valid(document)
    document["gear"]["MSB"]["ampacity"] = 1
    assert not validator.is_valid(document)


def test_names_of_the_product_design() -> None:
    """The names in section 6 of the design are the public ones."""
    design = works()
    document = to_json(design.results, design.files)
    gear = document["gear"]["MSB"]
    assert gear["class"] == "switchboard"
    assert (gear["voltage"], gear["bus_a"], gear["main_a"], gear["sccr_a"]) == ("480Y/277 V", 1600, 1600, 65000)
    assert (gear["connected_va"], gear["demand_va"]) == (536000, 529000)
    assert gear["demand_a"] == pytest.approx(636.3, abs=0.05)
    assert (gear["fault_3ph_a"], gear["fault_ll_a"], gear["drop_pct"]) == (38400, 33254.4, 1.6)
    assert [section["kind"] for section in gear["sections"]] == ["utility metering", "main", "distribution"]
    feeder = document["feeders"]["DP1"]
    names = (
        "from",
        "to",
        "length_ft",
        "ocpd_a",
        "poles",
        "sets",
        "phase",
        "neutral",
        "ground",
        "raceway",
        "ampacity_a",
    )
    assert [feeder[name] for name in names] == [
        "MSB", "DP1", 180, 600, 3, 2, "350 kcmil", "none", "1 AWG", "3 inch EMT", 620,
    ]  # fmt: skip
    assert document["circuits"]["LP1"]["2"]["positions"] == [2, 4]


def test_findings_say_line_and_column_where_the_text_is_known() -> None:
    design = works()
    with_files = to_json(design.results, design.files)["findings"]
    assert (with_files[1]["file"], with_files[1]["line"], with_files[1]["column"]) == ("plant.fed", 2, 1)
    assert with_files[2]["line"] is None
    assert to_json(design.results, {})["findings"][1]["line"] is None


def test_unknown_is_null_and_never_zero() -> None:
    design = dwelling()
    gear = to_json(design.results, design.files)["gear"]["LC1"]
    assert gear["sccr_a"] is None
    assert gear["fault_3ph_a"] is None
    bath = to_json(design.results, design.files)["circuits"]["LC1"]["4"]
    assert bath["connected_va"] is None
    assert bath["phase_va"] is None


def test_numbers_are_rounded_by_their_name() -> None:
    assert rounded("demand_a", 312.41579) == 312.42
    assert rounded("demand_va", 100.04) == 100
    assert rounded("r_ohm_per_kft", 0.0621239) == 0.062124
    assert rounded("x_ohm", -0.0) == 0
    assert rounded("any", None) is None
    with pytest.raises(ValueError, match="demand_a"):
        rounded("demand_a", math.nan)
