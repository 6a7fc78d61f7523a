"""The maker's usual ways: what a plan need not say again."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from blendwise.quantity import Amount
from blendwise.records.kinds.plan import Dosing, PreferenceField
from blendwise.records.kinds.recipe import FluidAt, GelWord, Lye, Recipe
from blendwise.records.reading.fields import (
    BatterAt,
    Count,
    FractionRange,
    GelField,
    Mass,
    Name,
    NumberRange,
    OfBatch,
    OneOf,
    RoomAt,
    TimeRange,
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

    split: TimeRange | None = maybe("to weigh it out of the pot")
    colour: TimeRange | None = maybe("to colour it, the colour already wetted")
    scent: TimeRange | None = maybe("to stir its scent in")
    pour: TimeRange | None = maybe("to pour it")


class Usual(Record):
    """The usual recipe, lye, temperatures, scales, hands and units."""

    recipe: Recipe | None = maybe("the usual recipe")
    lye: Lye | None = maybe("the usual lye")
    batter_at_split: BatterAt | None = maybe("usual temperature of the batter")
    room: RoomAt | None = maybe("usual temperature of the room")
    gel_plan: GelField | None = Field(default=None, alias="gel", description="avoid, leave or force (at …)")
    stays_fluid: TimeRange | None = maybe("how long the usual batter stays fluid")
    fluid_at: FluidAt | None = maybe("where the usual batter stayed fluid, and who saw it")
    scale_step: Mass | None = maybe("smallest step of the scale for scents")
    lye_scale_step: Mass | None = maybe("smallest step of the scale for lye")
    hands: Count | None = maybe("pairs of hands at the pour, 1 or 2")
    minutes_a_cup: CupMinutes | None = maybe("what one cup takes at each job")
    units: Units = Field(default_factory=Units, description="how amounts are shown")
    load: OfBatch | None = maybe("usual scent load")
    dosing: Annotated[Dosing, OneOf()] | None = maybe("usual way of dosing")
    pot_loss: FractionRange | None = maybe("batter that stays in the pot")
    cup_loss: FractionRange | None = maybe("batter that stays in each cup")
    cure_loss: FractionRange | None = maybe("mass lost in the cure")
    prefer: Annotated[list[PreferenceField], OneOrMore] = listing("what to favour, most wanted first")
    currency: Name | None = maybe("the word shown after a price")
    oils_per_volume: NumberRange | None = maybe("own multiplier, grams of oils per mL of mould")

    @property
    def gel(self) -> GelWord | None:
        """The word of the gel plan."""
        return None if self.gel_plan is None else self.gel_plan.word

    @property
    def gel_at(self) -> Amount | None:
        """The temperature at which gel is forced."""
        return None if self.gel_plan is None else self.gel_plan.at
