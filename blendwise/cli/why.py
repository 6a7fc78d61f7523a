"""``blendwise why SYMPTOM [PLAN]``."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN
from blendwise.cli.options import BookOption, JsonOption, MoreOption, PlainOption, TodayOption, day
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.why.result import Known, WhyResult

app = command_app()


@app.command()
def why(
    symptom: Annotated[
        str, typer.Argument(metavar="SYMPTOM", help="What you see, in plain words; none for the list.")
    ] = "",
    plan: Annotated[
        Path | None, typer.Argument(metavar="PLAN", help="The plan it happened to, to rank the causes.")
    ] = None,
    within: Annotated[
        str, typer.Option("--in", metavar="NAME", help="The portion or scent that it happened in.")
    ] = "",
    more: MoreOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """It thickened, it riced, a dark ring, white veins: what now, why, and what to change next time.

    Safety comes first, then what to do now, then the causes: those that the facts of your plan speak for
    before those that they speak against. Exit code 2: nobody knows the symptom (the nearest is stated), or
    the plan could not be read; what can be said without it is said all the same.
    """
    from blendwise.records.place import RecordError

    try:
        _show(_asked(symptom, plan, within, book, today), more, json, plain)
    except RecordError:
        if plan is not None and symptom and not json:
            # A maker at the pot needs an answer now.
            _show(_asked(symptom, None, "", book, ""), more, json, plain)
        raise
    return CLEAN


def _show(answer: WhyResult | Known, more: bool, json: bool, plain: bool) -> None:
    from blendwise.answers.why.result import Known
    from blendwise.cli.output import show
    from blendwise.show.why.blocks import known_blocks, why_blocks
    from blendwise.show.why.brief import why_brief

    if isinstance(answer, Known):
        show(answer, lambda: known_blocks(answer), json, plain)
    else:
        brief = partial(why_brief, answer)
        show(answer, partial(why_blocks, answer) if more else brief, json, plain, brief)


def _asked(
    symptom: str, plan: Path | None, within: str, folder: Path | None, today: str
) -> WhyResult | Known:
    """The answer; without a plan nothing of a book is read but its symptoms, so that a broken one serves."""
    on = day(today)
    if plan is not None:
        from blendwise.cli.books import open_plan

        opened, file = open_plan(plan, folder)
        return opened.why(symptom, file, within=within, on=AsOf(on))
    if within:
        raise typer.BadParameter("A portion can be named only with a plan.", param_hint="--in")
    from blendwise.answers.why.compute import known_symptoms, symptoms_of, why

    here = folder or _book_here()
    return why(symptom, symptoms_of(here)) if symptom else known_symptoms(here)


def _book_here() -> Path | None:
    from blendwise.records.book import find_book
    from blendwise.records.place import RecordError

    try:
        return find_book(Path())
    except RecordError:
        return None
