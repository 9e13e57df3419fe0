"""The command `fedfrom`: a group whose commands are files of this package, imported only when called."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from difflib import get_close_matches
from typing import Any

import click

from fedfrom import LANGUAGE_VERSION, __version__

# The commands in the order of `--help`; each is `cli/<name>_command.py` with a click command called `command`.
COMMANDS = ("new", "check", "build", "diff", "fmt", "pin", "explain", "rules", "completion")


class LazyGroup(click.Group):
    """Loads a command's module when the command is asked for, and offers a near miss for a mistyped one."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = importlib.import_module(f"fedfrom.cli.{cmd_name}_command").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        name = args[0] if args else ""
        if name and not name.startswith("-") and name not in COMMANDS:
            close = get_close_matches(name, COMMANDS, 1)
            near = f"; `{close[0]}` is close" if close else ""
            raise click.UsageError(f"there is no command `{name}`{near}. Commands: {', '.join(COMMANDS)}", ctx)
        return super().resolve_command(ctx, args)


def _version_text() -> str:
    from fedfrom.tables import editions

    return f"fedfrom {__version__}, language {LANGUAGE_VERSION}, tables {', '.join(editions())}"


def _print_version(ctx: click.Context, _parameter: click.Parameter, value: bool) -> None:
    if value and not ctx.resilient_parsing:
        click.echo(_version_text())
        ctx.exit()


@click.group(
    cls=LazyGroup,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Exit codes: 0 clean, 1 findings at or above the failing severity, 2 unreadable input or a wrong call.",
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Print versions and exit.",
)
@click.option(
    "--color",
    type=click.Choice(["auto", "always", "never"]),
    default="auto",
    help="Colour of messages. Auto: on a terminal, unless NO_COLOR is set.",
)
@click.pass_context
def cli(ctx: click.Context, color: str) -> None:
    """Fedfrom compiles a text file that says what is fed from what into a checked power distribution design.

    Results are for a licensed engineer's review; the adopted code and the authority having jurisdiction govern.
    """
    ctx.obj = {"color": color}


def use_color(choice: str, stream: Any) -> bool:
    """Whether to colour: an explicit choice first, then NO_COLOR, then FORCE_COLOR, then whether it is a terminal."""
    if choice != "auto":
        return choice == "always"
    if os.environ.get("NO_COLOR"):
        return False
    if os.environ.get("FORCE_COLOR"):
        return True
    return stream is not None and bool(stream.isatty())


# A run is short and makes few cycles, but hundreds of thousands of records: looking for cycles among them at Python's
# own pace takes up to two fifths of the time.
COLLECT_SELDOM = (100_000, 50, 1_000)


def main() -> None:
    """Entry point of the installed command."""
    gc.set_threshold(*COLLECT_SELDOM)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        cli(prog_name="fedfrom")
    except OSError as error:  # a disk that is full, a folder taken away meanwhile; what a file lacks is told in place
        where = f" ({error.filename})" if error.filename else ""
        click.echo(f"error: the system refuses to read or write{where}: {error.strerror or error}", err=True)
        sys.exit(2)
