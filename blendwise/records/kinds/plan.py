"""A plan: one batch of several portions poured together."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Final, Literal

from pydantic import Field, PrivateAttr

from blendwise.quantity import Amount, Basis, Dimension
from blendwise.records.kinds.recipe import Process, Recipe
from blendwise.records.kinds.scent import BandField, Names
from blendwise.records.reading import bands
from blendwise.records.reading.fields import (
    BlendPart,
    ColourDose,
    Count,
    DoseField,
    EmbedScent,
    Mass,
    Name,
    OfBatch,
    OneOf,
    Share,
    Temperature,
    Text,
    YesNo,
)
from blendwise.records.reading.record import OneOrMore, Record, listing, mapping, maybe

if TYPE_CHECKING:
    from blendwise.records.reading.document import Document

ForWhom = Literal["sale", "home"]
Dosing = Literal["same total", "same dose in each scented portion"]
PlaceInBar = Literal["outer", "inner", "top", "bottom"]
Preference = Literal[
    "true to blend",
    "few weighings",
    "even scent",
    "quick oils in little batter",
    "only where it browns",
    "wide margin",
]
MOST_PREMIXES: Final = 6

PreferenceField = Annotated[Preference, OneOf()]
PlaceWord = Annotated[PlaceInBar, OneOf()]
Doses = dict[Name, dict[Name, Annotated[DoseField, bands.DOSE_RATE, bands.DOSE_MASS]]]


class Embed(Record):
    """Finished soap set into the batch; it adds its mass and its scent."""

    what: Text = Field(description="what it is, such as melt-and-pour")
    mass: Annotated[Mass, bands.EMBEDS] = Field(description="mass of all pieces together")
    softens: Annotated[Temperature, bands.SOFTENS] | None = maybe("where it begins to soften")
    scents: dict[Name, Annotated[EmbedScent, bands.EMBED_RATE, bands.EMBED_MASS]] = mapping(
        "scents in it: mass, or share of the embed"
    )


class Portion(Record):
    """A part of the batter with its own colour and scent."""

    name: Name = Field(description="what the portion is called in this plan")
    share: Annotated[Share, bands.PORTION] = Field(
        description="share of the batter: per cent, parts, grams or `the rest`"
    )
    colourants: dict[Name, Annotated[ColourDose, *bands.COLOUR]] = mapping("colourants and how much of each")
    may_become: BandField | None = maybe("how dark it may turn; else it is to stay ivory")
    mixed_in: dict[Name, Annotated[Mass, bands.SOME_OIL]] = mapping("oil added on top, apart from the pot")
    scented: YesNo | None = maybe("`no` keeps all scent out of this portion")
    lies: Annotated[list[PlaceWord], OneOrMore] = listing(
        "where it comes to lie, as far as you know: outer, inner, top, bottom"
    )


class Scents(Record):
    """The blend for the bar as a whole, and how much of it."""

    blend: dict[Name, BlendPart] = Field(description="parts by mass, per cent, or rates of the oils")
    load: Annotated[OfBatch, bands.LOAD] | None = maybe("all scent together, as a rate of the batch")
    dosing: Annotated[Dosing, OneOf()] | None = maybe(
        "same total as a fully scented batch, or the same dose where scented"
    )
    stabilised: Names = listing("scents to which a vanilla stabiliser is added")

    @property
    def stated_load(self) -> Amount | None:
        """All scent together: as it is written, else what rates of the oils add up to."""
        if self.load is not None or not self.is_by_oils:
            return self.load
        total = sum(amount.value for amount in self.blend.values())
        told = " + ".join(amount.text for amount in self.blend.values())
        return Amount(total, total, Dimension.FRACTION, Basis.BATCH_OILS, told)

    @property
    def is_by_oils(self) -> bool:
        """Whether each oil of the blend is written as its own rate of the oils."""
        return bool(self.blend) and all(each.basis is Basis.BATCH_OILS for each in self.blend.values())


class NeverRule(Record):
    """A scent, and the portions that it must keep out of (never) or keep to (only)."""

    scent: Name = Field(description="the scent")
    in_: Names = Field(alias="in", description="one or more portions")


class Variation(Record):
    """A version within the batch: its own doses, the rest as in the plan."""

    doses: Doses = Field(description="portion, scent and dose")


class Accept(Record):
    """A finding that the maker accepts, with the reason; it stays visible."""

    rule: Name = Field(description="the rule that is accepted")
    for_: Text = Field(alias="for", description="the subject, such as `sage and brick`")
    down_to: Text | None = maybe("accepted down to this value")
    up_to: Text | None = maybe("accepted up to this value")
    because: Text = Field(description="why")


class Plan(Record):
    """One batch as it is meant to be poured."""

    plan: Name = Field(description="the name of the plan")
    for_: Annotated[ForWhom, OneOf()] | None = Field(
        default=None, alias="for", description="for sale, or for use at home; else as usual, else for sale"
    )
    recipe: Recipe | None = maybe("oils, amount and lye; else the usual ones")
    process: Process | None = maybe("temperatures, gel and time; else the usual ones")
    embeds: list[Embed] = listing("finished soap set into the batch")
    pour: Name | None = maybe("a pour style of the rulebook")
    portions: list[Portion] = Field(description="the portions, in the order they are split")
    scents: Scents | None = maybe("the blend; left out for an unscented batch")
    doses: Doses = mapping("the maker's own split of the scents")
    never: list[NeverRule] = listing("scents kept out of portions")
    only: list[NeverRule] = listing("scents kept to portions")
    prefer: Annotated[list[PreferenceField], OneOrMore] = listing("what to favour, most wanted first")
    variations: dict[Name, Variation] = mapping("versions within the batch")
    accept: list[Accept] = listing("findings accepted, each with its reason")
    touching: list[tuple[Name, Name]] | None = maybe("own who-touches-whom, in pairs")
    order: Names | None = maybe("own order in which portions are scented")
    premixes: Count | None = maybe("the most premixes to divide the blend into")
    weigh_together: list[Names] = listing("oils mixed before they are weighed, a list for each mix")

    _doc: Document | None = PrivateAttr(default=None)

    @property
    def doc(self) -> Document | None:
        """The document it was read from (None where it was made in memory)."""
        return self._doc
