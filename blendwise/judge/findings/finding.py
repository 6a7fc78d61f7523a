"""A finding: what a rule says of one subject, as data.  The sentence is generated from it in ``show``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from blendwise.facts.columns import Missing
from blendwise.records.place import Spot

Level = Literal["hint", "caution", "conflict", "stop"]
Status = Literal["broken", "undecided", "accepted"]
LEVELS: tuple[Level, ...] = ("hint", "caution", "conflict", "stop")


@dataclass(frozen=True, slots=True)
class Where:
    """Where the plan says it, and where the rule stands."""

    plan: Spot | None = None
    rule: Spot | None = None


NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule on one subject.

    ``value`` and ``limit`` are numbers in the measure's canonical unit (fractions for per cent), or
    words; ``low``/``high`` give the credible interval where the value is only partly known.
    ``words`` are those of ``one of``, ``none of`` and sets.  ``also`` names the other measures on which the
    same ``must`` is broken (or undecided) for the same subject: there is one finding a rule and subject, on
    the worst.
    """

    rule: str
    level: Level
    status: Status
    looks_at: str
    subject: tuple[str, ...]
    subject_text: str
    measure: str
    value: float | str | None
    relation: str
    limit: float | str | None
    unit: str
    because: str
    try_: str
    basis: str
    low: float | str | None = None
    high: float | str | None = None
    missing: tuple[Missing, ...] = ()
    evidence: str = ""
    where: Where = NOWHERE
    accepted_because: str = ""
    limit_measure: str = ""
    limit_factor: float = 1.0
    limit_high: float | str | None = None
    words: tuple[str, ...] = field(default=())
    also: tuple[str, ...] = ()
