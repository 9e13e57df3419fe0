"""`fedfrom completion`: the script with which a shell completes commands, options and tags."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

from fedfrom.cli.main import cli

_SHELLS = ("bash", "fish", "zsh")


EXAMPLES = """\b
Examples:
  fedfrom completion bash  the script for bash
  fedfrom completion fish  the script for fish
"""


@click.command("completion", short_help="Print what makes a shell complete fedfrom.", epilog=EXAMPLES)
@click.argument("shell", type=click.Choice(_SHELLS))
def command(shell: str) -> None:
    """Print the script that makes SHELL complete fedfrom: commands, options, and the tags of a project.

    Bash: put it into ~/.local/share/bash-completion/completions/fedfrom. Zsh: into a folder of $fpath, as _fedfrom.
    Fish: into ~/.config/fish/completions/fedfrom.fish. It holds from the next shell on.
    """
    made = get_completion_class(shell)
    assert made is not None
    click.echo(made(cli, {}, "fedfrom", "_FEDFROM_COMPLETE").source())
