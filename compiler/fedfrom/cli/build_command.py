"""`fedfrom build`: write the documents, aside first and then in whole."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fedfrom.cli.check_command import summary
from fedfrom.cli.main import use_color
from fedfrom.cli.outputs import Origins, OutputError, stale_outputs, write_outputs
from fedfrom.cli.places import from_here
from fedfrom.cli.progress import working
from fedfrom.cli.report import FOUND, UNREADABLE, exit_code, fail_on_option
from fedfrom.findings.render import render_findings

if TYPE_CHECKING:
    from fedfrom.compile import Compilation


EXAMPLES = """\b
Examples:
  fedfrom build plant.fed                  all documents, into out/plant
  fedfrom build office -o issued/office    into another folder
  fedfrom build plant.fed --only one-line  one output
  fedfrom build plant.fed --check          exit code 1 if the folder is not up to date
"""


@click.command("build", short_help="Compute the design and write its documents.", epilog=EXAMPLES)
@click.argument("path", type=click.Path(path_type=Path))
@click.option(
    "-o", "--output", type=click.Path(path_type=Path), help="Folder to write to.  [default: out/<name of the project>]"
)
@click.option("--check", "only_check", is_flag=True, help="Write nothing; fail if the folder is not up to date.")
@click.option("--only", multiple=True, metavar="NAME", help="Only this output (repeatable), e.g. one-line, results.")
@fail_on_option
@click.pass_context
def command(
    ctx: click.Context, path: Path, output: Path | None, only_check: bool, only: tuple[str, ...], fail_on: str
) -> None:
    """Compute the design and write its documents.

    PATH is a .fed file or a folder with a project.fed. Findings go to standard error; the documents carry them too.
    """
    from fedfrom.compile import compile_project

    with working(f"computing {path.as_posix()}"):
        compilation = compile_project(path)
    color = use_color(ctx.obj["color"], sys.stderr)
    findings, files = from_here(compilation.findings, compilation.files, path)
    click.echo(render_findings("text", findings, files, color=color), nl=False, err=True, color=color)
    if compilation.model is None:
        ctx.exit(UNREADABLE)
    if compilation.results is None or compilation.model.incomplete:
        click.echo(
            f"{path.as_posix()}: {summary(compilation)}; nothing written: part of the text could not be read", err=True
        )
        ctx.exit(FOUND)
    folder = output or Path("out") / project_name(path)
    documents = _documents(compilation, only, ctx)
    origins = Origins.of(compilation.files)
    if only_check:
        ctx.exit(_report_stale(folder, documents, origins, partly=bool(only)))
    _write(folder, documents, origins, ctx, partly=bool(only))
    listed = "findings.md lists them" if "findings.md" in documents else ""
    click.echo(f"{path.as_posix()}: {summary(compilation, listed)}; {len(documents)} files in {folder.as_posix()}")
    ctx.exit(exit_code(compilation.findings, fail_on, readable=True))


def project_name(path: Path) -> str:
    """The name of a project: the folder's, or the file's without ending."""
    resolved = path.resolve()
    return resolved.name if resolved.is_dir() else resolved.stem


def _documents(compilation: Compilation, only: tuple[str, ...], ctx: click.Context) -> dict[str, bytes]:
    from fedfrom.documents.registry import all_outputs, build_all

    names = {output.name for output in all_outputs()}
    unknown = sorted(set(only) - names)
    if unknown:
        raise click.UsageError(f"there is no output `{unknown[0]}`. Outputs: {', '.join(sorted(names))}", ctx)
    with working("writing documents"):
        return build_all(compilation.design(), only=only)


def _write(folder: Path, documents: dict[str, bytes], origins: Origins, ctx: click.Context, *, partly: bool) -> None:
    try:
        write_outputs(folder, documents, origins, keep_others=partly)
    except OutputError as error:
        click.echo(f"error: {error}", err=True)
        ctx.exit(UNREADABLE)


def _report_stale(folder: Path, documents: dict[str, bytes], origins: Origins, *, partly: bool) -> int:
    stale = stale_outputs(folder, documents, origins, partly=partly)
    for name, why in stale:
        click.echo(f"stale: {(folder / name).as_posix()}: {why}")
    if not stale:
        click.echo(f"{folder.as_posix()}: up to date, {len(documents)} files")
    return FOUND if stale else 0
