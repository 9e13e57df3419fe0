"""The written forms: stable, complete, and safe against what a user may have named things."""

from __future__ import annotations

import json

import pytest
from tests.support.changes import PLANT, difference, side

from fedfrom.changes.compare import compare
from fedfrom.changes.render import forms, render_difference
from fedfrom.changes.render.markdown import escaped, render

BIGGER_MOTOR = ("25 hp", "60 hp")


@pytest.mark.parametrize("form", forms())
def test_the_same_sides_say_so_and_nothing_else(form: str) -> None:
    text = render_difference(form, compare(side(PLANT), side(PLANT)))
    assert json.loads(text)["same"] if form == "json" else "nothing differs" in text
    assert "because" not in text or form == "json"


def test_the_same_difference_gives_the_same_text() -> None:
    first = {form: render_difference(form, difference(BIGGER_MOTOR)) for form in forms()}
    side.cache_clear()
    assert {form: render_difference(form, difference(BIGGER_MOTOR)) for form in forms()} == first


def test_json_holds_every_change_by_itself_with_its_chain() -> None:
    found = difference(BIGGER_MOTOR)
    document = json.loads(render_difference("json", found))
    assert document["version"] == 1
    assert len(document["changes"]) == len(found.changes)
    feeder = next(each for each in document["changes"] if each["key"] == "feeder/DP1/conductors")
    assert feeder["because"][-1] == {"text": "DP1 M-1: 25 hp -> 60 hp", "place": found.edits[0].place}
    assert document["edits"][0]["number"] == 1


def test_every_table_row_has_as_many_cells_as_its_head() -> None:
    text = render(difference(BIGGER_MOTOR, ('"North"', '"North | <b>wing</b>"'), ('"Washer"', '"Wash\\\\er *1*"')))
    head = 0
    for line in text.splitlines():
        if line.startswith("|"):
            cells = line.replace("\\|", "").count("|")
            head = head or cells
            assert cells == head, line
        else:
            head = 0
    assert "<b>" not in text
    assert "\\*1\\*" in text


def test_markup_in_names_is_shown_as_text() -> None:
    assert escaped("a | b <script> [x](y) 3 -> 4") == "a \\| b \\<script\\> \\[x\\](y) 3 → 4"
    assert escaped("circuit `motor | 3` added") == "circuit `motor \\| 3` added"
    assert escaped("an odd ` mark") == "an odd ' mark"


def test_a_long_comment_leaves_the_folds_out_first_and_says_so() -> None:
    found = difference(BIGGER_MOTOR)
    whole = render(found)
    shorter = render(found, limit=len(whole) - 1)
    assert "Bill of materials" in whole
    assert "<details><summary>Bill of materials" not in shorter
    assert "left out here" in shorter
    assert "**Written differently**" in render(found, limit=10)
