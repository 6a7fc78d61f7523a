"""The maker's usual ways: what a plan need not say again."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from blendwise.quantity import Amount
from blendwise.records.kinds.plan import Dosing, ForWhom, PreferenceField
from blendwise.records.kinds.recipe import FluidAt, GelWord, Lye, Recipe
from blendwise.records.reading import bands
from blendwise.records.reading.fields import (
    Count,
    FractionRange,
    GelField,
    Mass,
    Name,
    NumberRange,
    OfBatch,
    OneOf,
    Temperature,
    TimeRange,
    Volume,
)
from blendwise.records.reading.record import OneOrMore, Record, listing, maybe


class Units(Record):
    """How amounts are shown; what may be typed is the same everywhere."""

    mass: Annotated[Literal["g", "oz"], OneOf()] = Field(default="g", description="g or oz")
    temperature: Annotated[Literal["C", "F"], OneOf()] = Field(default="C", description="C or F")
    rates: Annotated[Literal["percent", "ppo"], OneOf()] = Field(
        default="percent", description="percent, or ounces per pound of oils"
    )


class CupMinutes(Record):
    """Minutes that one cup takes the maker at each job, by one pair of hands."""

    split: Annotated[TimeRange, bands.JOB] | None = maybe("to weigh it out of the pot")
    colour: Annotated[TimeRange, bands.JOB] | None = maybe("to colour it, the colour already wetted")
    scent: Annotated[TimeRange, bands.JOB] | None = maybe("to stir its scent in")
    pour: Annotated[TimeRange, bands.JOB] | None = maybe("to pour it")


class Usual(Record):
    """The usual recipe, lye, temperatures, scales, hands and units."""

    for_: Annotated[ForWhom, OneOf()] | None = Field(
        default=None, alias="for", description="for sale, or for use at home, where a plan does not say"
    )
    recipe: Recipe | None = maybe("the usual recipe")
    lye: Lye | None = maybe("the usual lye")
    batter_at_split: Annotated[Temperature, bands.BATTER] | None = maybe("usual temperature of the batter")
    room: Annotated[Temperature, bands.ROOM] | None = maybe("usual temperature of the room")
    gel_plan: Annotated[GelField, bands.GEL] | None = Field(
        default=None, alias="gel", description="avoid, leave or force (at …)"
    )
    stays_fluid: Annotated[TimeRange, bands.FLUID] | None = maybe("how long the usual batter stays fluid")
    fluid_at: FluidAt | None = maybe("where the usual batter stayed fluid, and who saw it")
    scale_step: Annotated[Mass, bands.SCALE] | None = maybe("smallest step of the scale for scents")
    lye_scale_step: Annotated[Mass, bands.LYE_SCALE] | None = maybe("smallest step of the scale for lye")
    lye_jug: Annotated[Volume, bands.VESSEL] | None = maybe("what the jug for the lye holds to its brim")
    pot: Annotated[Volume, bands.VESSEL] | None = maybe("what the pot holds to its brim")
    hands: Annotated[Count, bands.HANDS] | None = maybe("pairs of hands at the pour, 1 or 2")
    minutes_a_cup: CupMinutes | None = maybe("what one cup takes at each job")
    units: Units = Field(default_factory=Units, description="how amounts are shown")
    load: Annotated[OfBatch, bands.LOAD] | None = maybe("usual scent load")
    dosing: Annotated[Dosing, OneOf()] | None = maybe("usual way of dosing")
    pot_loss: Annotated[FractionRange, bands.LOSS] | None = maybe("batter that stays in the pot")
    cup_loss: Annotated[FractionRange, bands.LOSS] | None = maybe("batter that stays in each cup")
    cure_loss: Annotated[FractionRange, bands.CURE_LOSS] | None = maybe("mass lost in the cure")
    prefer: Annotated[list[PreferenceField], OneOrMore] = listing("what to favour, most wanted first")
    currency: Name | None = maybe("the word shown after a price")
    oils_per_volume: Annotated[NumberRange, bands.OILS_PER_VOLUME] | None = maybe(
        "own multiplier, grams of oils per mL of mould"
    )

    @property
    def gel(self) -> GelWord | None:
        """The word of the gel plan."""
        return None if self.gel_plan is None else self.gel_plan.word

    @property
    def gel_at(self) -> Amount | None:
        """The temperature at which gel is forced."""
        return None if self.gel_plan is None else self.gel_plan.at
