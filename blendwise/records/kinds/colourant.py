"""A colourant of the catalogue."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from blendwise.records.kinds.scent import EvidenceField, Seen
from blendwise.records.reading import bands
from blendwise.records.reading.fields import (
    Hex,
    Mass,
    Name,
    NoteRate,
    OneOf,
    PriceField,
    Text,
    UsualRate,
    YesNo,
)
from blendwise.records.reading.record import Record, listing, maybe

ColourantKind = Literal["pigment", "mica", "clay", "dye", "plant", "charcoal", "white"]
Covers = Literal["clear", "half", "opaque"]
DispersedIn = Literal["oil", "water", "glycerin", "batter"]


class Colourant(Record):
    """A colourant: the colour it gives in cured soap, and how it behaves on the way there."""

    may_be_unknown: ClassVar[bool] = True

    name: Name = Field(description="the name that plans use")
    kind: Annotated[ColourantKind, OneOf()] | None = maybe("what sort of colourant it is")
    hex: Hex = Field(description='the colour in cured soap at the rate `at`, in quotes, like "#a0b1c2"')
    at: Annotated[NoteRate, bands.DOSE_SEEN] | None = maybe("the rate at which the colour was seen")
    covers: Annotated[Covers, OneOf()] | None = maybe("how well it hides what is below")
    stable_in_lye: YesNo | None = maybe("whether lye leaves it as it is")
    morphs_to: Text | None = maybe("the colour that lye turns it to, in words or as hex")
    bleeds: YesNo | None = maybe("whether it wanders into its neighbours")
    dispersed_in: Annotated[DispersedIn, OneOf()] | None = maybe("what it is stirred into")
    grams_per_teaspoon: Annotated[Mass, bands.TEASPOON] | None = maybe("mass of a level teaspoon of it")
    usual_rate: Annotated[UsualRate, bands.DOSE_SEEN] | None = maybe("the range it is commonly used in")
    fades_in_light: YesNo | None = maybe("whether light bleaches it")
    thickens: YesNo | None = maybe("whether it thickens batter")
    evidence: EvidenceField | None = maybe("who says all of this")
    seen: list[Seen] = listing("what was seen, with its day")
    on_hand: Annotated[Mass, bands.ON_HAND] | None = maybe("what is left")
    price: PriceField | None = maybe("a price for a mass")
