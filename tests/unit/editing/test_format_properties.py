"""Laws of the layout, on programs made from the vocabulary, on samples with their layout lost, on broken samples."""

from __future__ import annotations

import random
import re
from functools import cache

from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from tests.support import programs
from tests.support.mutate import MEANING, STRUCTURE, mutants

from fedfrom.editing.formatting import Formatted, format_text
from fedfrom.editing.verify import difference
from fedfrom.source import SourceFile
from fedfrom.syntax.comments import comments
from fedfrom.syntax.parse import parse_file
from fedfrom.vocabulary import load_vocabulary


def formatted(text: str) -> Formatted:
    return format_text(SourceFile("test.fed", text))


@cache
def samples() -> tuple[str, ...]:
    names = ("corner-shop", "retrofit", "floors", "standby", "apartment-house")
    files = {file.stem: file for file in programs.whole_files()}
    return tuple(files[name].read_text(encoding="utf-8") for name in names)


def holds(text: str) -> str:
    """The canonical form of a text that can be read: it says the same, and is its own canonical form."""
    done = formatted(text)
    assert done.text is not None, [finding.message for finding in done.findings]
    before, after = SourceFile("test.fed", text), SourceFile("test.fed", done.text)
    assert difference(parse_file(before).tree, parse_file(after).tree) == ""
    assert [c.text for c in comments(before)] == [c.text for c in comments(after)]
    assert formatted(done.text).text == done.text
    assert not re.search(r"[ \t]\n|\n\n\n|\{(?: +#[^\n]*)?\n\n|\n\n *\}", done.text)
    return done.text


# --- programs from the vocabulary ------------------------------------------------------------------------------------


def _lines(kind: str) -> list[str]:
    """The examples of all that may stand in an item, one a line."""
    entries = load_vocabulary().scope(kind).entries.values()
    return [entry.example for entry in entries if entry.kind != "item" and entry.example and not entry.unnamed]


COMMENTS = st.sampled_from(["", "", "  # a", "# b", ' # 2,4 { "c'])
BLANKS = st.sampled_from([" ", "  ", "\t", "      "])


@st.composite
def generated(draw: st.DrawFn) -> str:
    kinds = load_vocabulary().item_kinds
    out = ["fedfrom 1"]
    for number in range(draw(st.integers(1, 4))):
        kind = draw(st.sampled_from(kinds))
        lines = draw(st.lists(st.sampled_from(_lines(kind)), max_size=8))
        status = draw(st.sampled_from(["", "existing ", "future "]))
        out.append(f'{status}{kind}{draw(BLANKS)}T{number} "Item [[{number}]]" {{{draw(COMMENTS)}')
        for line in lines:
            out += [""] * draw(st.integers(0, 2))
            words = re.sub(r" (?=[^\"]*(?:\"[^\"]*\"[^\"]*)*$)", lambda _: draw(BLANKS), line)
            out.append(draw(BLANKS) + words + draw(COMMENTS))
        out.append("}")
    return "\n".join(out) + draw(st.sampled_from(["", "\n", "\n\n\n"]))


@settings(max_examples=25, deadline=None)
@given(generated())
def test_generated_programs(text: str) -> None:
    holds(text)


# --- samples whose layout is lost ------------------------------------------------------------------------------------


def _spread(words: str, chance: random.Random) -> str:
    return re.sub(" +", lambda _: " " * chance.choice([1, 1, 2, 7]), words)


def messed(text: str, chance: random.Random) -> str:
    """The same text in another layout: indents, runs of blanks and of blank lines. What stands in quotes stays."""
    out = []
    for line in text.split("\n"):
        said, mark, comment = line.partition("#")
        pieces = re.split(r'("[^"]*")', said.strip())
        spread = [
            p if p.startswith('"') else re.sub(" +", lambda _: " " * chance.choice([1, 1, 2, 7]), p) for p in pieces
        ]
        joined = "".join(spread).rstrip()
        out.append(" " * chance.randrange(9) + joined + (f"{' ' * chance.randrange(1, 4)}#{comment}" if mark else ""))
        if not line:
            out += [""] * chance.randrange(3)
    return "\n".join(out)


@settings(max_examples=3, deadline=None, phases=[Phase.generate])
@given(st.integers(0, 10_000), st.integers(0, 4))
def test_a_lost_layout_is_found_again(seed: int, which: int) -> None:
    text = samples()[which]
    chance = random.Random(seed)
    assert holds(messed(text, chance)) == text


# --- broken samples --------------------------------------------------------------------------------------------------


@settings(max_examples=3, deadline=None, phases=[Phase.generate])
@given(st.integers(0, 10_000), st.integers(0, 4))
def test_broken_samples_are_left_alone_or_laid_out(seed: int, which: int) -> None:
    for mutant in mutants(samples()[which], {**STRUCTURE, **MEANING}, seed, 2):
        text = mutant.text
        done = formatted(text)
        assert "fmt-unsafe" not in [finding.rule for finding in done.findings]
        if done.text is not None:
            holds(text)
        else:
            assert done.findings
