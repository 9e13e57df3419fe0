"""`fedfrom new`: a small project to start from."""

from __future__ import annotations

import shlex
from importlib.resources import files
from pathlib import Path

import click

from fedfrom.cli.report import UNREADABLE

_FOLDER = "new"
_ROOT = "project.fed"


def kinds() -> list[str]:
    """The kinds of project that can be made: one file of `templates/new` each."""
    folder = files("fedfrom.templates") / _FOLDER
    return sorted(entry.name.removesuffix(".fed") for entry in folder.iterdir() if entry.name.endswith(".fed"))


EXAMPLES = """\b
Examples:
  fedfrom new tallow-lane --kind shop   the folder tallow-lane with a project.fed
  fedfrom new jobs/hall-2 --kind plant  in a folder of another
"""


@click.command("new", short_help="Make a small project to start from.", epilog=EXAMPLES)
@click.argument("name", type=click.Path(path_type=Path))
@click.option("--kind", type=click.Choice(kinds()), required=True, help="What kind of building it is.")
@click.pass_context
def command(ctx: click.Context, name: Path, kind: str) -> None:
    """Make a small project to start from: the folder NAME with a project.fed that compiles clean.

    Its comments say how the language works. Nothing is ever overwritten.
    """
    from fedfrom.cli.outputs import OutputError
    from fedfrom.cli.source_files import write_new

    target = name / _ROOT
    try:
        write_new(target, project_text(kind, name).encode("utf-8"))
    except OutputError as error:
        click.echo(f"error: {error}", err=True)
        ctx.exit(UNREADABLE)
    place, article = shlex.quote(name.as_posix()), "an" if kind[0] in "aeiou" else "a"
    click.echo(f"{target.as_posix()}: {article} {kind} to start from\nNext: fedfrom check {place}")


def project_text(kind: str, name: Path) -> str:
    """The text of a new project, named after its folder."""
    own = name.resolve().name or "project"
    title = own.replace("-", " ").replace("_", " ").strip() or own
    words = {
        "TITLE": _in_text(title[:1].upper() + title[1:]),
        "NAME": _in_text(own),
        "PLACE": shlex.quote(name.as_posix()),
    }
    text = (files("fedfrom.templates") / _FOLDER / f"{kind}.fed").read_text(encoding="utf-8")
    for word, value in words.items():
        text = text.replace(word, value)
    return text


def _in_text(words: str) -> str:
    """Words as they stand between quotes; a sign that no text may hold becomes a blank."""
    shown = "".join(sign if sign.isprintable() else " " for sign in words)
    return shown.replace("\\", "\\\\").replace('"', '\\"').replace("[", "[[").replace("]", "]]")
