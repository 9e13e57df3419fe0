"""How a difference of two lines of text is said: only the words that differ, a number with its unit."""

from __future__ import annotations

import re
from difflib import SequenceMatcher

_TOKEN = re.compile(r'"(?:\\.|[^"\\])*"|[^\s,{}()]+|[,{}()]')
_NUMBER = re.compile(r"[-+]?[\d_][\d_./-]*$")
LONGEST = 90


def tokens(text: str) -> list[str]:
    """The words of a statement without comments; a quoted text is one word."""
    lines = [re.sub(r'("(?:\\.|[^"\\])*")|#.*', lambda match: match.group(1) or "", line) for line in text.split("\n")]
    return _TOKEN.findall(" ".join(lines))


def quoted(text: str) -> str:
    """A statement on one line, its spaces made single, cut where it is very long."""
    line = " ".join(tokens(text.split("{")[0] if len(text) > LONGEST else text))
    line = re.sub(r" ([,)])|(\() ", r"\1\2", line).replace(" (", "(")
    return line if len(line) <= LONGEST else line[: LONGEST - 2].rstrip() + " …"


def difference(old: str, new: str) -> str:
    """ "25 hp -> 40 hp", "`continuous` added"; "" where the words are the same."""
    before, after = _runs(old), _runs(new)
    said: list[str] = []
    for tag, i1, i2, j1, j2 in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag == "equal":
            continue
        olds, news = before[i1:i2], after[j1:j2]
        for one, other in zip(olds, news, strict=False):
            said.append(_within(one, other))
        said += [f"`{' '.join(run)}` taken out" for run in olds[len(news) :]]
        said += [f"`{' '.join(run)}` added" for run in news[len(olds) :]]
    return "; ".join(said)


def _runs(text: str) -> list[tuple[str, ...]]:
    """The runs of words between commas, brackets and ends of line."""
    runs: list[list[str]] = [[]]
    for line in text.split("\n"):
        for token in tokens(line):
            if token in ",{}()":
                runs.append([])
            else:
                runs[-1].append(token)
        runs.append([])
    return [tuple(run) for run in runs if run]


def _within(old: tuple[str, ...], new: tuple[str, ...]) -> str:
    """The differing middle of two runs; a number keeps the word after it, which is its unit."""
    start = 0
    while start < min(len(old), len(new)) and old[start] == new[start]:
        start += 1
    end = 0
    while end < min(len(old), len(new)) - start and old[-1 - end] == new[-1 - end]:
        end += 1
    before, after = old[start : len(old) - end], new[start : len(new) - end]
    name = f"{old[start - 1]} " if start and old[start - 1].endswith(":") else ""
    unit = old[len(old) - end :][:1]
    if unit and _is_number(before) and _is_number(after):
        before, after = before + unit, after + unit
    if not before:
        return f"`{' '.join(after)}` added"
    if not after:
        return f"`{' '.join(before)}` taken out"
    return f"{name}{' '.join(before)} -> {' '.join(after)}"


def _is_number(words: tuple[str, ...]) -> bool:
    return bool(words) and bool(_NUMBER.match(words[-1]))
