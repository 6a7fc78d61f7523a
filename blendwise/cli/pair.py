"""``blendwise pair A B …`` and ``blendwise pair A --with-all``."""

from __future__ import annotations

from typing import Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import BookOption, JsonOption, PlainOption, TodayOption, day

app = command_app()

Text = Annotated[str, typer.Option(metavar="TEXT")]


@app.command()
def pair(
    oils: Annotated[list[str], typer.Argument(metavar="OIL …", help="Oils of your book, as you call them.")],
    ratio: Annotated[str, typer.Option("--ratio", metavar="2:1", help="Parts by mass, one for each oil.")] = "",
    load: Annotated[str, typer.Option("--load", metavar="RATE", help="All scent together, such as 4%.")] = "",
    pour: Annotated[str, typer.Option("--pour", metavar="STYLE", help="A style of pour, such as column.")] = "",
    colour: Annotated[str, typer.Option("--colour", metavar="NAME", help="A colourant of your book, or white.")] = "",
    purpose: Annotated[str, typer.Option("--for", metavar="sale|home", help="What the soap is for.")] = "",
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """Do these get on: which ratio, how strong, in which colours and pours, and what would help.

    What is not said comes from usual.yaml and is stated. Exit code 0: nothing worse than a caution. 1: a
    conflict or stop stands against it, or waits on a fact nobody has written down. 2: a name or an amount
    could not be understood.
    """
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.pair import pair_blocks

    on = day(today)
    result = open_book(book).pair(
        *_without_units(oils), ratio=ratio, load=load, pour=pour, colour=colour, purpose=purpose, today=on
    )
    show(result, lambda: pair_blocks(result), json, plain)
    return CLEAN if result.sound else FINDINGS


def _without_units(oils: list[str]) -> list[str]:
    """A per cent sign that the shell parted from its number (``--load 4 %``) is no oil."""
    return [oil for oil in oils if oil != "%"]
