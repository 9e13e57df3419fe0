"""`fedfrom diff OLD NEW`: the consequences of a change, for the one who reviews it."""

from __future__ import annotations

import re
import sys
import tempfile
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fedfrom.cli.main import use_color
from fedfrom.cli.places import folder_from_here
from fedfrom.cli.progress import working
from fedfrom.cli.report import CLEAN, FOUND, UNREADABLE
from fedfrom.findings.render import render_findings

if TYPE_CHECKING:
    from fedfrom.changes.revision import Repository
    from fedfrom.changes.types import Side
    from fedfrom.rules.registry import Design

_RANGE = re.compile(r"^(.*?)(\.{2,3})(.*)$")


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a side is to be read: a path on disk, or a path in a revision (`revision` not "")."""

    path: Path
    revision: str
    name: str


EXAMPLES = """\b
Examples:
  fedfrom diff old.fed new.fed                          two files
  fedfrom diff HEAD plant.fed                           the last commit, and what is on disk
  fedfrom diff HEAD..main plant.fed                     two revisions
  fedfrom diff main...HEAD plant.fed --format markdown  what a branch does, as a comment
"""


@click.command(
    "diff",
    short_help="Tell what a change does to the design.",
    epilog=EXAMPLES,
)
@click.argument("places", nargs=-1, required=True, metavar="OLD NEW | REV PATH | REV..REV PATH")
@click.option(
    "--format", "form", type=click.Choice(["text", "json", "markdown"]), default="text", show_default=True,
    help="Form of output; markdown is made for a comment on a merge request.",
)  # fmt: skip
@click.option("--no-sheets", is_flag=True, help="Leave out which sheets are touched; faster, for nothing is drawn.")
@click.pass_context
def command(ctx: click.Context, places: tuple[str, ...], form: str, no_sheets: bool) -> None:
    """Tell what a change does to the design: consequences, each with its cause down to the line of text.

    OLD and NEW are files or folders. With a git revision: `REV PATH` compares the path as it was with the one on disk,
    `REV..REV PATH` two revisions, `REV...REV PATH` the second with the point where the two parted. The work tree is
    never touched. Exit code 0: the same text and design; 1: something differs; 2: a side cannot be
    read.
    """
    from fedfrom.changes.compare import compare
    from fedfrom.changes.render import render_difference
    from fedfrom.changes.revision import RevisionError

    try:
        with tempfile.TemporaryDirectory(prefix="fedfrom-diff-") as folder:
            old, new = (
                _side(place, Path(folder) / name, ctx)
                for name, place in zip(("old", "new"), _places(places, ctx), strict=True)
            )
    except RevisionError as error:
        click.echo(f"error: {error}", err=True)
        ctx.exit(UNREADABLE)
    if not no_sheets and old[1].results.digest != new[1].results.digest:
        old, new = _with_sheets(*old), _with_sheets(*new)
    difference = compare(old[0], new[0])
    click.echo(render_difference(form, difference), nl=False)
    ctx.exit(CLEAN if difference.same else FOUND)


def _places(places: tuple[str, ...], ctx: click.Context) -> tuple[_Place, _Place]:
    """The two sides that were meant. What exists as a path is a path; everything else is a revision."""
    from fedfrom.changes.revision import Repository

    if len(places) == 3:
        old, new, path = places
        return _revised(old, path), _revised(new, path)
    if len(places) != 2:
        raise click.UsageError("name two files or folders, or a revision and a path", ctx)
    first, second = places
    if Path(first).exists():
        return _Place(Path(first), "", first), _Place(Path(second), "", second)
    span = _RANGE.match(first)
    if span is None or _is_path_like(first):
        if _is_path_like(first):
            raise click.UsageError(f"there is no file or folder `{first}`", ctx)
        return _revised(first, second), _Place(Path(second), "", f"{second} (on disk)")
    old, dots, new = span.group(1) or "HEAD", span.group(2), span.group(3) or "HEAD"
    if dots == "...":
        repository = Repository.around(Path(second))
        parted = repository.common_ancestor(old, new)
        return _Place(Path(second), parted, f"{second} at {old} (where {new} parted)"), _revised(new, second)
    return _revised(old, second), _revised(new, second)


def _is_path_like(text: str) -> bool:
    return text.endswith(".fed")


def _revised(revision: str, path: str) -> _Place:
    return _Place(Path(path), revision, f"{path} at {revision}")


def _side(place: _Place, folder: Path, ctx: click.Context) -> tuple[Side, Design]:
    """Compiles one side. A side that cannot be read ends the command: half a comparison would mislead."""
    from fedfrom.changes.revision import Repository
    from fedfrom.changes.types import Side
    from fedfrom.compile import compile_project

    path = place.path
    if place.revision:
        repository: Repository = Repository.around(path)
        path = repository.put(place.revision, path, folder)
    with working(f"computing {place.name}"):
        compilation = compile_project(path)
    if compilation.model is None or compilation.model.incomplete or compilation.results is None:
        color = use_color(ctx.obj["color"], sys.stderr)
        errors = tuple(finding for finding in compilation.findings if finding.severity.word == "error")
        click.echo(render_findings("text", errors, compilation.files, color=color), nl=False, err=True, color=color)
        click.echo(f"error: {place.name} cannot be compared: part of its text could not be read", err=True)
        ctx.exit(UNREADABLE)
    design = compilation.design()
    folder_name = folder_from_here(place.path)
    shown = "" if folder_name.startswith(("..", "/")) else folder_name
    side = Side(place.name, design.model, design.network, design.results, compilation.files, folder=shown)
    return side, design


def _with_sheets(side: Side, design: Design) -> tuple[Side, Design]:
    """The side with what stands on each of its sheets: everything is drawn for it."""
    from fedfrom.changes.types import SheetPrint
    from fedfrom.documents.sheet_list import sheet_list

    with working(f"drawing {side.name}"):
        contents = sheet_list(design)
    sheets = {each.key: SheetPrint(each.title, each.fingerprint, each.tags) for each in contents}
    return replace(side, sheets=sheets), design
