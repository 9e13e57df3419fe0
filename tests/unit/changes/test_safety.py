"""What lowers safety stands first and is marked; what does not is not."""

from __future__ import annotations

import pytest
from tests.support.changes import PLANT, changed, difference, side

from fedfrom.changes.compare import compare
from fedfrom.changes.render import render_difference
from fedfrom.changes.types import Difference


def marks(found: Difference) -> set[str]:
    return {each.lowers for part in (found.edits, found.changes, found.findings) for each in part if each.lowers}


LOWERING = {
    ("expect fault at LP1 <= 14 kA\n", ""): "an expectation is taken out",
    ("<= 700 A", "<= 750 A"): "an expectation is loosened",
    ("LSIG", "LSI"): "ground-fault protection lost",
    ("    electrode  water pipe, 30 ft\n", ""): "a grounding electrode is taken out",
    ("feeder 2 %", "feeder 4 %"): "a voltage drop limit is raised",
    ("30 kA at service point, X/R 8", '14 kA at service point, X/R 8 assumed because "letter pending"'): "now assumed",
    (", 120 ft", ""): "no longer checked",
}


def test_each_is_marked() -> None:
    found = difference(*LOWERING)
    assert set(LOWERING.values()) | {"rating reduced", "a new error"} <= marks(found)
    assert found.lowering == len(
        [each for part in (found.edits, found.changes, found.findings) for each in part if each.lowers]
    )


@pytest.mark.parametrize("edit", [("25 hp", "20 hp"), ("<= 14 kA", "<= 12 kA"), ("feeder 2 %", "feeder 1.5 %")])
def test_a_smaller_load_or_a_stricter_limit_is_not_marked(edit: tuple[str, str]) -> None:
    assert marks(difference(edit)) <= {"rating reduced"} if "hp" in edit[0] else not marks(difference(edit))


def test_an_accepted_finding_is_marked_once_with_its_reason() -> None:
    rule, subject = next((f.rule, f.subject) for f in side(PLANT).results.findings if f.subject == "MSB")
    text = PLANT + f'accept {rule} on {subject} because "agreed with the owner"\n'
    found = compare(side(PLANT), side(text))
    accepted = [each for each in found.findings if each.kind == "accepted"]
    assert [(each.rule, each.lowers, each.reason) for each in accepted] == [
        (rule, "a finding is accepted", "agreed with the owner")
    ]
    assert found.lowering == 1
    back = compare(side(text), side(PLANT))
    assert [each.kind for each in back.findings if each.rule == rule] == ["no longer accepted"]
    assert not back.lowering


def test_a_value_that_is_no_longer_known_is_marked() -> None:
    found = compare(side(PLANT), side(changed(("    fault    30 kA at service point, X/R 8\n", ""))))
    lost = [each for each in found.changes if each.lowers == "no longer known"]
    assert "fault/MSB" in {each.key for each in lost}
    assert {each.after for each in lost} == {"not known"}


def test_what_lowers_safety_stands_first_in_every_written_form() -> None:
    found = difference(("30 kA", "14 kA"), ("25 hp", "60 hp"))
    assert found.changes[0].lowers
    text = render_difference("text", found)
    assert text.index("Lowers safety") < text.index("Written differently")
    markdown = render_difference("markdown", found)
    assert markdown.index("Lowers safety") < markdown.index("**Written differently**")
