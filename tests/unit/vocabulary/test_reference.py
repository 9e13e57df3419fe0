"""The language reference: up to date, and every design in it reads without a finding."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from fedfrom.findings import Severity
from fedfrom.model.read import read_text
from fedfrom.vocabulary import load_vocabulary
from fedfrom.vocabulary.reference import examples, reading_findings, reference

ROOT = Path(__file__).parents[3]
PAGE = ROOT / "grammar" / "LANGUAGE.md"


def test_page_is_up_to_date() -> None:
    assert PAGE.read_text(encoding="utf-8") == reference(), (
        "grammar/LANGUAGE.md is stale: run `python -m fedfrom.vocabulary.reference > grammar/LANGUAGE.md`"
    )


@pytest.mark.parametrize("example", examples(), ids=range(len(examples())))
def test_every_design_of_the_page_reads_clean(example: str) -> None:
    reading = read_text(example)
    assert reading.model is not None
    assert not reading.model.incomplete
    found = [f"{f.rule}: {f.message}" for f in reading.findings if f.severity > Severity.NOTE]
    assert not found


def test_every_kind_of_item_has_a_section_with_a_design() -> None:
    page = reference()
    for kind in load_vocabulary().item_kinds:
        section = page.split(f"### `{kind}`\n")[1].split("\n### ")[0]
        assert "```fed" in section
        assert f"{kind} " in section


def test_every_finding_of_reading_is_on_the_page() -> None:
    """The rule ids in the source of lowering and building are exactly those that the page lists."""
    model = ROOT / "compiler" / "fedfrom" / "model"
    text = "\n".join(
        p.read_text(encoding="utf-8") for p in sorted(model.glob("*.py")) if p.name.startswith(("low", "build"))
    )
    used = set(re.findall(r'(?:error|Finding)\(\s*"([a-z]+(?:-[a-z]+)+)"', text))
    assert used == set(reading_findings())
