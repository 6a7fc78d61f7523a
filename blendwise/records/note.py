"""A note: one look at a batch, never rewritten."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from blendwise.records.fields import Count, Day, Mass, Name, OneOf, Temperature, Text, TimeRange, YesNo
from blendwise.records.record import Record, listing, mapping, maybe
from blendwise.records.scent import Names, RicingField, StrengthField

LookAt = Literal["at the pot", "at the cut", "week 1", "week 2", "week 4", "week 6", "later"]
Edge = Literal["clean", "soft", "bled"]
GelSeen = Literal["none", "partial", "full"]
AshSeen = Literal["none", "slight", "heavy"]
ScaleWord = Literal["none", "slight", "bad"]
RIVERS = ("none", "slight", "bad")


class Look(Record):
    """What was seen of one portion."""

    minutes_to_thick: TimeRange | None = maybe("minutes from scenting to thick")
    still_fluid_at: TimeRange | None = maybe("still fluid after these minutes")
    ricing: RicingField | None = maybe("whether it riced")
    colour: Name | None = maybe("a band word or a hex colour")
    edge: Annotated[Edge, OneOf()] | None = maybe("how the edge held")
    strength: StrengthField | None = maybe("how strong it smells")
    gel: Annotated[GelSeen, OneOf()] | None = maybe("how far gel went")
    ash: Annotated[AshSeen, OneOf()] | None = maybe("ash on it")
    rivers: Annotated[ScaleWord, OneOf()] | None = maybe("glycerine rivers")
    spots: Annotated[ScaleWord, OneOf()] | None = maybe("spots")
    remarks: Text | None = maybe("anything else")


class Frozen(Record):
    """What the first note keeps of the day: the plan's text, the rules, doses as weighed, predictions."""

    plan_text: str | None = maybe("the plan's text on that day")
    rules: Name | None = maybe("fingerprint of the rulebook on that day")
    doses: dict[Name, dict[Name, Mass]] = mapping("portion, scent, mass as weighed")
    predictions: dict[Name, dict[Name, Text]] = mapping("what was expected")


class Note(Record):
    """One look at one batch on one day."""

    note: Name = Field(description="the name of the note")
    plan: Name = Field(description="the plan that was poured")
    look: Annotated[LookAt, OneOf()] = Field(description="at the pot, at the cut, or the week")
    on: Day = Field(description="the day")
    variation: Name | None = maybe("the version within the batch")
    poured: Day | None = maybe("the day of the pour")
    portions: dict[Name, Look] = mapping("what was seen of each portion")
    lots: dict[Name, Name] = mapping("scent and the lot that was used")
    room: Temperature | None = maybe("temperature of the room")
    batter_at_split: Temperature | None = maybe("temperature of the batter at the split")
    favourites: Names = listing("portions or variations liked best")
    repeat: YesNo | None = maybe("whether to make it again")
    corrects: Name | None = maybe("the note that this one corrects")
    bars: Count | None = maybe("bars cut")
    remarks: Text | None = maybe("anything else")
    frozen: Frozen | None = maybe("what the first note keeps of the day")
