"""What a shell may complete: the tags of the project that stands before on the line."""

from __future__ import annotations

from pathlib import Path

import click


def tags_of_project(ctx: click.Context, _parameter: click.Parameter, incomplete: str) -> list[str]:
    """Tags of items and ties that begin with what is typed, in the order of the text; none where there is no project.

    Runs at each press of the key, so it only reads the text and computes nothing.
    """
    path = ctx.params.get("path")
    if not path or not Path(path).exists():
        return []
    from fedfrom.model.read import read_model

    model = read_model(Path(path)).model
    if model is None:
        return []
    return [tag for tag in (*model.items, *(tie.tag for tie in model.ties)) if tag.startswith(incomplete)]
