"""``blendwise cup OIL…``."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli import blend_options as of
from blendwise.cli.commands import command_app
from blendwise.cli.completion import plan_files, scent_names
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import BookOption, JsonOption, MoreOption, PlainOption, TodayOption, day
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.cup.result import CupResult

app = command_app()

CupOils = Annotated[
    list[str] | None,
    typer.Argument(metavar="OIL", help="Oils, together in one cup.", autocompletion=scent_names),
]
PlanOption = Annotated[
    Path | None,
    typer.Option("--plan", metavar="PLAN", help="Its recipe and doses.", autocompletion=plan_files),
]
PortionOption = Annotated[
    str,
    typer.Option("--portion", metavar="NAME", help="The portion of the plan; else that which holds most."),
]
DosesOption = Annotated[
    str, typer.Option("--doses", metavar="RATES", help='A cup for each, such as "2 %, 4 %, 6 %" of oils.')
]
LotsOption = Annotated[
    str, typer.Option("--lots", metavar="LOTS", help='One oil, a cup for each lot: "B-2231, B-2250".')
]
ApartOption = Annotated[bool, typer.Option("--apart", help="Each oil in a cup of its own.")]
SizeOption = Annotated[str, typer.Option("--size", metavar="MASS", help="Batter in a cup; else 100 g.")]
ColouredOption = Annotated[bool, typer.Option("--coloured", "--colored", help="Coloured as the portion is.")]
KeepOption = Annotated[
    bool, typer.Option("--keep", help="Keep its record in notes/, so that `note` finds it.")
]
PageOption = Annotated[
    Path | None,
    typer.Option("--page", metavar="FILE.html", help="A sheet to print (one page); its record is kept."),
]


@app.command()
def cup(
    oils: CupOils = None, plan: PlanOption = None, portion: PortionOption = "", doses: DosesOption = "",
    lots: LotsOption = "", ratio: of.RatioOption = "", apart: ApartOption = False, size: SizeOption = "",
    colour: of.ColourOption = "", coloured: ColouredOption = False, keep: KeepOption = False,
    page: PageOption = None, book: BookOption = None, more: MoreOption = False, json: JsonOption = False,
    plain: PlainOption = False, today: TodayOption = "",
) -> int:  # fmt: skip
    """A test cup: 100 g of your own batter with the scent, an unscented control beside it.

    Without --plan it is your usual recipe at your usual load. Looks are noted by `blendwise note CUP`, and
    count from then on. Exit code 0: nothing worse than a caution. 1: something stands against it; past a
    ban or a stop about lye nothing is to be weighed. 2: the question could not be understood.
    """
    from blendwise.answers.cup.question import Asked
    from blendwise.cli.books import open_book, open_plan
    from blendwise.cli.output import show
    from blendwise.show.cup.blocks import cup_blocks

    named = tuple(oil for oil in oils or () if oil != "%")
    if apart and ratio:
        raise typer.BadParameter("Oils in cups of their own have no ratio.", param_hint="--ratio")
    asked = Asked(named, portion, doses, lots, ratio, size, colour, coloured, apart)
    opened, file = (open_book(book), None) if plan is None else open_plan(plan, book)
    result = opened.cup(asked, file, on=AsOf(day(today)), keep=keep or page is not None)
    paged = page is not None and not result.refused
    if page is not None and paged:
        _print(result, page, json)
    if json or not paged:
        brief = partial(cup_blocks, result)
        show(result, partial(cup_blocks, result, more), json, plain, brief)
    return CLEAN if result.sound else FINDINGS


def _print(result: CupResult, page: Path, json: bool) -> None:
    """Write the sheet, and say where the record is kept: beside a document on standard error."""
    from blendwise.cli.output import write
    from blendwise.cli.pages import deliver
    from blendwise.show.cup.page import cup_page
    from blendwise.show.cup.words import note_command

    deliver(cup_page(result), page, told="Print it at 100 %, on A4 or Letter.", aside=json)
    said = f"Kept in {result.kept}. Note what you see:\n  {note_command(result)}\n"
    if json:
        sys.stderr.write(said)
    else:
        write(said)
