"""An additive as the maker knows it: over the shipped table, or beside it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final

from pydantic import Field, model_validator

from blendwise.quantity import Amount
from blendwise.records.reading.fields import FieldError, Fraction, Name, Text, YesNo, reads
from blendwise.records.reading.record import Record, maybe

NAOH: Final = 39.9971 / 1000
"""Grams of sodium hydroxide in a millimole, from IUPAC atomic masses: mol per kg × this are g a gram."""
MOST: Final = 1.0
"""Grams of NaOH a gram: no acid of the trade eats more (oxalic acid 0.89); no alkali of it brings more."""
_NUMBER: Final = r"(?P<number>\d+(?:\.\d+)?|\.\d+)"
_GRAMS: Final = (
    rf"(?P<verb>eats|brings)\s+{_NUMBER}\s*(?:g|oz)?(?:\s+(?:of\s+)?(?:NaOH|sodium hydroxide|lye))?"
    r"(?:\s+(?:a|an|per)\s+(?:g|gram|oz|ounce))?"
)
_MOLS: Final = rf"(?P<verb>acid|alkali),?\s+{_NUMBER}\s*mol(?:\s+per\s+|\s*/\s*)kg"
REMEDY: Final = (
    "Write `neutral`, `eats 0.624 g a gram` (of sodium hydroxide, as an acid does), `acid 15.6 mol per kg`, "
    "or `brings 0.01 g a gram`."
)


@dataclass(frozen=True, slots=True)
class LyeEffect:
    """Grams of sodium hydroxide that a gram eats (above zero) or brings (below zero); 0 for neutral."""

    grams: float
    text: str

    def __str__(self) -> str:
        return self.text


def parse_lye_effect(text: str) -> LyeEffect:
    """``neutral``, ``eats 0.476 g a gram``, ``brings 0.01``, ``acid 15.6 mol per kg``; else a FieldError."""
    words = " ".join(text.split())
    if words.casefold() == "neutral":
        return LyeEffect(0.0, "neutral")
    found = re.fullmatch(_GRAMS, words, re.I) or re.fullmatch(_MOLS, words, re.I)
    if found is None:
        raise FieldError(f'"{text}" does not say what it does to the lye.', REMEDY)
    verb = found["verb"].casefold()
    grams = float(found["number"]) * (NAOH if verb in ("acid", "alkali") else 1.0)
    if not 0 < grams <= MOST:
        raise FieldError(
            f'"{text}" cannot be: a gram eats or brings more than nothing, and at most {MOST:g} g of lye.',
            REMEDY,
        )
    return LyeEffect(grams if verb in ("eats", "acid") else -grams, words)


LyeField = Annotated[
    LyeEffect,
    reads(parse_lye_effect, examples=("neutral", "eats 0.624 g a gram", "acid 15.6 mol per kg")),
]


class OwnAdditive(Record):
    """What a gram of it holds, and what it does to the lye; what is left out is as the shipped table says."""

    shorthand: ClassVar[str | None] = "lye"
    may_be_unknown: ClassVar[bool] = True

    name: Name = Field(description="the name that recipes use")
    lye: LyeField | None = maybe("`neutral`, or what a gram eats or brings of sodium hydroxide")
    same_as: Name | None = maybe("what the shipped table calls it, where the name is your own")
    water: Fraction | None = maybe("water in it, of its mass")
    reducing_sugar: Fraction | None = maybe("sugar that lye browns (honey, milk, fruit), of its mass")
    other_sugar: Fraction | None = maybe("other sugar (table sugar), of its mass")
    alcohol: Fraction | None = maybe("alcohol in it, of its mass")
    salt: Fraction | None = maybe("salt in it, of its mass")
    fat: Fraction | None = maybe("fat in it, of its mass")
    fresh: YesNo | None = maybe("whether it is fresh food, which can spoil")
    source: Text | None = maybe("the bottle, sheet or test that says so")

    @property
    def contents(self) -> dict[str, Amount]:
        """What is stated of its contents, by attribute."""
        named = ("water", "reducing_sugar", "other_sugar", "alcohol", "salt", "fat")
        return {name: value for name in named if (value := getattr(self, name)) is not None}

    @model_validator(mode="after")
    def _at_most_the_whole(self) -> OwnAdditive:
        if sum(amount.value for amount in self.contents.values()) > 1 + 1e-9:
            raise FieldError(
                "Its contents add up to more than itself.", "Each is a share of its mass.", ("water",)
            )
        return self
