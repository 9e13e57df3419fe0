"""Times of drawing and of the three writers, apart from the tests: `python -m tests.drawing.benchmark [floors …]`.

CPU seconds for towers of growing height, and the exponent of the growth between neighbours (1 is proportional).
"""

from __future__ import annotations

import gc
import sys
import time
from itertools import pairwise
from math import log

from tests.support import systems

from fedfrom.cli.main import COLLECT_SELDOM
from fedfrom.drawing.dxf import write_dxf
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.pdf import write_pdf
from fedfrom.drawing.svg import write_svg


def measure(floors: int) -> tuple[int, int, list[float]]:
    """Nodes, sheets, seconds of layout, SVG, PDF and DXF."""
    sample = systems.tower(floors).build()
    marks = [time.process_time()]
    drawing = one_line(*sample)
    marks.append(time.process_time())
    for sheet in drawing.sheets:
        write_svg(sheet)
    marks.append(time.process_time())
    write_pdf(drawing)
    marks.append(time.process_time())
    for sheet in drawing.sheets:
        write_dxf(sheet)
    marks.append(time.process_time())
    return (
        len(sample[1].nodes),
        len(drawing.sheets),
        [after - before for before, after in pairwise(marks)],
    )


def main(floors: list[int]) -> None:
    gc.set_threshold(*COLLECT_SELDOM)  # as the command does
    measure(3)
    last: tuple[int, float] | None = None
    print("nodes sheets  layout    svg    pdf    dxf   total  exponent")
    for each in floors:
        nodes, sheets, parts = measure(each)
        total = sum(parts)
        exponent = f"{log(total / last[1]) / log(nodes / last[0]):8.2f}" if last else ""
        print(f"{nodes:5} {sheets:6} " + " ".join(f"{part:7.2f}" for part in (*parts, total)), exponent)
        last = (nodes, total)


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [14, 55, 110, 225])
