"""The words for a difference of two statements."""

from __future__ import annotations

import pytest

from fedfrom.changes.wording import difference, quoted


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('motor M "Washer" 25 hp, 60 ft', 'motor M "Washer" 40 hp, 60 ft', "25 hp -> 40 hp"),
        ("fed from MSB, 180 ft", "fed from MSB, 240 ft", "180 ft -> 240 ft"),
        ("fed from MSB, 180 ft", "fed from PDC, 20 ft", "MSB -> PDC; 180 ft -> 20 ft"),
        ("heating 10 kW, 50 ft", "heating 10 kW, continuous, 50 ft", "`continuous` added"),
        ("heating 10 kW, continuous, 50 ft", "heating 10 kW, 50 ft", "`continuous` taken out"),
        ("main breaker 800 A, LSIG", "main breaker 800 A, LSI", "LSIG -> LSI"),
        ("heating 10 kW,   50 ft  # the old one", "heating 10 kW, 50 ft", ""),
        ('lighting "A, B" 1 kVA', 'lighting "A, C" 1 kVA', '"A, B" -> "A, C"'),
        (
            "room A {\n level 1\n facing concrete\n door 4 ft\n}",
            "room A {\n level 1\n}",
            "`facing concrete` taken out; `door 4 ft` taken out",
        ),
        ("receptacles 8 outlets x 2", "receptacles 8 outlets x 3", "2 -> 3"),
    ],
)
def test_only_the_words_that_differ_are_said(old: str, new: str, said: str) -> None:
    assert difference(old, new) == said


def test_a_statement_is_quoted_on_one_line_and_cut_where_it_is_long() -> None:
    assert quoted('  lighting   "Hall"    2 kVA,  60 ft   # note') == 'lighting "Hall" 2 kVA, 60 ft'
    assert len(quoted("note " + "long " * 40)) <= 90
