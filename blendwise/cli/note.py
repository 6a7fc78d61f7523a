"""``blendwise note PLAN``."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN
from blendwise.cli.options import BookOption, JsonOption, PlainOption, TodayOption, VariationOption, day
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.note.compute import Asked
    from blendwise.api import Book

app = command_app()

NotePlan = Annotated[
    Path | None, typer.Argument(help="The plan that was poured, or a test cup's name.", metavar="PLAN")
]
LookOption = Annotated[
    str, typer.Option("--look", help="at the pot, at the cut, week 1, 2, 4, 6 or later; else by the day.")
]
SawOption = Annotated[
    list[str] | None,
    typer.Option("--saw", metavar="TEXT", help='What was seen, like "milk: colour ivory, edge clean".'),
]
DoseOption = Annotated[
    list[str] | None,
    typer.Option(
        "--dose", metavar="TEXT", help='As weighed, like "soil: tonka-milk 6.5 g"; else the plan\'s.'
    ),
]
AssignedOption = Annotated[
    bool, typer.Option("--assigned", help="The doses poured were those of `blendwise assign`.")
]
LotOption = Annotated[
    list[str] | None, typer.Option("--lot", metavar="NAME=LOT", help="A lot; the shelf's are taken else.")
]
VoteOption = Annotated[
    list[str] | None, typer.Option("--vote", metavar="NAME=COUNT", help="How many liked a variation best.")
]
FavouriteOption = Annotated[
    list[str] | None, typer.Option("--favourite", metavar="NAME", help="A portion or variation liked best.")
]
PhotoOption = Annotated[
    list[str] | None, typer.Option("--photo", metavar="NAME", help="The name of a photograph.")
]
OnOption = Annotated[str, typer.Option("--on", metavar="DATE", help="The day of the look; else today.")]
PouredOption = Annotated[str, typer.Option("--poured", metavar="DATE", help="The day of the pour.")]
BatchOption = Annotated[str, typer.Option("--batch", metavar="CODE", help="The batch's code.")]
CorrectsOption = Annotated[
    str, typer.Option("--corrects", metavar="NOTE", help="The note this one corrects.")
]
RoomOption = Annotated[str, typer.Option("--room", metavar="TEMP", help="Temperature of the room.")]
BatterOption = Annotated[
    str, typer.Option("--batter", metavar="TEMP", help="Temperature of the batter at the split.")
]
TookOption = Annotated[
    str, typer.Option("--took", metavar="TIME", help="First scenting to last movement, such as 22 min.")
]
DueOption = Annotated[bool, typer.Option("--due", help="List the looks that are due, of PLAN or of all.")]
AnewOption = Annotated[bool, typer.Option("--anew", help="Drop an unfinished look and begin anew.")]
DryRunOption = Annotated[bool, typer.Option("--dry-run", help="Show the note, write nothing.")]
BarsOption = Annotated[str, typer.Option("--bars", help="Bars cut.")]
MassOption = Annotated[str, typer.Option("--mass", help="Mass of one bar, such as 98 g.")]
RepeatOption = Annotated[str, typer.Option("--repeat", help="Make it again? yes or no.")]
RemarksOption = Annotated[str, typer.Option("--remarks", help="Anything else.")]


@app.command()
def note(
    plan: NotePlan = None, look: LookOption = "", saw: SawOption = None, variation: VariationOption = "",
    on: OnOption = "", poured: PouredOption = "", batch: BatchOption = "", dose: DoseOption = None,
    assigned: AssignedOption = False, lot: LotOption = None, room: RoomOption = "", batter: BatterOption = "",
    took: TookOption = "",
    bars: BarsOption = "", mass: MassOption = "", favourite: FavouriteOption = None, vote: VoteOption = None,
    again: RepeatOption = "", photo: PhotoOption = None, remarks: RemarksOption = "",
    corrects: CorrectsOption = "", due: DueOption = False, anew: AnewOption = False,
    dry_run: DryRunOption = False, book: BookOption = None, json: JsonOption = False,
    plain: PlainOption = False, today: TodayOption = "",
) -> int:  # fmt: skip
    """Record a look at a batch: by prompts, or by options such as --saw.

    The first note of a batch keeps what was poured. Notes are new files; none is ever changed.
    """
    from blendwise.answers.note.compute import Asked

    if due and (saw or remarks):
        raise typer.BadParameter("It lists what is due and notes nothing.", param_hint="--due")
    if due or plan is None:
        return _due(plan, book, json, plain, today, asked_for=due)
    now = day(today)
    asked = Asked(
        look=look, on=day(on, now, "--on") if on else None,
        poured=day(poured, now, "--poured") if poured else None,
        variation=variation or None, batch=batch, corrects=corrects,
        saw=saw or (), doses=dose or (), lots=lot or (),
        votes=vote or (), favourites=favourite or (), photos=photo or (),
        room=room, batter=batter, took=took, bars=bars, mass=mass, repeat=again, remarks=remarks,
    )  # fmt: skip
    return _note(plan, asked, book, json, plain, today, assigned, anew, dry_run)


def _due(plan: Path | None, book: Path | None, json: bool, plain: bool, today: str, asked_for: bool) -> int:
    from blendwise.cli.books import open_book, open_plan_or_cup
    from blendwise.cli.output import show
    from blendwise.show.note.blocks import due_blocks

    if not asked_for:
        raise typer.BadParameter("Name the plan that was poured, or ask --due.", param_hint="PLAN")
    if plan is None:
        opened, name = open_book(book), None
    else:
        opened, file = open_plan_or_cup(plan, book)
        name = opened.plan_name(file) if isinstance(file, Path) else file
    result = opened.due(AsOf(day(today)), name)
    show(result, lambda: due_blocks(result), json, plain)
    return CLEAN


def _note(
    plan: Path,
    asked: Asked,
    book: Path | None,
    json: bool,
    plain: bool,
    today: str,
    assigned: bool,
    anew: bool,
    dry_run: bool,
) -> int:
    from dataclasses import replace

    from blendwise.cli.books import open_plan_or_cup
    from blendwise.cli.output import show
    from blendwise.show.note.blocks import note_blocks

    opened, file = open_plan_or_cup(plan, book)
    if assigned and isinstance(file, Path):
        asked = replace(asked, grams=_assigned(opened, file, today))
    finished = None
    if not asked.says_anything and sys.stdin.isatty():
        from blendwise.cli.note_prompts import by_prompts

        asked, finished = by_prompts(opened, file, asked, day(today), anew)
    if not dry_run and sys.stdin.isatty() and not _agreed(opened, file, asked, day(today)):
        return CLEAN
    result = opened.note(file, asked, on=AsOf(day(today)), dry_run=dry_run)
    if finished is not None and not dry_run:
        finished()
    show(result, lambda: note_blocks(result), json, plain)
    return CLEAN


def _agreed(opened: Book, file: Path | str, asked: Asked, today: date) -> bool:
    """Whether the maker keeps the look as it is understood; not asked where nothing was in own words."""
    from blendwise.show.note.blocks import understood_blocks
    from blendwise.show.plain import plain

    tried = opened.note(file, asked, on=AsOf(today), dry_run=True)
    if not any(each.in_own_words for each in tried.understood):
        return True
    typer.echo(plain(understood_blocks(tried)), err=True)
    return typer.confirm("Keep it so", default=True, err=True)


def _assigned(opened: Book, file: Path, today: str) -> dict[str, dict[str, float]]:
    """Grams of each scent in each portion, as the assignment gives them."""
    found = opened.assign(file, on=AsOf(day(today)))
    return {pour.portion: dict(pour.scents) for pour in found.portions}
