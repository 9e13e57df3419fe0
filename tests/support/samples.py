"""The samples of `specs/`, each compiled once in a process."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from fedfrom.compile import compile_project
from fedfrom.rules.registry import Design

SPECS = Path(__file__).parents[2] / "specs"


def sample_names() -> tuple[str, ...]:
    """The names, sorted: "bottling-works", "office-tower" …."""
    files = [file.stem for file in SPECS.glob("*.fed")]
    return tuple(sorted([*files, *(folder.parent.name for folder in SPECS.glob("*/project.fed"))]))


@cache
def sample_design(name: str) -> Design:
    """The compiled design of a sample."""
    file = SPECS / f"{name}.fed"
    return compile_project(file if file.is_file() else SPECS / name).design()
