"""How a change is tried: screened on what it has to mend, then judged whole.

A plan as it is written is tried by judging its rules (``as_written.py``); one to which no split fits, by
compiling its rules and placing its oils anew (``answers/assign/ways_out.py``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field
from typing import Any, Final, Protocol

from blendwise.answers.levers.case import Case, Way
from blendwise.answers.levers.result import Mended
from blendwise.judge.findings.finding import Finding
from blendwise.records.kinds.plan import Plan
from blendwise.records.reading.document import Document

NOTHING: Final[frozenset[str]] = frozenset()


@dataclass(frozen=True)
class Judgement:
    """What a changed plan comes to.

    ``stands``: whether it mends what it should and makes nothing worse; ``text``: the plan then, "" where the
    change is none of the plan's; ``worse``: the rules that speak of something
    new or louder then, with the findings in which they do; ``left``: what it does not mend though it should;
    ``mends``: all that is gone; ``sound``: whether nothing worse than a caution is left; ``thin``: oil → the
    share of what is meant that the bar then holds of it, where that is as good as none.
    """

    text: str = ""
    stands: bool = False
    worse: frozenset[str] = NOTHING
    news: Sequence[Finding] = ()
    left: Sequence[Finding] = ()
    mends: tuple[Mended, ...] = ()
    sound: bool = False
    thin: Mapping[str, float] = field(default_factory=dict)


class Trial(Protocol):
    """One plan, and what is asked of a change to it.

    ``beyond``: what a change is screened on after the first time, beside the rules that it is to mend.
    """

    doc: Document
    lye_stop: bool
    beyond: frozenset[str]

    def names(self, case: Case) -> Sequence[str]:
        """The ways that are tried for what the case holds."""

    def passes(self, case: Case, way: Way, value: Any, rules: Set[str]) -> bool:
        """Whether the case is mended, and these rules say nothing worse of the changed plan."""

    def judged(self, case: Case, way: Way, value: Any) -> Judgement:
        """The changed plan judged by every rule."""

    def case_of(self, found: Sequence[Finding]) -> Case:
        """Findings of one rule to be mended together."""

    def cases_of(self, news: Sequence[Finding]) -> Sequence[Case]:
        """What a first change brought, as cases of which one has to be mended."""

    def after(self, plan: Plan, case: Case) -> Trial:
        """The same question of a plan in which the case is mended."""


def edited(way: Way, doc: Document, value: Any) -> Document | None:
    """The changed plan's text; None where it does not lend itself to that."""
    from blendwise.records.place import RecordError

    try:
        return way.edit(doc, value)
    except (RecordError, ValueError, KeyError):
        return None
