"""Rules on the network, loads, circuits, acceptances and expectations: cases beside the programs of the rules."""

from __future__ import annotations

import pytest
from tests.support.texts import compiled

from fedfrom.findings import Severity

PANEL = """fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage 208Y/120 V
    fault   9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from UT, 20 ft
    main     breaker 225 A
    place    indoor "Electrical room"
"""


# --- acceptances ---------------------------------------------------------------------------------------------------

BALANCE = """    equipment "Kiosk 1" 1.5 kVA, 120 V, 30 ft
    2 equipment "Kiosk 2" 1.5 kVA, 120 V, 30 ft
    1 lighting "Hall" 3 kVA, 60 ft
"""


def test_accepted_findings_move_with_their_reason() -> None:
    outcome = compiled(PANEL + BALANCE + '}\naccept general-circuit on MDP.1 because "owner letter"\n')
    assert outcome.of_rule("general-circuit") == ()
    assert [(f.subject, reason) for f, reason in outcome.results.accepted] == [("MDP.1", "owner letter")]
    assert outcome.results.rule_counts["general-circuit"] == 0


def test_accept_by_gear_and_name() -> None:
    outcome = compiled(PANEL + BALANCE + '}\naccept general-circuit on MDP "Hall" because "owner letter"\n')
    assert outcome.of_rule("general-circuit") == ()
    assert outcome.of_rule("accept-unused") == ()


def test_chosen_position_may_not_be_named() -> None:
    outcome = compiled(PANEL + BALANCE + '}\naccept drop-branch on MDP.3 because "owner letter"\n')
    messages = [finding.message for finding in outcome.of_rule("accept-unused")]
    assert messages == ["position MDP.3 was chosen, not written; what stands there may change"]


def test_unknown_rule_has_near_misses() -> None:
    outcome = compiled(PANEL + '}\naccept general-circuits on MDP.1 because "owner letter"\n')
    finding = outcome.of_rule("accept-unused")[0]
    assert finding.message == "there is no rule general-circuits"
    assert "general-circuit" in finding.help


# --- expectations --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("expectation", "met"),
    [
        ("fault at MDP <= 10 kA", True),
        ("fault at MDP <= 8 kA", False),
        ("demand at MDP <= 60 A", True),
        ("demand at MDP <= 10 kVA", False),
        ("load at MDP >= 12 kVA", True),
        ("drop at MDP <= 2 %", True),
        ("spare amperes at MDP >= 100 A", True),
        ("spare poles at MDP >= 9", True),
        ("spare poles at MDP >= 40", False),
    ],
)
def test_every_measure(expectation: str, met: bool) -> None:
    text = PANEL + f'    equipment "Press" 12 kVA, 208 V 3-phase, 30 ft\n}}\nexpect {expectation}\n'
    outcome = compiled(text)
    assert [entry.met for entry in outcome.results.expectations] == [met]
    assert (outcome.of_rule("expectation-unmet") == ()) is met


def test_unknown_is_not_met_and_says_what_it_needs() -> None:
    text = PANEL + '    equipment "Press", 208 V 3-phase, 30 ft\n}\nexpect demand at MDP <= 60 A\n'
    outcome = compiled(text)
    assert outcome.results.expectations[0].met is None
    finding = outcome.of_rule("expectation-unmet")[0]
    assert finding.severity is Severity.NOT_CHECKED
    assert "needs every load below MDP" in finding.message


# --- single rules --------------------------------------------------------------------------------------------------


def test_spare_poles_of_a_written_size() -> None:
    text = PANEL + '    positions 12\n    growth poles 50 %\n    equipment "Kiosk" 1 kVA, 120 V, 30 ft x 10\n}\n'
    messages = [finding.message for finding in compiled(text).of_rule("spare-capacity")]
    assert messages == ["MDP has 2 spare poles for 10 in use, less than the 50 % asked for"]


def test_existing_gear_needs_its_bus() -> None:
    text = PANEL.replace("panelboard", "existing panelboard").replace("    main     breaker 225 A\n", "    main lugs\n")
    text += """    1 equipment "Old" 1 kVA, 120 V, 30 ft, breaker 20 A
    new equipment "Press" 6 kVA, 208 V 3-phase, 30 ft
}
"""
    found = compiled(text).of_rule("status-consistent")
    assert [finding.severity for finding in found] == [Severity.NOT_CHECKED]


def test_hundred_percent_rated_main_carries_its_rating() -> None:
    load = '    equipment "Oven" 60 kVA, 208 V 3-phase, continuous, 30 ft\n}\n'
    plain = compiled(PANEL.replace("225 A", "175 A") + load)
    rated = compiled(PANEL.replace("225 A", "175 A, 100 % rated") + load)
    assert len(plain.of_rule("panel-overload")) == 1
    assert rated.of_rule("panel-overload") == ()


def test_digest_names_the_content_not_the_place() -> None:
    text = PANEL + '    equipment "Press" 12 kVA, 208 V 3-phase, 30 ft\n}\n'
    moved = text.replace("project", "\n\n# a remark\nproject")
    changed = text.replace("12 kVA", "13 kVA")
    digests = [compiled(each).results.digest for each in (text, moved, changed)]
    assert digests[0] == digests[1] != digests[2]
    assert len(digests[0]) == 10
