"""`fedfrom explain PATH NAME`: how a value came about, to the clause; what a finding or a rule means here."""

from __future__ import annotations

from pathlib import Path

import click

from fedfrom.cli.complete import tags_of_project
from fedfrom.cli.progress import working
from fedfrom.cli.report import CLEAN, UNREADABLE

EXAMPLES = """\b
Examples:
  fedfrom explain plant.fed DP1                   what can be explained about DP1
  fedfrom explain plant.fed DP1.class             why it is a panelboard and not a switchboard
  fedfrom explain plant.fed DP1.phase             the conductors of its feeder
  fedfrom explain plant.fed LP1/3                 a circuit, by position
  fedfrom explain plant.fed drop-branch           a rule, and what it found here
  fedfrom explain plant.fed drop-branch on LP1.3  one finding
"""


@click.command("explain", short_help="Print how a value came about.", epilog=EXAMPLES)
@click.argument("path", type=click.Path(path_type=Path))
@click.argument("name", nargs=-1, required=True, shell_complete=tags_of_project)
@click.option("--format", "form", type=click.Choice(["text", "markdown"]), default="text", show_default=True)
@click.option("--all", "whole", is_flag=True, help="Every calculation of a tag instead of the list.")
@click.pass_context
def command(ctx: click.Context, path: Path, name: tuple[str, ...], form: str, whole: bool) -> None:
    """Print how NAME came about: inputs with their places, formula, numbers, clause, alternatives rejected.

    NAME is a tag, TAG.property, a circuit (LP1.14 or LP1/14), the tag of a load, a rule, or a finding (RULE on TAG).
    """
    from fedfrom.compile import compile_project
    from fedfrom.documents.calculations.explain import explanation
    from fedfrom.documents.calculations.subjects import Subjects
    from fedfrom.findings.nearest import listed

    shown = path.as_posix()
    with working(f"computing {shown}"):
        compilation = compile_project(path)
    if compilation.results is None:
        click.echo(f"{shown}: the design could not be read; run `fedfrom check {shown}`", err=True)
        ctx.exit(UNREADABLE)
    subjects = Subjects(compilation.design())
    asked = " ".join(name)
    answer = subjects.answer(asked)
    if not (answer.subjects or answer.tag or answer.rule or answer.findings):
        near = f"; close: {listed(answer.close)}" if answer.close else ""
        click.echo(f"error: nothing is known as `{asked}`{near}", err=True)
        click.echo(f"help: a tag alone lists what can be explained: fedfrom explain {shown} TAG", err=True)
        ctx.exit(UNREADABLE)
    click.echo(explanation(subjects, answer, form, shown, whole=whole), nl=False)
    ctx.exit(CLEAN)
