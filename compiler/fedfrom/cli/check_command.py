"""`fedfrom check`: compute and report; nothing is written."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from fedfrom.cli.main import use_color
from fedfrom.cli.report import counts_text, exit_code, fail_on_option
from fedfrom.findings.render import forms, render_findings


@click.command("check", epilog="Examples:  fedfrom check plant.fed    fedfrom check specs/office --format json")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--format", "form", type=click.Choice(forms()), default="text", show_default=True, help="Form of output.")
@click.option("--quiet", is_flag=True, help="Only errors and warnings, without notes and what was not checked.")
@fail_on_option
@click.pass_context
def command(ctx: click.Context, paths: tuple[Path, ...], form: str, quiet: bool, fail_on: str) -> None:
    """Compute the design and report every finding; write nothing.

    PATH is a .fed file or a folder with a project.fed; several may be given.
    """
    from fedfrom.compile import compile_project
    from fedfrom.findings import Severity

    color = form == "text" and use_color(ctx.obj["color"], sys.stdout)
    worst = 0
    for path in paths:
        compilation = compile_project(path)
        findings = compilation.findings
        if quiet:
            findings = tuple(finding for finding in findings if finding.severity >= Severity.WARNING)
        click.echo(render_findings(form, findings, compilation.files, color=color), nl=False, color=color)
        if form == "text":
            separator = "\n" if findings else ""
            click.echo(f"{separator}{path.as_posix()}: {summary(compilation)}")
        worst = max(worst, exit_code(compilation.findings, fail_on, readable=compilation.model is not None))
    ctx.exit(worst)


def summary(compilation: object) -> str:
    """The closing line: what was read, in how many states it was checked, and the counts."""
    from fedfrom.compile import Compilation

    assert isinstance(compilation, Compilation)
    words = []
    if compilation.network is not None and compilation.plan is not None:
        nodes, states = len(compilation.network.nodes), len(compilation.plan.states)
        words.append(f"{nodes} items in {states} operating state{'s' if states != 1 else ''}")
    words.append(counts_text(compilation.findings))
    if compilation.results is not None and compilation.results.accepted:
        words.append(f"{len(compilation.results.accepted)} accepted")
    return ", ".join(words)
