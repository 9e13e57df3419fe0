"""Risers wider than a sheet go on as risers of their own; feeders between risers are listed with their sheets."""

from __future__ import annotations

from dataclasses import replace

from tests.support import systems

from fedfrom.drawing.check import check
from fedfrom.drawing.papers import paper_named
from fedfrom.drawing.riser_diagram import riser_diagram
from fedfrom.drawing.scene import Label
from fedfrom.drawing.shapes import walk
from fedfrom.model.items import Defaults, Model, Project


def test_a_chain_wider_than_the_sheet_goes_on_elsewhere() -> None:
    sample = systems.System()
    sample.utility("UT")
    sample.service("MSB", "UT")
    last = "MSB"
    for number in range(1, 27):
        last = sample.board(f"DP-{number:02d}", last)
    for tag, item in list(sample.items.items()):
        sample.items[tag] = replace(item, title="Level 1" if tag in ("UT", "MSB") else "Level 2")
    results, network, _ = sample.build()
    results = replace(results, project=replace(results.project, sheet_size="ANSI B"))
    drawing = riser_diagram(results, network, Model(Project(), Defaults(), sample.items))
    assert check(drawing) == ()
    paper = paper_named("ANSI B")
    assert {(sheet.width, sheet.height) for sheet in drawing.sheets} == {(paper.width, paper.height)}
    texts = [[shape.text for shape, _ in walk(sheet.shapes) if isinstance(shape, Label)] for sheet in drawing.sheets]
    for number in range(1, 27):
        assert any(f"DP-{number:02d} *" in words or f"DP-{number:02d}" in words for words in texts), number
    # Where a feeder leaves a sheet, both sheets name it, each with the number of the other one.
    away = [text for words in texts for text in words if " TO " in text and "(E-5" in text]
    assert away
    for text in away:
        source, _, rest = text.partition(" TO ")
        target = rest.partition(":")[0]
        plain = f"{source.partition(' (')[0]} TO {target.partition(' (')[0]}"
        both = [index for index, words in enumerate(texts) if any(_bare(word) == plain for word in words)]
        assert len(both) == 2, text


def _bare(text: str) -> str:
    source, _, rest = text.partition(" TO ")
    return f"{source.partition(' (')[0]} TO {rest.partition(':')[0].partition(' (')[0]}"
