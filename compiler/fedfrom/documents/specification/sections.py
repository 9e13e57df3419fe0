"""Section templates -> sections: one file a section in `templates/specification`, found by scan, absent when empty."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from fedfrom.documents.specification.facts import SpecFacts
from fedfrom.documents.specification.structure import Section, SpecificationError, parse_section
from fedfrom.documents.words import enclosure_text

if TYPE_CHECKING:
    import jinja2

FOLDER = "specification"
# A longer list of tags is cut, with its count; the schedules have them all.
LONGEST_LIST = 12


def sections_of(facts: SpecFacts) -> tuple[Section, ...]:
    """The sections of a design, by number. A template that renders to nothing is a section that is not needed."""
    environment = _environment()
    names = sorted(name for name in _templates() if not name.startswith("_"))
    sections = []
    for name in names:
        rendered = environment.get_template(name).render(facts=facts, **_context(facts))
        try:
            section = parse_section(rendered)
        except SpecificationError as error:
            raise SpecificationError(f"{name}: {error}") from error
        if section is not None:
            sections.append(section)
    return tuple(sorted(sections, key=lambda each: each.number))


def _context(facts: SpecFacts) -> dict[str, Any]:
    year = facts.code_year
    return {"standards": lambda *keys: [standard_text(key, year) for key in keys if key]}


@cache
def _templates() -> dict[str, str]:
    folder = files("fedfrom.templates") / FOLDER
    found = [entry for entry in folder.iterdir() if entry.name.endswith(".j2")]
    return {entry.name: entry.read_text(encoding="utf-8") for entry in sorted(found, key=lambda each: each.name)}


@cache
def _environment() -> jinja2.Environment:
    import jinja2

    environment = jinja2.Environment(
        loader=jinja2.DictLoader(_templates()),
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        autoescape=False,
        finalize=_finalize,
    )
    environment.filters["tags"] = tag_list
    environment.filters["ka"] = lambda amperes: f"{amperes / 1000:g} kA"
    environment.filters["enclosure"] = enclosure_text
    environment.filters["a"] = lambda amperes: f"{amperes:g} A"
    return environment


def _finalize(value: object) -> str:
    """Text of a value in a template; one line. A value that is not known must be handled by the template."""
    if value is None:
        raise SpecificationError("a template prints a value that is not known")
    text = str(value)
    is_article = text.lstrip().startswith(("==", "- "))  # a macro's output, the only text of several lines
    return text if is_article else " ".join(text.splitlines())


def tag_list(items: Sequence[object]) -> str:
    """ "A, B and C"; a long list is cut with its count."""
    names = [str(item) for item in items]
    if len(names) > LONGEST_LIST:
        return (
            f"{', '.join(names[: LONGEST_LIST - 2])} and {len(names) - LONGEST_LIST + 2} more that the schedules list"
        )
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else "none"


@cache
def _standards() -> dict[str, dict[str, str]]:
    text = (files("fedfrom.templates") / FOLDER / "standards.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def standard_text(key: str, code_year: str) -> str:
    """A standard as the references article lists it. Raises KeyError for an unknown key."""
    entry = _standards()[key]
    edition = code_year if entry.get("edition") == "code" else entry.get("edition", "")
    return f"{entry['number']}{f'-{edition}' if edition else ''}, {entry['title']}."
