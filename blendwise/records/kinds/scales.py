"""The scales of the rulebook: what its words stand for in numbers."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from blendwise.quantity import Amount, Basis, Dimension
from blendwise.records.kinds.scent import (
    ACCELERATION_WORDS,
    BANDS,
    AccelerationField,
    BandField,
    RicingField,
    ScentNote,
    StrengthField,
)
from blendwise.records.reading.fields import (
    FieldError,
    Fraction,
    NumberRange,
    OneOf,
    Text,
    TimeRange,
    _amount,
)
from blendwise.records.reading.record import Record, mapping, maybe

BandTop = Annotated[
    Amount,
    _amount(
        Dimension.FRACTION,
        example="0.05 % of portion batter",
        bases=frozenset({Basis.PORTION_BATTER}),
        default=Basis.PORTION_BATTER,
    ),
]


class BandStep(Record):
    """A lightness band: it holds while the browners in the portion's batter are at most ``up_to``."""

    word: BandField = Field(description="the band")
    up_to: BandTop | None = maybe("most vanillin-like browners; the last band has none")
    meaning: Text = Field(description="what it looks like")


class AccelerationStep(Record):
    """How much faster trace comes with a scent of this word, at its own dose."""

    factor: NumberRange = Field(description="times faster than unscented batter")
    minutes: TimeRange | None = maybe("minutes to thick trace in a cup")
    meaning: Text = Field(description="what is seen")


class WordMeaning(Record):
    """What a word stands for."""

    meaning: Text = Field(description="what is seen or smelt")
    remains: Fraction | None = maybe("about how much is left, for words of strength")


class FluidClass(Record):
    """How long an unscented batter of such a recipe stays fluid, from emulsion."""

    minutes: TimeRange = Field(description="minutes from emulsion")
    what: Text = Field(description="what makes a recipe so")


class VolatilityClass(Record):
    """A class of volatility by vapour pressure at 25 °C."""

    above_pascal: NumberRange | None = maybe("least vapour pressure at 25 °C, in pascal")
    meaning: Text = Field(description="what it means in soap")


class Scales(Record):
    """All word scales of the rulebook."""

    bands: tuple[BandStep, ...] = Field(description="lightness bands, from light to dark")
    acceleration: dict[AccelerationField, AccelerationStep] = Field(description="acceleration words")
    strength: dict[StrengthField, WordMeaning] = mapping("words of strength")
    ricing: dict[RicingField, WordMeaning] = mapping("words of ricing")
    volatility: dict[Annotated[ScentNote, OneOf()], VolatilityClass] = mapping("classes of volatility")
    fluid: dict[Annotated[str, Text], FluidClass] = mapping("recipes by how long they stay fluid")
    basis: Text | None = maybe("where the numbers come from")

    @model_validator(mode="after")
    def _in_order(self) -> Scales:
        words = [step.word for step in self.bands]
        if words != [word for word in BANDS if word in words] or len(words) != len(BANDS):
            raise FieldError(
                "The bands are not complete and in order.", f"They are {', '.join(BANDS)}.", ("bands",)
            )
        tops = [step.up_to.high if step.up_to else float("inf") for step in self.bands]
        if tops != sorted(set(tops)) or tops[-1] != float("inf") or tops[0] <= 0:
            raise FieldError(
                "The tops of the bands do not rise from above zero, or the last has one.",
                "Write `up to:` rising from band to band, and none on the last.",
                ("bands",),
            )
        missing = [word for word in ACCELERATION_WORDS if word not in self.acceleration]
        if missing:
            raise FieldError(
                f"Acceleration has no entry for {', '.join(missing)}.",
                "Write one for each word, with its factor.",
                ("acceleration",),
            )
        return self
