"""The neutral form of a specification: sections of three parts, numbered articles, paragraphs of three levels.

Templates write it as lines: `= 26 24 16 PANELBOARDS` a section, `% GENERAL` a part, `== SUMMARY` an article, `-`, `--`
and `---` paragraphs (A. 1. a.). `[[MSB.bus; MSB.main]]` at its end names the facts that a paragraph was written from.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

PARTS = ("GENERAL", "PRODUCTS", "EXECUTION")
_FACTS = re.compile(r"\s*\[\[([^\[\]]*)\]\]\s*$")


class SpecificationError(Exception):
    """A template wrote a line that is no part of the neutral form: a bug, found by the tests."""


@dataclass(slots=True)
class Paragraph:
    """A paragraph: level 1 to 3, its label ("A.", "1.", "a."), text, facts and the paragraphs under it."""

    level: int
    label: str
    text: str
    facts: tuple[str, ...]
    children: list[Paragraph] = field(default_factory=list)


@dataclass(slots=True)
class Article:
    """An article: "1.1 SUMMARY"."""

    number: str
    title: str
    paragraphs: list[Paragraph] = field(default_factory=list)


@dataclass(slots=True)
class Part:
    """A part: "PART 1 - GENERAL"."""

    number: int
    title: str
    articles: list[Article] = field(default_factory=list)


@dataclass(slots=True)
class Section:
    """A section: number "26 24 16" and title."""

    number: str
    title: str
    parts: list[Part] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Basis:
    """Which facts a clause was written from: "26 24 16, 2.1.A" and the facts."""

    clause: str
    facts: tuple[str, ...]


def parse_section(text: str) -> Section | None:
    """The section that a rendered template holds, None for an empty one. Raises SpecificationError for a stray line."""
    section: Section | None = None
    open_paragraphs: list[Paragraph] = []
    for number, line in enumerate(text.splitlines(), 1):
        line = line.strip()
        if not line:
            continue
        mark, _, rest = line.partition(" ")
        if mark == "=":
            section = _section(rest)
        elif section is None:
            raise SpecificationError(f"line {number}: text before the section line: {line!r}")
        elif mark == "%":
            section.parts.append(Part(len(section.parts) + 1, rest))
        elif mark == "==":
            part = section.parts[-1]
            part.articles.append(Article(f"{part.number}.{len(part.articles) + 1}", rest))
            open_paragraphs = []
        elif mark in {"-", "--", "---"}:
            _add(section.parts[-1].articles[-1], len(mark), rest, open_paragraphs)
        else:
            raise SpecificationError(f"line {number}: neither article nor paragraph: {line!r}")
    return _checked(section)


def _section(rest: str) -> Section:
    match = re.fullmatch(r"(\d\d \d\d \d\d(?:\.\d+)?) (.+)", rest)
    if match is None:
        raise SpecificationError(f"not a section number and title: {rest!r}")
    return Section(match[1], match[2])


def _checked(section: Section | None) -> Section | None:
    if section is None:
        return None
    if tuple(part.title for part in section.parts) != PARTS:
        raise SpecificationError(f"section {section.number} does not have the three parts")
    for part in section.parts:
        part.articles = [article for article in part.articles if article.paragraphs]
        for index, article in enumerate(part.articles, 1):
            article.number = f"{part.number}.{index}"
    return section


def _add(article: Article, level: int, text: str, open_paragraphs: list[Paragraph]) -> None:
    match = _FACTS.search(text)
    facts = tuple(fact.strip() for fact in match[1].split(";") if fact.strip()) if match else ()
    body = " ".join((text[: match.start()] if match else text).split())
    del open_paragraphs[level - 1 :]
    if len(open_paragraphs) < level - 1:
        raise SpecificationError(f"a paragraph of level {level} without one above: {text!r}")
    siblings = open_paragraphs[-1].children if open_paragraphs else article.paragraphs
    paragraph = Paragraph(level, label_of(level, len(siblings)), body, facts)
    siblings.append(paragraph)
    open_paragraphs.append(paragraph)


def label_of(level: int, index: int) -> str:
    """The label of a paragraph: A. B. … Z. AA., 1. 2., a. b."""
    if level == 2:
        return f"{index + 1}."
    letters = ""
    number = index + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}." if level == 1 else f"{letters.lower()}."


def basis_of(section: Section) -> list[Basis]:
    """The clauses of a section that rest on facts of the design, in order."""
    found: list[Basis] = []

    def walk(paragraphs: list[Paragraph], before: str) -> None:
        for paragraph in paragraphs:
            clause = f"{before}.{paragraph.label.rstrip('.')}"
            if paragraph.facts:
                found.append(Basis(f"{section.number}, {clause}", paragraph.facts))
            walk(paragraph.children, clause)

    for part in section.parts:
        for article in part.articles:
            walk(article.paragraphs, article.number)
    return found
