"""Which function draws which kind of part. A new kind of part is one entry here."""

from __future__ import annotations

from fedfrom.drawing.boards import board_block, row_block
from fedfrom.drawing.ends import load_block, panel_block, reserve_block
from fedfrom.drawing.layout import Builder
from fedfrom.drawing.risers import source_block, transformer_block
from fedfrom.drawing.transfers import transfer_block

BUILDERS: dict[str, Builder] = {
    "source": source_block,
    "board": board_block,
    "row": row_block,
    "panel": panel_block,
    "transformer": transformer_block,
    "transfer": transfer_block,
    "load": load_block,
    "spare": reserve_block,
    "space": reserve_block,
}
