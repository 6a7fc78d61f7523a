"""Answers about a plan, to the terminal or to a page."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blendwise.cli.output import show

if TYPE_CHECKING:
    from blendwise.answers.check.result import CheckResult
    from blendwise.show.blocks import Blocks


def show_or_page(
    answer: Any,
    told: Callable[[], Blocks],
    page: Path | None,
    judged: CheckResult | None,
    as_json: bool,
    as_plain: bool,
    says: Callable[[], Blocks],
) -> None:
    """An answer that has a plan and units: to a page where one is asked for, else to standard output.

    A document is printed all the same, and what is said of the page then stands on standard error.

    ``judged``: what its pictures are drawn from.
    """
    if page is not None:
        from blendwise.cli.pages import deliver_answer
        from blendwise.show.check.figures import figures

        deliver_answer(answer.plan, told(), answer.units, page, figures(judged), as_json)
    if page is None or as_json:
        show(answer, told, as_json, as_plain, says)
