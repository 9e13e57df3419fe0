"""`fedfrom check`: compute and report; nothing is written."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fedfrom.cli.main import use_color
from fedfrom.cli.places import folder_from_here, from_here, projects_of
from fedfrom.cli.progress import working
from fedfrom.cli.report import counts_text, exit_code, fail_on_option
from fedfrom.findings import Finding, Severity
from fedfrom.findings.case import Case
from fedfrom.findings.render import forms, render_findings
from fedfrom.source import SourceFile

if TYPE_CHECKING:
    from fedfrom.compile import Compilation
    from fedfrom.results.types import Results


EXAMPLES = """\b
Examples:
  fedfrom check plant.fed                    every finding, with its place and the way out
  fedfrom check office --quiet               only errors and warnings of the project in a folder
  fedfrom check plant.fed --fail-on warning  exit code 1 for a warning, too
  fedfrom check plant.fed --review           also every check that lacks a fact, and which fact
  fedfrom check plant.fed --format sarif     for a code review
  fedfrom check plant.fed --format junit     what the text expects, as tests
"""


@click.command("check", short_help="Compute the design and report every finding.", epilog=EXAMPLES)
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--format", "form", type=click.Choice(forms()), default="text", show_default=True, help="Form of output.")
@click.option("--quiet", is_flag=True, help="Only errors and warnings, without notes and what was not checked.")
@click.option("--review", is_flag=True, help="List every check that lacks a fact, with what it needs (text form).")
@click.option(
    "--project", "whole", is_flag=True, help="PATH is any file of a project: check the project it belongs to."
)
@fail_on_option
@click.pass_context
def command(
    ctx: click.Context, paths: tuple[Path, ...], form: str, quiet: bool, review: bool, whole: bool, fail_on: str
) -> None:
    """Compute the design and report every finding; write nothing.

    PATH is a .fed file or a folder with a project.fed; several may be given. The junit form reports what the text
    expects (`expect`), the others what was found.
    """
    from fedfrom.compile import compile_project

    if review and form != "text":
        raise click.UsageError("--review lists in the text form; results.json holds the same for programs")
    color = form == "text" and use_color(ctx.obj["color"], sys.stdout)
    worst, gathered = 0, Gathered()
    for path in projects_of(paths) if whole else paths:
        with working(f"computing {path.as_posix()}"):
            compilation = compile_project(path)
        findings, files = from_here(compilation.findings, compilation.files, path)
        if quiet:
            findings = tuple(finding for finding in findings if finding.severity >= Severity.WARNING)
        if form == "text":
            click.echo(render_findings(form, findings, files, color=color), nl=False, color=color)
            listed = review_lines(compilation) if review else ()
            separator = "\n" if findings or listed else ""
            for line in listed:
                click.echo(line)
            click.echo(f"{separator}{path.as_posix()}: {summary(compilation, '' if review else LISTED)}")
        gathered.add(findings, files, cases_of(compilation, path))
        worst = max(worst, exit_code(compilation.findings, fail_on, readable=compilation.model is not None))
    if form != "text":  # one document, however many projects
        click.echo(render_findings(form, gathered.findings, gathered.files, cases=gathered.cases), nl=False)
    ctx.exit(worst)


@dataclass
class Gathered:
    """What is reported of several projects in one document."""

    findings: list[Finding] = field(default_factory=list)
    files: dict[str, SourceFile] = field(default_factory=dict)
    cases: list[Case] = field(default_factory=list)

    def add(self, findings: Iterable[Finding], files: Mapping[str, SourceFile], cases: Iterable[Case]) -> None:
        self.findings += findings
        self.files |= files
        self.cases += cases


def cases_of(compilation: Compilation, path: Path) -> list[Case]:
    """The expectations of a project with their outcome; one that failed where the project could not be read."""
    suite, folder = path.as_posix(), folder_from_here(path)
    if compilation.results is None or compilation.model is None or compilation.model.incomplete:
        return [Case(suite, "the text can be read", False, "part of the text could not be read")]
    cases = []
    for outcome in compilation.results.expectations:
        message = f"not checked: needs {outcome.note}" if outcome.met is None else f"it is {outcome.measured}"
        if outcome.met is False and outcome.note:
            message += f", {outcome.note}"
        span = replace(outcome.span, file=folder + outcome.span.file) if outcome.span is not None else None
        cases.append(Case(suite, outcome.text, outcome.met, message, span))
    return cases


def review_lines(compilation: Compilation) -> list[str]:
    """The checks that lack a fact, each with what it needs; none where nothing was computed."""
    if compilation.results is None:
        return []
    lacking = {name: each for name, each in compilation.results.review.items() if each.outcome == "not checked"}
    if not lacking:
        return ["every check that applies has its facts"]
    width = max(len(name) for name in lacking)
    lines = [f"{len(lacking)} checks lack a fact, and none of them is a pass:"]
    lines += [f"  {name:{width}}  needs {each.needs}" for name, each in lacking.items()]
    return [*lines, "What a check is about: `fedfrom rules NAME`."]


LISTED = "`--review` lists them"


def summary(compilation: Compilation, listed: str = "") -> str:
    """The closing line: what was read, in how many states it was checked, the counts, and how the review stands.

    `listed`: where the checks that lack a fact are listed, in words. Gear whose short-circuit rating could not be
    established is named in the line itself.
    """
    words = []
    if compilation.network is not None and compilation.plan is not None:
        nodes, states = len(compilation.network.nodes), len(compilation.plan.states)
        words.append(f"{nodes} item{'s' if nodes != 1 else ''} in {states} operating state{'s' if states != 1 else ''}")
    words.append(counts_text(compilation.findings))
    results = compilation.results
    if results is not None and results.accepted:
        words.append(f"{len(results.accepted)} accepted")
    if results is not None and compilation.network is not None and compilation.network.nodes:
        from fedfrom.rules.review import review_counts

        counts = review_counts(results.review)
        lacking = counts["not checked"]
        words[-1] += f"; {counts['checked']} checks made, {lacking} lack a fact"
        words[-1] += f" ({listed})" if listed and lacking else ""
        words[-1] += _not_established(results)
    return ", ".join(words)


def _not_established(results: Results) -> str:
    """ "; short-circuit rating not established: MSB, LP1 and 3 more", "" where every rating is known."""
    gear = [tag for tag, each in results.gear.items() if each.sccr_a is None and each.status.value != "demolish"]
    if not gear:
        return ""
    more = f" and {len(gear) - MOST_NAMED} more" if len(gear) > MOST_NAMED else ""
    return f"; short-circuit rating not established: {', '.join(gear[:MOST_NAMED])}{more}"


MOST_NAMED = 4
