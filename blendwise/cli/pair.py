"""``blendwise pair A B …`` and ``blendwise pair A --with-all``."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.completion import colourant_names, pour_names, scent_names
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import (
    AsWrittenOption,
    BookOption,
    CarefulOption,
    JsonOption,
    PageOption,
    PlainOption,
    TodayOption,
    day,
)

if TYPE_CHECKING:
    from blendwise.answers.shelf.compute import Filters
    from blendwise.api import Book

app = command_app()


@dataclass(frozen=True, slots=True)
class _Asked:
    """What both questions share, as typed."""

    ratio: str
    load: str
    pour: str
    colour: str
    purpose: str
    today: date
    as_written: bool
    careful: bool


@app.command()
def pair(
    oils: Annotated[
        list[str],
        typer.Argument(
            metavar="OIL", help="Oils of your book, as you call them.", autocompletion=scent_names
        ),
    ],
    ratio: Annotated[
        str, typer.Option("--ratio", metavar="2:1", help="Parts by mass, one for each oil.")
    ] = "",
    load: Annotated[str, typer.Option("--load", metavar="RATE", help="All scent together, such as 4%.")] = "",
    pour: Annotated[
        str,
        typer.Option(
            "--pour", metavar="STYLE", help="A style of pour, such as column.", autocompletion=pour_names
        ),
    ] = "",
    colour: Annotated[
        str,
        typer.Option(
            "--colour",
            "--color",
            metavar="NAME",
            help="A colourant of your book, or white.",
            autocompletion=colourant_names,
        ),
    ] = "",
    purpose: Annotated[str, typer.Option("--for", metavar="sale|home", help="What the soap is for.")] = "",
    stabilised: Annotated[
        list[str] | None,
        typer.Option("--stabilised", metavar="OIL", help="An oil with vanilla stabiliser in it."),
    ] = None,
    with_all: Annotated[
        bool, typer.Option("--with-all", help="One oil beside every other of the shelf.")
    ] = False,
    note: Annotated[
        str, typer.Option("--note", metavar="NOTE", help="With all: top, middle or base only.")
    ] = "",
    tag: Annotated[
        list[str] | None, typer.Option("--tag", metavar="WORD", help="With all: oils with this tag only.")
    ] = None,
    in_stock: Annotated[bool, typer.Option("--in-stock", help="With all: what is on hand only.")] = False,
    price_up_to: Annotated[
        str, typer.Option("--price-up-to", metavar="PRICE", help='With all: such as "15 per 100 g".')
    ] = "",
    clean_in_white: Annotated[
        bool, typer.Option("--clean-in-white", help="With all: only what leaves white soap white.")
    ] = False,
    as_written: AsWrittenOption = False,
    careful: CarefulOption = False,
    page: PageOption = None,
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

    named = [oil for oil in oils if oil != "%"]  # the shell parts `--load 4 %`
    asked = _Asked(ratio, load, pour, colour, purpose, day(today), as_written, careful)
    filters = _filters(with_all, note, tag or [], in_stock, price_up_to, clean_in_white)
    opened = open_book(book)
    if filters is not None and page is not None:
        raise typer.BadParameter("A page shows named oils, not the whole shelf.", param_hint="--page")
    if filters is not None and stabilised:
        raise typer.BadParameter("A stabiliser is asked of named oils.", param_hint="--stabilised")
    if filters is not None:
        return _shelf(opened, named, asked, filters, json, plain)
    from blendwise.show.pair.blocks import pair_blocks

    result = opened.pair(
        *named,
        ratio=asked.ratio,
        load=asked.load,
        pour=asked.pour,
        colour=asked.colour,
        purpose=asked.purpose,
        stabilised=stabilised or [],
        today=asked.today,
        as_written=asked.as_written,
        careful=asked.careful,
    )
    if page is not None:
        from blendwise.cli.pages import deliver
        from blendwise.show.pair.page import pair_page

        deliver(pair_page(result), page)
    else:
        show(result, lambda: pair_blocks(result), json, plain)
    return CLEAN if result.sound else FINDINGS


def _filters(
    with_all: bool, note: str, tags: list[str], in_stock: bool, price: str, clean: bool
) -> Filters | None:
    """The filters as typed; None without ``--with-all``, which they need."""
    if not with_all:
        if note or tags or in_stock or price or clean:
            raise typer.BadParameter("Filters of the shelf go with --with-all.", param_hint="--with-all")
        return None
    from blendwise.answers.shelf.compute import read_filters

    return read_filters(note, tags, in_stock, price, clean)


def _shelf(book: Book, oils: list[str], asked: _Asked, filters: Filters, json: bool, plain: bool) -> int:
    from blendwise.cli.output import show
    from blendwise.cli.waiting import waiting
    from blendwise.show.shelf.blocks import shelf_blocks

    if len(oils) != 1:
        raise typer.BadParameter(
            f"--with-all looks along the shelf from one oil; {len(oils)} are named.", param_hint="OIL"
        )
    with waiting("oils of the shelf") as progress:
        result = book.shelf(
            oils[0],
            ratio=asked.ratio,
            load=asked.load,
            pour=asked.pour,
            colour=asked.colour,
            purpose=asked.purpose,
            today=asked.today,
            as_written=asked.as_written,
            careful=asked.careful,
            filters=filters,
            progress=progress,
        )
    show(result, lambda: shelf_blocks(result), json, plain)
    return CLEAN if result.sound else FINDINGS
