"""`fedfrom pin`: chosen values written into the text."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fedfrom.cli.complete import tags_of_project
from fedfrom.cli.difference import difference_lines
from fedfrom.cli.main import use_color
from fedfrom.cli.places import folder_from_here
from fedfrom.cli.progress import working
from fedfrom.cli.report import CLEAN, FOUND, UNREADABLE
from fedfrom.source import SourceFile

if TYPE_CHECKING:
    from fedfrom.compile import Compilation
    from fedfrom.editing.pin import PinPlan
    from fedfrom.editing.pin_types import Unpinned
    from fedfrom.source import Span

_MOST_SHOWN = 5


EXAMPLES = """\b
Examples:
  fedfrom pin plant.fed LP1 --dry-run         show what would be written
  fedfrom pin plant.fed LP1                   positions, bus, main and feeder of LP1
  fedfrom pin plant.fed DP1.feeder T1.rating  a feeder and a transformer
  fedfrom pin plant.fed LP1.3.device          the breaker of one circuit
"""


@click.command("pin", short_help="Write chosen values into the text.", epilog=EXAMPLES)
@click.argument("path", type=click.Path(path_type=Path))
@click.argument("subjects", nargs=-1, required=True, metavar="TAG[.PROPERTY]...", shell_complete=tags_of_project)
@click.option("--dry-run", is_flag=True, help="Write nothing; show what would change.")
@click.pass_context
def command(ctx: click.Context, path: Path, subjects: tuple[str, ...], dry_run: bool) -> None:
    """Write values that the compiler chose into the text, so that later edits cannot move them.

    TAG writes what is chosen for an item: the positions of its circuits, its class, bus and main, its feeder, its
    rating. Narrower: LP1.positions, LP1.bus, LP1.main, LP1.feeder, LP1.feeder.phase, T1.rating; a circuit by its
    position: LP1.3, LP1.3.device; all circuits of a panel with their devices and wire: LP1.circuits.

    Each value goes to the line that it belongs to; comments and layout stay. The new text is compiled before it is
    written: it must give the same results and no finding more.
    """
    from fedfrom.compile import compile_project
    from fedfrom.editing.pin import plan_pins

    with working(f"computing {path.as_posix()}"):
        compilation = compile_project(path)
    model, results = compilation.model, compilation.results
    if model is None or results is None:
        click.echo(f"error: the design could not be read; run `fedfrom check {path.as_posix()}`", err=True)
        ctx.exit(UNREADABLE)
    plan = plan_pins(model, results, compilation.files, subjects)
    if plan.unknown:
        for subject, close in plan.unknown.items():
            near = f"; close: {', '.join(close)}" if close else ""
            click.echo(f"error: there is nothing to pin called `{subject}`{near}", err=True)
        ctx.exit(UNREADABLE)
    if plan.texts:
        _verify(ctx, compilation, plan)
        _show(ctx, compilation, plan, folder_from_here(path)) if dry_run else _write(ctx, compilation, plan)
    _report(compilation, plan, dry_run, folder_from_here(path))
    ctx.exit(FOUND if plan.unpinned else CLEAN)


def _refuse(ctx: click.Context, message: str, lines: Iterable[str] = ()) -> None:
    click.echo(f"error: {message}", err=True)
    for line in lines:
        click.echo(f"  {line}", err=True)
    ctx.exit(UNREADABLE)


# --- before it is written --------------------------------------------------------------------------------------------


def _verify(ctx: click.Context, before: Compilation, plan: PinPlan) -> None:
    """The new texts must give the same design, and no finding more."""
    from fedfrom.compile import compile_texts
    from fedfrom.editing.same_design import differences, new_findings

    texts = {name: plan.texts.get(name, source.text) for name, source in before.files.items()}
    with working("computing it again with the values written"):
        after = compile_texts(texts, next(iter(before.files)))
    new = new_findings(before.findings, after.findings)
    assert before.results is not None
    changed = differences(before.results, after.results) if after.results is not None else ("nothing is computed",)
    if not new and not changed:
        return
    lines = [*(f"{finding.rule}: {finding.message}" for finding in new[:5]), *changed]
    names = sorted({pin.subject.partition(".")[0] for pin in plan.pinned})
    advice = f"pin more together (`fedfrom pin … {' '.join(names)}`), or write it by hand and let `fedfrom check` tell"
    _refuse(ctx, "nothing is written: with these values in the text the design would differ", [*lines, advice])


def _write(ctx: click.Context, compilation: Compilation, plan: PinPlan) -> None:
    from fedfrom.cli.outputs import OutputError
    from fedfrom.cli.source_files import write_source

    for name, text in plan.texts.items():
        source = compilation.files[name]
        try:
            write_source(Path(source.path), text.encode("utf-8"))
        except OutputError as error:
            _refuse(ctx, str(error))


# --- what is said ----------------------------------------------------------------------------------------------------


def _show(ctx: click.Context, compilation: Compilation, plan: PinPlan, folder: str) -> None:
    color = use_color(ctx.obj["color"], sys.stdout)
    for name, text in plan.texts.items():
        before = SourceFile(folder + name, compilation.files[name].text)
        for line in difference_lines(before, text, "pinned", color=color):
            click.echo(line, color=color)


def _report(compilation: Compilation, plan: PinPlan, dry_run: bool, folder: str) -> None:
    def place(span: Span) -> str:
        source = compilation.files.get(span.file)
        return f"{folder}{span.file}:{source.place(span.start).line}" if source is not None else span.file

    if not dry_run:
        for pin in plan.pinned:
            click.echo(f"{place(pin.place)}: {pin.subject}: {pin.words}")
    if not plan.pinned and not plan.unpinned:
        for pin in plan.already:
            click.echo(f"{pin.subject} is written already ({place(pin.place)})")
    for line in _unpinned(plan.unpinned):
        click.echo(f"not pinned: {line}")
    _offer(compilation, plan)
    count = f"{len(plan.pinned)} value{'' if len(plan.pinned) == 1 else 's'}"
    if plan.pinned:
        click.echo(f"{count} {'would be pinned' if dry_run else 'pinned'}; the results stay the same")
    elif not plan.unpinned and not plan.already:
        click.echo("nothing to pin: nothing there is chosen by the compiler")


def _unpinned(unpinned: Sequence[Unpinned]) -> Iterable[str]:
    """One line for each item and reason: what is meant, and why it is not pinned."""
    groups: dict[tuple[str, str], list[str]] = {}
    for each in unpinned:
        tag, _, rest = each.subject.partition(".")
        groups.setdefault((tag, each.reason), []).append(rest)
    for (tag, reason), names in groups.items():
        more = f" and {len(names) - _MOST_SHOWN} more" if len(names) > _MOST_SHOWN else ""
        what = f"{tag}.{names[0]}" if len(names) == 1 else f"{tag} ({', '.join(names[:_MOST_SHOWN])}{more})"
        yield f"{what}: {reason}"


def _offer(compilation: Compilation, plan: PinPlan) -> None:
    if not plan.apart:
        return
    from fedfrom.editing.pin_offers import offers
    from fedfrom.model.expand import expand
    from fedfrom.model.expand_project import project_of_text

    root = next(iter(compilation.files))
    texts = {name: source.text for name, source in compilation.files.items()}
    expanded = expand(project_of_text(texts[root], root, texts))
    for offer in offers(plan.apart, expanded.tree, compilation.files):
        lines = "\n".join(f"    {line}" for line in offer.text.splitlines())
        click.echo(f"To pin {offer.tag}, {offer.where}:\n{lines}")
