"""The specification as DOCX: real heading styles, hanging paragraphs with their labels, header and page numbers."""

from __future__ import annotations

import io
from datetime import datetime
from typing import Any

from fedfrom.documents.office_zip import fixed_zip
from fedfrom.documents.registry import DOCUMENT_EPOCH
from fedfrom.documents.specification.structure import Paragraph, Section, basis_of
from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.results.types import ProjectInfo

FONT = "Arial"
LEVELS = (("Spec Level 1", 0.5), ("Spec Level 2", 0.9), ("Spec Level 3", 1.3))
HANGING = 0.4


def to_docx(project: ProjectInfo, sections: tuple[Section, ...]) -> bytes:
    """All sections as one document, a new page each, and the table of facts behind the clauses at the end."""
    import docx

    document = docx.Document()
    _properties(document, project)
    _page(document, project)
    _styles(document)
    _add(document, project.title or "PROJECT NOT NAMED", "Title")
    line = ", ".join(part for part in (project.number, project.code) if part)
    document.add_paragraph(line)
    document.add_paragraph(CAUTION_TEXT)
    for section in sections:
        document.add_paragraph(f"Section {section.number}\t{section.title}")
    for section in sections:
        _section(document, section)
    _basis(document, sections)
    buffer = io.BytesIO()
    document.save(buffer)
    return fixed_zip(buffer.getvalue())


def _properties(document: Any, project: ProjectInfo) -> None:
    fixed = datetime(*DOCUMENT_EPOCH)
    core = document.core_properties
    core.title = f"{project.title} specification".strip()
    core.author = project.drawn_by
    core.last_modified_by = ""
    core.comments = ""
    core.created = fixed
    core.modified = fixed
    core.revision = 1


def _page(document: Any, project: ProjectInfo) -> None:
    from docx.enum.text import WD_ALIGN_PARAGRAPH
    from docx.shared import Inches

    page = document.sections[0]
    page.page_width, page.page_height = Inches(8.5), Inches(11)
    page.left_margin = page.right_margin = Inches(1)
    page.top_margin = page.bottom_margin = Inches(0.9)
    head = page.header.paragraphs[0]
    head.text = " ".join(part for part in (project.title, project.number) if part)
    foot = page.footer.paragraphs[0]
    foot.alignment = WD_ALIGN_PARAGRAPH.CENTER
    foot.add_run("Page ")
    _field(foot, "PAGE")
    foot.add_run(" of ")
    _field(foot, "NUMPAGES")


def _field(paragraph: Any, code: str) -> None:
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    field = OxmlElement("w:fldSimple")
    field.set(qn("w:instr"), code)
    run = OxmlElement("w:r")
    text = OxmlElement("w:t")
    text.text = "1"
    run.append(text)
    field.append(run)
    paragraph._p.append(field)


def _styles(document: Any) -> None:
    from docx.enum.style import WD_STYLE_TYPE
    from docx.oxml.ns import qn
    from docx.shared import Inches, Pt, RGBColor

    styles = document.styles
    normal = styles["Normal"]
    normal.font.name, normal.font.size = FONT, Pt(10)
    normal.paragraph_format.space_after = Pt(4)
    for name, size, before in (("Title", 20, 0), ("Heading 1", 14, 0), ("Heading 2", 12, 12), ("Heading 3", 10.5, 10)):
        style = styles[name]
        style.font.name, style.font.size, style.font.bold = FONT, Pt(size), True
        style.font.color.rgb = RGBColor(0, 0, 0)
        style.paragraph_format.space_before = Pt(before)
        style.paragraph_format.space_after = Pt(4)
        style.paragraph_format.keep_with_next = True
        for border in style.element.get_or_add_pPr().findall(qn("w:pBdr")):
            style.element.pPr.remove(border)
        fonts = style.element.get_or_add_rPr().get_or_add_rFonts()
        for attribute in list(fonts.attrib):
            if attribute.endswith(("asciiTheme", "hAnsiTheme", "eastAsiaTheme", "cstheme")):
                del fonts.attrib[attribute]
    for name, left in LEVELS:
        style = styles.add_style(name, WD_STYLE_TYPE.PARAGRAPH)
        style.base_style = normal
        style.paragraph_format.left_indent = Inches(left)
        style.paragraph_format.first_line_indent = Inches(-HANGING)
        style.paragraph_format.tab_stops.add_tab_stop(Inches(left))


def _add(document: Any, text: str, style_id: str) -> Any:
    """A paragraph with a style by its id; the library's own way reads all styles again for each paragraph."""
    paragraph = document.add_paragraph(text)
    paragraph._p.style = style_id
    return paragraph


def _section(document: Any, section: Section) -> None:
    heading = _add(document, f"SECTION {section.number} {section.title}", "Heading1")
    heading.paragraph_format.page_break_before = True
    for part in section.parts:
        _add(document, f"PART {part.number} - {part.title}", "Heading2")
        for article in part.articles:
            _add(document, f"{article.number} {article.title}", "Heading3")
            for paragraph in article.paragraphs:
                _paragraph(document, paragraph)
        if not part.articles:
            document.add_paragraph("Not used.")
    document.add_paragraph(f"END OF SECTION {section.number}")


def _paragraph(document: Any, paragraph: Paragraph) -> None:
    _add(document, f"{paragraph.label}\t{paragraph.text}", f"SpecLevel{paragraph.level}")
    for child in paragraph.children:
        _paragraph(document, child)


def _basis(document: Any, sections: tuple[Section, ...]) -> None:
    from docx.shared import Inches

    rows = [basis for section in sections for basis in basis_of(section)]
    heading = _add(document, "BASIS OF CLAUSES", "Heading1")
    heading.paragraph_format.page_break_before = True
    document.add_paragraph("The facts of the design that each clause was written from.")
    table = document.add_table(rows=1, cols=2, style="Table Grid")
    table.autofit = False
    for cell, text in zip(table.rows[0].cells, ("Clause", "Written from"), strict=True):
        cell.paragraphs[0].add_run(text).bold = True
    for basis in rows:
        cells = table.add_row().cells
        cells[0].text, cells[1].text = basis.clause, ", ".join(basis.facts)
    for column, width in zip(table.columns, (Inches(2), Inches(4.5)), strict=True):
        for cell in column.cells:
            cell.width = width
