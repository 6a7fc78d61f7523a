"""The calls of a book that questions are answered by, as ``api.Book`` has them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal, Protocol

from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles
from blendwise.records.kinds.plan import Plan

if TYPE_CHECKING:
    from blendwise.answers.assign.result import AssignResult
    from blendwise.answers.check.result import CheckResult
    from blendwise.answers.label.result import LabelDraft
    from blendwise.answers.pair.result import PairResult
    from blendwise.answers.review.result import ReviewResult
    from blendwise.answers.scents.result import ScentResult
    from blendwise.answers.why.result import WhyResult
    from blendwise.facts.situation.worked_out import Situation

Named = str | Path | Plan


class Door(Protocol):
    """A book, by its calls."""

    folder: Path
    files: BookFiles

    def plan(self, plan: Named) -> Plan:
        """The record of a plan."""
        ...

    def situation(
        self, plan: Named | Plan, on: AsOf | None = None, variation: str | None = None
    ) -> Situation:
        """A plan worked out."""
        ...

    def check(
        self,
        plan: Named,
        *,
        on: AsOf | None = None,
        working: bool = False,
        variation: str | None = None,
        levers: Literal["none", "best", "all"] = "none",
    ) -> CheckResult:
        """What breaks the rulebook, and what would mend it."""
        ...

    def assign(
        self, plan: Named, *, on: AsOf | None = None, bars: int | None = None, oils: str = "", mould: str = ""
    ) -> AssignResult:
        """Which portion takes which oil, at the plan's own size or another."""
        ...

    def label(
        self, plan: Named, *, on: AsOf | None = None, weights: str = "", weighed_on: date | None = None
    ) -> LabelDraft:
        """A draft of the label."""
        ...

    def pair(
        self,
        *oils: str,
        load: str = "",
        pour: str = "",
        colour: str = "",
        stabilised: Sequence[str] = (),
        on: AsOf | None = None,
    ) -> PairResult:
        """Whether oils get on."""
        ...

    def scent(self, name: str) -> ScentResult:
        """One oil whole."""
        ...

    def review(self, subject: str | None = None, *, on: AsOf | None = None) -> ReviewResult:
        """Expected beside seen."""
        ...

    def why(
        self, symptom: str, plan: Named | None = None, *, within: str = "", on: AsOf | None = None
    ) -> WhyResult:
        """A symptom's page."""
        ...
