"""The ``blendwise`` command itself: its help, its version, and the table of commands below it."""

from __future__ import annotations

from typing import Annotated

import typer

from blendwise.cli.commands import LazyGroup
from blendwise.cli.exit_codes import CLEAN
from blendwise.version import __version__

EPILOG = (
    "Lye burns, limits protect skin: Blendwise advises, it is not legal or safety advice. "
    "Start with: blendwise check PLAN"
)

app = typer.Typer(
    name="blendwise",
    cls=LazyGroup,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    epilog=EPILOG,
)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"blendwise {__version__}")
        raise typer.Exit(CLEAN)


@app.callback(invoke_without_command=True)
def blendwise(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Which portion takes which oil: a second pair of eyes on a pour of several colours and scents."""
    if context.invoked_subcommand is None:
        typer.echo(context.get_help())
