"""The calculation book: every derivation stands in it once, in the order of the supply; same bytes each time."""

from __future__ import annotations

import io

import pypdf
from tests.support.samples import sample_design

from fedfrom.documents.calculations import OUTPUT
from fedfrom.documents.calculations.book import chapters, tree_order
from fedfrom.documents.calculations.markdown import book_markdown
from fedfrom.documents.words import CAUTION_TEXT

NAME = "corner-shop"


def test_every_derivation_is_in_the_book_once() -> None:
    design = sample_design(NAME)
    found = chapters(design)
    printed = [each.subject for chapter in found for each in (*chapter.entries, *chapter.circuit_entries)]
    printed += [f"{row[0]}.{form.kind}" for chapter in found for form in chapter.forms for row in form.rows]
    repeated = [name for chapter in found for _, here in chapter.repeated for name in here]
    listed = {row[0] for chapter in found for row in chapter.circuits}
    assert len(printed + repeated) == len(set(printed + repeated))
    missing = set(design.results.derivations) - set(printed) - set(repeated)
    # Where a circuit stands is a column of the table of circuits.
    assert missing == {f"{key}.position" for key in listed if f"{key}.position" in design.results.derivations}
    assert {first for chapter in found for first, _ in chapter.repeated} <= set(printed)


def test_what_feeds_stands_before_what_it_feeds() -> None:
    design = sample_design("clinic")
    order = {tag: place for place, (tag, _) in enumerate(tree_order(design))}
    state = design.plan.normal
    for tag, edge in state.parent.items():
        assert order[design.network.edges[edge].source] < order[tag]
    assert set(order) == {*design.network.nodes, *(tie.tag for tie in design.model.ties)}


def test_repeated_ones_are_the_same_calculation() -> None:
    results = sample_design("bottling-works").results
    pairs = [
        (first, name)
        for chapter in chapters(sample_design("bottling-works"))
        for first, here in chapter.repeated
        for name in here
    ]
    assert len(pairs) > 100
    for first, name in pairs:
        one, other = results.derivations[first], results.derivations[name]
        assert (one.value, one.steps, one.clause) == (other.value, other.steps, other.clause)


def test_markdown_and_pdf() -> None:
    design = sample_design(NAME)
    files = OUTPUT.write(design)
    text = files["calculations.md"].decode()
    assert text == book_markdown(design, chapters(design))
    assert CAUTION_TEXT in text
    assert "### Voltage drop of the circuits" in text
    pages = pypdf.PdfReader(io.BytesIO(files["calculations.pdf"])).pages
    words = "".join(page.extract_text() for page in pages)
    assert len(pages) > 10
    for derivation in list(design.results.derivations)[:5]:
        assert derivation in words
    assert CAUTION_TEXT in words.replace("\n", " ")
