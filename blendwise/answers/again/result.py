"""The next plan after one that was poured, and what was learned; with its published document."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from blendwise.answers.answer import Answer, hidden
from blendwise.answers.check.result import CheckResult
from blendwise.answers.review.result import Advice
from blendwise.beliefs.expected import Compared

OTHERWISE: Final = ("portion", "what", "expected", "seen")


@dataclass(frozen=True, slots=True)
class AgainResult(Answer):
    """A new plan, what it comes from, what to mind, and what the rulebook says of it now.

    ``anew``: whether its split is left open, to be divided anew.  ``written``: the file it was written to.
    ``otherwise`` and ``change`` are published as the lines of ``learned``, which stand above the plan.  Past
    a lye stop ``text`` is empty: its lye would be weighed.
    """

    SCHEMA = "blendwise/again/2"

    plan: str
    batch: str
    variation: str | None
    text: str
    learned: tuple[str, ...]
    check: CheckResult
    written: str | None = None
    otherwise: tuple[Compared, ...] = hidden(())
    change: Advice | None = hidden(None)
    anew: bool = False

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """What came out otherwise than expected, a row each."""
        for each in self.otherwise:
            yield {key: getattr(each, key) for key in OTHERWISE}

    def frame_columns(self) -> list[str]:
        """Where, what, and how it was expected and seen."""
        return list(OTHERWISE)
