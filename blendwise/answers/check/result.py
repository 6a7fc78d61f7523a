"""What a check says of a plan: findings, grams, facts, names for the label; with its published document.

Numbers are canonical (fractions, g, min, °C, cm); files are shown relative to the book.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from blendwise.answers.answer import Answer, Value, cells, hidden, keys, published, told
from blendwise.answers.check.after_cure import AfterCure
from blendwise.answers.check.drawn import Drawn
from blendwise.answers.check.in_time import InTime
from blendwise.answers.levers.result import Lever
from blendwise.facts.assumed import Assumed
from blendwise.facts.columns import Missing
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.judge.findings.findings import waiting
from blendwise.quantity import METRIC, Units
from blendwise.records.kinds.rule import KindOfStop
from blendwise.records.place import Spot

VALUES = ("value", "low", "high", "limit", "limit_high", "least", "most", "limit_least", "limit_most")


@dataclass(frozen=True, slots=True)
class UnusedAcceptance:
    """An ``accept:`` entry of the plan which accepts nothing, and why."""

    rule: str
    subject: str
    why: str
    where: Spot | None = None


@dataclass(frozen=True, slots=True)
class Aside:
    """Something of the book's own rules that does not count, or can never be asked; or a figure that is odd.

    ``why``: cannot be read | locked rule changed | never asked | not counted | file not read | odd figure |
    day to come.  ``what``: rule, pour, scale, file, or the figure; ``name``: its own, or its field's;
    ``level``: the rule's, "" where it cannot be read; ``stop``: it counts as a
    stop that nobody could ask.  ``message`` and ``remedy``: what the reader of the files said.
    """

    why: str
    what: str
    name: str
    level: str
    stop: bool
    message: str
    remedy: str
    where: Spot | None = None


@dataclass(frozen=True, slots=True)
class PortionGrams:
    """One portion in grams: its oils, its batter without scent, and each scent in it."""

    portion: str
    oils: float
    batter: float
    scents: Mapping[str, float]

    @property
    def scent_total(self) -> float:
        """Grams of all scents together."""
        return math.fsum(self.scents.values())

    @property
    def dose(self) -> float:
        """Scent as a fraction of the portion's oils (0 for a portion without oils)."""
        return self.scent_total / self.oils if self.oils else 0.0


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact as the judge read it: ``low`` and ``high`` differ where it is only partly known.

    ``least`` and ``most``: where judgement doubts it, the ends of that doubt.
    ``formula``: how it comes about; ``source``: where such figures come from; ``theme``: what it belongs to.
    """

    grain: str
    subject: str
    measure: str
    low: Value
    high: Value
    unit: str = ""
    basis: str = ""
    evidence: str = ""
    missing: tuple[Missing, ...] = ()
    formula: str = ""
    source: str = ""
    theme: str = ""
    least: Value = None
    most: Value = None


@dataclass(frozen=True, slots=True)
class LabelLine:
    """A name for the list of ingredients: its share of the finished bar, and the oils that it comes from.

    ``due``: on soap placed on the market on the day asked; else from ``placed_from`` (all soap on sale:
    ``on_sale_from``).  Both are None where the name has been due since before 2023.
    """

    name: str
    entry: str
    share: float
    carriers: tuple[str, ...]
    due: bool
    placed_from: date | None = None
    on_sale_from: date | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """Names due on the day ``on``, names due later, and the oils whose names are not known.

    ``tables_of``: the day of our table of names; ``names_none``: oils whose sheet calls itself complete and
    names nothing, which counts as nothing to name and may be a sheet not yet copied.
    """

    on: date
    due: tuple[LabelLine, ...]
    later: tuple[LabelLine, ...]
    not_known: tuple[str, ...]
    tables_of: date
    names_none: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Counts:
    """How many rules and findings of each kind; levels count what is broken, undecided, then tight."""

    rules: int
    rules_off: int
    accepted: int
    broken: Mapping[str, int]
    undecided: Mapping[str, int]
    tight: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Stopped:
    """One stop that stands: the rule, on what, and whether it is broken or hangs on what nobody knows."""

    rule: str
    subject: str
    status: str
    protects: str | None


@dataclass(frozen=True, slots=True)
class Question:
    """A fact that nobody has written down, and the rules at caution or above that it leaves open."""

    subject: str
    fact: str
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnknownAdditive:
    """An additive of which nobody has said what it is, and the known one of the nearest spelling, if any."""

    name: str
    nearest: str = ""


@dataclass(frozen=True, slots=True)
class Rework:
    """A portion with lye that its oils do not use, in grams: ``lye``; all that follows is oil of the recipe.

    ``oil``: what it wants back, rounded up, before its lye is used up; ``as_batch``: before it has the
    superfat of the batch as a whole, ``batch``, which hides it; None where that is below zero too.
    """

    portion: str
    lye: float
    oil: float
    batch: float
    as_batch: float | None


@dataclass(frozen=True, slots=True)
class CheckResult(Answer):
    """What the rulebook says of a plan, the grams it was judged at, and what was assumed."""

    SCHEMA = "blendwise/check/2"

    plan: str
    file: str
    purpose: str
    today: date
    findings: tuple[Finding, ...]
    unused_acceptances: tuple[UnusedAcceptance, ...] = ()
    assumptions: tuple[Assumed, ...] = ()
    grams: tuple[PortionGrams, ...] = ()
    working: tuple[Fact, ...] = ()
    label: Label | None = None
    aside: tuple[Aside, ...] = ()
    unknown_additives: tuple[UnknownAdditive, ...] = ()
    levers: tuple[Lever, ...] = ()
    drawn: Drawn | None = None
    rework: tuple[Rework, ...] = ()
    in_time: tuple[InTime, ...] = ()
    after_cure: tuple[AfterCure, ...] = ()
    rules: int = hidden(0)
    rules_off: int = hidden(0)
    units: Units = hidden(METRIC)

    def count(self, status: str) -> dict[str, int]:
        """How many findings of a status there are at each level, the heaviest level first."""
        counted = Counter(finding.level for finding in self.findings if finding.status == status)
        return {level: counted[level] for level in reversed(LEVELS)}

    @property
    def accepted(self) -> int:
        """How many findings the maker has accepted, with a reason."""
        return sum(finding.status == "accepted" for finding in self.findings)

    @told
    def sound(self) -> bool:
        """Whether nothing worse than a caution is broken, or undecided where that is no open question."""
        return not any(finding.level in ("conflict", "stop") and finding.stands for finding in self.findings)

    @told
    def harm(self) -> tuple[Stopped, ...]:
        """The stops past which nothing may be poured, heaviest first."""
        return stopped_by(self.findings, "harm")

    @told
    def papers(self) -> tuple[Stopped, ...]:
        """The stops that only a paper is missing for: it may be made, not sold."""
        return stopped_by(self.findings, "paper")

    @told
    def open_questions(self) -> tuple[Question, ...]:
        """What is not known and stands against nothing until it is."""
        held = [each for each in self.findings if each.open and each.level != "hint"]
        return tuple(Question(m.subject, m.fact, tuple(rules)) for m, rules in waiting(held).items())

    @property
    def not_to_be_made(self) -> bool:
        """Whether the plan itself would harm, not a version alone: its doses are not to be weighed."""
        return any(not each.version for each in self.stops("harm"))

    @property
    def lye_stop(self) -> bool:
        """Whether one of the harms is the lye's: there is no split and no lye to be weighed."""
        return any(stop.protects == "lye" for stop in self.harm)

    def stops(self, kind: KindOfStop) -> tuple[Finding, ...]:
        """The findings at stop of a kind that stand."""
        return stops_among(self.findings, kind)

    @told
    def counts(self) -> Counts:
        """How many rules were asked, and what came of them."""
        broken, undecided, tight = (self.count(word) for word in ("broken", "undecided", "tight"))
        return Counts(self.rules, self.rules_off, self.accepted, broken, undecided, tight)

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row a finding, its two places as ``plan_line`` and ``rule_line``."""
        return map(_row, self.findings)

    def frame_columns(self) -> list[str]:
        """All that a finding says, its places last."""
        return [*(key for key, _ in keys(Finding) if key != "where"), "plan_line", "rule_line"]


def stops_among(findings: Iterable[Finding], kind: KindOfStop) -> tuple[Finding, ...]:
    """The findings at stop of a kind that stand."""
    stops = (each for each in findings if each.level == "stop" and each.stands)
    return tuple(each for each in stops if (each.kind_of_stop or "harm") == kind)


def stopped_by(findings: Iterable[Finding], kind: KindOfStop) -> tuple[Stopped, ...]:
    """The stops of a kind that stand, in the order of the findings."""
    return tuple(_stopped(finding) for finding in stops_among(findings, kind))


def _stopped(finding: Finding) -> Stopped:
    return Stopped(finding.rule, finding.subject_text, finding.status, finding.protects)


def _row(finding: Finding) -> dict[str, object]:
    missing, settled_by = (
        "; ".join(f"{each.subject}: {each.fact}" for each in facts)
        for facts in (finding.missing, finding.settled_by)
    )
    lines = {"plan_line": finding.where.plan, "rule_line": finding.where.rule}
    numbers = {key: published(getattr(finding, key)) for key in VALUES}
    places = {key: str(place or "") for key, place in lines.items()}
    return {**cells(finding), **numbers, "missing": missing, "settled_by": settled_by, **places}
