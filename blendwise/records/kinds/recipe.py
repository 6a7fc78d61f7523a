"""The recipe of a batch: oils, how much of them, lye, additives; and the day's process."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from blendwise.quantity import Amount
from blendwise.records.kinds.scent import EvidenceField
from blendwise.records.reading.fields import (
    AdditiveAmount,
    BatterAt,
    Count,
    Fraction,
    FractionRange,
    GelField,
    Inside,
    Mass,
    Name,
    OfBatchOils,
    OilShare,
    OneOf,
    Purity,
    Ratio,
    RoomAt,
    Superfat,
    TimeRange,
    Volume,
    YesNo,
)
from blendwise.records.reading.record import Record, mapping, maybe

Mould = Literal["loaf", "slab", "cavities"]
GelWord = Literal["avoid", "leave", "force"]


class RecipeAmount(Record):
    """How much soap: the oils themselves, or the mould they have to fill."""

    shorthand: ClassVar[str | None] = "oils"

    mould: Annotated[Mould, OneOf()] | None = maybe("loaf, slab or cavities")
    inside: Inside | None = maybe("length x width x height of the batter in the mould")
    volume: Volume | None = maybe("volume to fill; of one cavity where there are several")
    cavities: Count | None = maybe("how many cavities")
    bars: Count | None = maybe("how many bars the mould is cut into")
    fill: Fraction | None = maybe("how full the mould is to be")
    oils: Mass | None = maybe("mass of all base oils together")


class Lye(Record):
    """The lye, by concentration and superfat or as weighed."""

    concentration: Fraction | None = maybe("lye as a share of lye and water")
    superfat: Superfat | None = maybe("share of the oils that stays unsaponified")
    naoh: Mass | None = Field(default=None, alias="NaOH", description="sodium hydroxide as weighed")
    water: Mass | None = maybe("water as weighed")
    water_to_lye: Ratio | None = maybe("grams of water to a gram of lye")
    water_of_oils: OfBatchOils | None = maybe("water as a share of the base oils")
    purity: Purity | None = maybe("purity of the lye; not stated counts as 100 %")


class Recipe(Record):
    """Oils by share or by mass, with what is dissolved, added or held back."""

    oils: dict[Name, OilShare] = Field(description="base oils, by share of all oils or by mass")
    amount: RecipeAmount | None = maybe("how much: a mass of oils, or a mould")
    lye: Lye | None = maybe("lye; else the usual one")
    additives: dict[Name, AdditiveAmount] = mapping(
        "mass, or share of batch oils; acids are counted against the lye"
    )
    held_back: dict[Name, dict[Name, Mass]] = mapping(
        "oil kept out of the pot and returned to these portions"
    )


class FluidAt(Record):
    """A temperature at which a batter of these fats stayed fluid, and on whose word."""

    shorthand: ClassVar[str | None] = "at"

    at: BatterAt = Field(description="temperature of the batter at which it stayed fluid")
    evidence: EvidenceField | None = maybe("who says so; only an own batch or cup outranks the estimate")


class Process(Record):
    """What is meant to happen on the day."""

    batter_at_split: BatterAt | None = maybe("temperature of the batter at the split")
    room: RoomAt | None = maybe("temperature of the room")
    gel_plan: GelField | None = Field(default=None, alias="gel", description="avoid, leave or force (at …)")
    stays_fluid: TimeRange | None = maybe("how long the unscented batter stays fluid, from emulsion")
    fluid_at: FluidAt | None = maybe("where a batter of these fats stayed fluid, and who saw it")
    cure_loss: FractionRange | None = maybe("mass lost in the cure")
    stick_blend: YesNo | None = maybe("whether portions are stick blended")

    @property
    def gel(self) -> GelWord | None:
        """The word of the gel plan."""
        return None if self.gel_plan is None else self.gel_plan.word

    @property
    def gel_at(self) -> Amount | None:
        """The temperature at which gel is forced."""
        return None if self.gel_plan is None else self.gel_plan.at
