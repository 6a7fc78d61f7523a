"""``blendwise review [PLAN]``."""

from __future__ import annotations

from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN
from blendwise.cli.options import (
    BookOption,
    JsonOption,
    MoreOption,
    PageOption,
    PlainOption,
    TodayOption,
    day,
)
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.review.result import ReviewResult
    from blendwise.api import Book

app = command_app()

ReviewPlan = Annotated[
    str, typer.Argument(help="A plan, or the code of a batch; all batches if not given.", metavar="[PLAN]")
]
ScentOption = Annotated[str, typer.Option("--scent", metavar="NAME", help="What the looks say of one oil.")]
AgainstOption = Annotated[
    str, typer.Option("--against", metavar="OTHER", help="PLAN's last batch beside another plan's or batch.")
]
AdoptOption = Annotated[
    str, typer.Option("--adopt", metavar="NAME", help="Write into the oil's entry what your batches say.")
]


@app.command()
def review(
    plan: ReviewPlan = "",
    rules: Annotated[bool, typer.Option("--rules", help="Each rule's record.")] = False,
    scent: ScentOption = "",
    variations: Annotated[bool, typer.Option("--variations", help="Which version won.")] = False,
    against: AgainstOption = "",
    adopt: AdoptOption = "",
    dry_run: Annotated[bool, typer.Option("--dry-run", help="With --adopt: show it, write nothing.")] = False,
    numbers: Annotated[bool, typer.Option("--numbers", help="The numbers behind the words.")] = False,
    page: PageOption = None,
    more: MoreOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """What was seen beside what was expected; what to repeat, and one thing to change.

    A damaged or impossible note is named and set aside; the others count. Only --adopt writes anything.
    """
    from blendwise.cli.books import book_and_name
    from blendwise.cli.output import show
    from blendwise.show.review.blocks import adopt_blocks

    opened, name = book_and_name(plan, book)
    if against and not plan:
        raise typer.BadParameter("Name the plan or batch to set beside it.", param_hint="PLAN")
    on = day(today)
    if adopt:
        edit = opened.adopt(adopt, on=AsOf(on), dry_run=dry_run)
        show(edit, lambda: adopt_blocks(edit), json, plain)
    elif page is not None and not (rules or scent or variations or against):
        _page(opened, name or None, on, page, numbers, json)
    else:
        result = opened.review(
            name or None, on=AsOf(on), rules=rules, scent=scent, variations=variations, against=against
        )
        _show(result, opened, more or numbers, numbers, json, plain, page)
    return CLEAN


def _show(
    result: ReviewResult, opened: Book, whole: bool, numbers: bool, json: bool, plain: bool, page: Path | None
) -> None:
    from blendwise.cli.output import show
    from blendwise.show.review.blocks import review_blocks
    from blendwise.show.review.brief import review_brief

    brief, long = (
        partial(words, result, opened.files.scales, numbers) for words in (review_brief, review_blocks)
    )
    if page is not None:
        from blendwise.cli.pages import deliver_answer
        from blendwise.show.review.asked import figures, heading

        blocks = long()
        deliver_answer(heading(blocks, result), blocks, result.units, page, figures(result), aside=json)
    if page is None or json:
        show(result, long if whole else brief, json, plain, brief)


def _page(opened: Book, name: str | None, on: date, page: Path, numbers: bool, json: bool) -> None:
    """The notebook as a page, with its document where that is asked for."""
    from blendwise.cli.pages import deliver
    from blendwise.show.review.page import review_page

    whole = opened.whole_review(name, on=AsOf(on))
    scales, units = opened.files.scales, opened.files.usual.units
    deliver(review_page(whole, scales, units, numbers), page, aside=json)
    if json:
        _show(whole.reviewed, opened, numbers, numbers, True, False, None)
