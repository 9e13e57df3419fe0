"""The specification as PDF: the structure as JSON, layout in `templates/specification/specification.typ`."""

from __future__ import annotations

from typing import Any

from fedfrom.documents.specification.structure import Paragraph, Section, basis_of
from fedfrom.documents.typst_pdf import compile_pdf
from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.results.types import ProjectInfo


def to_pdf(project: ProjectInfo, sections: tuple[Section, ...]) -> bytes:
    """All sections as one letter-size document, tagged for screen readers."""
    data = {
        "project": project.title or "PROJECT NOT NAMED",
        "number": project.number,
        "code": project.code,
        "caution": CAUTION_TEXT,
        "sections": [_section(section) for section in sections],
        "basis": [[basis.clause, ", ".join(basis.facts)] for section in sections for basis in basis_of(section)],
    }
    return compile_pdf(("specification/specification.typ",), data, tags=True)


def _section(section: Section) -> dict[str, Any]:
    parts = [
        {
            "title": f"PART {part.number} - {part.title}",
            "articles": [
                {
                    "title": f"{article.number} {article.title}",
                    "paragraphs": [each for paragraph in article.paragraphs for each in _flat(paragraph)],
                }
                for article in part.articles
            ],
        }
        for part in section.parts
    ]
    return {"number": section.number, "title": section.title, "parts": parts}


def _flat(paragraph: Paragraph) -> list[dict[str, Any]]:
    own = {"level": paragraph.level, "label": paragraph.label, "text": paragraph.text}
    return [own, *(each for child in paragraph.children for each in _flat(child))]
