"""Typed results of the questions a maker asks, each with ``.to_json()`` and ``.to_frame()``.

Numbers are canonical (fractions, g, min, °C, cm); files are shown relative to the book; every English
sentence is made from them in ``show``.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal

from blendwise.answers.assign.parts import Cost, PotScented, WaitsOn
from blendwise.facts.columns import Missing
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.quantity import METRIC, Units
from blendwise.records.place import Spot

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers import documents as doc

AssignStatus = Literal["proven", "best found", "nothing fits", "not decided"]
ConflictKind = Literal["", "proved", "only with premixes", "only with steps"]


@dataclass(frozen=True, slots=True)
class UnusedAcceptance:
    """An ``accept:`` entry of the plan which accepts nothing, and why."""

    rule: str
    subject: str
    why: str
    place: Spot | None = None


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

    ``formula``: how it comes about; ``source``: where such figures come from; ``theme``: what it belongs to.
    """

    grain: str
    subject: str
    measure: str
    low: float | str | None
    high: float | str | None
    unit: str = ""
    basis: str = ""
    evidence: str = ""
    missing: tuple[Missing, ...] = ()
    formula: str = ""
    source: str = ""
    theme: str = ""


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
    """Names due on the day ``on``, names due later, and the oils whose names are not known."""

    due: tuple[LabelLine, ...]
    later: tuple[LabelLine, ...]
    not_known: tuple[str, ...]
    on: date


@dataclass(frozen=True, slots=True)
class CheckResult:
    """What the rulebook says of a plan, the grams it was judged at, and what was assumed."""

    plan: str
    file: str
    purpose: str
    today: date
    findings: tuple[Finding, ...]
    grams: tuple[PortionGrams, ...]
    rules: int
    rules_off: int = 0
    assumptions: tuple[str, ...] = ()
    unused_acceptances: tuple[UnusedAcceptance, ...] = ()
    working: tuple[Fact, ...] = ()
    units: Units = METRIC
    label: Label | None = None

    def count(self, status: str) -> dict[str, int]:
        """How many findings of a status there are at each level, the heaviest level first."""
        counted = Counter(finding.level for finding in self.findings if finding.status == status)
        return {level: counted[level] for level in reversed(LEVELS)}

    @property
    def accepted(self) -> int:
        """How many findings the maker has accepted, with a reason."""
        return sum(finding.status == "accepted" for finding in self.findings)

    @property
    def sound(self) -> bool:
        """Whether nothing worse than a caution is broken or undecided."""
        return not any(
            finding.level in ("conflict", "stop") and finding.status != "accepted"
            for finding in self.findings
        )

    def to_json(self) -> doc.CheckDoc:
        """The published document of ``blendwise check --json``."""
        from blendwise.answers.shapes import check_doc

        return check_doc(self)

    def to_frame(self) -> pd.DataFrame:
        """The findings as a frame, a row each (columns as in the document, places as text)."""
        from blendwise.answers.shapes import findings_frame

        return findings_frame(self)


@dataclass(frozen=True, slots=True)
class Premix:
    """Scents mixed before they are divided, in grams; ``error`` is half a step against the smallest part."""

    name: str
    scents: Mapping[str, float]
    error: float | None = None

    @property
    def grams(self) -> float:
        """Grams of the whole premix."""
        return math.fsum(self.scents.values())


@dataclass(frozen=True, slots=True)
class Pour:
    """One portion of a split: grams of premixes and of single scents, its place in the scenting order,
    minutes from emulsion until which it is fluid, and the minutes to spare."""

    portion: str
    premixes: Mapping[str, float]
    scents: Mapping[str, float]
    dose: float
    order: int | None = None
    fluid_until: tuple[float, float] | None = None
    slack: float | None = None

    @property
    def grams(self) -> float:
        """Grams of scent in the portion."""
        return math.fsum(self.scents.values())


@dataclass(frozen=True, slots=True)
class Tight:
    """What stops a portion from taking more of a premix: it takes ``takes`` g, at ``at`` g the rule breaks.

    ``wants``: what the rule demands.  ``gain``: what solving without it would bring, in ``gain_in``.
    """

    portion: str
    rule: str
    subject: str
    gain: float | None = None
    gain_in: str = ""
    place: Spot | None = None
    premix: str = ""
    takes: float = 0.0
    at: float = 0.0
    wants: str = ""
    kind: str = "rule"


@dataclass(frozen=True, slots=True)
class Conflict:
    """A rule (``kind`` "rule") or a line of the plan ("plan") which cannot hold with the others.

    ``wants``: what the rule demands, in its own words ("browning band: at most planned band").
    """

    kind: Literal["rule", "plan"]
    name: str
    subject: str
    place: Spot | None = None
    wants: str = ""


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change which was judged again: ``kind`` names its sentence in ``show``, ``details`` fills it in."""

    kind: str
    details: Mapping[str, str | float]
    sound: bool
    plan_text: str = ""


@dataclass(frozen=True, slots=True)
class AssignResult:
    """Which portion takes which oil, in weighable grams, judged again; or what stands in the way."""

    plan: str
    file: str
    status: AssignStatus
    scale_step: float
    scale_step_stated: bool
    premixes: tuple[Premix, ...] = ()
    portions: tuple[Pour, ...] = ()
    tight: tuple[Tight, ...] = ()
    runner_up: tuple[Pour, ...] = ()
    runner_up_costs: str = ""
    conflicts: tuple[Conflict, ...] = ()
    conflicts_kind: ConflictKind = ""
    remedies: tuple[Remedy, ...] = ()
    assumptions: tuple[str, ...] = ()
    seconds: float = 0.0
    cost: Cost | None = None
    pot: PotScented | None = None
    waits_on: tuple[WaitsOn, ...] = ()
    plan_text: str = ""
    check: CheckResult | None = None
    units: Units = METRIC

    def to_json(self) -> doc.AssignDoc:
        """The published document of ``blendwise assign --json``."""
        from blendwise.answers.shapes import assign_doc

        return assign_doc(self)

    def to_frame(self) -> pd.DataFrame:
        """The split as a frame: a row per portion, its totals, then a column of grams per scent."""
        from blendwise.answers.shapes import split_frame

        return split_frame(self)
