"""The specification as Markdown."""

from __future__ import annotations

from fedfrom.documents.specification.structure import Paragraph, Section, basis_of
from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.results.types import ProjectInfo

# Characters that would start markup in the middle of a line; user text may hold any of them.
_ESCAPED = str.maketrans({character: f"\\{character}" for character in "\\`*_<>[]#|~"})


def to_markdown(project: ProjectInfo, sections: tuple[Section, ...]) -> bytes:
    """All sections as one text, with the facts behind each clause as comments and a table of them at the end."""
    lines = [f"# Specification: {escape(project.title or 'project not named')}", ""]
    facts = [project.number, project.code]
    lines += [", ".join(escape(fact) for fact in facts if fact), "", f"*{CAUTION_TEXT}*", ""]
    lines += [f"- Section {section.number} {section.title}" for section in sections]
    for section in sections:
        lines += ["", f"## SECTION {section.number} {section.title}"]
        for part in section.parts:
            lines += ["", f"### PART {part.number} - {part.title}"]
            for article in part.articles:
                lines += ["", f"#### {article.number} {article.title}", ""]
                for paragraph in article.paragraphs:
                    _paragraph(paragraph, lines)
            if not part.articles:
                lines += ["", "Not used."]
        lines += ["", f"END OF SECTION {section.number}"]
    lines += ["", "## BASIS OF CLAUSES", "", "| Clause | Written from |", "|---|---|"]
    for section in sections:
        for basis in basis_of(section):
            lines.append(f"| {basis.clause} | {escape(', '.join(basis.facts))} |")
    return ("\n".join(lines) + "\n").encode()


def escape(text: str) -> str:
    """Text as Markdown shows it unchanged."""
    return text.translate(_ESCAPED)


def _paragraph(paragraph: Paragraph, lines: list[str]) -> None:
    indent = "    " * (paragraph.level - 1)
    # "A." and "a." are no list marks in Markdown; a bullet with the label keeps the levels and the labels.
    lines.append(f"{indent}- **{paragraph.label}** {escape(paragraph.text)}")
    for child in paragraph.children:
        _paragraph(child, lines)
