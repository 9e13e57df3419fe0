"""Prints a tree in the canonical layout, with its comments and the grouping by blank lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fedfrom.editing.cells import Cells, Shape, as_listed, cells
from fedfrom.editing.columns import WIDEST, property_column, write_loads, write_property
from fedfrom.editing.heads import INDENT, head_of
from fedfrom.editing.pieces import Pieces
from fedfrom.editing.reading import USE_SCOPE, inner_scope
from fedfrom.editing.reflow import brace_form, comma_form, cuts_of, must_break
from fedfrom.editing.trivia import BlockTrivia, Entry, Trivia
from fedfrom.source import SourceFile
from fedfrom.syntax.comments import Comment
from fedfrom.syntax.tree import Block, Line, Statement, Tree, Typical, Use
from fedfrom.vocabulary import Scope, load_vocabulary

_COMMENT_COLUMN = 48
_ITEM_COLUMN = 12


@dataclass(frozen=True, slots=True)
class _Written:
    """A statement on its way out: the lines of its head without margin, and its block.

    `new_block`: the block is not one of the text, its lines were after commas.
    """

    head: list[str]
    block: Block | None
    new_block: bool = False


class Printer:
    """Prints one file."""

    def __init__(self, source: SourceFile) -> None:
        self.source = source
        self.vocabulary = load_vocabulary()
        self.trivia = Trivia(source)
        self.cuts: dict[int, int] = {}
        self.pieces = Pieces(source, self.cuts)

    def file(self, tree: Tree) -> str:
        """The whole text, with a line end after the last line."""
        everything = self.trivia.of_block(tree.statements, 0, len(self.source.text) + 1)
        lines = self._block(everything, self.vocabulary.scope("top"), 0)
        return "".join(line + "\n" for line in lines)

    # --- blocks ------------------------------------------------------------------------------------------------------

    def _block(self, trivia: BlockTrivia, scope: Scope, depth: int) -> list[str]:
        """The lines of a block without its braces, indented."""
        written = self._in_columns(trivia, scope, WIDEST - INDENT * depth)
        out: list[str] = []
        for entry in trivia.entries:
            if entry.spaced:
                out.append("")
            if isinstance(entry.what, Comment):
                out.append(" " * (INDENT * depth) + entry.what.text)
                continue
            trailing = trivia.trailing.get(entry.what.span.start, "")
            out += self._statement(entry.what, written.get(entry.what.span.start), trailing, scope, depth)
        return out

    def _statement(
        self, statement: Statement, line: _Written | None, trailing: str, scope: Scope, depth: int
    ) -> list[str]:
        block = getattr(statement, "block", None)
        end = block.span.start if block is not None else statement.span.end
        if self.trivia.between(statement.span.start, end):
            line = _Written(self._as_it_stands(statement.span.start, end), block)
        if line is None:
            line = _Written(head_of(statement, self.pieces, WIDEST - INDENT * depth - 2), block)
        if block is not None and line.block is not block:  # another layout: a comment after the old `{` stays
            trailing = trailing or self.trivia.of_block(block.statements, block.span.start + 1, block.span.end).opening
        return self._with_block(line, self._inner(statement, scope), trailing, depth)

    def _as_it_stands(self, start: int, end: int) -> list[str]:
        """A head with comments in its brackets: its lines stay, with a new indent."""
        lines = [line.strip(" \t\r") for line in self.source.text[start:end].split("\n")]
        lines = [line for line in lines if line]
        return [lines[0], *(line if line.startswith(")") else " " * INDENT + line for line in lines[1:])]

    def _inner(self, statement: Statement, scope: Scope) -> Scope:
        match statement:
            case Line():
                return inner_scope(statement, scope, self.vocabulary)
            case Typical():
                return self.vocabulary.scope("top")
            case Use():
                return USE_SCOPE
        return scope

    def _with_block(self, line: _Written, inner: Scope, trailing: str, depth: int) -> list[str]:
        margin = " " * (INDENT * depth)
        head = [margin + text for text in line.head]
        block = line.block
        if block is None:
            return [*head[:-1], with_comment(head[-1], trailing)]
        if line.new_block:
            trivia = BlockTrivia([Entry(statement, False) for statement in block.statements], trailing)
            trailing = ""
        else:
            trivia = self.trivia.of_block(block.statements, block.span.start + 1, block.span.end - 1)
            flat = self._flat_block(block, trivia, inner)
            if flat is not None and len(head[-1]) + 1 + len(flat) <= WIDEST:
                return [*head[:-1], with_comment(f"{head[-1]} {flat}", trailing)]
        inside = self._block(trivia, inner, depth + 1)
        opening = with_comment(head[-1] + " {", trivia.opening)
        return [*head[:-1], opening, *inside, with_comment(margin + "}", trailing)]

    # --- on one line -------------------------------------------------------------------------------------------------

    def _flat_block(self, block: Block, trivia: BlockTrivia, scope: Scope) -> str | None:
        """A block that was written on one line (or holds nothing), on one line; else None."""
        start, end = block.span.start, block.span.end
        if self.trivia.between(start, end):
            return None
        if not block.statements:
            return "{ }"
        if "\n" in self.source.text[start:end]:
            return None
        inside = self._flat(block.statements[0], scope)
        return f"{{ {inside} }}"

    def _flat(self, statement: Statement, scope: Scope) -> str:
        head = head_of(statement, self.pieces, WIDEST * 10)[0] if not isinstance(statement, Line) else ""
        block = getattr(statement, "block", None)
        if isinstance(statement, Line):
            joined = comma_form(statement, scope, self.vocabulary) or statement
            head, block = self._cells(joined, scope).single, joined.block
        if block is None:
            return head
        inner = self._inner(statement, scope)
        inside = self._flat(block.statements[0], inner) if block.statements else ""
        return f"{head} {{ {inside} }}" if inside else f"{head} {{ }}"

    # --- columns -----------------------------------------------------------------------------------------------------

    def _in_columns(self, trivia: BlockTrivia, scope: Scope, room: int) -> dict[int, _Written]:
        """How each line of a block is written, by its start."""
        written: dict[int, _Written] = {}
        forms = {
            entry.what.span.start: self._joined(entry.what, scope, trivia)
            for entry in trivia.entries
            if isinstance(entry.what, Line)
        }
        rows = {start: self._cells(line, scope) for start, line in forms.items()}
        width = property_column(rows.values(), _ITEM_COLUMN if scope.kind in self.vocabulary.item_kinds else 0)
        for group in _groups(trivia, rows):
            if rows[group[0]].shape is Shape.LOAD:
                texts = write_loads([rows[start] for start in group])
            else:
                row = rows[group[0]]
                text = write_property(row, width) if row.shape is Shape.PROPERTY else row.single
                texts = [(text, text)]
            for start, (padded, tight) in zip(group, texts, strict=True):
                written[start] = self._fitted(forms[start], rows[start], padded, tight, trivia, scope, room)
        return written

    def _joined(self, line: Line, scope: Scope, trivia: BlockTrivia) -> Line:
        """The line with everything after commas, where that may be."""
        if not self._may_reflow(line, trivia):
            return line
        return comma_form(line, scope, self.vocabulary) or line

    def _may_reflow(self, line: Line, trivia: BlockTrivia) -> bool:
        """Whether comments leave a choice between commas and braces: none inside the braces but the one after `{`."""
        block = line.block
        if block is None or line.unreadable:
            return not line.unreadable
        inside = self.trivia.between(block.span.start, block.span.end)
        first = min((s.span.start for s in block.statements), default=block.span.end)
        after_brace = [c for c in inside if not c.own_line and c.span.start < first]
        return not inside or (inside == tuple(after_brace) and line.span.start not in trivia.trailing)

    def _fitted(
        self, line: Line, row: Cells, padded: str, tight: str, trivia: BlockTrivia, scope: Scope, room: int
    ) -> _Written:
        """The line with its column, without it, or broken into braces: the first that fits."""
        if self._may_reflow(line, trivia) and must_break(line, scope, self.vocabulary):
            broken = self._broken(line, row, padded, scope)
            if broken is not None:
                return broken
        ends = 2 if line.block is not None else 0
        for text in (padded, tight):
            if len(text) + ends <= room:
                return _Written([text], line.block)
        broken = self._broken(line, row, padded, scope) if line.block is None else None
        return broken or _Written([tight], line.block)

    def _broken(self, line: Line, row: Cells, text: str, scope: Scope) -> _Written | None:
        """The line with its named facts in braces: `text`, cut where they begin."""
        broken = brace_form(line, scope, self.vocabulary)
        if broken is None:
            return None
        stays = self._cells(broken, scope).rest
        return _Written([(text[: len(text) - len(row.rest)] + stays).rstrip()], broken.block, True)

    def _cells(self, line: Line, scope: Scope) -> Cells:
        listed = as_listed(line, scope)
        self.cuts.update(cuts_of(listed, scope))
        return cells(listed, scope, self.pieces, self.vocabulary)


def _groups(trivia: BlockTrivia, rows: dict[int, Cells]) -> Iterator[list[int]]:
    """The starts of lines that are aligned together: loads in a row, without a blank line or another line between."""
    group: list[int] = []
    for entry in trivia.entries:
        start = entry.what.span.start
        is_load = isinstance(entry.what, Line) and rows[start].shape is Shape.LOAD
        if group and (entry.spaced or not is_load):
            yield group
            group = []
        if is_load:
            group.append(start)
        elif isinstance(entry.what, Line):
            yield [start]
    if group:
        yield group


def with_comment(line: str, comment: str) -> str:
    """A line and its comment: in a column of its own where that is free, else after two blanks."""
    if not comment:
        return line
    fits = len(line) <= _COMMENT_COLUMN - 2 and line.strip() != "}"
    return f"{line:<{_COMMENT_COLUMN}}{comment}" if fits else f"{line}  {comment}"
