"""Sheet sizes, their margins and zones.

ANSI B and D after ASME Y14.1, ARCH D of the trade, A1 and A3 after ISO 216; all landscape. The margins are ours: a
binding edge at the left, less at the others.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

MM = 25.4


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet size and its margins in inches. `strip` is the width of the title strip at the right edge.

    `legend` > 0: on small sheets symbols stand in a column of their own, so wide, left of the strip. `columns` and
    `rows` count the zones.
    """

    name: str
    width: float
    height: float
    left: float = 1.5
    other: float = 0.5
    strip: float = 3.2
    legend: float = 0.0
    pad: float = 0.2
    columns: int = 8
    rows: int = 4

    @property
    def area(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of the field for the drawing."""
        return (
            round(self.left + self.pad, 6),
            round(self.other + self.pad, 6),
            round(self.width - self.other - self.strip - self.legend - self.pad, 6),
            round(self.height - self.other - self.pad, 6),
        )

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of that field."""
        left, top, right, bottom = self.area
        return round(right - left, 6), round(bottom - top, 6)

    def zone(self, x: float, y: float) -> str:
        """The zone of a point: columns numbered from the right, rows lettered from the bottom (ASME Y14.1 style)."""
        left, right = self.left, self.width - self.other
        across = floor((x - left) / (right - left) * self.columns)
        column = self.columns - min(self.columns - 1, max(0, across))
        up = floor((self.height - self.other - y) / (self.height - 2 * self.other) * self.rows)
        return f"{'ABCD'[min(self.rows - 1, max(0, up))]}{column}"


ANSI_D = Paper("ANSI D, 22 x 34", 34.0, 22.0)

PAPERS: dict[str, Paper] = {
    "ANSI B": Paper("ANSI B, 11 x 17", 17.0, 11.0, 0.75, 0.4, 2.5, 2.3, 0.15, 4, 2),
    "ANSI D": ANSI_D,
    "ARCH D": Paper("ARCH D, 24 x 36", 36.0, 24.0),
    "A3": Paper("A3, 297 x 420 mm", round(420 / MM, 4), round(297 / MM, 4), 0.75, 0.4, 2.5, 2.3, 0.15, 4, 2),
    "A1": Paper("A1, 594 x 841 mm", round(841 / MM, 4), round(594 / MM, 4), 1.2),
}
"""The sizes of the language -> paper. A further size is one entry here and one word in the vocabulary."""


def paper_named(size: str) -> Paper:
    """The paper of a size of the language; ANSI D for ""."""
    return PAPERS.get(size, ANSI_D)
