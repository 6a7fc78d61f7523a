"""The recipe of a batch: oils, how much of them, lye, additives; and the day's process."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator

from blendwise.quantity import Amount, Dimension
from blendwise.records.kinds.scent import EvidenceField
from blendwise.records.reading import bands
from blendwise.records.reading.bands import Figure, in_all
from blendwise.records.reading.fields import (
    AdditiveAmount,
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
    Temperature,
    Text,
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
    shape: Text | None = maybe("what the mould or its cavities are shaped like, such as shells")
    inside: Annotated[Inside, bands.SIDE] | None = maybe("length x width x height of the batter in the mould")
    volume: Annotated[Volume, bands.VOLUME] | None = maybe(
        "volume to fill; of one cavity where there are several"
    )
    cavities: Annotated[Count, bands.CAVITIES] | None = maybe("how many cavities")
    bars: Annotated[Count, bands.BARS] | None = maybe("how many bars the mould is cut into")
    fill: Annotated[Fraction, bands.FILL] | None = maybe("how full the mould is to be")
    oils: Annotated[Mass, bands.BATCH_OILS] | None = maybe("mass of all base oils together")

    @property
    def reckoned(self) -> Iterator[Figure]:
        """What a loaf or slab holds by its sides, and each bar that is cut from it."""
        if self.mould in ("loaf", "slab") and self.inside is not None:
            holds = math.prod(self.inside)
            yield ("inside",), in_all(holds, Dimension.VOLUME, "mL inside"), bands.LOAF
            if self.bars:
                yield ("inside",), in_all(holds / self.bars, Dimension.VOLUME, "mL a bar"), bands.BAR_SIZE

    @model_validator(mode="after")
    def _plausible(self) -> RecipeAmount:
        bands.refuse(self.reckoned)
        return self


class Lye(Record):
    """The lye, by concentration and superfat or as weighed."""

    concentration: Annotated[Fraction, bands.CONCENTRATION] | None = maybe("lye as a share of lye and water")
    superfat: Annotated[Fraction, bands.SUPERFAT] | None = maybe("share of the oils that stays unsaponified")
    naoh: Annotated[Mass, bands.NAOH] | None = Field(
        default=None, alias="NaOH", description="sodium hydroxide as weighed"
    )
    water: Annotated[Mass, bands.WATER] | None = maybe("water as weighed")
    water_to_lye: Annotated[Ratio, bands.WATER_TO_LYE] | None = maybe("grams of water to a gram of lye")
    water_of_oils: Annotated[OfBatchOils, bands.WATER_OF_OILS] | None = maybe(
        "water as a share of the base oils"
    )
    purity: Annotated[Purity, bands.PURITY] | None = maybe("purity of the lye; not stated counts as 100 %")


class Recipe(Record):
    """Oils by share or by mass, with what is dissolved, added or held back."""

    oils: dict[Name, Annotated[OilShare, bands.ONE_OIL]] = Field(
        description="base oils, by share of all oils or by mass"
    )
    amount: RecipeAmount | None = maybe("how much: a mass of oils, or a mould")
    lye: Lye | None = maybe("lye; else the usual one")
    additives: dict[Name, Annotated[AdditiveAmount, bands.ADDITIVE]] = mapping(
        "mass, or share of batch oils; acids are counted against the lye"
    )
    held_back: dict[Name, dict[Name, Annotated[Mass, bands.SOME_OIL]]] = mapping(
        "oil kept out of the pot and returned to these portions"
    )

    @property
    def reckoned(self) -> Iterator[Figure]:
        """All oils together, where they are weighed."""
        masses = [share.value for share in self.oils.values() if share.dimension is Dimension.MASS]
        if sum(masses) > 0:
            yield ("oils",), in_all(math.fsum(masses), Dimension.MASS, "g in all"), bands.BATCH_OILS

    @model_validator(mode="after")
    def _plausible(self) -> Recipe:
        bands.refuse(self.reckoned)
        return self


class FluidAt(Record):
    """A temperature at which a batter of these fats stayed fluid, and on whose word."""

    shorthand: ClassVar[str | None] = "at"

    at: Annotated[Temperature, bands.BATTER] = Field(
        description="temperature of the batter at which it stayed fluid"
    )
    evidence: EvidenceField | None = maybe("who says so; only an own batch or cup outranks the estimate")


class Process(Record):
    """What is meant to happen on the day."""

    batter_at_split: Annotated[Temperature, bands.BATTER] | None = maybe(
        "temperature of the batter at the split"
    )
    room: Annotated[Temperature, bands.ROOM] | None = maybe("temperature of the room")
    gel_plan: Annotated[GelField, bands.GEL] | None = Field(
        default=None, alias="gel", description="avoid, leave or force (at …)"
    )
    stays_fluid: Annotated[TimeRange, bands.FLUID] | None = maybe(
        "how long the unscented batter stays fluid, from emulsion"
    )
    fluid_at: FluidAt | None = maybe("where a batter of these fats stayed fluid, and who saw it")
    cure_loss: Annotated[FractionRange, bands.CURE_LOSS] | None = maybe("mass lost in the cure")
    stick_blend: YesNo | None = maybe("whether portions are stick blended")
    hands: Annotated[Count, bands.HANDS] | None = maybe(
        "pairs of hands at the pour, 1 or 2; else the usual ones"
    )

    @property
    def gel(self) -> GelWord | None:
        """The word of the gel plan."""
        return None if self.gel_plan is None else self.gel_plan.word

    @property
    def gel_at(self) -> Amount | None:
        """The temperature at which gel is forced."""
        return None if self.gel_plan is None else self.gel_plan.at
