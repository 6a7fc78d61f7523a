"""``blendwise sheet PLAN``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED, STOPPED_EARLY
from blendwise.cli.options import (
    AsWrittenOption,
    BookOption,
    CarefulOption,
    JsonOption,
    PlanArgument,
    TodayOption,
    VariationOption,
    day,
)
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.sheet.result import Sheet

app = command_app()

OutOption = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE.html", help="Where to write it (NAME-sheet.html here); - prints it."),
]
OpenOption = Annotated[bool, typer.Option("--open", help="Open it in the browser.")]
PdfOption = Annotated[
    bool, typer.Option("--pdf", help="Print it to a PDF beside it, by a Chromium or Chrome on this machine.")
]
PaperOption = Annotated[str, typer.Option("--paper", help="A4 or Letter, for the PDF (by the book's units).")]
EvenlyOption = Annotated[
    bool, typer.Option("--evenly", help="Spread the doses left open evenly, as `check` does.")
]
SecondsOption = Annotated[float, typer.Option("--seconds", min=0.01, help="Search no longer for a split.")]


@app.command()
def sheet(
    plan: PlanArgument,
    out: OutOption = None,
    open_: OpenOption = False,
    pdf: PdfOption = False,
    paper: PaperOption = "",
    variation: VariationOption = "",
    evenly: EvenlyOption = False,
    seconds: SecondsOption = 20.0,
    as_written: AsWrittenOption = False,
    careful: CarefulOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    today: TodayOption = "",
) -> int:
    """The bench sheet of a plan: front and back to print, to be read with gloves on.

    The dates count from --today, the day of the pour. Doses that the plan leaves open are those that
    `assign` finds; where nothing fits they are spread evenly and the sheet says not to pour. Exit code 0:
    nothing worse than a caution. 1: the sheet says not to pour. 2: the files could not be read, or no browser
    prints a PDF. 3: the search for a split was stopped early.
    """
    from blendwise.cli import pages
    from blendwise.cli.books import open_plan
    from blendwise.cli.output import write
    from blendwise.show.json import document

    on, size = day(today), pages.paper(paper)
    opened, file = open_plan(plan, book)
    result = opened.sheet(
        file, on=AsOf(on, as_written=as_written, careful=careful), variation=variation or None, evenly=evenly,
        seconds=seconds,
    )  # fmt: skip
    code = STOPPED_EARLY if result.assignment in ("best found", "not decided") else CLEAN
    code = code if result.sound else FINDINGS
    wanted = not json or out is not None or pdf or open_
    done = not wanted or _deliver(result, out or Path(f"{file.stem}-sheet.html"), open_, pdf, size, json)
    if json:
        write(document(result.to_json()))
    return code if done else NOT_ASKED


def _deliver(result: Sheet, target: Path, open_: bool, pdf: bool, size: str, json: bool) -> bool:
    """Write the page, and print it where that is asked; False where no browser prints it."""
    from blendwise.cli import pages
    from blendwise.show.sheet.page import sheet_page

    if pdf and target.suffix.lower() == ".pdf":
        raise typer.BadParameter(
            "The page and its PDF would be one file: name the page .html.", param_hint="--out"
        )
    printed = pages.deliver(sheet_page(result), target, open_, pages.HOW_TO_PRINT.format(file="it"), json)
    return not pdf or pages.print_pdf(
        sheet_page(result, size or pages.usual_paper(result.units)), printed, json
    )
