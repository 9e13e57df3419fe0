"""Runs the language tests that are written as Markdown: every `fed` block of every `*.md` in this folder.

- ` ```fed parse `: only the reading of the text into a tree. ` ```fed `: the whole reading, up to the model.
- ` ```csv NAME `: a file that the `fed` block after it may ask for (so may ` ```fed file NAME `).
- `# finding: rule "words"` at the end of a line: exactly this finding starts on this line, and its message holds the
  words. On a line of its own it speaks of the nearest line above it without such a mark (for a line whose end is
  broken).
- Every warning and error must be marked; a block without marks has none. Notes and what is not checked may be marked.
- ` ```text ` directly after a `fed` block: all its findings as they are printed, exactly; after a block with marks,
  some of what is printed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from fedfrom.findings import Finding, Severity
from fedfrom.findings.render.text import render
from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file

HERE = Path(__file__).parent
NAME = "test.fed"
FENCE = re.compile(r"^```(?P<info>.*)$")
MARK = re.compile(r"[ \t]*#[ ]finding:[ ](?P<rule>[\w\-]+)(?:[ ]\"(?P<words>.*)\")?[ \t]*$")


@dataclass
class Block:
    """A `fed` block: its text, the files that it may ask for, and the text that its findings are printed as."""

    page: str
    title: str
    line: int
    text: str
    whole: bool
    files: dict[str, str]
    printed: str | None = None

    @property
    def name(self) -> str:
        return f"{self.page}:{self.line} {self.title}"


@dataclass
class _Page:
    blocks: list[Block] = field(default_factory=list)
    files: dict[str, str] = field(default_factory=dict)
    after_block: bool = False


def blocks_of(path: Path) -> list[Block]:
    """The `fed` blocks of a page, in order."""
    page = _Page()
    title = ""
    lines = path.read_text(encoding="utf-8").split("\n")
    number = 0
    while number < len(lines):
        fence = FENCE.match(lines[number])
        if lines[number].startswith("#"):
            title = lines[number].strip("# ")
        if fence is None:
            page.after_block = page.after_block and not lines[number].strip()
            number += 1
            continue
        end = next(later for later in range(number + 1, len(lines)) if lines[later].rstrip() == "```")
        _add(page, path.name, title, number + 2, fence["info"].split(), "\n".join(lines[number + 1 : end]) + "\n")
        number = end + 1
    return page.blocks


def _add(page: _Page, name: str, title: str, line: int, info: list[str], text: str) -> None:
    match info:
        case ["fed"] | ["fed", "parse"]:
            page.blocks.append(Block(name, title, line, text, info == ["fed"], page.files))
            page.files = {}
            page.after_block = True
            return
        case ["fed", "file", file] | ["csv", file]:
            page.files[file] = text
        case ["text"] if page.after_block:
            page.blocks[-1].printed = text
        case ["fed" | "csv", *_]:
            raise AssertionError(f"{name}:{line}: unknown kind of block: {' '.join(info)}")
    page.after_block = False


def expected(text: str) -> list[tuple[int, str, str]]:
    """(line from 1, rule, words) for each mark."""
    marks = []
    last_line = 0
    for number, line in enumerate(text.split("\n"), start=1):
        match = MARK.search(line)
        if match is None:
            last_line = number
            continue
        own_line = not line[: match.start()].strip()
        if not own_line:
            last_line = number
        marks.append((last_line, match["rule"], match["words"] or ""))
    return marks


def findings_of(block: Block) -> tuple[tuple[Finding, ...], dict[str, SourceFile]]:
    if block.whole:
        from fedfrom.model.read import read_text

        reading = read_text(block.text, NAME, block.files)
        return reading.findings, dict(reading.files)
    source = SourceFile(NAME, block.text)
    return parse_file(source).findings, {NAME: source}


def check(block: Block) -> None:
    """Fails where the marks and the findings differ, and says how."""
    found, files = findings_of(block)
    open_marks = expected(block.text)
    too_many = []
    for finding in found:
        line = files[finding.span.file].place(finding.span.start).line if finding.span else 0
        mark = next((m for m in open_marks if m[:2] == (line, finding.rule) and m[2] in finding.message), None)
        if mark is not None:
            open_marks.remove(mark)
        elif finding.severity >= Severity.WARNING:
            too_many.append(f"line {line}: {finding.rule} {finding.message!r}")
    if block.printed is not None:
        printed = render(found, files)
        if not expected(block.text):
            assert printed.rstrip() == block.printed.rstrip()
            return
        assert block.printed.rstrip() in printed
    assert not open_marks, f"not found: {open_marks}; found instead: {too_many}"
    assert not too_many, f"not marked: {too_many}"


ALL = [block for path in sorted(HERE.glob("*.md")) for block in blocks_of(path)]


@pytest.mark.parametrize("block", ALL, ids=lambda block: block.name)
def test_block(block: Block) -> None:
    check(block)


def test_there_are_blocks() -> None:
    assert len(ALL) > 15
    assert all(block.text.strip() for block in ALL)


@pytest.mark.parametrize(
    "text",
    [
        "bus 225 A  # finding: invalid-line\n",
        "bus = 225 A\n",
        'bus = 225 A  # finding: invalid-line "something else"\n',
        "bus = 225 A\n\n# finding: invalid-line\n",
    ],
)
def test_the_runner_fails_when_it_should(text: str) -> None:
    with pytest.raises(AssertionError):
        check(Block("page.md", "", 1, text, False, {}))
