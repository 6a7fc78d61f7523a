"""A pour style of the rulebook: its minutes, its batter, and who touches whom."""

from __future__ import annotations

import re
from typing import Annotated, Final, Literal

from pydantic import Field

from blendwise.records.kinds.scent import AccelerationField
from blendwise.records.reading.fields import Count, FractionRange, Name, OneOf, Text, TimeRange, YesNo
from blendwise.records.reading.record import Record, maybe

Family = Literal["interleaved", "sequential", "thick", "single"]
Batter = Literal["thin", "light", "medium", "thick"]
Touching = Literal["each other", "in order", "through the body", "none"]
_INTO_A_CUP: Final = re.compile(
    r"\b(?:in|into|to)\s+(?:\w+\s+){0,3}(?:cup|jug|beaker|bowl|pitcher|bucket)\b", re.IGNORECASE
)
BATTERS: tuple[Batter, ...] = ("thin", "light", "medium", "thick")


class PourStyle(Record):
    """How a style is poured; the minutes run from the first scenting to the last useful movement."""

    name: Name = Field(description="the name that plans use")
    also_called: list[Name] = Field(default_factory=list, description="other words of the trade for it")
    family: Annotated[Family, OneOf()] = Field(
        description="interleaved (all to one end), sequential (layers), thick (the last thick on purpose) or "
        "single (each cavity by itself)"
    )
    minutes: TimeRange = Field(description="first scenting to last useful movement")
    batter: Annotated[Batter, OneOf()] = Field(description="how thick the batter should be")
    tolerates: AccelerationField = Field(description="the fastest acceleration that the style bears")
    touching: Annotated[Touching, OneOf()] = Field(description="which portions touch")
    thin_lines: YesNo = Field(
        default=False, description="whether it lives by thin lines, which need lightness contrast"
    )
    uneven: FractionRange | None = maybe(
        "how far the worst cut bar may exceed the mean, in per cent of the mean"
    )
    minimum_thickness: Annotated[Batter, OneOf()] | None = maybe(
        "how thick the portion below must be to carry the next"
    )
    wait: TimeRange | None = maybe("wait before the next layer, or before the top is made")
    most_portions: Count | None = maybe("the most portions that it bears")
    how: Text | None = maybe("how it is poured, in a sentence or two, for the bench sheet")
    basis: Text = Field(description="where this comes from")
    because: Text | None = maybe("why it is so")

    @property
    def gathers_in_a_cup(self) -> bool:
        """Whether its own words bring the cups together in one of them, which must hold them all then.

        Where the words may mean less ("stir it into its cup") a larger cup does no harm.
        """
        return _INTO_A_CUP.search(self.how or "") is not None

    def is_called(self, said: str) -> bool:
        """Whether a maker means this pour: its name or another word for it, hyphens and case aside."""
        return _plain(said) in map(_plain, (self.name, *self.also_called))


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").split()).replace("color", "colour")
