"""The options that every command shares, and how their words are read."""

from __future__ import annotations

from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from blendwise.cli.completion import plan_files

PlanArgument = Annotated[
    Path, typer.Argument(help="The plan's file.", metavar="PLAN", autocompletion=plan_files)
]
BookOption = Annotated[
    Path | None,
    typer.Option("--book", metavar="DIR", help="The book's folder; found from the plan if not given."),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
MoreOption = Annotated[
    bool, typer.Option("--more", help="Also reasons, sources, hints and what was assumed.")
]
PlainOption = Annotated[bool, typer.Option("--plain", help="Plain text: no colour, no tables.")]
AsWrittenOption = Annotated[
    bool, typer.Option("--as-written", help="Believe the catalogue alone, not your own looks.")
]
CarefulOption = Annotated[
    bool, typer.Option("--careful", help="Take the worse end of what is believed of each oil.")
]
VariationOption = Annotated[
    str, typer.Option("--variation", metavar="NAME", help="A version within the batch.")
]
TodayOption = Annotated[
    str, typer.Option("--today", metavar="DATE", help="Answer as of this day, such as 2026-03-14.")
]

PageOption = Annotated[
    Path | None, typer.Option("--page", metavar="FILE.html", help="Write it as a page to look at.")
]


def day(text: str, today: date | None = None, option: str = "--today") -> date:
    """The day meant, as people type them: ``today`` (else the real one) where nothing was said.

    BadParameter, at the option that it was typed for, where it is no day or two days fit.
    """
    since = today or date.today()
    if not text:
        return since
    with suppress(ValueError):
        return date.fromisoformat(text)
    from blendwise.answers.note.typed import day_typed
    from blendwise.answers.refusals import NotAskable

    try:
        return day_typed(text, since)
    except NotAskable as error:
        raise typer.BadParameter(f"{error.message} {error.remedy}", param_hint=option) from error


def writes_lever(lever: int, write: Path | None) -> None:
    """BadParameter where a change is numbered and nothing is to be written."""
    if lever and write is None:
        raise typer.BadParameter("It numbers the change that --write writes.", param_hint="--lever")
