"""``blendwise check PLAN``."""

from __future__ import annotations

from functools import partial
from typing import Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import (
    AsWrittenOption,
    BookOption,
    CarefulOption,
    JsonOption,
    MoreOption,
    PlainOption,
    PlanArgument,
    TodayOption,
    VariationOption,
    day,
)
from blendwise.records.as_of import AsOf

app = command_app()


@app.command()
def check(
    plan: PlanArgument,
    more: MoreOption = False,
    working: Annotated[bool, typer.Option("--working", help="Show every fact with unit and source.")] = False,
    variation: VariationOption = "",
    as_written: AsWrittenOption = False,
    careful: CarefulOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """What breaks the rulebook, by how much, why, and what to try.

    Exit code 0: nothing worse than a caution, as far as is known. 1: a conflict or stop is broken, or a guard
    (of skin, lye, fire or law) waits on a fact. 2: the files could not be read.
    """
    from blendwise.cli.books import open_plan
    from blendwise.cli.output import show
    from blendwise.show.check.blocks import check_blocks
    from blendwise.show.check.brief import brief_blocks

    on = day(today)
    opened, file = open_plan(plan, book)
    result = opened.check(
        file,
        on=AsOf(on, as_written=as_written, careful=careful),
        working=working,
        variation=variation or None,
    )
    whole = more or working
    brief = partial(brief_blocks, result)
    show(result, partial(check_blocks, result, working) if whole else brief, json, plain, brief)
    return CLEAN if result.sound else FINDINGS
