"""What the doctor found in a book: signs by kind, and how every plan stands; with its published document."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final, Literal

from typing_extensions import TypedDict

from blendwise.answers.documents import HeadDoc, PlaceDoc
from blendwise.answers.shapes import head, place_doc

if TYPE_CHECKING:
    import pandas as pd

DOCTOR_SCHEMA: Final = "blendwise/doctor/1"
Spot = tuple[str, int]
Kind = Literal[
    "broken file",
    "rule written wrong",
    "strange name",
    "no longer passes",
    "not described",
    "no certificate",
    "old certificate",
    "certificate without a day",
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
    place: Spot | None = None


@dataclass(frozen=True, slots=True)
class PlanLine:
    """How one plan stands today: how many stops, conflicts, cautions; whether it could be judged at all."""

    plan: str
    file: str
    judged: bool
    stops: int = 0
    conflicts: int = 0
    cautions: int = 0
    undecided: int = 0


@dataclass(frozen=True, slots=True)
class DoctorResult:
    """A whole book examined.  ``whole``: whether everything could be read."""

    book: str
    today: date
    whole: bool
    scents: int
    plans: tuple[PlanLine, ...]
    notes: int
    rules: int
    signs: tuple[Sign, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong (cautions and hints are not)."""
        return not any(sign.weight == "wrong" for sign in self.signs)

    def of(self, kind: Kind) -> Iterator[Sign]:
        """The signs of a kind, in order."""
        return (sign for sign in self.signs if sign.kind == kind)

    def to_json(self) -> DoctorDoc:
        """The published document of ``blendwise doctor --json``."""
        return {
            **head(DOCTOR_SCHEMA),
            "book": self.book,
            "today": self.today.isoformat(),
            "sound": self.sound,
            "whole": self.whole,
            "scents": self.scents,
            "notes": self.notes,
            "rules": self.rules,
            "plans": [_plan_doc(line) for line in self.plans],
            "signs": [_sign_doc(sign) for sign in self.signs],
        }

    def to_frame(self) -> pd.DataFrame:
        """A row a sign."""
        import pandas as pd

        columns = [key for key in SignDoc.__annotations__ if key != "where"]
        rows = [{**_sign_doc(sign), "names": ", ".join(sign.names)} for sign in self.signs]
        return pd.DataFrame(rows, columns=columns)


class SignDoc(TypedDict):
    """One thing found; ``number``: years of a certificate, days a look is over."""

    kind: str
    weight: str
    subject: str
    names: list[str]
    message: str
    remedy: str
    number: float | None
    where: PlaceDoc | None


class PlanLineDoc(TypedDict):
    """How one plan stands today."""

    plan: str
    file: str
    judged: bool
    stops: int
    conflicts: int
    cautions: int
    undecided: int


class DoctorDoc(HeadDoc):
    """A whole book examined."""

    book: str
    today: str
    sound: bool
    whole: bool
    scents: int
    notes: int
    rules: int
    plans: list[PlanLineDoc]
    signs: list[SignDoc]


def _plan_doc(line: PlanLine) -> PlanLineDoc:
    return {
        "plan": line.plan,
        "file": line.file,
        "judged": line.judged,
        "stops": line.stops,
        "conflicts": line.conflicts,
        "cautions": line.cautions,
        "undecided": line.undecided,
    }


def _sign_doc(sign: Sign) -> SignDoc:
    return {
        "kind": sign.kind,
        "weight": sign.weight,
        "subject": sign.subject,
        "names": list(sign.names),
        "message": sign.message,
        "remedy": sign.remedy,
        "number": sign.number,
        "where": place_doc(sign.place),
    }
