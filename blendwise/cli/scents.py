"""``blendwise scents …``: list, search, show, compare, import, export."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.completion import scent_names
from blendwise.cli.exit_codes import CLEAN
from blendwise.cli.options import BookOption, JsonOption, MoreOption, PlainOption, TodayOption, day
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from collections.abc import Callable

    from blendwise.answers.shelf.compute import Filters
    from blendwise.answers.spreadsheet.answers import Answers
    from blendwise.answers.spreadsheet.result import ImportResult
    from blendwise.api import Book

app = command_app(
    help="The shelf: list and search it, show an oil whole, compare several, import, export.",
    no_args_is_help=True,
)
DEMO = "--book demo_catalog"
NoteOption = Annotated[str, typer.Option("--note", metavar="NOTE", help="Only top, middle or base.")]
TagOption = Annotated[list[str] | None, typer.Option("--tag", metavar="WORD", help="Only with this tag.")]
StockOption = Annotated[bool, typer.Option("--in-stock", help="Only what is on hand.")]
PriceOption = Annotated[
    str, typer.Option("--price-up-to", metavar="PRICE", help='Only up to, such as "15 per 100 g".')
]


def _example(words: str) -> str:
    return f"Example: blendwise scents {words} {DEMO}"


@app.command("list", epilog=_example("list --note base --in-stock"))
def list_(
    note: NoteOption = "",
    tag: TagOption = None,
    in_stock: StockOption = False,
    price_up_to: PriceOption = "",
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """Every oil of the shelf in a line."""
    return _listed([], _filters(note, tag, in_stock, price_up_to), book, json, plain)


@app.command(epilog=_example("search gourmand --in-stock"))
def search(
    words: Annotated[list[str], typer.Argument(metavar="WORDS...", help="All of these must be met.")],
    note: NoteOption = "",
    tag: TagOption = None,
    in_stock: StockOption = False,
    price_up_to: PriceOption = "",
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """Oils with these words in name, kind, tags, constituents, lot or what was seen."""
    return _listed(words, _filters(note, tag, in_stock, price_up_to), book, json, plain)


def _filters(note: str, tags: list[str] | None, in_stock: bool, price: str) -> Filters:
    from blendwise.answers.shelf.compute import read_filters

    return read_filters(note, tags or [], in_stock, price, False)


def _listed(words: list[str], filters: Filters, book: Path | None, json: bool, plain: bool) -> int:
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.scents.blocks import list_blocks

    result = open_book(book).scents(*words, filters=filters)
    show(result, lambda: list_blocks(result), json, plain)
    return CLEAN


@app.command("show", epilog=_example("show tonka-milk"))
def show_(
    name: Annotated[
        str, typer.Argument(metavar="NAME", help="The oil, as you call it.", autocompletion=scent_names)
    ],
    more: MoreOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """One oil whole: every statement with its evidence, the plans and the notes that it is in."""
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.scents.blocks import scent_blocks
    from blendwise.show.scents.brief import scent_brief

    result = open_book(book).scent(name)
    brief = partial(scent_brief, result)
    show(result, partial(scent_blocks, result) if more else brief, json, plain, brief)
    return CLEAN


@app.command(epilog=_example("compare tonka-milk burnt-sugar lime"))
def compare(
    names: Annotated[
        list[str], typer.Argument(metavar="NAME...", help="Two to eight oils.", autocompletion=scent_names)
    ],
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """Oils side by side, fact by fact: first what tells them apart."""
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.scents.blocks import compare_blocks

    result = open_book(book).compare(*names)
    show(result, lambda: compare_blocks(result), json, plain)
    return CLEAN


@app.command(epilog=_example("rename lime persian-lime"))
def rename(
    old: Annotated[str, typer.Argument(metavar="OLD", help="Its name now.", autocompletion=scent_names)],
    new: Annotated[str, typer.Argument(metavar="NEW", help="Its new name.")],
    yes: Annotated[bool, typer.Option("--yes", "-y", help="Give it the new name.")] = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """Which rules, plans and notes speak of an oil; with --yes it bears its new name in all of them."""
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.scents.renaming import rename_blocks

    opened = open_book(book)
    result = opened.rename_scent(old, new)
    if yes:
        result = opened.write_renamed(result)
    show(result, lambda: rename_blocks(result), json, plain)
    return CLEAN


@app.command("import", epilog=f"Example: blendwise scents import demo_catalog/bottles.csv {DEMO}")
def import_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A CSV, TSV, XLSX or ODS of oils.")],
    to: Annotated[
        Path | None, typer.Option("--to", metavar="NEW.yaml", help="A new file, instead of the shelf.")
    ] = None,
    yes: Annotated[bool, typer.Option("--yes", "-y", help="Take the guesses, and write.")] = False,
    evidence: Annotated[
        str, typer.Option("--evidence", metavar="WHOSE", help="Whose word it all is, such as supplier.")
    ] = "",
    sheet: Annotated[str, typer.Option("--sheet", metavar="NAME", help="A sheet of the workbook.")] = "",
    every_row: Annotated[
        bool, typer.Option("--every-row", help="Show the rows without a doubt one by one too.")
    ] = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """A spreadsheet of oils comes onto your shelf; nothing that stands there is changed.

    Doubtful columns and cells are asked about once, the answers kept in a small file beside the sheet;
    without a terminal they are listed (exit code 1): answer in that file, and run it again. --yes takes the
    guesses, but none about skin or seizing; in a pipe nothing is written without it.
    """
    from blendwise.cli.books import open_book

    opened, on, whose = open_book(book), AsOf(day(today)), _whose(evidence)

    def read(told: Answers) -> ImportResult:
        return opened.read_scents(file, to, on=on, evidence=whose, sheet=sheet, answers=told)

    return _imported(opened, file, read, yes, every_row, json, plain)


def _imported(
    opened: Book,
    file: Path,
    read: Callable[[Answers], ImportResult],
    yes: bool,
    every_row: bool,
    json: bool,
    plain: bool,
) -> int:
    """Settle what is doubtful, show what was understood, and write it where that is wanted."""
    from blendwise.cli.output import show
    from blendwise.cli.sheet_prompts import settled_sheet, told_open
    from blendwise.show.scents.spreadsheet import import_blocks

    result, _ = settled_sheet(file, read, yes)
    if result.questions:
        return told_open(result, json, plain)
    if yes:
        result = opened.write_scents(result)
    show(result, lambda: import_blocks(result, every_row), json, plain)
    if yes or json or not _agreed(result):
        return CLEAN
    opened.write_scents(result)
    return _told(result)


def _whose(text: str) -> str:
    from blendwise.records.kinds.scent import EVIDENCE

    if text and text not in EVIDENCE:
        raise typer.BadParameter(f'"{text}" is none of {", ".join(EVIDENCE)}.', param_hint="--evidence")
    return text


def _agreed(result: ImportResult) -> bool:
    """Whether the maker, asked on a terminal, wants it written; elsewhere the way to write it is said."""
    from blendwise.show.scents.spreadsheet import ADD_YES

    if sys.stdin.isatty() and sys.stdout.isatty():
        return typer.confirm(f"Write {result.oils} oils to {result.to}?", default=True, err=True)
    typer.echo(ADD_YES, err=True)
    return False


def _told(result: ImportResult) -> int:
    from dataclasses import replace

    from blendwise.cli.output import show_blocks
    from blendwise.show.scents.spreadsheet import after_blocks

    show_blocks(after_blocks(replace(result, written=result.to)), False)
    return CLEAN


@app.command("export", epilog=f"Example: blendwise scents export shelf.csv {DEMO}")
def export(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A new .csv, .tsv or .xlsx.")],
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """The shelf as a spreadsheet, which `scents import` reads back; never over a file that is there."""
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.scents.spreadsheet import export_blocks

    result = open_book(book).export_scents(file)
    show(result, lambda: export_blocks(result), json, plain)
    return CLEAN
