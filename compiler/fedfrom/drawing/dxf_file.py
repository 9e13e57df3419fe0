"""The DXF file around the entities: what the library wrote of an empty document, cut open where ours goes in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing.dxf_entities import Entities, Handles

PATTERN = "PATTERN"
"""The name of the one empty block in the document."""
RECORD = "  0\nBLOCK_RECORD\n"
BLOCK = "  0\nBLOCK\n"
BLOCK_END = "  0\nENDBLK\n"
SEED = "  9\n$HANDSEED\n  5\n"
COUNT = "  2\nBLOCK_RECORD\n  5\n"


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The pieces of a document: text up to the next free handle, up to the count of block records, up to the end of
    their table, up to the end of the blocks, up to model space, the rest; then the pattern of a record and of a block.

    Handles in the patterns: `owner` the record's own; `others` those of the block's begin and end.
    """

    pieces: tuple[str, str, str, str, str, str]
    record: str
    block: str
    block_end: str
    owner: str
    others: tuple[str, str]
    model: str


def surroundings(document: str, model: str, pattern: str) -> Surroundings:
    """Cut a document open. `model` is the handle of model space, `pattern` that of the empty block's record."""
    first, rest = _after(document, SEED)
    rest = rest.partition("\n")[2]
    count, rest = _after(rest, COUNT)
    more, rest = _after(rest, " 70\n")
    rest = rest.partition("\n")[2]
    start = rest.rindex(RECORD)
    end = rest.index("  0\nENDTAB\n", start)
    records, record, rest = rest[:start], rest[start:end], rest[end:]
    start = rest.rindex(BLOCK)
    end = rest.index("  0\nENDSEC\n", start)
    blocks, whole, rest = rest[:start], rest[start:end], rest[end:]
    space, rest = _after(rest, "  2\nENTITIES\n")
    begin, _, last = whole.partition(BLOCK_END)
    others = (_handle(begin), _handle(last))
    pieces = (first, count + more, records, blocks, space, rest)
    return Surroundings(pieces, record, begin, BLOCK_END + last, pattern, others, model)


def filled(around: Surroundings, model: Entities, blocks: Sequence[tuple[str, Entities]], handles: Handles) -> str:
    """The document with blocks (name, entities) and the entities of model space put in."""
    records, contents = [], []
    for name, block in blocks:
        owner = handles.take()
        records.append(_renamed(around.record, name, [(around.owner, owner)]))
        begin = _renamed(around.block, name, [(around.owner, owner), (around.others[0], handles.take())])
        end = _renamed(around.block_end, name, [(around.owner, owner), (around.others[1], handles.take())])
        contents += [begin, block.owned_by(owner), end]
    first, table, before, upper, space, rest = around.pieces
    return "".join(
        (first, f"{handles.next:X}\n", table, f"{2 + len(blocks)}\n", before, *records, upper, *contents, space,
         model.owned_by(around.model), rest)
    )  # fmt: skip


def _after(text: str, mark: str) -> tuple[str, str]:
    """The text up to and with the mark, and what follows."""
    at = text.index(mark) + len(mark)
    return text[:at], text[at:]


def _handle(text: str) -> str:
    return text.partition("  5\n")[2].partition("\n")[0]


def _renamed(text: str, name: str, handles: Sequence[tuple[str, str]]) -> str:
    """The pattern with its name and handles replaced."""
    text = text.replace(f"\n{PATTERN}\n", f"\n{name}\n")
    for old, new in handles:
        for code in ("  5", "330"):
            text = text.replace(f"{code}\n{old}\n", f"{code}\n{new}\n")
    return text
