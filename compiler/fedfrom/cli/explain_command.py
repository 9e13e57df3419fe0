"""`fedfrom explain TAG[.property]`: how a value came about, to the clause."""

from __future__ import annotations

from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fedfrom.cli.report import CLEAN, UNREADABLE

if TYPE_CHECKING:
    from fedfrom.compile import Compilation
    from fedfrom.results.derivation import Derivation


@click.command("explain", epilog="Examples:  fedfrom explain plant.fed DP1    fedfrom explain plant.fed DP1.class")
@click.argument("path", type=click.Path(path_type=Path))
@click.argument("subject")
@click.pass_context
def command(ctx: click.Context, path: Path, subject: str) -> None:
    """Print how SUBJECT (a tag, or tag.property) came about: inputs, formula, clause, rejected alternatives."""
    from fedfrom.compile import compile_project

    compilation = compile_project(path)
    if compilation.results is None:
        click.echo(f"{path.as_posix()}: the design could not be read; run `fedfrom check {path.as_posix()}`", err=True)
        ctx.exit(UNREADABLE)
    derivations = compilation.results.derivations
    chosen = [name for name in derivations if name == subject or name.startswith(subject + ".")]
    if not chosen:
        close = get_close_matches(subject, [*derivations, *_tags(compilation)], 5, 0.5)
        near = f" Close: {', '.join(close)}." if close else ""
        click.echo(f"error: nothing is known as `{subject}`.{near}", err=True)
        ctx.exit(UNREADABLE)
    click.echo("\n".join(derivation_text(derivations[name], compilation) for name in chosen), nl=False)
    ctx.exit(CLEAN)


def _tags(compilation: Compilation) -> list[str]:
    return list(compilation.model.items) if compilation.model is not None else []


def derivation_text(derivation: Derivation, compilation: Compilation) -> str:
    """A derivation as a neat hand calculation."""
    lines = [
        f"{derivation.subject}: {derivation.title}",
        f"  = {derivation.value}  ({_origin(derivation, compilation)})",
    ]
    if derivation.state:
        lines.append(f"  state: {derivation.state}")
    if derivation.inputs:
        lines.append("  given")
        widest = max(len(item.symbol) for item in derivation.inputs)
        for item in derivation.inputs:
            place = _place(item.span, compilation)
            source = "; ".join(part for part in (item.source, place) if part)
            lines.append(
                f"    {item.symbol:<{widest}} = {item.value}  {item.name}" + (f"  [{source}]" if source else "")
            )
    if derivation.steps:
        lines.append("  calculation")
        for step in derivation.steps:
            clause = f"  ({step.clause})" if step.clause else ""
            parts = " = ".join(part for part in (step.formula, step.numbers, step.result) if part)
            lines.append(f"    {parts}{clause}")
    if derivation.rounding:
        lines.append(f"  rounding: {derivation.rounding}")
    lines += [f"  not {item.option}: {item.reason}" for item in derivation.rejected]
    if derivation.clause:
        lines.append(f"  clause: {derivation.clause}")
    return "\n".join(lines) + "\n"


def _origin(derivation: Derivation, compilation: Compilation) -> str:
    place = _place(derivation.span, compilation)
    return (
        f"{derivation.origin.value} at {place}"
        if place and derivation.origin.value != "chosen"
        else derivation.origin.value
    )


def _place(span: object, compilation: Compilation) -> str:
    from fedfrom.source import Span

    if not isinstance(span, Span) or span.file not in compilation.files:
        return ""
    place = compilation.files[span.file].place(span.start)
    return f"{span.file}:{place.line}"
