"""What is said on a terminal while something takes long; nothing is said elsewhere, and nothing of it stays."""

from __future__ import annotations

import os
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

_AFTER_S = 1.0
_EVERY_S = 0.5


@contextmanager
def working(what: str, stream: Any = None, after_s: float = _AFTER_S, every_s: float = _EVERY_S) -> Iterator[None]:
    """Says `what` and the seconds it has taken, on standard error if that is a terminal, from the first second on.

    The line is wiped when the work is done, also when it fails.
    """
    stream = stream if stream is not None else sys.stderr
    if not stream.isatty() or os.environ.get("TERM") == "dumb":
        yield
        return
    done = threading.Event()
    teller = threading.Thread(target=_tell, args=(what, stream, done, after_s, every_s), daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()


def _tell(what: str, stream: Any, done: threading.Event, after_s: float, every_s: float) -> None:
    started = time.monotonic()
    widest = 0
    wait = after_s
    while not done.wait(wait):
        line = f"{what}, {time.monotonic() - started:.0f} s"
        widest = max(widest, len(line))
        stream.write(f"\r{line}")
        stream.flush()
        wait = every_s
    if widest:
        stream.write(f"\r{' ' * widest}\r")
        stream.flush()
