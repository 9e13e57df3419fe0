"""`fedfrom fmt`: the one canonical layout."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import click

from fedfrom.cli.difference import difference_lines
from fedfrom.cli.main import use_color
from fedfrom.cli.report import CLEAN, FOUND, UNREADABLE
from fedfrom.findings import Finding
from fedfrom.source import SourceFile

_STDIN = "-"


@dataclass(frozen=True, slots=True)
class _File:
    """A file as read: its text (None where it cannot be read), and what is wrong."""

    name: str
    source: SourceFile | None
    findings: tuple[Finding, ...] = ()


EXAMPLES = """\b
Examples:
  fedfrom fmt plant.fed         lay a file out
  fedfrom fmt --check .         list what is not laid out, exit code 1
  fedfrom fmt --diff plant.fed  show what would change
  fedfrom fmt - < draft.fed     standard input to standard output
"""


@click.command("fmt", short_help="Lay out .fed files in the one canonical form.", epilog=EXAMPLES)
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option("--check", "only_check", is_flag=True, help="Write nothing; list the files that would change, exit 1.")
@click.option("--diff", "show_diff", is_flag=True, help="Write nothing; show what would change.")
@click.pass_context
def command(ctx: click.Context, paths: tuple[str, ...], only_check: bool, show_diff: bool) -> None:
    """Lay out .fed files in the one canonical form.

    PATH is a .fed file, a folder (every .fed file below it), or - for standard input to standard output. Comments and
    grouping by blank lines stay. A file that cannot be read is left alone. Every result is read again before it is
    written: it must say the same.
    """
    from fedfrom.editing.formatting import Formatted, format_text
    from fedfrom.findings.render import render_findings

    files = list(_files(paths, ctx))
    changed, unread = 0, 0
    for file in files:
        done = format_text(file.source) if file.source is not None else Formatted(None, file.findings)
        if file.source is None or done.text is None:
            unread += 1
            color = use_color(ctx.obj["color"], sys.stderr)
            texts = {file.source.name: file.source} if file.source is not None else {}
            click.echo(render_findings("text", done.findings, texts, color=color), err=True, nl=False, color=color)
        elif file.name == _STDIN and not (only_check or show_diff):
            _to_stdout(done.text)
        elif done.text != file.source.text:
            changed += 1
            _tell_or_write(ctx, file, done.text, only_check=only_check, show_diff=show_diff)
    if paths != (_STDIN,) and not show_diff:
        click.echo(_closing(len(files), changed, unread, only_check), err=only_check)
    found = FOUND if changed and (only_check or show_diff) else CLEAN
    ctx.exit(UNREADABLE if unread else found)


def _tell_or_write(ctx: click.Context, file: _File, text: str, *, only_check: bool, show_diff: bool) -> None:
    assert file.source is not None
    if show_diff:
        _show(file.source, text, use_color(ctx.obj["color"], sys.stdout))
    elif only_check:
        click.echo(file.name)
    else:
        _write(Path(file.source.path), text, ctx)
        click.echo(f"{file.name}: laid out")


def _closing(number: int, changed: int, unread: int, only_check: bool) -> str:
    files = f"{number} file{'s' if number != 1 else ''}"
    words = f"{changed} {'to be laid out' if only_check else 'laid out'}" if changed else "nothing to change"
    return f"{files}: {words}" + (f", {unread} left alone" if unread else "")


def _files(paths: Iterable[str], ctx: click.Context) -> Iterator[_File]:
    """Each file once; those of a folder in order of the alphabet."""
    from fedfrom.cli.source_files import source_paths

    if _STDIN in paths:
        yield _decoded(_STDIN, sys.stdin.buffer.read(), "")
    try:
        for file in source_paths(Path(path) for path in paths if path != _STDIN):
            yield _read(file)
    except FileNotFoundError as error:
        raise click.UsageError(str(error), ctx) from error


def _read(file: Path) -> _File:
    from fedfrom.findings import Severity

    try:
        return _decoded(file.as_posix(), file.read_bytes(), str(file))
    except OSError as error:
        message = f"`{file.as_posix()}` cannot be read: {error.strerror or error}"
        return _File(file.as_posix(), None, (Finding("file-unreadable", Severity.ERROR, file.name, message, None),))


def _decoded(name: str, content: bytes, path: str) -> _File:
    from fedfrom.source.folder import FileBytes
    from fedfrom.syntax.project import decode

    found = decode("standard input" if name == _STDIN else name, FileBytes(content, name, path))
    return _File(name, None, (found,)) if isinstance(found, Finding) else _File(name, found)


def _to_stdout(text: str) -> None:
    """The bytes as they are: no line end is changed on the way."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def _show(source: SourceFile, text: str, color: bool) -> None:
    for line in difference_lines(source, text, "laid out", color=color):
        click.echo(line, color=color)


def _write(path: Path, text: str, ctx: click.Context) -> None:
    from fedfrom.cli.outputs import OutputError
    from fedfrom.cli.source_files import write_source

    try:
        write_source(path, text.encode("utf-8"))
    except OutputError as error:
        click.echo(f"error: {error}", err=True)
        ctx.exit(UNREADABLE)
