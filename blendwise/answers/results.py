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

from blendwise.answers import documents as doc
from blendwise.facts.columns import Missing
from blendwise.judge.finding import LEVELS, Finding
from blendwise.quantity import METRIC, Units

if TYPE_CHECKING:
    import pandas as pd

Place = tuple[str, int]
AssignStatus = Literal["proven", "best found", "nothing fits", "not decided"]
ConflictKind = Literal["", "proved", "only with premixes", "only with steps"]


@dataclass(frozen=True, slots=True)
class UnusedAcceptance:
    """An ``accept:`` entry of the plan which accepts nothing, and why."""

    rule: str
    subject: str
    why: str
    place: Place | None = None


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
    """One fact as the judge read it: ``low`` and ``high`` differ where it is only partly known."""

    grain: str
    subject: str
    measure: str
    low: float | str | None
    high: float | str | None
    unit: str = ""
    basis: str = ""
    evidence: str = ""
    missing: tuple[Missing, ...] = ()


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

    def body(self) -> doc.CheckBody:
        """The document without its head, as it also stands inside an assignment."""
        return {
            "plan": self.plan,
            "file": self.file,
            "purpose": self.purpose,
            "today": self.today.isoformat(),
            "sound": self.sound,
            "counts": self._counts(),
            "findings": [doc.finding_doc(finding) for finding in self.findings],
            "unused_acceptances": [
                {
                    "rule": each.rule,
                    "subject": each.subject,
                    "why": each.why,
                    "where": doc.place_doc(each.place),
                }
                for each in self.unused_acceptances
            ],
            "assumptions": list(self.assumptions),
            "grams": [_grams_doc(row) for row in self.grams],
            "working": [_fact_doc(fact) for fact in self.working],
        }

    def _counts(self) -> doc.CountsDoc:
        return {
            "rules": self.rules,
            "rules_off": self.rules_off,
            "accepted": self.accepted,
            "broken": self.count("broken"),
            "undecided": self.count("undecided"),
        }

    def to_json(self) -> doc.CheckDoc:
        """The published document of ``blendwise check --json``."""
        return {**doc.head(doc.CHECK_SCHEMA), **self.body()}

    def to_frame(self) -> pd.DataFrame:
        """The findings as a frame, a row each (columns as in the document, places as text)."""
        return _frame([_flat(doc.finding_doc(finding)) for finding in self.findings], list(_FINDING_COLUMNS))


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
    """A rule which stops a portion from taking more; ``gain`` is what solving without it would bring."""

    portion: str
    rule: str
    subject: str
    gain: float | None = None
    gain_in: str = ""
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Conflict:
    """A rule (``kind`` "rule") or a line of the plan ("plan") which cannot hold with the others."""

    kind: Literal["rule", "plan"]
    name: str
    subject: str
    place: Place | None = None


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
    check: CheckResult | None = None
    units: Units = METRIC

    def to_json(self) -> doc.AssignDoc:
        """The published document of ``blendwise assign --json``."""
        return {**doc.head(doc.ASSIGN_SCHEMA), **self.body()}

    def body(self) -> doc.AssignBody:
        """The document without its head."""
        return {
            "plan": self.plan,
            "file": self.file,
            "status": self.status,
            "scale_step": self.scale_step,
            "scale_step_stated": self.scale_step_stated,
            "premixes": [_premix_doc(premix) for premix in self.premixes],
            "portions": [_pour_doc(pour) for pour in self.portions],
            "tight": [_tight_doc(tight) for tight in self.tight],
            "runner_up": [_pour_doc(pour) for pour in self.runner_up],
            "runner_up_costs": self.runner_up_costs,
            "conflicts": [_conflict_doc(conflict) for conflict in self.conflicts],
            "conflicts_kind": self.conflicts_kind,
            "remedies": [_remedy_doc(remedy) for remedy in self.remedies],
            "assumptions": list(self.assumptions),
            "seconds": self.seconds,
            "check": None if self.check is None else self.check.body(),
        }

    def to_frame(self) -> pd.DataFrame:
        """The split as a frame: a row per portion, its totals, then a column of grams per scent."""
        scents = list(dict.fromkeys(name for pour in self.portions for name in pour.scents))
        rows = [
            {"portion": pour.portion, "grams": pour.grams, "dose": pour.dose, "slack": pour.slack}
            | {name: pour.scents.get(name, 0.0) for name in scents}
            for pour in self.portions
        ]
        return _frame(rows, ["portion", "grams", "dose", "slack", *scents])


_FINDING_COLUMNS = (
    *(key for key in doc.FindingDoc.__annotations__ if key != "where"),
    "plan_line",
    "rule_line",
)


def _flat(finding: doc.FindingDoc) -> dict[str, object]:
    row: dict[str, object] = {**finding}
    for key in ("subject", "words", "also"):
        row[key] = ", ".join(finding[key])
    row["missing"] = "; ".join(f"{each['subject']}: {each['fact']}" for each in finding["missing"])
    row["plan_line"], row["rule_line"] = _spot(finding["where"]["plan"]), _spot(finding["where"]["rule"])
    del row["where"]
    return row


def _spot(place: doc.PlaceDoc | None) -> str:
    return f"{place['file']}:{place['line']}" if place else ""


def _frame(rows: list[dict[str, object]], columns: list[str]) -> pd.DataFrame:
    import pandas as pd

    return pd.DataFrame(rows, columns=columns)


def _grams_doc(row: PortionGrams) -> doc.PortionGramsDoc:
    return {"portion": row.portion, "oils": row.oils, "batter": row.batter, "scents": dict(row.scents)}


def _fact_doc(fact: Fact) -> doc.FactDoc:
    return {
        "grain": fact.grain,
        "subject": fact.subject,
        "measure": fact.measure,
        "low": doc.finite(fact.low),
        "high": doc.finite(fact.high),
        "unit": fact.unit,
        "basis": fact.basis,
        "evidence": fact.evidence,
        "missing": doc.missing_docs(fact.missing),
    }


def _premix_doc(premix: Premix) -> doc.PremixDoc:
    return {
        "name": premix.name,
        "grams": premix.grams,
        "scents": dict(premix.scents),
        "error": premix.error,
    }


def _pour_doc(pour: Pour) -> doc.PourDoc:
    return {
        "portion": pour.portion,
        "premixes": dict(pour.premixes),
        "scents": dict(pour.scents),
        "grams": pour.grams,
        "dose": pour.dose,
        "order": pour.order,
        "fluid_until": _range_doc(pour.fluid_until),
        "slack": None if pour.slack is None or not math.isfinite(pour.slack) else pour.slack,
    }


def _range_doc(span: tuple[float, float] | None) -> doc.RangeDoc | None:
    if span is None:
        return None
    return {"low": span[0], "high": span[1] if math.isfinite(span[1]) else None}


def _tight_doc(tight: Tight) -> doc.TightDoc:
    return {
        "portion": tight.portion,
        "rule": tight.rule,
        "subject": tight.subject,
        "gain": tight.gain,
        "gain_in": tight.gain_in,
        "where": doc.place_doc(tight.place),
    }


def _conflict_doc(conflict: Conflict) -> doc.ConflictDoc:
    return {
        "kind": conflict.kind,
        "name": conflict.name,
        "subject": conflict.subject,
        "where": doc.place_doc(conflict.place),
    }


def _remedy_doc(remedy: Remedy) -> doc.RemedyDoc:
    return {
        "kind": remedy.kind,
        "details": dict(remedy.details),
        "sound": remedy.sound,
        "plan": remedy.plan_text,
    }
