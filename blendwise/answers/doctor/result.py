"""What the doctor found in a book: signs by kind, and how every plan stands; with its published document."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from blendwise.answers.answer import Answer, keys, told
from blendwise.records.place import Spot
from blendwise.science.law_tables import TABLES_OF

Kind = Literal[
    "broken file",
    "rule written wrong",
    "rule can never be asked",
    "locked rule changed",
    "rule not counted",
    "file not read",
    "odd figure",
    "strange name",
    "no longer passes",
    "not described",
    "no certificate",
    "old certificate",
    "certificate without a day",
    "name not known",
    "additive not known",
    "additive doubtful",
    "law tables",
    "law changed",
    "look due",
    "never asked",
    "never broken",
]
Weight = Literal["wrong", "caution", "hint"]
WEIGHTS: Final[tuple[Weight, ...]] = ("wrong", "caution", "hint")


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing found.

    ``subject``: the file, oil, plan, batch or rule; ``names``: those it concerns; ``message`` and ``remedy``
    where the reader of the files said so itself; ``number``: years of a certificate, days a look is over.
    """

    kind: Kind
    weight: Weight
    subject: str
    names: tuple[str, ...] = ()
    message: str = ""
    remedy: str = ""
    number: float | None = None
    where: Spot | None = None


@dataclass(frozen=True, slots=True)
class PlanLine:
    """How one plan stands today: how many stops, conflicts, cautions; whether it could be judged at all.

    ``undecided``: guards that hang on what nobody knows; ``open``: conflicts that ignorance leaves open.
    """

    plan: str
    file: str
    judged: bool
    stops: int = 0
    conflicts: int = 0
    cautions: int = 0
    undecided: int = 0
    open: int = 0


@dataclass(frozen=True, slots=True)
class DoctorResult(Answer):
    """A whole book examined.

    ``whole``: whether everything could be read; ``tables_of``: the day of our tables of the law.
    """

    SCHEMA = "blendwise/doctor/1"

    book: str
    today: date
    whole: bool
    scents: int
    notes: int
    rules: int
    plans: tuple[PlanLine, ...]
    signs: tuple[Sign, ...]
    tables_of: date = TABLES_OF

    @told
    def sound(self) -> bool:
        """Whether nothing is wrong (cautions and hints are not)."""
        return not any(sign.weight == "wrong" for sign in self.signs)

    def of(self, kind: Kind) -> Iterator[Sign]:
        """The signs of a kind, in order."""
        return (sign for sign in self.signs if sign.kind == kind)

    def frame_rows(self) -> Iterator[Sign]:
        """A row a sign."""
        return iter(self.signs)

    def frame_columns(self) -> list[str]:
        """All that a sign says but its place."""
        return [key for key, _ in keys(Sign) if key != "where"]
