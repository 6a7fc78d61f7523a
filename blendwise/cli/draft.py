"""``blendwise draft NAME``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.completion import pour_names
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import BookOption, JsonOption, PlainOption, TodayOption, day
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.api import Book

app = command_app()

NameArgument = Annotated[str, typer.Argument(metavar="NAME", help="What the plan is to be called.")]
ForOption = Annotated[str, typer.Option("--for", help="sale or home.")]
OilsOption = Annotated[str, typer.Option("--oils", help='Base oils, such as "olive 45 %, coconut 55 %".')]
AmountOption = Annotated[
    str, typer.Option("--amount", help="1100 g, loaf 25 x 9 x 6.5 cm, or 6 cavities of 95 mL.")
]
BarsOption = Annotated[str, typer.Option("--bars", help="How many bars it is cut into.")]
LyeOption = Annotated[str, typer.Option("--lye", help='Lye and superfat, such as "31 %, 5 %".')]
PourOption = Annotated[
    str, typer.Option("--pour", help="How it is poured: a style of the rulebook.", autocompletion=pour_names)
]
PortionOption = Annotated[
    list[str] | None,
    typer.Option("--portion", help='Such as "milk: 35 %; titanium-dioxide 1 %; may become cream".'),
]
ScentOption = Annotated[
    list[str] | None, typer.Option("--scent", help='An oil and its parts, such as "lime: 2".')
]
UnscentedOption = Annotated[bool, typer.Option("--unscented", help="No scent at all.")]
LoadOption = Annotated[str, typer.Option("--load", help="All scent together, such as 3 % of batch oils.")]
DosingOption = Annotated[
    str, typer.Option("--dosing", help="same total, or same dose in each scented portion.")
]
NeverOption = Annotated[str, typer.Option("--never", help='Such as "tonka-milk in milk".')]
YesOption = Annotated[bool, typer.Option("--yes", "-y", help="Take the default of every other question.")]
DryOption = Annotated[bool, typer.Option("--dry-run", help="Show the plan, write nothing.")]
AnewOption = Annotated[bool, typer.Option("--anew", help="Drop an unfinished draft and begin again.")]
WriteOption = Annotated[
    Path | None, typer.Option("--write", metavar="FILE", help="Where to; else the book's plans/NAME.yaml.")
]


@app.command()
def draft(
    name: NameArgument,
    for_: ForOption = "",
    oils: OilsOption = "",
    amount: AmountOption = "",
    bars: BarsOption = "",
    lye: LyeOption = "",
    pour: PourOption = "",
    portion: PortionOption = None,
    scent: ScentOption = None,
    unscented: UnscentedOption = False,
    load: LoadOption = "",
    dosing: DosingOption = "",
    never: NeverOption = "",
    yes: YesOption = False,
    dry_run: DryOption = False,
    anew: AnewOption = False,
    write: WriteOption = None,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """A plan by questions, each with a default; at the end the advice, and the file written.

    What an option says is not asked; without a terminal the answers are read from the input, a line each.
    A broken-off draft goes on where it stopped. Nothing is ever written over. Exit code 1: the plan is
    written, and a conflict or stop speaks against it.
    """
    from blendwise.answers.draft.given import portions_given, scents_given

    said = {"for": for_, "oils": oils, "amount": amount, "bars": bars, "lye": lye, "pour": pour}
    said |= {"load": load, "dosing": dosing, "never": never}
    given = {key: text for key, text in said.items() if text}
    given |= portions_given(portion or ()) | scents_given(scent or (), unscented)
    return _drafted(name, given, book, write, (yes, dry_run, anew), json, plain, today)


def _drafted(
    name: str,
    given: dict[str, str],
    folder: Path | None,
    write: Path | None,
    ways: tuple[bool, bool, bool],
    json: bool,
    plain: bool,
    today: str,
) -> int:
    from blendwise.answers.draft.checks import plan_name
    from blendwise.cli.books import open_book
    from blendwise.cli.draft_prompts import converse
    from blendwise.cli.output import show
    from blendwise.records.writing.unfinished import Unfinished
    from blendwise.show.draft.blocks import draft_blocks

    yes, dry_run, anew = ways
    opened = open_book(folder, write.parent if write is not None else None)
    file = _free(opened, plan_name(name), write)
    begun = opened.draft(file, name=plan_name(name), on=AsOf(day(today)))
    kept = Unfinished(opened.folder / "plans" / f".unfinished-{begun.name}.json")
    if anew:
        kept.finish()
    converse(begun, given, kept, yes)
    result = begun.finished()
    if not dry_run:
        result = opened.write_draft(result, file)
        kept.finish()
    show(result, lambda: draft_blocks(result), json, plain)
    return CLEAN if result.check.sound else FINDINGS


def _free(opened: Book, name: str, write: Path | None) -> Path:
    """Where the plan goes; a name that is taken is said before anything is asked."""
    from blendwise.records.place import read_fault

    file = write if write is not None else opened.folder / "plans" / f"{name}.yaml"
    if file.exists():
        raise read_fault(
            file, "There is a plan of this name already.", "Choose another name; nothing was changed."
        )
    return file
