"""Slips of somebody's first text: what is told must be what helps."""

from __future__ import annotations

import pytest

from fedfrom.model.read import read_text

PANEL = "fedfrom 1\nutility UT {{ voltage 208Y/120 V }}\npanelboard LP {{\n fed from UT, 20 ft\n {}\n}}\n"


@pytest.mark.parametrize(
    ("line", "rule", "help_"),
    [
        ("lighting 2000 sqft office", "unknown-unit", "write `2000 ft2`"),
        ('equipment "Z" 10 kW, 0.8 pf', "unknown-unit", "write `power factor 0.8`"),
        ("feeder to LP2", "unknown-word", "a feeder is said in what it feeds: write `fed from TAG, 60 ft, …` there"),
        ("receptacle 5 outlets", "unknown-word", "write `receptacles`"),
        ("main 100 A breaker", "unnamed-value", "write `breaker 100 A`"),
        (
            "75 kVA",
            "unnamed-value",
            "write its name first, as in `rating 75 kVA`, `voltage 480Y/277 V`, `bus 400 A`",
        ),
        ("water heater 4.5 kW", "unknown-word", "write `water-heater`"),
    ],
)
def test_slip_is_told_with_its_remedy(line: str, rule: str, help_: str) -> None:
    found = [finding for finding in read_text(PANEL.format(line)).findings if finding.rule == rule]
    assert [finding.help for finding in found] == [help_]
