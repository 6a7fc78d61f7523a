"""What ``why`` answers: what was understood, the causes in the light of a plan, or whom to ask instead."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from blendwise.answers.answer import Answer, Value, cells, hidden, keys
from blendwise.answers.harm import PouredPast
from blendwise.facts.columns import Missing
from blendwise.quantity import METRIC, Units
from blendwise.records.place import Spot

Standing = Literal["for", "open", "silent", "against", "absent"]
STANDINGS: Final[tuple[Standing, ...]] = ("for", "open", "silent", "against", "absent")
"""In the order in which causes are told: the plan speaks for it; a fact is missing; the plan says nothing;
the plan speaks against it; the plan has nothing that it could be."""


@dataclass(frozen=True, slots=True)
class Clue:
    """One fact of the plan: the value found, and (for a cause) what was asked of it and for which side."""

    subject: str
    measure: str
    low: Value
    high: Value
    unit: str
    asked: str = ""
    side: Literal["", "for", "against"] = ""


@dataclass(frozen=True, slots=True)
class LikelyCause:
    """A cause; ``strength`` says how far past its limits the plan stands (0 to 1)."""

    cause: str
    standing: Standing
    strength: float
    clues: tuple[Clue, ...]
    missing: tuple[Missing, ...]
    because: str
    tell_apart: str
    next_time: str
    basis: str
    where: Spot | None


@dataclass(frozen=True, slots=True)
class Understood:
    """The symptom that the words were taken for, and what is said of it whatever the plan."""

    symptom: str
    when: str
    nearness: float
    safety: str
    now: tuple[str, ...]
    stop: str
    basis: str
    where: Spot | None


@dataclass(frozen=True, slots=True)
class Deferred:
    """A question that is left to others; ``word``: the one that betrayed it."""

    about: str
    word: str
    answer: str
    ask: str
    instead: str


@dataclass(frozen=True, slots=True)
class SimplerPour:
    """A pour that bears thicker batter; minutes from the first scenting."""

    pour: str
    batter: str
    minutes_low: float
    minutes_high: float
    how: str


@dataclass(frozen=True, slots=True)
class Day:
    """A look at a batch, and the day on which it falls."""

    look: str
    on: date


@dataclass(frozen=True, slots=True)
class WhyResult(Answer):
    """What was understood, what to do, and the causes; or whom to ask instead (``deferred``).

    ``asked``: the words as typed; ``within``: the portion or scent named; ``past``: the harms that the
    plan stands past.
    """

    SCHEMA = "blendwise/why/1"

    asked: str
    plan: str = ""
    within: str = ""
    deferred: Deferred | None = None
    symptom: Understood | None = None
    causes: tuple[LikelyCause, ...] = ()
    facts: tuple[Clue, ...] = ()
    pours: tuple[SimplerPour, ...] = ()
    days: tuple[Day, ...] = ()
    also_near: tuple[str, ...] = ()
    past: PouredPast | None = None
    units: Units = hidden(METRIC)

    @property
    def speaks_for_none(self) -> bool:
        """Whether the plan speaks for no cause."""
        return all(each.standing != "for" for each in self.causes)

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row a cause, in the order of likelihood: the facts for or against it, how to tell."""
        for each in self.causes:
            facts = "; ".join(f"{clue.subject}: {clue.measure} {clue.asked}" for clue in each.clues)
            missing = "; ".join(f"{lack.subject}: {lack.fact}" for lack in each.missing)
            yield {**cells(each), "facts": facts, "missing": missing}

    def frame_columns(self) -> list[str]:
        """What a frame has of each cause."""
        told = ["cause", "standing", "strength", "facts", "missing"]
        return [*told, "because", "tell_apart", "next_time"]


@dataclass(frozen=True, slots=True)
class KnownSymptom:
    """One symptom of the list: its moment, how makers say it, and how many causes it has."""

    symptom: str
    when: str
    phrases: tuple[str, ...]
    causes: int


@dataclass(frozen=True, slots=True)
class Known(Answer):
    """The symptoms that are known, in the order of their file."""

    SCHEMA = "blendwise/symptoms/1"

    symptoms: tuple[KnownSymptom, ...]

    def frame_rows(self) -> Iterator[KnownSymptom]:
        """A row a symptom."""
        return iter(self.symptoms)

    def frame_columns(self) -> list[str]:
        """All that a symptom of the list says."""
        return [key for key, _ in keys(KnownSymptom)]
