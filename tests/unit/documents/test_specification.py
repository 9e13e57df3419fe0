"""The specification has one section for each class that is present, and every clause with a fact keeps that fact."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache

import docx
import pytest
from pypdf import PdfReader
from tests.support.bill_fixture import with_bill
from tests.support.results_fixture import breaker, dwelling, ugly, works

from fedfrom.documents.specification import write
from fedfrom.documents.specification.facts import spec_facts
from fedfrom.documents.specification.sections import sections_of, standard_text, tag_list
from fedfrom.documents.specification.structure import (
    PARTS,
    Paragraph,
    Section,
    SpecificationError,
    basis_of,
    label_of,
    parse_section,
)
from fedfrom.documents.specification.wiring_facts import size_rank, trade_size
from fedfrom.model.items import Fact, FactTable, Item, Status
from fedfrom.quantity import Quantity
from fedfrom.rules.registry import Design
from fedfrom.source import Span

DESIGNS = [works, dwelling, ugly]


@cache
def written() -> Mapping[str, bytes]:
    return write(works())


def sections(design: Design) -> dict[str, Section]:
    return {section.number: section for section in sections_of(spec_facts(design))}


def paragraphs(section: Section) -> list[Paragraph]:
    found: list[Paragraph] = []

    def walk(items: list[Paragraph]) -> None:
        for item in items:
            found.append(item)
            walk(item.children)

    for part in section.parts:
        for article in part.articles:
            walk(article.paragraphs)
    return found


def text_of(section: Section) -> str:
    return "\n".join(paragraph.text for paragraph in paragraphs(section))


def with_gear(design: Design, tag: str, **changes: object) -> Design:
    gear = {**design.results.gear, tag: replace(design.results.gear[tag], **changes)}  # type: ignore[arg-type]
    return replace(design, results=replace(design.results, gear=gear))


def with_fact(design: Design, tag: str, fact: Fact) -> Design:
    item: Item = design.model.items[tag]
    changed = replace(item, facts=FactTable((*item.facts.facts, fact)))
    return replace(design, model=replace(design.model, items={**design.model.items, tag: changed}))


def test_one_section_a_class_present_and_none_else() -> None:
    assert list(sections(works())) == [
        "26 05 19", "26 05 26", "26 05 33", "26 05 53", "26 05 73", "26 22 13", "26 24 13", "26 24 16", "26 24 19",
        "26 27 13", "26 32 13", "26 36 23",
    ]  # fmt: skip
    assert list(sections(dwelling())) == ["26 05 19", "26 05 26", "26 05 33", "26 05 53", "26 05 73", "26 24 16"]


@pytest.mark.parametrize("make", DESIGNS)
def test_every_section_has_three_parts_with_articles(make: Callable[[], Design]) -> None:
    for section in sections(make()).values():
        assert tuple(part.title for part in section.parts) == PARTS
        assert all(part.articles for part in section.parts), section.number
        for part in section.parts:
            numbers = [article.number for article in part.articles]
            assert numbers == [f"{part.number}.{index}" for index in range(1, len(numbers) + 1)]


@pytest.mark.parametrize("make", DESIGNS)
def test_no_clause_is_half_written(make: Callable[[], Design]) -> None:
    for section in sections(make()).values():
        for paragraph in paragraphs(section):
            text = paragraph.text
            assert not re.search(r"\bNone\b|\[\[|\]\]|\{|\}| ,|,,|: \.|\(\)|  ", text), (section.number, text)
            assert text[-1] in ".:)", (section.number, text)
            assert text[0].isupper() or not text[0].isalpha() or "-" in text.split()[0], (section.number, text)


def test_ratings_come_from_the_schedules() -> None:
    found = sections(works())
    assert "MSB: 480Y/277 V, through bus 1600 A, Al, short-circuit rating not less than 65 kA" in text_of(
        found["26 24 13"]
    )
    assert "the highest in this project is 35 kA at DP1" in text_of(found["26 24 16"])
    assert "short-circuit rating not less than 65 kA" in text_of(found["26 24 19"])
    assert "withstand" in text_of(found["26 36 23"]).lower()


def test_what_is_not_established_is_not_released() -> None:
    found = sections(dwelling())
    assert "Rating NOT ESTABLISHED, not to be released" in text_of(found["26 24 16"])
    assert "UT: the utility's fault current is NOT KNOWN" in text_of(found["26 05 73"])


def test_conditional_clauses_follow_the_design() -> None:
    ground_fault = "Ground-fault protection of equipment at MSB.main"
    assert ground_fault in text_of(sections(works())["26 24 13"])
    plain = with_gear(works(), "MSB", main=breaker(1600, 3, "LSI"))
    assert ground_fault not in text_of(sections(plain)["26 24 13"])
    fused = with_gear(works(), "MSB", main=replace(breaker(1600, 3, fuse=1600.0), kind="fused switch"))
    found = sections(with_bill(fused))
    assert "26 28 13" in found
    assert "Class L" in text_of(found["26 28 13"])
    assert "3" in text_of(found["26 28 13"])
    assert "UL 98, Enclosed and Dead-Front Switches." in text_of(found["26 24 13"])


def test_series_ratings_are_named_or_refused() -> None:
    assert "Series ratings are not accepted" in text_of(sections(works())["26 24 13"])
    series = with_gear(works(), "LP1", sccr_basis="series rated with T1.secondary")
    assert "Series ratings are accepted only at LP1" in text_of(sections(series)["26 24 16"])


def test_aluminum_is_stated_or_refused() -> None:
    assert "All conductors are copper" in text_of(sections(works())["26 05 19"])
    found = text_of(sections(dwelling())["26 05 19"])
    assert "8000-series alloy" in found
    assert "4/0 AWG and larger, and only in these runs: LC1" in found


def test_existing_gear_and_gear_by_others_is_not_specified() -> None:
    assert "26 24 19" not in sections(with_gear(works(), "MCC1", status=Status.EXISTING))
    assert "26 24 19" not in sections(with_gear(works(), "MCC1", by="owner"))


def test_what_is_removed_has_a_section() -> None:
    found = sections(with_bill(works()))
    assert "Remove: branch circuit LP1.6 Old oven (LP1.6)." in text_of(found["26 05 05"])


def test_a_stated_surge_device_makes_its_section() -> None:
    fact = Fact("surge device", {"current": Quantity.of(200, "kA")}, {}, Span("plant.fed", 0, 1))
    found = sections(with_fact(works(), "MSB", fact))
    assert "surge current not less than 200 kA" in text_of(found["26 43 13"])
    assert "not less than 38.4 kA" in text_of(found["26 43 13"])


@pytest.mark.parametrize(
    "kind", ["busway", "pdu", "isolated power panel", "meter center", "disconnect", "fire pump controller"]
)
def test_each_kind_of_gear_has_its_section(kind: str) -> None:
    section = {
        "busway": "26 25 00", "pdu": "26 26 00", "isolated power panel": "26 26 00", "meter center": "26 27 13",
        "disconnect": "26 28 16", "fire pump controller": "26 29 13",
    }[kind]  # fmt: skip
    found = sections(with_gear(works(), "EP1", gear_class=kind))
    assert "EP1" in text_of(found[section])
    unknown = sections(with_gear(works(), "EP1", gear_class=kind, sccr_a=None, bus_a=None, system=None, enclosure=""))
    assert "NOT ESTABLISHED" in text_of(unknown[section])


def test_every_fact_is_listed_with_its_clause() -> None:
    basis = {entry.clause: entry.facts for section in sections(works()).values() for entry in basis_of(section)}
    assert ("MSB.bus", "MSB.sccr") in basis.values()
    markdown = written()["specification.md"].decode()
    for clause in basis:
        assert f"| {clause} |" in markdown


def test_user_text_is_text_in_markdown() -> None:
    design = works()
    project = replace(design.results.project, title="Hall <b> | *one* [x](y)")
    text = write(replace(design, results=replace(design.results, project=project)))["specification.md"].decode()
    assert "Hall \\<b\\> \\| \\*one\\* \\[x\\](y)" in text


def test_user_text_of_several_lines_stays_one_clause() -> None:
    design = with_gear(works(), "MSB", title="Main\n== board\n- and more")
    assert "Main == board - and more" in text_of(sections(design)["26 24 13"])


def test_docx_has_real_styles_and_page_numbers() -> None:
    document = docx.Document(io.BytesIO(written()["specification.docx"]))
    styles = [paragraph.style.name for paragraph in document.paragraphs if paragraph.style is not None]
    assert styles.count("Heading 1") == 13
    assert {"Title", "Heading 2", "Heading 3", "Spec Level 1", "Spec Level 2"} <= set(styles)
    footer = document.sections[0].footer._element.xml
    assert "PAGE" in footer
    assert "NUMPAGES" in footer
    assert len(document.tables) == 1


def test_three_formats_say_the_same() -> None:
    files = written()
    markdown = files["specification.md"].decode().replace("\\", "")
    document = docx.Document(io.BytesIO(files["specification.docx"]))
    words = " ".join(paragraph.text for paragraph in document.paragraphs)
    pdf = "".join(page.extract_text() for page in PdfReader(io.BytesIO(files["specification.pdf"])).pages)
    pdf = re.sub(r"[\s\u200b]+", "", pdf)
    for section in sections(works()).values():
        for paragraph in paragraphs(section):
            assert paragraph.text in markdown
            assert paragraph.text in words
            assert re.sub(r"\s+", "", paragraph.text) in pdf, paragraph.text


def test_no_brand_no_web_address() -> None:
    text = written()["specification.md"].decode()
    assert not re.search(r"https?:|www\.|\.com\b", text)


def test_structure_refuses_what_is_no_part_of_it() -> None:
    for text, message in (
        ("- loose", "before the section"),
        ("= 26 24 13 A\n% GENERAL\n== B\nplain", "neither article nor paragraph"),
        ("= 26 24 13 A\n% GENERAL\n== B\n-- too deep", "without one above"),
        ("= 26 24 13 A\n% GENERAL\n== B\n- x", "three parts"),
        ("= 26 24 A", "not a section number"),
    ):
        with pytest.raises(SpecificationError, match=message):
            parse_section(text)
    assert parse_section("\n \n") is None


def test_labels() -> None:
    assert [label_of(1, at) for at in (0, 25, 26, 27)] == ["A.", "Z.", "AA.", "AB."]
    assert [label_of(2, at) for at in (0, 9)] == ["1.", "10."]
    assert label_of(3, 1) == "b."


def test_standards_are_dated_where_known() -> None:
    assert standard_text("nfpa70", "2023") == "NFPA 70-2023, National Electrical Code."
    assert standard_text("ul891", "2023") == "UL 891, Switchboards."
    with pytest.raises(KeyError):
        standard_text("ul000", "2023")


def test_long_lists_are_cut_with_their_count() -> None:
    assert tag_list([]) == "none"
    assert tag_list(["A"]) == "A"
    assert tag_list(["A", "B", "C"]) == "A, B and C"
    assert tag_list([f"P{at}" for at in range(40)]).endswith("P9 and 30 more that the schedules list")


def test_sizes_are_in_order() -> None:
    sizes = ["14", "12", "1", "1/0", "4/0", "250", "1000"]
    assert sorted(sizes, key=size_rank) == sizes
    assert [trade_size(text) for text in ("1/2", "1", "1-1/4", "3-1/2")] == [0.5, 1.0, 1.25, 3.5]
