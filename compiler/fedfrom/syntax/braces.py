"""Which braces are missing or too many, with indentation as evidence.

Indentation means nothing in the language. It is looked at only when the file did not parse, and only when at least
four of five heads are followed by a deeper line; else braces are only counted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from fedfrom.syntax.scan import Kind, Piece

_ENOUGH = 0.8
_SLIPPED_LINES = 20


class Fault(Enum):
    """What is wrong with a brace, and the piece that it is told at."""

    NOT_CLOSED = "not closed"  # a head that lost its `}`
    OPENS_NOTHING = "opens nothing"  # a `{` too many at the end of a line
    NOT_OPENED = "not opened"  # a head that lost its `{`
    CLOSES_NOTHING = "closes nothing"  # a `}` too many


@dataclass(frozen=True, slots=True)
class Step:
    """A piece in the mended order. A HEAD opens a block, a CLOSE ends the innermost; `piece` None: a `}` put in."""

    kind: Kind
    piece: Piece | None


@dataclass(frozen=True, slots=True)
class Mended:
    """Balanced steps, and the faults by piece (its index in the pieces of the scan)."""

    steps: tuple[Step, ...]
    faults: tuple[tuple[Fault, Piece], ...]


def mend(pieces: Sequence[Piece], top_level: frozenset[int]) -> Mended:
    """Balanced steps for the pieces of a scan.

    `top_level`: the indices of pieces that can only stand at the top level (`project`, `typical`, …); evidence where
    there is no indentation.
    """
    return _Mender(pieces, top_level).run()


class _Mender:
    def __init__(self, pieces: Sequence[Piece], top_level: frozenset[int]) -> None:
        self.pieces = pieces
        self.top_level = top_level
        self.steps: list[Step] = []
        self.faults: list[tuple[Fault, Piece]] = []
        self.stack: list[int] = []
        self.answers: dict[int, tuple[int, int | None]] = {}
        self.next_first = self._next_first()
        self.balanced = self._is_balanced()
        self.flat = {index for index, piece in enumerate(pieces) if piece.kind is Kind.HEAD and self._is_flat(index)}
        self.indented = self._is_indented()

    def run(self) -> Mended:
        for index, piece in enumerate(self.pieces):
            self._close_lost(index, piece)
            if piece.kind is Kind.CLOSE:
                self._close(index, piece)
            elif piece.kind is Kind.HEAD:
                self._open(index, piece)
            elif self._lost_its_opening(index):
                self.faults.append((Fault.NOT_OPENED, piece))
                self._open(index, piece)
            else:
                self.steps.append(Step(Kind.LINE, piece))
        while self.stack:
            self._lose(self.stack[-1])
        return Mended(tuple(self.steps), tuple(self.faults))

    # --- evidence -----------------------------------------------------------------------------------------------------

    def _next_first(self) -> list[int | None]:
        """For each piece, the index of the next piece that is the first on its line."""
        found: list[int | None] = []
        following: int | None = None
        for index in range(len(self.pieces) - 1, -1, -1):
            found.append(following)
            if self.pieces[index].first:
                following = index
        return found[::-1]

    def _is_balanced(self) -> bool:
        depth = 0
        for piece in self.pieces:
            depth += {Kind.HEAD: 1, Kind.CLOSE: -1, Kind.LINE: 0}[piece.kind]
            if depth < 0:
                return False
        return depth == 0

    def _is_indented(self) -> bool:
        """Whether indentation is evidence: most heads are followed by a deeper line.

        A head that is not, and whose block does not close in its own column either, may be the very mistake: it counts
        for neither side.
        """
        deeper = 0
        for piece, following in pairwise(self.pieces):
            if piece.kind is Kind.HEAD and following.first and following.kind is not Kind.CLOSE:
                deeper += following.indent > piece.indent
        return deeper > 0 and deeper >= _ENOUGH * (deeper + len(self.flat))

    def _is_flat(self, index: int) -> bool:
        """A head whose block is simply not indented: it opens, holds lines at its own depth, and closes there."""
        head = self.pieces[index]
        following = self.next_first[index]
        if following is None or self.pieces[following].indent != head.indent or not self._ends_line(index):
            return False
        depth = 1
        for piece in self.pieces[index + 1 :]:
            if piece.first and piece.indent < head.indent:
                return False
            depth += {Kind.HEAD: 1, Kind.CLOSE: -1, Kind.LINE: 0}[piece.kind]
            if depth == 0:
                return piece.indent == head.indent and self.pieces[following].kind is not Kind.CLOSE
        return False

    def _ends_line(self, index: int) -> bool:
        return index + 1 >= len(self.pieces) or self.pieces[index + 1].first

    def _first_not_deeper(self, index: int, indent: int) -> int | None:
        """The next piece, first on its line, that is not deeper than `indent`.

        The last answer for an indent is kept: it holds until it is passed, so that a run over all pieces stays linear.
        """
        asked, found = self.answers.get(indent, (len(self.pieces), None))
        if asked <= index and (found is None or index < found):
            return found
        following = self.next_first[index]
        while following is not None and self.pieces[following].indent > indent:
            following = self.next_first[following]
        self.answers[indent] = (index, following)
        return following

    def _closes_at(self, index: int, indent: int) -> bool:
        """Whether the next piece that is not deeper than `indent` is a `}` at exactly `indent`."""
        found = self._first_not_deeper(index, indent)
        return found is not None and self.pieces[found].kind is Kind.CLOSE and self.pieces[found].indent == indent

    # --- decisions ----------------------------------------------------------------------------------------------------

    def _close_lost(self, index: int, piece: Piece) -> None:
        """Close the heads that cannot be open any more where `piece` stands."""
        while self.stack and self._is_lost(self.stack[-1], index, piece):
            self._lose(self.stack[-1])

    def _is_lost(self, top: int, index: int, piece: Piece) -> bool:
        if not self.indented:
            return index in self.top_level and not self.balanced
        head = self.pieces[top]
        if not piece.first or top in self.flat:
            return False
        if piece.kind is Kind.CLOSE:
            return piece.indent < head.indent
        if piece.indent > head.indent:
            return False
        return not (piece.kind is Kind.LINE and self._is_slipped(index, head.indent))

    def _is_slipped(self, index: int, indent: int) -> bool:
        """Whether a line that is not deep enough still lies in the block: nothing but lines up to its `}`."""
        following: int | None = index
        for _ in range(_SLIPPED_LINES):
            if following is None or self.pieces[following].kind is not Kind.LINE:
                break
            if not self._ends_line(following):
                return False
            following = self._first_not_deeper(following, indent)
        if following is None:
            return False
        return self.pieces[following].kind is Kind.CLOSE and self.pieces[following].indent == indent

    def _lost_its_opening(self, index: int) -> bool:
        piece = self.pieces[index]
        following = self.next_first[index]
        if not (self.indented and piece.first and following == index + 1):
            return False
        if self.pieces[following].indent <= piece.indent or not self._closes_at(index, piece.indent):
            return False
        return not self.stack or self.pieces[self.stack[-1]].indent < piece.indent

    def _is_stray(self, index: int, piece: Piece) -> bool:
        if not self.stack:
            return True
        if not self.indented or self.stack[-1] in self.flat:
            return False
        head = self.pieces[self.stack[-1]]
        following = self.next_first[index]
        if following is None:
            return False
        after = self.pieces[following]
        if after.indent > head.indent and self._closes_at(index, head.indent):
            return True
        apart = head.line != piece.line and not (piece.first and piece.indent == head.indent)
        return apart and after.kind is Kind.CLOSE and after.indent == head.indent

    def _open(self, index: int, piece: Piece) -> None:
        self.steps.append(Step(Kind.HEAD, piece))
        self.stack.append(index)

    def _close(self, index: int, piece: Piece) -> None:
        if self._is_stray(index, piece):
            self.faults.append((Fault.CLOSES_NOTHING, piece))
            return
        self.stack.pop()
        self.steps.append(Step(Kind.CLOSE, piece))

    def _lose(self, top: int) -> None:
        head = self.pieces[top]
        following = self.pieces[top + 1] if top + 1 < len(self.pieces) else None
        empty = following is None or (self.indented and following.first and following.indent <= head.indent)
        fault = Fault.OPENS_NOTHING if empty and self._ends_line(top) else Fault.NOT_CLOSED
        self.faults.append((fault, head))
        self.stack.pop()
        self.steps.append(Step(Kind.CLOSE, None))
