"""``blendwise again PLAN``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import BookOption, JsonOption, PlainOption, TodayOption, VariationOption, day
from blendwise.records.as_of import AsOf

app = command_app()

AgainPlan = Annotated[str, typer.Argument(help="A plan that was poured, or a batch's code.", metavar="PLAN")]
BarsOption = Annotated[int | None, typer.Option("--bars", min=1, help="Scale to so many bars.")]
OilsOption = Annotated[str, typer.Option("--oils", metavar="MASS", help="Scale to oils, such as 1500 g.")]
MouldOption = Annotated[
    str, typer.Option("--mould", metavar="SIZE", help="Scale to a mould, inside, such as 25 x 9 x 6.5 cm.")
]
WriteOption = Annotated[
    Path | None, typer.Option("--write", metavar="NEW.yaml", help="Write the plan to a new file.")
]


@app.command()
def again(
    plan: AgainPlan,
    variation: VariationOption = "",
    bars: BarsOption = None,
    oils: OilsOption = "",
    mould: MouldOption = "",
    write: WriteOption = None,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """The next plan: what was poured, as it was weighed, scaled, and what was learned above it.

    Without --write the plan is only shown. Exit code 0: nothing worse than a caution speaks against it.
    1: a conflict or stop does. 2: it could not be made.
    """
    from blendwise.cli.books import book_and_name
    from blendwise.cli.output import show
    from blendwise.show.again.blocks import again_blocks

    opened, name = book_and_name(plan, book)
    result = opened.again(
        name, on=AsOf(day(today)), variation=variation or None, bars=bars, oils=oils, mould=mould, write=write
    )
    show(result, lambda: again_blocks(result), json, plain)
    return CLEAN if result.check.sound else FINDINGS
