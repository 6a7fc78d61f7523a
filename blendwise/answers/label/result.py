"""The draft of a label as data.  Shares are fractions, masses grams; names are as they would be printed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from blendwise.answers.answer import Answer, hidden
from blendwise.answers.check.result import Label, Stopped
from blendwise.quantity import METRIC, Units

Market = Literal["EU", "UK", "US"]
Open = Literal[
    "harm",
    "papers",
    "for home",
    "names of ingredients",
    "names due",
    "embeds",
    "weight",
    "few bars",
    "custom",
    "free oil",
    "assessor",
]
"""What the draft leaves open: by a stop, by what nobody has written down, or for an assessor to say."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One entry of a list: in the EU and Great Britain, and in the USA; ``of``: what the book calls it.

    ``share``: of all that is put in, or of the finished bar.  ``known``: whether our tables have the name.
    """

    name: str
    name_us: str
    share: float
    of: tuple[str, ...]
    known: bool


@dataclass(frozen=True, slots=True)
class Weight:
    """``weighed``: bars on the day of sale; ``still_to_lose``: fraction; ``net``: None until weighed."""

    weighed: tuple[float, ...]
    still_to_lose: float
    net: float | None
    net_ounces: float | None


@dataclass(frozen=True, slots=True)
class AtMarket:
    """One market: names of allergens due there, by which law since when, and the papers before sale.

    ``law``: the text that the names follow, "" where we know of none; ``since``: the day from which the last
    of the names is due.
    """

    market: Market
    allergens: tuple[str, ...]
    law: str
    since: date | None
    papers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LabelDraft(Answer):
    """A draft of the label for the day of sale; nothing of it is more than a draft for an assessor."""

    SCHEMA = "blendwise/label/1"

    plan: str
    file: str
    purpose: str
    sold_on: date
    as_put_in: tuple[Ingredient, ...]
    as_saponified: tuple[Ingredient, ...]
    names: Label
    weight: Weight
    batch_code: str
    markets: tuple[AtMarket, ...]
    open_: tuple[Open, ...]
    harm: tuple[Stopped, ...] = ()
    papers: tuple[Stopped, ...] = ()
    units: Units = hidden(METRIC)
