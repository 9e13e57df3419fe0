"""Which gear schedules share a sheet: next fit in source order, by heights reckoned on the safe side.

Heights are inches on an 11x17 sheet, measured once on printed sheets of the layout. A schedule that is higher than a
sheet stands alone and runs on; a wrong estimate only makes the layout start a new sheet.
"""

from __future__ import annotations

from collections.abc import Iterable

from fedfrom.documents.schedules.board_form import BoardSchedule
from fedfrom.documents.schedules.header import Fields, LoadBlock
from fedfrom.documents.schedules.panel_form import PanelSchedule, Place
from fedfrom.documents.schedules.sheets import GearSchedule

USABLE = 9.3
GAP = 0.3
# (height of a line, height of each further line of wrapped text)
HEADER_LINE, PANEL_LINE, BOARD_LINE, LOAD_LINE, WRAPPED = 0.25, 0.165, 0.14, 0.135, 0.115
HEADING, TABLE_HEAD = 0.32, 0.28
# Letters that fit on one line of the cell.
HEADER_LETTERS, NAME_LETTERS, CONDUCTOR_LETTERS, FACTOR_LETTERS, NOTE_LETTERS = 58, 38, 38, 52, 60
LETTERS_PER_INCH = 20
# Fields side by side in the header block.
ACROSS = 5


def packed(schedules: Iterable[GearSchedule]) -> list[list[GearSchedule]]:
    """The schedules by sheet, in their order."""
    sheets: list[list[GearSchedule]] = []
    filled = 0.0
    for schedule in schedules:
        height = height_of(schedule)
        if sheets and filled + GAP + height <= USABLE:
            sheets[-1].append(schedule)
            filled += GAP + height
        else:
            sheets.append([schedule])
            filled = height
    return sheets


def height_of(schedule: GearSchedule) -> float:
    """The height of a schedule, inches."""
    body = _board(schedule) if isinstance(schedule, BoardSchedule) else _panel(schedule)
    return HEADING + _header(schedule.header) + body + _loads(schedule.loads)


def _lines(text: str, letters: int) -> int:
    return max(1, -(-len(text) // letters))


def _header(fields: Fields) -> float:
    rows = [fields[at : at + ACROSS] for at in range(0, len(fields), ACROSS)]
    return sum(HEADER_LINE + WRAPPED * (max(_lines(value, HEADER_LETTERS) for _, value in row) - 1) for row in rows)


def _panel(schedule: PanelSchedule) -> float:
    wrapped = sum(max(_place_lines(odd), _place_lines(even)) - 1 for odd, _, even in schedule.pairs)
    return TABLE_HEAD + PANEL_LINE * len(schedule.pairs) + WRAPPED * wrapped


def _place_lines(place: Place) -> int:
    cells = ((place.name, NAME_LETTERS), (place.conductors, CONDUCTOR_LETTERS), (place.category, 9), (place.device, 9))
    lines = max(_lines(text, letters) for text, letters in (*cells, (place.marks, 8)))
    return max(1, lines - max(place.rows, 1) + 1)


def _board(schedule: BoardSchedule) -> float:
    letters = [max(4, int(column.width * LETTERS_PER_INCH)) for column in schedule.devices.columns]
    lines = 0
    for row in schedule.devices.rows:
        lines += max(_lines(cell, width) for cell, width in zip(row, letters, strict=True) if isinstance(cell, str)) - 1
    return TABLE_HEAD + BOARD_LINE * len(schedule.devices.rows) + WRAPPED * lines


def _loads(loads: LoadBlock) -> float:
    categories = sum(_lines(str(row[2] or ""), FACTOR_LETTERS) for row in loads.categories.rows) + 2
    notes = sum(_lines(note, NOTE_LETTERS) for note in loads.notes)
    return 0.4 + LOAD_LINE * max(categories, (len(loads.phases) + len(loads.sums) + 1) // 2, notes)
