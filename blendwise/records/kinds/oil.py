"""A base oil of the book."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, model_validator

from blendwise.quantity import Amount
from blendwise.records.kinds.published import clear_band, far_from_published
from blendwise.records.kinds.scent import EvidenceField
from blendwise.records.reading import bands
from blendwise.records.reading.fields import (
    FieldError,
    Fraction,
    Mass,
    Name,
    OneOf,
    PriceField,
    Saponification,
    Temperature,
    Text,
    YesNo,
)
from blendwise.records.reading.record import Record, maybe

LEAST: Final = 60
MOST: Final = 280
"""Saponification values from waxes to coconut (265), mg KOH per g, with room to spare (our guard)."""
MOST_OF_SHORT: Final = 400
"""The same of what is made of the shortest fatty acids alone, whose name says so."""
SHORT: Final = frozenset({"fractionated", "mct", "caprylic", "capric", "c8", "tributyrin", "triacetin"})
LOT_MAY_DIFFER: Final = (0.1, 0.04)
"""How far below and above the published range a lot may lie: more than natural lots do; above it burns."""
NAOH_PER_KOH: Final = 39.9971 / 56.1056
"""Ratio of the molar masses, from IUPAC atomic masses."""

Hardness = Literal["liquid", "soft", "hard"]
Speed = Literal["slow", "medium", "fast"]


class BaseOil(Record):
    """A fat or oil of the recipe.  Saponification values are mg of KOH per g of fat."""

    may_be_unknown: ClassVar[bool] = True

    name: Name = Field(description="the name that recipes use")
    saponification: Saponification = Field(description="published range, mg KOH per g")
    lot_saponification: Saponification | None = maybe("this lot's value by its certificate")
    certificate: Text | None = maybe("the certificate of the lot's value")
    hardness: Annotated[Hardness, OneOf()] | None = maybe("liquid, soft or hard")
    speed: Annotated[Speed, OneOf()] | None = maybe("how soon it thickens")
    clear_at: Annotated[Temperature, bands.CLEAR] | None = maybe("where it is melted clear")
    lauric: YesNo | None = maybe("whether it is rich in lauric acid")
    polyunsaturated: Annotated[Fraction, bands.POLYUNSATURATED] | None = maybe(
        "linoleic and linolenic acid in it, by its own paper"
    )
    cast: Text | None = maybe("the colour it lends to soap, in words or as hex")
    price: PriceField | None = maybe("a price for a mass")
    on_hand: Annotated[Mass, bands.ON_HAND] | None = maybe("what is left")
    evidence: EvidenceField | None = maybe("who says all of this")

    @property
    def reckoned(self) -> Iterator[bands.Figure]:
        """Where it is clear, beside what its name says."""
        band = clear_band(self.name)
        if band is not None and self.clear_at is not None:
            yield ("clear at",), self.clear_at, band

    @model_validator(mode="after")
    def _plausible(self) -> BaseOil:
        for value, name in (
            (self.saponification, "saponification"),
            (self.lot_saponification, "lot saponification"),
        ):
            most = MOST_OF_SHORT if SHORT & set(re.findall(r"[a-z]+\d*", self.name.lower())) else MOST
            if value is not None and not (LEAST <= value.low and value.high <= most):
                remedy = f"It is {LEAST} to {most} for any fat or wax; olive has about 190."
                raise FieldError(f'"{value}" is no saponification value in mg of KOH per g.', remedy, (name,))
        bands.refuse(self.reckoned)
        far = far_from_published(self.name, self.saponification.low, self.saponification.high)
        if far:
            remedy = f"{far}: look for a slip, such as a digit or another oil's value."
            raise FieldError(f'"{self.saponification}" is not plausible.', remedy, ("saponification",))
        if self.lot_saponification is not None:
            _like_its_kind(self.lot_saponification.value, self.saponification)
        return self


def _like_its_kind(lot: float, published: Amount) -> None:
    """Refuse a lot's value that is far from all published ones; lye reckoned from it would burn."""
    below, above = LOT_MAY_DIFFER
    if published.low * (1 - below) <= lot <= published.high * (1 + above):
        return
    naoh = published.low * NAOH_PER_KOH * 0.95 <= lot <= published.high * NAOH_PER_KOH * 1.05
    remedy = "This looks like mg of NaOH; write mg of KOH." if naoh else "Look at the certificate again."
    message = f"This lot's value, {lot:g}, is far from the published {published}."
    raise FieldError(message, remedy, ("lot saponification",))
