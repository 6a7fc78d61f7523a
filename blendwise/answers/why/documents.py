"""The published shapes of ``why``: keys never vanish, their order is fixed, numbers are finite."""

from __future__ import annotations

from typing_extensions import TypedDict

from blendwise.answers.documents import HeadDoc, MissingDoc, PlaceDoc, Value

WHY_SCHEMA = "blendwise/why/1"
SYMPTOMS_SCHEMA = "blendwise/symptoms/1"


class ClueDoc(TypedDict):
    """A fact of the plan; ``side``: for or against a cause (``asked``), "" where it is only shown."""

    subject: str
    measure: str
    low: Value
    high: Value
    unit: str
    asked: str
    side: str


class CauseDoc(TypedDict):
    """A likely cause; ``standing``: for, open, silent, against, absent."""

    cause: str
    standing: str
    strength: float
    clues: list[ClueDoc]
    missing: list[MissingDoc]
    because: str
    tell_apart: str
    next_time: str
    basis: str
    where: PlaceDoc | None


class PourDoc(TypedDict):
    """A simpler pour that bears thicker batter; minutes from the first scenting."""

    pour: str
    batter: str
    minutes_low: float
    minutes_high: float
    how: str


class DayDoc(TypedDict):
    """A day on which to look."""

    look: str
    on: str


class DeferralDoc(TypedDict):
    """A question that is left to others."""

    about: str
    word: str
    answer: str
    ask: str
    instead: str


class SymptomDoc(TypedDict):
    """What was understood, and what is said of it whatever the plan."""

    symptom: str
    when: str
    nearness: float
    safety: str
    now: list[str]
    stop: str
    basis: str
    where: PlaceDoc | None


class WhyDoc(HeadDoc):
    """The answer to a symptom: either ``symptom`` or ``deferred`` is null."""

    asked: str
    plan: str
    within: str
    deferred: DeferralDoc | None
    symptom: SymptomDoc | None
    causes: list[CauseDoc]
    facts: list[ClueDoc]
    pours: list[PourDoc]
    days: list[DayDoc]
    also_near: list[str]


class KnownDoc(TypedDict):
    """One symptom of the list."""

    symptom: str
    when: str
    phrases: list[str]
    causes: int


class SymptomsDoc(HeadDoc):
    """All symptoms that are known."""

    symptoms: list[KnownDoc]
