"""`Output` and the folder scan: an output is one module or folder here that defines `OUTPUT`."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import fedfrom.documents
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing

# The date that file formats demand: fixed, because the same source gives the same bytes. Nobody reads it.
DOCUMENT_EPOCH = (2000, 1, 1)


@dataclass(frozen=True, slots=True)
class Output:
    """One output. `name` is what `--only` takes, `files` the files that it writes ("one-line-*.svg" for several).

    `write` gives bytes by file name; the same design gives the same bytes. A part that is not in the design gives an
    empty mapping, or fewer files. `draw` makes the drawing of an output that is one: the index lists its sheets.
    """

    name: str
    title: str
    files: tuple[str, ...]
    write: Callable[[Design], Mapping[str, bytes]]
    draw: Callable[[Design], Drawing] | None = None


class OutputRegistryError(Exception):
    """Two outputs share a name or a file: a bug, found by the first test."""


@cache
def all_outputs() -> tuple[Output, ...]:
    """Every output, sorted by name. Raises OutputRegistryError for two with one name."""
    outputs: dict[str, Output] = {}
    for info in pkgutil.iter_modules(fedfrom.documents.__path__):
        if info.name == "registry":
            continue
        module = importlib.import_module(f"fedfrom.documents.{info.name}")
        output = getattr(module, "OUTPUT", None)
        if not isinstance(output, Output):
            continue
        if output.name in outputs:
            raise OutputRegistryError(f"two outputs are called {output.name!r}")
        outputs[output.name] = output
    return tuple(outputs[name] for name in sorted(outputs))


def build_all(design: Design, only: Iterable[str] = ()) -> dict[str, bytes]:
    """Every file of every output (or of those named), sorted by file name.

    Two outputs are written at a time: typesetting leaves the other core free. What comes out does not depend on it.
    Raises OutputRegistryError where two outputs write the same file, KeyError for an unknown name in `only`.
    """
    by_name = {output.name: output for output in all_outputs()}
    wanted = [by_name[name] for name in only] or list(by_name.values())
    wanted.sort(key=lambda each: each.name)
    with ThreadPoolExecutor(max_workers=2) as workers:
        results = list(workers.map(lambda output: output.write(design), wanted))
    written: dict[str, bytes] = {}
    for output, files in zip(wanted, results, strict=True):
        for name, data in files.items():
            if name in written:
                raise OutputRegistryError(f"{output.name} writes {name}, which another output wrote")
            written[name] = data
    return dict(sorted(written.items()))
