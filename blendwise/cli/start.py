"""``blendwise start DIR``."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import JsonOption, PlainOption, TodayOption, day

if TYPE_CHECKING:
    from blendwise.answers.start.questions import Question

app = command_app()


FolderArgument = Annotated[Path, typer.Argument(metavar="DIR", help="A folder that is new, or empty.")]
DemoOption = Annotated[
    bool, typer.Option("--with-demo", help="Begin with the demo's invented oils on the shelf.")
]
ShelfOption = Annotated[
    Path | None, typer.Option("--shelf", metavar="FILE", help="Begin with a spreadsheet of your oils.")
]
DefaultsOption = Annotated[bool, typer.Option("--defaults", help="Ask nothing: take what is usual.")]
MassOption = Annotated[str, typer.Option("--mass", metavar="g|oz", help="How you weigh.")]
TemperatureOption = Annotated[
    str, typer.Option("--temperature", metavar="C|F", help="How you take temperatures.")
]
RatesOption = Annotated[str, typer.Option("--rates", metavar="percent|ppo", help="How you think of rates.")]
OilsOption = Annotated[str, typer.Option("--oils", help="Base oils of a usual batch, such as 1000 g.")]
ConcentrationOption = Annotated[str, typer.Option("--concentration", help="Lye concentration, as 31 %.")]
SuperfatOption = Annotated[str, typer.Option("--superfat", help="Superfat, such as 5 %.")]
LoadOption = Annotated[str, typer.Option("--load", help="Scent, such as 4 % of batch oils.")]
ScaleOption = Annotated[str, typer.Option("--scale-step", help="Step of the scent scale.")]
LyeScaleOption = Annotated[str, typer.Option("--lye-scale-step", help="Step of the lye scale.")]
HandsOption = Annotated[str, typer.Option("--hands", metavar="1|2", help="Pairs of hands at the pour.")]
BatterOption = Annotated[str, typer.Option("--batter", help="Batter at the split, such as 33 °C.")]
RoomOption = Annotated[str, typer.Option("--room", help="The room, such as 20 °C.")]
ForOption = Annotated[str, typer.Option("--for", metavar="sale|home", help="What the soap is for.")]
CurrencyOption = Annotated[str, typer.Option("--currency", help="Word after a price.")]
DryOption = Annotated[bool, typer.Option("--dry-run", help="Try it all, write nothing.")]


@app.command()
def start(
    folder: FolderArgument,
    with_demo: DemoOption = False,
    shelf: ShelfOption = None,
    defaults: DefaultsOption = False,
    mass: MassOption = "",
    temperature: TemperatureOption = "",
    rates: RatesOption = "",
    oils: OilsOption = "",
    concentration: ConcentrationOption = "",
    superfat: SuperfatOption = "",
    load: LoadOption = "",
    scale_step: ScaleOption = "",
    lye_scale_step: LyeScaleOption = "",
    hands: HandsOption = "",
    batter: BatterOption = "",
    room: RoomOption = "",
    purpose: ForOption = "",
    currency: CurrencyOption = "",
    dry_run: DryOption = False,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """A book of your own: rules, a shelf, your usual ways and a first plan.

    What an option says is not asked; without a terminal, or with --defaults, the rest takes what is usual,
    and that is said. A folder that holds anything is left as it is (exit code 2).
    """
    said = {"mass": mass, "temperature": temperature, "rates": rates, "oils": oils, "load": load}
    said |= {"concentration": concentration, "superfat": superfat, "scale step": scale_step, "room": room}
    said |= {"lye scale step": lye_scale_step, "hands": hands, "batter": batter, "purpose": purpose}
    said |= {"currency": currency}
    if with_demo and shelf is not None:
        raise typer.BadParameter("Either the demo's oils or your own: not both.", param_hint="--shelf")
    given = _given(folder, shelf, said, defaults)
    return _started(folder, given, with_demo, shelf, day(today), dry_run, json, plain, defaults)


def _given(folder: Path, shelf: Path | None, said: dict[str, str], defaults: bool) -> dict[str, str]:
    """What the options say; asked for on a terminal, once nothing stands in the way (a bad sheet too)."""
    from blendwise.answers.start.compute import refuse_taken, settled, sheet_of

    refuse_taken(folder)
    if shelf is not None:
        sheet_of(shelf, settled({})[0], date.today())
    given = {key: text for key, text in said.items() if text}
    return _asked(given) if sys.stdin.isatty() and not defaults else given


def _started(
    folder: Path,
    given: dict[str, str],
    demo: bool,
    shelf: Path | None,
    today: date,
    dry_run: bool,
    json: bool,
    plain: bool,
    defaults: bool,
) -> int:
    from blendwise.answers.start.compute import settled, sheet_of, start_book
    from blendwise.cli.output import show
    from blendwise.show.start.blocks import start_blocks

    answers = None
    if shelf is not None:
        from blendwise.cli.sheet_prompts import settled_sheet, told_open

        said = settled(given)[0]
        read, answers = settled_sheet(shelf, lambda told: sheet_of(shelf, said, today, told), defaults)
        if read.questions:
            return told_open(read, json, plain)
    result = start_book(
        folder, given, demo=demo, shelf=shelf, sheet_answers=answers, today=today, dry_run=dry_run
    )
    show(result, lambda: start_blocks(result), json, plain)
    return CLEAN if result.sound else FINDINGS


def _asked(given: dict[str, str]) -> dict[str, str]:
    """Every question in its order: as given, else as answered now; a wrong answer is asked again."""
    from blendwise.answers.start.questions import QUESTIONS
    from blendwise.cli.prompting import HOW, Back, tell
    from blendwise.show.start.blocks import FEW

    tell(f"{FEW} {HOW}")
    open_ = [question for question in QUESTIONS if not given.get(question.key)]
    answers, place = dict(given), 0
    while place < len(open_):
        try:
            answers[open_[place].key] = _one(open_[place], answers)
            place += 1
        except Back:
            place = max(0, place - 1)
    return answers


def _one(question: Question, answers: dict[str, str]) -> str:
    from blendwise.answers.start.questions import answered, default_of
    from blendwise.cli.prompting import prompted, tell
    from blendwise.quantity import QuantityError
    from blendwise.show.start.blocks import explained, refused

    while True:
        text = prompted(question.asks, default_of(question, answers), explained(question))
        try:
            return answered(question, text, answers)
        except QuantityError as error:
            tell(refused(error.message, error.remedy))
