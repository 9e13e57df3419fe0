"""Every program that stands in documents and tests, with the file that holds it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parent.parent.parent
RULES = ROOT / "compiler/fedfrom/rules"

_FENCE = re.compile(r"^```fed(?: parse| file \S+)?\n(.*?)^```$", re.DOTALL | re.MULTILINE)
_SECTION = re.compile(r"^-- (\S+\.fed) --\n(.*?)(?=^-- |\Z)", re.DOTALL | re.MULTILINE)
_TRIPLE = re.compile(r'^    (?:bad|good)="""\\?\n?(.*?)"""', re.DOTALL | re.MULTILINE)
_MEANT_WRONG = re.compile(r"# finding: ")


def whole_files() -> list[Path]:
    """The `.fed` files of the samples, the tests and the starting projects."""
    return [file for folder in ("specs", "tests", "templates") for file in sorted((ROOT / folder).rglob("*.fed"))]


def pages() -> list[Path]:
    """The pages and scripts that hold programs between other text."""
    found = [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "grammar/LANGUAGE.md"]
    for pattern in ("grammar/vocabulary/*.toml", "tests/**/*.md", "tests/**/*.txtar"):
        found += sorted(ROOT.glob(pattern))
    return [file for file in found if file.name != "fmt.txtar"]  # which shows what is not canonical


def rule_files() -> list[Path]:
    """The files of the rules; each holds a bad and a good program."""
    return sorted(file for file in RULES.glob("*.py") if "RULE = Rule(" in file.read_text(encoding="utf-8"))


def programs_in(file: Path) -> Iterator[str]:
    """The programs of a file as they stand in it. One with marks for its mistakes is laid out for the marks."""
    text = file.read_text(encoding="utf-8")
    if file.suffix == ".fed":
        yield text
        return
    if file.suffix == ".py":
        yield from (found[1] for found in _TRIPLE.finditer(text))
        return
    if file.suffix == ".toml":
        yield from (program for program in _of_entries(tomllib.loads(text)) if program in text)
    pattern = _SECTION if file.suffix == ".txtar" else _FENCE
    group = 2 if file.suffix == ".txtar" else 1
    for found in pattern.finditer(text):
        if not _MEANT_WRONG.search(found[group]):
            yield found[group]


def _of_entries(table: Any) -> Iterator[str]:
    if isinstance(table, dict):
        if isinstance(table.get("program"), str):
            yield table["program"]
        for inner in table.values():
            yield from _of_entries(inner)
    elif isinstance(table, list):
        for inner in table:
            yield from _of_entries(inner)


def rewrite(file: Path, change: Callable[[str], str]) -> None:
    """Puts a changed program in the place of each one of a file."""
    text = file.read_text(encoding="utf-8")
    made = text
    for program in programs_in(file):
        made = made.replace(program, change(program))
    if made != text:
        file.write_text(made, encoding="utf-8")
