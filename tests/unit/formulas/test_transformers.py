"""Transformers, taps and secondary conductors, against worked examples."""

import pytest

from fedfrom.formulas import taps, transformers
from fedfrom.formulas.overcurrent import greatest_device
from fedfrom.tables import load_edition, lookup

EDITION = load_edition("NEC 2023")
RATINGS = lookup.standard_ratings(EDITION)


def test_300_kva_secondary_device() -> None:
    # source: examination forum: 300 kVA at 480 V: 360.84 A, 125 % = 451 A -> 500 A permitted
    rated = transformers.rated_current(300, 480, 3)
    assert rated == pytest.approx(360.84, abs=0.1)
    pct, next_up = lookup.transformer_device_pct(EDITION, "primary_and_secondary", "secondary", rated) or (0, False)
    assert (pct, next_up) == (125, True)
    assert transformers.greatest_device(rated, pct, next_up, RATINGS) == 500


def test_75_kva_with_secondary_of_15_ft() -> None:
    # source: trade association, question of the day 2026 (208 A); the rest recomputed
    secondary, primary = transformers.rated_current(75, 208, 3), transformers.rated_current(75, 480, 3)
    assert secondary == pytest.approx(208.2, abs=0.3)
    pct, next_up = lookup.transformer_device_pct(EDITION, "primary_and_secondary", "primary", primary) or (0, True)
    assert (pct, next_up) == (250, False)
    assert transformers.greatest_device(primary, pct, next_up, RATINGS) == 225
    assert transformers.greatest_device(secondary, 125, True, RATINGS) == 300
    assert greatest_device(lookup.ampacity(EDITION, "Cu", "4/0", 75) or 0, RATINGS, next_size_up=False) == 225


def test_primary_only_protection() -> None:
    # source: NEC Table 450.3(B): 125 % with next size up from 9 A, 167 % from 2 A, 300 % below
    assert lookup.transformer_device_pct(EDITION, "primary_only", "primary", 90) == (125, True)
    assert lookup.transformer_device_pct(EDITION, "primary_only", "primary", 5) == (167, False)
    assert lookup.transformer_device_pct(EDITION, "primary_only", "primary", 1.5) == (300, False)


def test_standard_sizes() -> None:
    # source: 10 CFR 431.196
    sizes = lookup.transformer_sizes_kva(EDITION, 3)
    assert transformers.transformer_size(46, sizes) == 75
    assert transformers.transformer_size(75, sizes) == 75
    assert transformers.transformer_size(99_999, sizes) is None
    assert 37.5 in lookup.transformer_sizes_kva(EDITION, 1)


def test_generator_conductor() -> None:
    # source: NEC 445.13(A): 115 % of nameplate current
    assert transformers.generator_conductor(225.5) == pytest.approx(259.3, abs=0.05)


def test_tap_rules_by_length() -> None:
    # source: NEC 240.21(C)(2), (C)(6)
    rules = [
        taps.TapRule("secondary_10_ft", "240.21(C)(2)", "secondary", 10, 0.1),
        taps.TapRule("secondary_25_ft", "240.21(C)(6)", "secondary", 25, 1 / 3),
    ]
    assert (taps.rule_for_length(rules, "secondary", 10) or rules[1]).key == "secondary_10_ft"
    assert (taps.rule_for_length(rules, "secondary", 15) or rules[0]).key == "secondary_25_ft"
    assert taps.rule_for_length(rules, "secondary", 26) is None
    # 110 A primary device, 480 to 208 V: one third of 110 x 480/208
    assert taps.tap_ampacity(110, 1 / 3, 480 / 208) == pytest.approx(84.6, abs=0.05)
