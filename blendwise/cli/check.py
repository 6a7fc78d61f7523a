"""``blendwise check PLAN``."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Annotated, Literal

import typer

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
    PlanArgument,
    TodayOption,
    VariationOption,
    day,
    writes_lever,
)
from blendwise.records.as_of import AsOf

app = command_app()

WriteOption = Annotated[
    Path | None, typer.Option("--write", metavar="NEW.yaml", help="Write the plan with a change that mends.")
]
LeverOption = Annotated[int, typer.Option("--lever", min=0, help="Which change to write (the first).")]


@app.command()
def check(
    plan: PlanArgument,
    more: MoreOption = False,
    working: Annotated[bool, typer.Option("--working", help="Show every fact with unit and source.")] = False,
    variation: VariationOption = "",
    write: WriteOption = None,
    lever: LeverOption = 0,
    as_written: AsWrittenOption = False,
    careful: CarefulOption = False,
    page: PageOption = None,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """What breaks the rulebook, by how much, why, and what would mend it, judged again.

    With --write the plan is written anew with the change that is told first, or with the one that --lever
    numbers; every other line and your remarks stay. Exit code 0: nothing worse than a caution, as far as is
    known. 1: a conflict or stop is broken, or a guard (of skin, lye, fire or law) waits on a fact. 2: the
    files could not be read.
    """
    from blendwise.cli.books import open_plan
    from blendwise.cli.planned import show_or_page
    from blendwise.show.check.blocks import check_blocks
    from blendwise.show.check.brief import brief_blocks

    writes_lever(lever, write)
    on, whole = day(today), more or working
    opened, file = open_plan(plan, book)
    asked = AsOf(on, as_written=as_written, careful=careful)
    which: Literal["best", "all"] = "all" if whole else "best"
    result = opened.check(file, on=asked, working=working, variation=variation or None, levers=which)
    wrote = opened.write_lever(result, write, lever or 1) if write else None
    brief = partial(brief_blocks, result, wrote)
    told = partial(check_blocks, result, working, wrote) if whole else brief
    show_or_page(result, told, page, result, json, plain, brief)
    return CLEAN if result.sound else FINDINGS
