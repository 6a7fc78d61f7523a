"""What ``ask`` answers: which question was understood, of what, and the answer of the call behind it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from blendwise.answers.answer import Answer, hidden
from blendwise.quantity import METRIC, Units

Status = Literal["answered", "unsure", "declined", "deferred", "not named"]


@dataclass(frozen=True, slots=True)
class Named:
    """The names and amounts that were found in a question, as the book writes them.

    ``read_as``: typed → name, where the two differ.  ``both``: names that an oil and a portion share.
    """

    oils: tuple[str, ...] = ()
    portions: tuple[str, ...] = ()
    colours: tuple[str, ...] = ()
    pours: tuple[str, ...] = ()
    plans: tuple[str, ...] = ()
    amounts: tuple[str, ...] = ()
    read_as: Mapping[str, str] = field(default_factory=dict)
    both: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Near:
    """A question that is known, and how near what was asked comes to it (0 to 1)."""

    question: str
    score: float


@dataclass(frozen=True, slots=True)
class HalfScented:
    """A scent in part of the pot both ways: the dose of all, and all of the scent (fractions of oils).

    ``share``: of the oils that are scented; ``usual``: the most that is usual in a portion.
    """

    share: float
    load: float
    same_dose: float
    same_total: float
    usual: float


@dataclass(frozen=True, slots=True)
class Watered:
    """A plan with its lye at another strength: minutes of the cup that thickens first, and of the pour."""

    lye: float
    fluid: float | None
    needed: float | None
    rivers: str | None


@dataclass(frozen=True, slots=True)
class Warmed:
    """A plan with its batter at another temperature (°C): minutes of the tightest cup, and of the pour."""

    at: float
    fluid: float | None
    needed: float | None

    @property
    def leaves_time(self) -> bool:
        """Whether the cup that thickens first has the minutes it needs."""
        return self.fluid is not None and self.fluid >= (self.needed or 0.0)


@dataclass(frozen=True, slots=True)
class Sold:
    """When a batch is called cured, and its weight: masses in g, ``net_ounces`` in oz; None until weighed.

    ``batch``: empty where nothing is poured yet; ``still``: what a bar may still lose, a fraction.
    """

    batch: str
    poured: date
    first: date
    last: date
    weighed: float | None
    weighed_on: date | None
    still: float
    net: float | None
    net_ounces: float | None


@dataclass(frozen=True, slots=True)
class AskResult(Answer):
    """What was understood of a question, and the command that says more.

    ``near``: the nearest questions, to choose from where it is unsure.  ``lacks``: what must be named
    (oil | plan) before it can be answered.  ``typed``: what
    the plan writes of a colour in a cup.  ``sure``: no other question is about as near.  ``found``: the
    answer of the call.
    """

    SCHEMA = "blendwise/ask/1"

    asked: str
    status: Status
    question: str = ""
    number: int | None = None
    near: tuple[Near, ...] = ()
    named: Named = Named()
    plan: str = ""
    call: str = ""
    command: tuple[str, ...] = ()
    lacks: str = ""
    sure: bool = False
    half: HalfScented | None = None
    water: tuple[Watered, ...] = ()
    warmed: tuple[Warmed, ...] = ()
    sold: Sold | None = None
    typed: Mapping[str, str] = field(default_factory=dict)
    units: Units = hidden(METRIC)
    found: Answer | None = hidden(None)

    def frame_rows(self) -> Iterator[Near]:
        """A row a question that is near."""
        return iter(self.near)
