"""The published shapes of every answer as JSON: keys never vanish, their order is fixed, numbers are finite.

A value nobody knows, and a bound that does not exist, are ``null``.  Fractions stay fractions (0.04 for
4 %); grams, minutes, °C and cm are as named in ``unit``.  The JSON Schemas printed by
``blendwise schema`` are made from these types, so that text and schema cannot drift apart.
"""

from __future__ import annotations

from typing_extensions import TypedDict

Value = float | str | None


class HeadDoc(TypedDict):
    """Names the schema and the release which wrote the document."""

    schema: str
    blendwise: str


class PlaceDoc(TypedDict):
    """A line of one of the maker's files, the path relative to the book."""

    file: str
    line: int
    column: int


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
