"""An oil of the catalogue, as its maker describes it.  What is left out is not known, never none."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from blendwise.quantity import Amount
from blendwise.quantity.cas import cas_fault
from blendwise.records import certificates
from blendwise.records.reading import bands
from blendwise.records.reading.fields import (
    Day,
    FieldError,
    FlashPoint,
    FractionRange,
    Mass,
    Name,
    NoteRate,
    OfBar,
    OfScent,
    OneOf,
    PriceField,
    Text,
    TimeRange,
    YesNo,
)
from blendwise.records.reading.record import MayBeUnknown, OneOrMore, Record, listing, mapping, maybe

Evidence = Literal["own batch", "own cup", "supplier", "hearsay"]
Kind = Literal["fragrance oil", "essential oil", "absolute", "resinoid", "isolate"]
ScentNote = Literal["top", "middle", "base"]
Band = Literal["ivory", "cream", "beige", "tan", "brown", "chocolate"]
AccelerationWord = Literal["thins", "none", "slight", "moderate", "fast", "seizes"]
RicingWord = Literal["none", "slight", "bad"]
StrengthWord = Literal["strong", "fair", "faint", "gone"]
Fit = Literal["good", "bad"]

EVIDENCE: Final[tuple[Evidence, ...]] = ("own batch", "own cup", "supplier", "hearsay")
BANDS: Final[tuple[Band, ...]] = ("ivory", "cream", "beige", "tan", "brown", "chocolate")
ACCELERATION_WORDS: Final[tuple[AccelerationWord, ...]] = (
    "thins", "none", "slight", "moderate", "fast", "seizes",
)  # fmt: skip
RICING_WORDS: Final[tuple[RicingWord, ...]] = ("none", "slight", "bad")
STRENGTH_WORDS: Final[tuple[StrengthWord, ...]] = ("strong", "fair", "faint", "gone")

# What the words stand for where a book's scale does not say: common words, our own shares.
SHARE_LEFT: Final[dict[StrengthWord, float]] = {"strong": 0.85, "fair": 0.55, "faint": 0.2, "gone": 0.03}

EvidenceField = Annotated[Evidence, OneOf()]
BandField = Annotated[Band, OneOf()]
AccelerationField = Annotated[AccelerationWord, OneOf()]
RicingField = Annotated[RicingWord, OneOf()]
StrengthField = Annotated[StrengthWord, OneOf()]
Names = Annotated[list[Name], OneOrMore]


class BrownsTo(Record):
    """The colour that soap was seen to reach, at what dose, and who says so."""

    shorthand: ClassVar[str | None] = "band"

    band: BandField = Field(description="the lightness band the soap reached")
    at: Annotated[NoteRate, bands.DOSE_SEEN] | None = maybe("the dose at which it was seen")
    evidence: EvidenceField | None = maybe("who says so")
    on: Annotated[Day, bands.DAY_SEEN] | None = maybe("the day it was seen")


class Acceleration(Record):
    """How much the oil quickens trace, in a word or as measured, at what dose, and against what."""

    shorthand: ClassVar[str | None] = "is"

    word: AccelerationField | None = Field(
        default=None, alias="is", description="how much it quickens trace, in a word"
    )
    control: Annotated[TimeRange, bands.THICK] | None = maybe(
        "minutes to thick of the unscented cup of the same batter"
    )
    scented: Annotated[TimeRange, bands.THICK] | None = maybe("minutes to thick of the scented cup beside it")
    at: Annotated[NoteRate, bands.DOSE_SEEN] | None = maybe("the dose at which it was seen")
    evidence: EvidenceField | None = maybe("who says so")
    against: Text | None = maybe("what it was compared with, such as an unscented cup")

    @model_validator(mode="after")
    def _said_or_measured(self) -> Acceleration:
        if (self.control is None) != (self.scented is None):
            lost = "control" if self.control is None else "scented"
            raise FieldError(
                f"Minutes of one cup say nothing without the other: `{lost}` is missing.",
                "Write both cups: `control: 24 min` of the unscented one, `scented: 6 min` of the other.",
                ("scented" if self.control is None else "control",),
            )
        if self.word is None and self.control is None:
            raise FieldError(
                "This says neither how much it quickens nor what was measured.",
                "Write `is: slight`, or `control: 24 min, scented: 6 min`.",
            )
        if self.word == "seizes" and self.control is not None:
            raise FieldError(
                "An oil that seizes has no minutes.",
                "Keep `is: seizes`, or the minutes of both cups.",
                ("is",),
            )
        return self

    @property
    def measured(self) -> tuple[float, float, float] | None:
        """Times faster than the unscented cup, by minutes: least, middle, most; None where not measured."""
        if self.control is None or self.scented is None:
            return None
        plain, quick = self.control, self.scented
        middle = math.sqrt(plain.low * plain.high / (quick.low * quick.high))
        return plain.low / quick.high, middle, plain.high / quick.low

    @property
    def told(self) -> str:
        """The word, else the minutes of both cups as written."""
        return self.word or f"{self.control} unscented, {self.scented} scented"


class AfterSixWeeks(Record):
    """What is left of the smell at six weeks: in a word, or as a share that somebody tells."""

    shorthand: ClassVar[str | None] = "is"

    word: StrengthField | None = Field(default=None, alias="is", description="how strong the bar smells")
    left: Annotated[FractionRange, bands.LEFT] | None = maybe("share of the smell that is left, such as 15 %")
    evidence: EvidenceField | None = maybe("who says so")
    at: Annotated[NoteRate, bands.DOSE_SEEN] | None = maybe("the dose at which it was smelled")

    @model_validator(mode="after")
    def _one_of_both(self) -> AfterSixWeeks:
        if (self.word is None) == (self.left is None):
            raise FieldError(
                "This says neither a word nor what is left, or both.",
                "Write `fair`, or `{left: 15 %, evidence: hearsay}`.",
            )
        return self

    @property
    def told(self) -> StrengthWord:
        """The word, else the one whose share stands nearest to what is left."""
        if self.word is not None:
            return self.word
        assert self.left is not None
        share = self.left.mid
        return min(SHARE_LEFT, key=lambda word: abs(SHARE_LEFT[word] - share))


class LimitInBar(Record):
    """The most that a certificate allows in the finished bar."""

    shorthand: ClassVar[str | None] = "most"

    most: Annotated[OfBar, bands.LIMIT] = Field(
        description="the most in the finished bar, in per cent (100 %: no limit, not a dose)"
    )
    certificate: Text | None = maybe("the certificate that says so")
    category: Text | None = maybe("the category that the limit is for; bar soap is 9")
    dated: Annotated[Day, bands.PAPER] | None = maybe("the day of the certificate")

    @property
    def categories(self) -> frozenset[str]:
        """The categories that the entry says the limit is for, as "9" or "10a"; empty where it names none."""
        return certificates.categories(self.category or "", plain=True) or certificates.categories(
            self.certificate or ""
        )

    @property
    def amendment(self) -> int | None:
        """The amendment of the industry's standards that the certificate goes by, where it says so."""
        return certificates.amendment(self.certificate or "")

    @model_validator(mode="after")
    def _not_against_itself(self) -> LimitInBar:
        certificates.fault_of_limit(self.most.low, self.most.high, self.dated)
        certificates.fault_of_category(self.category, self.certificate)
        return self


class SupplierStatement(Record):
    """The supplier's dated statement that nothing in the oil is banned, and what limits it."""

    shorthand: ClassVar[str | None] = "dated"

    dated: Annotated[Day, bands.PAPER] = Field(description="the day of the statement")
    of: Text | None = maybe("what it is, in your words")


class AllergenSheet(Record):
    """What the supplier's sheet says is in the oil; ``complete`` where it names all of them."""

    names: dict[Name, OfScent] = Field(description="constituent and its share of the oil")
    complete: YesNo = Field(default=False, description="whether the sheet names every listed constituent")

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        fields = handler.resolve_ref_schema(handler(core))["properties"]
        return {
            "type": "object",
            "description": "Constituents and their share of the oil; `complete: yes` where all are named.",
            "properties": {"complete": fields["complete"]},
            "additionalProperties": fields["names"]["additionalProperties"],
        }

    @classmethod
    def _keys(cls, data: dict[str, Any]) -> dict[str, Any]:
        names = {key: value for key, value in data.items() if key != "complete"}
        return {"names": names, **({"complete": data["complete"]} if "complete" in data else {})}


class Seen(Record):
    """Something seen on a day, in the maker's words."""

    on: Annotated[Day, bands.DAY_SEEN] = Field(description="the day")
    what: Text = Field(description="what was seen")


class Scent(Record):
    """An oil: what it is, what it does in soap, what limits it, and what is left of it."""

    may_be_unknown: ClassVar[bool] = True

    name: Name = Field(description="the name that plans use")
    kind: Annotated[Kind, OneOf()] | None = maybe("what sort of oil it is")
    scent_note: Annotated[ScentNote, OneOf()] | None = maybe("top, middle or base")
    vanillin: OfScent | None = maybe("vanillin in the oil; a range counts by its top")
    ethyl_vanillin: OfScent | None = maybe("ethyl vanillin in the oil, apart from vanillin")
    browns_by: dict[Name, Annotated[OfScent | None, MayBeUnknown]] = mapping(
        "other constituents that brown, and how much (or `not known`)"
    )
    browns_to: BrownsTo | None = maybe("the colour that was seen; outranks a computed one")
    own_cast: Text | None = maybe("the colour of the oil itself")
    acceleration: Acceleration | None = maybe("how much it quickens trace")
    ricing: RicingField | None = maybe("whether it makes batter rice")
    six_weeks: AfterSixWeeks | None = Field(
        default=None, alias="after six weeks", description="how strong the bar smells at six weeks"
    )
    flash_point: Annotated[FlashPoint, bands.FLASH_POINT] | None = maybe("for storing and shipping only")
    for_skin: YesNo | None = maybe("whether the supplier sells it for use on skin")
    limit_in_bar: LimitInBar | None = maybe("the certificate's limit in the finished bar")
    allergen_sheet: AllergenSheet | None = maybe("constituents by the supplier's sheet")
    supplier_statement: SupplierStatement | None = maybe(
        "the supplier's dated statement on banned and limited substances"
    )
    label_name: Name | None = maybe("where the whole oil is itself a listed entry")
    tags: Names = listing("words to find it by; some rules read them")
    lot: Name | None = maybe("the lot on the bottle")
    price: PriceField | None = maybe("a price for a mass")
    on_hand: Annotated[Mass, bands.ON_HAND] | None = maybe("what is left in the bottle")
    bought: Annotated[Day, bands.DAY_SEEN] | None = maybe("the day it was bought")
    evidence: EvidenceField | None = maybe("who says all of this unless said otherwise")
    seen: list[Seen] = listing("what was seen, with its day")
    goes_with: dict[Name, Annotated[Fit, OneOf()]] = mapping("other oils it was found good or bad with")

    @property
    def after_six_weeks(self) -> StrengthWord | None:
        """The word for what is left at six weeks."""
        return None if self.six_weeks is None else self.six_weeks.told

    @model_validator(mode="after")
    def _not_against_itself(self) -> Scent:
        fault_of_numbers(self)
        fault_of_sum(self)
        return self


def fault_of_numbers(scent: Scent) -> None:
    """Refuse a CAS number whose check digit is wrong: it is a slip, and could stand for anything."""
    sheet = scent.allergen_sheet.names if scent.allergen_sheet else {}
    named: dict[str, Iterable[str]] = {
        "allergen sheet": sheet,
        "browns by": scent.browns_by,
        "label name": [scent.label_name or ""],
    }
    for field, names in named.items():
        for name in names:
            if wrong := cas_fault(name):
                raise FieldError(
                    f'The check digit of the CAS number {wrong} in "{name}" is wrong.',
                    "Copy the number from the paper again, or write the name without it.",
                    (field, name) if field != "label name" else (field,),
                )


OF_THE_WHOLE: Final = "Each is a share of the whole oil: look for a slip, such as 70 % for 7 %."


def fault_of_sum(scent: Scent) -> None:
    """Refuse constituents that are certain to add up to more than the whole oil."""
    browners: list[Amount | None] = [scent.vanillin, scent.ethyl_vanillin, *scent.browns_by.values()]
    if sum(part.low for part in browners if part is not None) > 1.0:
        raise FieldError(
            "What browns in this oil adds up to more than the whole oil.", OF_THE_WHOLE, ("vanillin",)
        )
    sheet = scent.allergen_sheet.names.values() if scent.allergen_sheet else ()
    if sum(part.low for part in sheet) > 1.0:
        raise FieldError(
            "The constituents add up to more than the whole oil.", OF_THE_WHOLE, ("allergen sheet",)
        )
