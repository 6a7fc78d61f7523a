"""``blendwise pair A B …`` and ``blendwise pair A --with-all``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blendwise.cli import blend_options as of
from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import (
    AsWrittenOption,
    BookOption,
    CarefulOption,
    JsonOption,
    MoreOption,
    PageOption,
    PlainOption,
    TodayOption,
    day,
)
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.shelf.compute import Filters
    from blendwise.api import Book

app = command_app()


@dataclass(frozen=True, slots=True)
class _Asked:
    """What both questions share, as typed."""

    oils: tuple[str, ...]
    ratio: str
    load: str
    pour: str
    colour: str
    purpose: str
    on: AsOf


@app.command()
def pair(
    oils: of.OilsArgument,
    ratio: of.RatioOption = "",
    load: of.LoadOption = "",
    pour: of.PourOption = "",
    colour: of.ColourOption = "",
    purpose: of.PurposeOption = "",
    stabilised: of.StabilisedOption = None,
    with_all: of.WithAllOption = False,
    note: of.NoteOption = "",
    tag: of.TagOption = None,
    in_stock: of.InStockOption = False,
    price_up_to: of.PriceOption = "",
    clean_in_white: of.CleanOption = False,
    as_written: AsWrittenOption = False,
    careful: CarefulOption = False,
    page: PageOption = None,
    book: BookOption = None,
    more: MoreOption = False,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """Do these get on: which ratio, how strong, in which colours and pours, and what would help.

    What is not said comes from usual.yaml and is stated. Exit code 0: nothing worse than a caution. 1: a
    conflict or stop stands against it, or a guard waits on a fact not written down. 2: a name or an amount
    could not be understood.
    """
    from blendwise.cli.books import open_book

    named = tuple(oil for oil in oils if oil != "%")  # the shell parts `--load 4 %`
    on = AsOf(day(today), as_written=as_written, careful=careful)
    asked = _Asked(named, ratio, load, pour, colour, purpose, on)
    filters = _filters(with_all, note, tag or [], in_stock, price_up_to, clean_in_white)
    opened = open_book(book)
    if filters is None:
        return _named(opened, asked, stabilised or [], page, json, plain, more)
    _not_along_a_shelf(stabilised or [])
    return _shelf(opened, asked, filters, page, json, plain, more)


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


def _not_along_a_shelf(stabilised: list[str]) -> None:
    if stabilised:
        raise typer.BadParameter("A stabiliser is asked of named oils.", param_hint="--stabilised")


def _named(
    book: Book, asked: _Asked, stabilised: list[str], page: Path | None, json: bool, plain: bool, more: bool
) -> int:
    from blendwise.cli.output import show

    result = book.pair(
        *asked.oils,
        ratio=asked.ratio,
        load=asked.load,
        pour=asked.pour,
        colour=asked.colour,
        purpose=asked.purpose,
        stabilised=stabilised,
        on=asked.on,
    )
    if page is not None:
        from blendwise.cli.pages import deliver
        from blendwise.show.pair.page import pair_page

        deliver(pair_page(result), page, aside=json)
    if page is None or json:
        from blendwise.show.pair.blocks import pair_blocks
        from blendwise.show.pair.brief import pair_brief

        brief = partial(pair_brief, result)
        show(result, partial(pair_blocks, result) if more else brief, json, plain, brief)
    return CLEAN if result.sound else FINDINGS


def _shelf(
    book: Book, asked: _Asked, filters: Filters, page: Path | None, json: bool, plain: bool, more: bool
) -> int:
    from blendwise.cli.output import show
    from blendwise.cli.waiting import waiting
    from blendwise.show.shelf.blocks import shelf_blocks
    from blendwise.show.shelf.brief import shelf_brief

    if len(asked.oils) != 1:
        told = f"--with-all looks along the shelf from one oil; {len(asked.oils)} are named."
        raise typer.BadParameter(told, param_hint="OIL")
    with waiting("oils of the shelf") as progress:
        result = book.shelf(
            asked.oils[0],
            ratio=asked.ratio,
            load=asked.load,
            pour=asked.pour,
            colour=asked.colour,
            purpose=asked.purpose,
            on=asked.on,
            filters=filters,
            progress=progress,
        )
    brief = partial(shelf_brief, result)
    blocks = partial(shelf_blocks, result) if more else brief
    if page is not None:
        from blendwise.cli.pages import deliver_answer
        from blendwise.show.shelf.figures import figures

        name = f"{asked.oils[0]} along the shelf"
        deliver_answer(name, blocks(), result.units, page, figures(result), json)
    if page is None or json:
        show(result, blocks, json, plain, brief)
    return CLEAN if result.sound else FINDINGS
