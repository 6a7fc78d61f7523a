"""``blendwise label PLAN``."""

from __future__ import annotations

from typing import Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import (
    BookOption,
    JsonOption,
    PlainOption,
    PlanArgument,
    TodayOption,
    VariationOption,
    day,
)
from blendwise.records.as_of import AsOf

app = command_app()

WeightsOption = Annotated[
    str, typer.Option("--weights", metavar="LIST", help='Bars weighed that day, such as "112 g, 110 g".')
]


@app.command()
def label(
    plan: PlanArgument,
    weights: WeightsOption = "",
    variation: VariationOption = "",
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """A draft of the label for soap sold that day: ingredients, allergens due, weight, batch code.

    What only an assessor can say is left open, and nothing is claimed. Exit code 0: nothing stands against a
    sale. 1: a stop stands, or a paper is missing. 2: the files could not be read.
    """
    from blendwise.cli.books import open_plan
    from blendwise.cli.output import show
    from blendwise.show.label.blocks import label_draft_blocks

    on = day(today)
    opened, file = open_plan(plan, book)
    result = opened.label(file, on=AsOf(on), variation=variation or None, weights=weights)
    show(result, lambda: list(label_draft_blocks(result)), json, plain)
    return FINDINGS if result.harm or result.papers else CLEAN
