"""``blendwise assign PLAN``."""

from __future__ import annotations

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS, STOPPED_EARLY
from blendwise.cli.options import BookOption, JsonOption, PlainOption, PlanArgument, TodayOption, day

app = command_app()


@app.command()
def assign(
    plan: PlanArgument,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """Which portion gets which oil, in weighable grams, and what stands in the way where nothing fits.

    Exit code 0: a split that holds. 1: nothing fits, or the split leaves a conflict. 2: the files could not
    be read. 3: stopped early, neither proved nor refuted.
    """
    from blendwise.cli.books import open_plan
    from blendwise.cli.output import show
    from blendwise.show.split import assign_blocks

    on = day(today)
    opened, file = open_plan(plan, book)
    result = opened.assign(file, today=on)
    show(result, lambda: assign_blocks(result), json, plain)
    if result.status == "not decided":
        return STOPPED_EARLY
    return CLEAN if result.check is not None and result.check.sound else FINDINGS
