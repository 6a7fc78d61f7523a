"""``blendwise ask QUESTION [PLAN]``."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import (
    AsWrittenOption,
    BookOption,
    CarefulOption,
    JsonOption,
    PlainOption,
    TodayOption,
    day,
)
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.ask.result import AskResult

app = command_app()


@app.command()
def ask(
    question: Annotated[
        str, typer.Argument(metavar="QUESTION", help="What you want to know, in your words.")
    ],
    plan: Annotated[
        Path | None, typer.Argument(metavar="PLAN", help="The plan it is about, if it is about one.")
    ] = None,
    pick: Annotated[int, typer.Option("--pick", min=0, max=3, help="Which of the nearest is meant.")] = 0,
    as_written: AsWrittenOption = False,
    careful: CarefulOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """A question in your own words, answered in five lines; then the command that says more.

    Oils, cups, colours and pours are found by name in the question; a plan by name or as PLAN. Unsure, it
    offers the nearest questions. Exit code 0: answered, or left to others. 1: not understood, or something
    must be named first. 2: the files could not be read.
    """
    from blendwise.cli.books import open_book, open_plan
    from blendwise.cli.output import show
    from blendwise.show.ask.blocks import ask_blocks

    on = AsOf(day(today), as_written=as_written, careful=careful)
    opened, file = open_plan(plan, book) if plan is not None else (open_book(book), None)
    result = opened.ask(question, file, on=on, pick=pick)
    words = partial(ask_blocks, result)
    show(result, words, json, plain, words)
    return _code(result)


def _code(result: AskResult) -> int:
    return CLEAN if result.status in ("answered", "deferred") else FINDINGS
