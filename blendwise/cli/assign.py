"""``blendwise assign PLAN``."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS, STOPPED_EARLY
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
    day,
    writes_lever,
)
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.assign.result import AssignResult

app = command_app()

FreeOption = Annotated[bool, typer.Option("--free", help="Split every oil by itself, without premixes.")]
PremixOption = Annotated[
    int | None, typer.Option("--premixes", min=1, max=6, help="The most premixes (3, or what the plan says).")
]
PreferOption = Annotated[
    list[str] | None,
    typer.Option("--prefer", help="A goal, most wanted first: true to blend, even scent, few weighings, …"),
]
WhyOption = Annotated[
    list[str] | None,
    typer.Option("--why", metavar="CUP", help='Why it takes none: a cup, or an oil in one ("lime in blue").'),
]
SecondsOption = Annotated[float, typer.Option("--seconds", min=0.01, help="Stop after so long.")]
WriteOption = Annotated[
    Path | None, typer.Option("--write", metavar="NEW.yaml", help="Write the plan with this split.")
]
LeverOption = Annotated[
    int, typer.Option("--lever", min=0, help="Which change to write; where nothing fits, the first.")
]
OilsOption = Annotated[str, typer.Option("--oils", metavar="MASS", help="Scale to oils, such as 1500 g.")]
BarsOption = Annotated[int | None, typer.Option("--bars", min=1, help="Scale to so many bars.")]
MouldOption = Annotated[
    str, typer.Option("--mould", metavar="SIZE", help="Scale to a mould, inside, such as 25 x 9 x 6.5 cm.")
]


@app.command()
def assign(
    plan: PlanArgument,
    free: FreeOption = False,
    premixes: PremixOption = None,
    prefer: PreferOption = None,
    why: WhyOption = None,
    seconds: SecondsOption = 20.0,
    bars: BarsOption = None, oils: OilsOption = "", mould: MouldOption = "",
    write: WriteOption = None, lever: LeverOption = 0,
    more: MoreOption = False, as_written: AsWrittenOption = False, careful: CarefulOption = False,
    page: PageOption = None, book: BookOption = None,
    json: JsonOption = False, plain: PlainOption = False, today: TodayOption = "",
) -> int:  # fmt: skip
    """Which portion gets which oil, in weighable grams, and what stands in the way where nothing fits.

    --write keeps the split as a new plan; with --lever N, or where nothing fits, that change and its split.
    Exit code 0: it holds. 1: nothing fits, or a conflict is left. 2: files not read. 3: stopped early.
    """
    from blendwise.cli.books import open_plan
    from blendwise.cli.planned import show_or_page
    from blendwise.show.assign.blocks import assign_blocks
    from blendwise.show.assign.brief import assign_brief

    writes_lever(lever, write)
    opened, file = open_plan(plan, book)
    result = opened.assign(
        file, on=AsOf(day(today), as_written, careful), free=free, premixes=premixes,
        prefer=prefer or (), seconds=seconds, bars=bars, oils=oils, mould=mould, every=more, why=why or (),
    )  # fmt: skip
    wrote = opened.write_split(result, write, lever) if write else None
    brief, whole = (partial(blocks, result, wrote) for blocks in (assign_brief, assign_blocks))
    show_or_page(result, whole if more else brief, page, result.check, json, plain, brief)
    return _code(result)


def _code(result: AssignResult) -> int:
    sound = result.check is not None and result.check.sound
    if result.status == "not decided" or (result.status == "best found" and sound):
        return STOPPED_EARLY
    return CLEAN if sound else FINDINGS
