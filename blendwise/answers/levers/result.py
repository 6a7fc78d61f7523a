"""A lever: one change of a plan that mends what the rulebook found, as data, with the plan's new text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from blendwise.answers.answer import hidden, told
from blendwise.judge.findings.finding import Finding

Kind = Literal[
    "put it elsewhere",
    "less here",
    "less of all",
    "leave it out",
    "another oil",
    "another colour or band",
    "another pour",
    "another order",
    "more hands",
    "warmer or cooler",
    "more or less water",
    "return held-back oil",
    "more or less lye",
    "the embed unscented",
    "weigh it together",
    "a paper to ask for",
    "a test cup",
]
Details = Mapping[str, str | float]


@dataclass(frozen=True, slots=True)
class Mended:
    """A finding that is gone once the lever is pulled: the rule, and on what (in which version)."""

    rule: str
    subject: str

    @classmethod
    def by(cls, finding: Finding) -> Mended:
        """What is gone where this finding is."""
        return cls(finding.rule, finding.subject_text)


@dataclass(frozen=True, slots=True)
class Step:
    """A second change that goes with the first: its way and what fills its sentence."""

    way: str
    details: Details


@dataclass(frozen=True, slots=True)
class Lever:
    """One change that mends a finding and makes nothing worse, as it was judged again.

    ``rule`` (and ``version``): the finding it is told for.  ``way``: which change of its kind; ``details``
    fill its sentence, numbers canonical (g, fractions, °C).  ``mends``: all that is gone after it.
    ``sound``: whether nothing worse than a caution is left.  ``together``: a second change where none
    alone does.  ``thin``: oil → the share of what is meant that the bar then still holds of it, where that
    is less than half.  ``plan``: the whole text with the change, "" where only a paper or a cup can mend.
    """

    rule: str
    version: str
    kind: Kind
    way: str
    details: Details
    cost: float
    mends: tuple[Mended, ...] = ()
    sound: bool = False
    together: tuple[Step, ...] = ()
    thin: Mapping[str, float] = field(default_factory=dict)
    plan: str = hidden("")

    @told
    def writable(self) -> bool:
        """Whether ``check --write`` can write it."""
        return bool(self.plan)
