"""The written specification: CSI sections of three parts, one for each class of gear that is present.

Input: `Design`. Output: `specification.md`, `.docx` and `.pdf`, from one neutral structure that the templates give.
"""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design

FILES = ("specification.md", "specification.docx", "specification.pdf")


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.specification.docx import to_docx
    from fedfrom.documents.specification.facts import spec_facts
    from fedfrom.documents.specification.markdown import to_markdown
    from fedfrom.documents.specification.pdf import to_pdf
    from fedfrom.documents.specification.sections import sections_of

    project = design.results.project
    sections = sections_of(spec_facts(design))
    return {
        "specification.md": to_markdown(project, sections),
        "specification.docx": to_docx(project, sections),
        "specification.pdf": to_pdf(project, sections),
    }


OUTPUT = Output("specification", "Specification (CSI sections)", FILES, write)
