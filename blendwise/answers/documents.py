"""The published shapes of every answer as JSON: keys never vanish, their order is fixed, numbers are finite.

A value nobody knows, and a bound that does not exist, are ``null``.  Fractions stay fractions (0.04 for
4 %); grams, minutes, °C and cm are as named in ``unit``.  The JSON Schemas printed by
``blendwise schema`` are made from these types, so that text and schema cannot drift apart.
"""

from __future__ import annotations

from typing_extensions import TypedDict

CHECK_SCHEMA = "blendwise/check/1"
ASSIGN_SCHEMA = "blendwise/assign/1"
ERROR_SCHEMA = "blendwise/error/1"
RULES_SCHEMA = "blendwise/rules/1"
RULE_REPORT_SCHEMA = "blendwise/rule-report/1"

Value = float | str | None


class HeadDoc(TypedDict):
    """Names the schema and the release which wrote the document."""

    schema: str
    blendwise: str


class PlaceDoc(TypedDict):
    """A line of one of the maker's files, the path relative to the book."""

    file: str
    line: int


class MissingDoc(TypedDict):
    """A fact nobody has written down."""

    subject: str
    fact: str


class WhereDoc(TypedDict):
    """Where the plan says it, and where the rule stands."""

    plan: PlaceDoc | None
    rule: PlaceDoc | None


FindingDoc = TypedDict(
    "FindingDoc",
    {
        "rule": str,
        "level": str,
        "status": str,
        "looks_at": str,
        "subject": list[str],
        "measure": str,
        "value": Value,
        "low": Value,
        "high": Value,
        "relation": str,
        "limit": Value,
        "limit_high": Value,
        "limit_measure": str,
        "limit_factor": float,
        "words": list[str],
        "unit": str,
        "also": list[str],
        "missing": list[MissingDoc],
        "because": str,
        "try": str,
        "basis": str,
        "evidence": str,
        "accepted_because": str,
        "where": WhereDoc,
    },
)


class CountsDoc(TypedDict):
    """How many rules and findings of each kind; levels count what is broken, then what is undecided."""

    rules: int
    rules_off: int
    accepted: int
    broken: dict[str, int]
    undecided: dict[str, int]


class AcceptanceDoc(TypedDict):
    """An ``accept:`` entry which met no finding."""

    rule: str
    subject: str
    why: str
    where: PlaceDoc | None


class PortionGramsDoc(TypedDict):
    """One portion: its batter without scent, its oils, and the grams of every scent in it."""

    portion: str
    oils: float
    batter: float
    scents: dict[str, float]


class FactDoc(TypedDict):
    """One fact as the judge read it."""

    grain: str
    subject: str
    measure: str
    low: Value
    high: Value
    unit: str
    basis: str
    evidence: str
    missing: list[MissingDoc]
    formula: str
    source: str
    theme: str


class LabelLineDoc(TypedDict):
    """A name for the list of ingredients; ``share`` of the finished bar, dates null where long in force."""

    name: str
    entry: str
    share: float
    carriers: list[str]
    due: bool
    placed_from: str | None
    on_sale_from: str | None


class LabelDoc(TypedDict):
    """Names above their threshold, and oils whose names are not known.  Not a safety assessment."""

    on: str
    due: list[LabelLineDoc]
    later: list[LabelLineDoc]
    not_known: list[str]


class CheckBody(TypedDict):
    """What a check says, without the head that names the schema."""

    plan: str
    file: str
    purpose: str
    today: str
    sound: bool
    counts: CountsDoc
    findings: list[FindingDoc]
    unused_acceptances: list[AcceptanceDoc]
    assumptions: list[str]
    grams: list[PortionGramsDoc]
    working: list[FactDoc]
    label: LabelDoc | None


class CheckDoc(HeadDoc, CheckBody):
    """The document of ``blendwise check --json``."""


class PremixDoc(TypedDict):
    """Oils mixed before they are divided; ``error`` is half a scale step against the smallest part."""

    name: str
    grams: float
    scents: dict[str, float]
    error: float | None


class RangeDoc(TypedDict):
    """A span of minutes."""

    low: float
    high: float | None


class PourDoc(TypedDict):
    """What goes into one portion, and how long it stays fluid."""

    portion: str
    premixes: dict[str, float]
    scents: dict[str, float]
    grams: float
    dose: float
    order: int | None
    fluid_until: RangeDoc | None
    slack: float | None


class TightDoc(TypedDict):
    """What stops a portion from taking more, and what solving without it would gain."""

    portion: str
    premix: str
    takes: float
    at: float
    kind: str
    rule: str
    subject: str
    wants: str
    gain: float | None
    gain_in: str
    where: PlaceDoc | None


class ConflictDoc(TypedDict):
    """One of the rules or plan lines that cannot all hold together."""

    kind: str
    name: str
    subject: str
    wants: str
    where: PlaceDoc | None


class RemedyDoc(TypedDict):
    """A change that was judged again and helps; ``plan`` is the text of the changed plan."""

    kind: str
    details: dict[str, str | float]
    sound: bool
    plan: str


class CostDoc(TypedDict):
    """What the scents cost, whose price is not known, and what the bottles lack in grams."""

    batch: float
    per_bar: float | None
    currency: str
    not_known: list[str]
    short: dict[str, float]


class PotDoc(TypedDict):
    """The whole pot scented before the split: weighings saved, and minutes from emulsion."""

    saves: int
    fluid_until: float
    instead_of: float
    needed: float
    fits: bool


class WaitsOnDoc(TypedDict):
    """A fact nobody knows on which a stop or conflict of the split hangs."""

    subject: str
    fact: str
    rules: list[str]


class AssignDoc(HeadDoc):
    """The document of ``blendwise assign --json``."""

    plan: str
    file: str
    status: str
    scale_step: float
    scale_step_stated: bool
    premixes: list[PremixDoc]
    portions: list[PourDoc]
    tight: list[TightDoc]
    runner_up: list[PourDoc]
    runner_up_costs: str
    conflicts: list[ConflictDoc]
    conflicts_kind: str
    remedies: list[RemedyDoc]
    waits_on: list[WaitsOnDoc]
    cost: CostDoc | None
    pot: PotDoc | None
    assumptions: list[str]
    check: CheckBody | None


class RecordDoc(TypedDict):
    """How often a rule spoke over all noted batches, and how that came out."""

    flagged_and_seen: int
    flagged_and_not: int
    seen_and_not_flagged: int


class ProofDoc(TypedDict):
    """One of a rule's own cases, and what the rule says of it."""

    kind: str
    facts: str
    outcome: str


RuleDoc = TypedDict(
    "RuleDoc",
    {
        "rule": str,
        "level": str,
        "looks_at": str,
        "topic": str,
        "when": dict[str, object],
        "must": dict[str, object],
        "because": str,
        "try": str,
        "basis": str,
        "protects": str,
        "hits": int,
        "misses": int,
        "mine": bool,
        "compiles": str,
        "record": "RecordDoc | None",
        "cases": list[ProofDoc],
        "where": PlaceDoc | None,
    },
)


class ChangeDoc(TypedDict):
    """One way in which the maker's rules differ from the starter's."""

    verb: str
    rule: str
    was: str
    now: str
    because: str
    where: PlaceDoc | None


class RulesDoc(HeadDoc):
    """The document of ``blendwise rules list --json`` and ``rules show --json``."""

    rules: list[RuleDoc]
    changes: list[ChangeDoc]


class WrongDoc(TypedDict):
    """One thing wrong with a rule."""

    message: str
    remedy: str
    where: PlaceDoc | None


class RuleReportDoc(HeadDoc):
    """The document of ``blendwise rules test --json`` and ``rules lint --json``."""

    kind: str
    asked: int
    sound: bool
    wrong: list[WrongDoc]


class FaultDoc(TypedDict):
    """One thing wrong, where, and what to do about it."""

    file: str | None
    line: int | None
    column: int | None
    message: str
    remedy: str


class ErrorDoc(HeadDoc):
    """The document of any command that could not answer."""

    kind: str
    exit_code: int
    faults: list[FaultDoc]
