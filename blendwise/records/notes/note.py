"""A note: one look at a batch, never rewritten.

The first note of a batch (and of each version within it) freezes what was poured: the plan's text, the
rules' fingerprint, the doses as weighed and what was expected on that day.  Later notes name the batch
and the note before them (``after``), so that their order never hangs on a clock.  A correction is a new
note that names the one it ``corrects``.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from blendwise.records.kinds.scent import BANDS, BandField, Names, RicingField, StrengthField
from blendwise.records.nearest import nearest
from blendwise.records.reading import bands
from blendwise.records.reading.fields import (
    _HEX,
    Count,
    Day,
    FieldError,
    Hex,
    Length,
    Mass,
    Name,
    Number,
    OneOf,
    Reads,
    Temperature,
    Text,
    Time,
    TimeRange,
    YesNo,
)
from blendwise.records.reading.record import Record, listing, mapping, maybe

LookAt = Literal["at the pot", "at the cut", "week 1", "week 2", "week 4", "week 6", "later"]
LOOKS: Final[tuple[LookAt, ...]] = (
    "at the pot", "at the cut", "week 1", "week 2", "week 4", "week 6", "later",
)  # fmt: skip
DAYS_OF_LOOKS: Final = {
    "at the pot": 0,
    "at the cut": 1,
    "week 1": 7,
    "week 2": 14,
    "week 4": 28,
    "week 6": 42,
}
Edge = Literal["clean", "soft", "bled"]
GelSeen = Literal["none", "partial", "full"]
AshSeen = Literal["none", "slight", "heavy"]
ScaleWord = Literal["none", "slight", "bad"]


def parse_seen_colour(text: str) -> str:
    """A band word, or a colour as ``#rrggbb`` in lower case; FieldError for anything else."""
    word = " ".join(text.split())
    if word in BANDS:
        return word
    if _HEX.fullmatch(word):
        return word.lower()
    near = nearest(word, BANDS)
    remedy = f'The nearest word is "{near}"; they are' if near else "The words are"
    raise FieldError(
        f'"{text}" is not a colour that can be noted.',
        f'{remedy} {", ".join(BANDS)}; or write six digits in quotes, like "#a0b1c2".',
    )


SeenColour = Annotated[
    str, Reads(parse_seen_colour, (("type", "string"), ("pattern", f"^({'|'.join(BANDS)}|{_HEX.pattern})$")))
]


class Look(Record):
    """What was seen of one portion."""

    minutes_to_thick: Annotated[TimeRange, bands.THICK] | None = maybe("minutes from scenting to thick")
    still_fluid_at: Annotated[TimeRange, bands.THICK] | None = maybe(
        "still fluid these minutes after scenting"
    )
    ricing: RicingField | None = maybe("whether it riced")
    colour: SeenColour | None = maybe("a band word or a hex colour")
    edge: Annotated[Edge, OneOf()] | None = maybe("how the edge held")
    halo: Annotated[Length, bands.HALO] | None = maybe("how far its colour went into its neighbour")
    strength: StrengthField | None = maybe("how strong it smells")
    gel: Annotated[GelSeen, OneOf()] | None = maybe("how far gel went")
    ash: Annotated[AshSeen, OneOf()] | None = maybe("ash on it")
    rivers: Annotated[ScaleWord, OneOf()] | None = maybe("glycerine rivers")
    spots: Annotated[ScaleWord, OneOf()] | None = maybe("spots")
    remarks: Text | None = maybe("anything else")


class FrozenPortion(Record):
    """What one portion was on the day of the pour."""

    oils: Annotated[Mass, bands.POURED] = Field(description="its share of the oils")
    batter: Annotated[Mass, bands.POURED] = Field(description="its batter without scent")
    planned_colour: Hex | None = maybe("its colour as planned, without browning")
    covering: Number | None = maybe("what its colourants and base scatter, the plain base being 1")
    may_become: BandField | None = maybe("how dark it was allowed to turn")
    stays_fluid: Time | None = maybe("minutes it would have stayed fluid from its scenting, unscented")
    needed: Time | None = maybe("minutes it had to stay fluid from its scenting")
    lots: dict[Name, Name] = mapping("the lot of an oil in this portion, where it is not the batch's")


class Frozen(Record):
    """What the first note keeps of the day: the plan's text, the rules, doses as weighed, predictions."""

    plan_text: str | None = maybe("the plan's text on that day")
    rules: Name | None = maybe("fingerprint of the rulebook on that day")
    doses: dict[Name, dict[Name, Mass]] = mapping("portion, scent, mass as weighed")
    portions: dict[Name, FrozenPortion] = mapping("what each portion was made of")
    predictions: dict[Name, dict[Name, Text]] = mapping("what was expected of each portion")
    pour: Name | None = maybe("the style of the pour")
    pour_minutes: Time | None = maybe(
        "what the rulebook says that such a pour takes, so many portions, so much batter"
    )
    flagged: dict[Name, Names] = mapping("rules that spoke against it, each with the portions it named")


class Note(Record):
    """One look at one batch on one day."""

    note: Name = Field(description="the name of the note")
    plan: Name = Field(description="the plan that was poured")
    look: Annotated[LookAt, OneOf()] = Field(description="at the pot, at the cut, or the week")
    on: Annotated[Day, bands.DAY_SEEN] = Field(description="the day")
    test_cup: YesNo | None = maybe("whether this was a test cup, and `plan` is the cup's own name")
    batch: Name | None = maybe("the batch's code; else its plan and day of the pour name it")
    after: Name | None = maybe("the note before this one")
    variation: Name | None = maybe("the version within the batch")
    poured: Annotated[Day, bands.DAY_SEEN] | None = maybe("the day of the pour")
    portions: dict[Name, Look] = mapping("what was seen of each portion")
    lots: dict[Name, Name] = mapping("material and the lot that was used")
    room: Annotated[Temperature, bands.ROOM_SEEN] | None = maybe("temperature of the room")
    batter_at_split: Annotated[Temperature, bands.BATTER_SEEN] | None = maybe(
        "temperature of the batter at the split"
    )
    pour_took: Annotated[TimeRange, bands.STYLE_MINUTES] | None = maybe(
        "minutes from the first scenting to the last movement of the pour"
    )
    favourites: Names = listing("portions or variations liked best")
    votes: dict[Name, Count] = mapping("variation and how many liked it best")
    repeat: YesNo | None = maybe("whether to make it again")
    corrects: Name | None = maybe("the note that this one corrects")
    teaches: YesNo | None = maybe("`no` sets this look aside: it stays in the history and moves no oil")
    bars: Annotated[Count, bands.BARS] | None = maybe("bars cut")
    mass: Annotated[Mass, bands.BAR] | None = maybe("mass of one bar")
    photos: Names = listing("names of photographs")
    remarks: Text | None = maybe("anything else")
    frozen: Frozen | None = maybe("what the first note keeps of the day")
