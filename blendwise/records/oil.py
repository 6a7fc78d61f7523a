"""A base oil of the book."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from blendwise.records.fields import (
    Mass,
    Name,
    Number,
    NumberRange,
    OneOf,
    PriceField,
    Temperature,
    Text,
    YesNo,
)
from blendwise.records.record import Record, maybe
from blendwise.records.scent import EvidenceField

Hardness = Literal["liquid", "soft", "hard"]
Speed = Literal["slow", "medium", "fast"]


class BaseOil(Record):
    """A fat or oil of the recipe.  Saponification values are mg of KOH per g of fat."""

    may_be_unknown: ClassVar[bool] = True

    name: Name = Field(description="the name that recipes use")
    saponification: NumberRange = Field(description="published range, mg KOH per g")
    lot_saponification: Number | None = maybe("this lot's value by its certificate")
    certificate: Text | None = maybe("the certificate of the lot's value")
    hardness: Annotated[Hardness, OneOf()] | None = maybe("liquid, soft or hard")
    speed: Annotated[Speed, OneOf()] | None = maybe("how soon it thickens")
    clear_at: Temperature | None = maybe("where it is melted clear")
    lauric: YesNo | None = maybe("whether it is rich in lauric acid")
    cast: Text | None = maybe("the colour it lends to soap, in words or as hex")
    price: PriceField | None = maybe("a price for a mass")
    on_hand: Mass | None = maybe("what is left")
    evidence: EvidenceField | None = maybe("who says all of this")
