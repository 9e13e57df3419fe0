"""Whether two texts say the same: the same tree but for layout, the same comments in the same order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace

from fedfrom.editing.reading import LISTS_IN_BRACES, USE_SCOPE, inner_scope, meaning, named
from fedfrom.editing.reflow import all_runs, cut_parts, glued_at
from fedfrom.source import SourceFile
from fedfrom.syntax.comments import comments
from fedfrom.syntax.tree import For, Line, Run, Statement, Tree, Typical, Use, Word
from fedfrom.vocabulary import Scope, load_vocabulary

_PLACES = frozenset({"span", "trail"})


def difference(before: Tree, after: Tree) -> str:
    """Where two trees differ in more than layout, in words; "" where they do not."""
    return _blocks(before.statements, after.statements, load_vocabulary().scope("top"))


def same_comments(before: SourceFile, after: SourceFile) -> bool:
    """Whether both hold the same comments, each on a line of its own or not, in the same order."""
    return [(c.text, c.own_line) for c in comments(before)] == [(c.text, c.own_line) for c in comments(after)]


def bare(node: object) -> object:
    """A node of a tree without places, to compare."""
    if is_dataclass(node) and not isinstance(node, type):
        inside = tuple(bare(getattr(node, part.name)) for part in fields(node) if part.name not in _PLACES)
        return type(node).__name__, inside
    if isinstance(node, tuple):
        return tuple(map(bare, node))
    return node


def _blocks(before: Sequence[Statement], after: Sequence[Statement], scope: Scope) -> str:
    if len(before) != len(after):
        return f"{len(before)} statements became {len(after)}"
    return next(filter(None, map(lambda a, b: _statements(a, b, scope), before, after)), "")


def _statements(before: Statement, after: Statement, scope: Scope) -> str:
    if bare(before) == bare(after):
        return ""
    if isinstance(before, Line) and isinstance(after, Line):
        return _lines(before, after, scope)
    if isinstance(before, (For, Typical, Use)) and type(before) is type(after):
        mine, other = before.block, after.block
        if _headless(before) == _headless(after) and mine is not None and other is not None:
            inside = {For: scope, Typical: load_vocabulary().scope("top"), Use: USE_SCOPE}[type(before)]
            return _blocks(mine.statements, other.statements, inside)
    return f"`{type(before).__name__.lower()}` reads differently"


def _headless(statement: Statement) -> object:
    return tuple(
        bare(getattr(statement, part.name)) for part in fields(statement) if part.name not in {"block", *_PLACES}
    )


def _lines(before: Line, after: Line, scope: Scope) -> str:
    entry = named(before, scope).entry
    is_list = entry is not None and entry.block in LISTS_IN_BRACES
    listed = scope.kind in LISTS_IN_BRACES
    first, second = (all_runs(before), all_runs(after)) if is_list else (before.runs, after.runs)
    if first is None or second is None:
        first, second, is_list = before.runs, after.runs, False
    positions = bare(before.positions) == bare(after.positions) or listed
    if not positions or [_tokens(run) for run in first] != [_tokens(run) for run in second]:
        return f"`{_name(before)}` reads differently"
    mine, other = (before, after) if is_list else (replace(before, block=None), replace(after, block=None))
    if meaning([mine], scope) != meaning([other], scope):
        return f"`{_name(before)}` means something else"
    if is_list:
        return ""
    if (before.block is None) != (after.block is None):
        return "a block came or went"
    if before.block is None or after.block is None:
        return ""
    inside = inner_scope(before, scope, load_vocabulary())
    return _blocks(before.block.statements, after.block.statements, inside)


def _name(line: Line) -> str:
    return " ".join(part.text for part in line.runs[0].parts if isinstance(part, Word))


def _tokens(run: Run) -> object:
    """The parts of a run with every number apart from its unit."""
    glued = {part.span.start: glued_at(part) for part in run.parts if isinstance(part, Word) and glued_at(part)}
    return bare(cut_parts(run.parts, glued))
