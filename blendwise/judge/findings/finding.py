"""A finding: what a rule says of one subject, as data in the order in which it is published.

The sentence is generated from it in ``show``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal

from blendwise.facts.columns import Missing, Subject
from blendwise.records.kinds.rule import KindOfStop, Protects
from blendwise.records.place import Spot

Value = float | str | None
Level = Literal["hint", "caution", "conflict", "stop"]
Status = Literal["broken", "undecided", "accepted", "tight"]
"""``tight``: settled at the middle of judgement's figures, not within their doubt; a caution at most."""
LEVELS: tuple[Level, ...] = ("hint", "caution", "conflict", "stop")
INSIDE: Final = {"inside": True}
"""Marks a field that is not published (see ``answers.answer``)."""
UNREAD_RULE = "rule as written"
"""The measure of a finding that stands for a rule which cannot be read, and so could not be asked."""


@dataclass(frozen=True, slots=True)
class Where:
    """Where the plan says it, and where the rule stands."""

    plan: Spot | None = None
    rule: Spot | None = None


NOWHERE = Where()


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One rule on one subject.

    ``value`` and ``limit`` are numbers in the measure's canonical unit (fractions for per cent), or
    words; ``low``/``high`` give the credible interval where the value is only partly known.
    ``words`` are those of ``one of``, ``none of`` and sets.  ``also`` names the other measures on which the
    same ``must`` is broken (or undecided) for the same subject: there is one finding a rule and subject, on
    the worst.  ``version``: the variation of the plan that it speaks of; empty for the plan as written.
    ``kind_of_stop``: "harm" or "paper", None where it is no stop.  ``protects``: what the rule guards; a
    stop of one's own that asks for a fact of the lye guards the lye.

    ``says``: the rule's own sentence, with places for names and numbers that ``show`` fills.

    ``least``/``most``: the ends of the value within judgement's doubt, where it doubts it; ``limit_least``/
    ``limit_most`` those of the limit.  ``middle``: what comes of judgement at its middle (not asked | holds |
    broken), said where that is not the whole answer.  ``settled_by``: the facts that would narrow the doubt.

    ``open``: it hangs on ignorance alone, of a rule that guards neither skin, lye, fire nor law: a question
    to be answered, which stands against nothing.
    """

    rule: str
    level: Level
    status: Status
    looks_at: str
    subject: tuple[str, ...]
    measure: str
    value: Value
    low: Value = None
    high: Value = None
    relation: str
    limit: Value
    limit_high: Value = None
    limit_measure: str = ""
    limit_factor: float = 1.0
    words: tuple[str, ...] = ()
    unit: str
    also: tuple[str, ...] = ()
    missing: tuple[Missing, ...] = ()
    because: str
    try_: str
    basis: str
    evidence: str = ""
    accepted_because: str = ""
    kind_of_stop: KindOfStop | None = None
    protects: Protects | None = None
    where: Where = NOWHERE
    version: str = ""
    least: Value = None
    most: Value = None
    limit_least: Value = None
    limit_most: Value = None
    middle: str = ""
    settled_by: tuple[Missing, ...] = ()
    open: bool = False
    says: str = field(default="", metadata=INSIDE)

    @property
    def hidden(self) -> bool:
        """Whether it is told only to one who asks for all: tight, and the middle does not break."""
        return self.status == "tight" and self.middle != "broken"

    @property
    def stands(self) -> bool:
        """Whether it counts: broken, or a guard hanging on what nobody knows; not where it was accepted."""
        return self.status != "accepted" and not self.open

    @property
    def subject_text(self) -> str:
        """The subject as one reads it: "tonka in milk", "tonka in milk (version deep)"."""
        said = str(Subject(self.looks_at, self.subject))
        return f"{said} (version {self.version})" if self.version else said
