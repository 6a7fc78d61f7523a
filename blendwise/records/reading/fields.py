"""How the text of a field becomes a typed value; each marker also says what a schema says of the field."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Annotated, Any, Final, Literal, get_args

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from blendwise.quantity import (
    Amount,
    Basis,
    Dimension,
    Price,
    parse_amount,
    parse_colour_dose,
    parse_inside,
    parse_price,
    parse_ratio,
    parse_saponification,
    parse_share,
)
from blendwise.quantity.parse import VULGAR
from blendwise.records.nearest import nearest

LONGEST_TEXT: Final = 4000
LONGEST_NAME: Final = 120
NOT_KNOWN: Final = "not known"
_HAS_NUMBER: Final = f"[0-9{''.join(VULGAR)}]|^not known$"


class FieldError(ValueError):
    """A field that cannot be read; ``path`` leads further down from where it was raised."""

    def __init__(self, message: str, remedy: str = "", path: tuple[str | int, ...] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy
        self.path = path


def as_text(value: object) -> str:
    """The scalar itself; a list or a mapping in its place is refused."""
    if isinstance(value, str):
        return value
    what = (
        "a list" if isinstance(value, list) else "a mapping" if isinstance(value, dict) else "something else"
    )
    raise FieldError(f"A single value must stand here, not {what}.", "Write it as `name: value`.")


@dataclass(frozen=True, slots=True)
class Reads:
    """Marker: the field is read from its text by ``read``; ``schema`` is its JSON Schema.

    ``measures``: the dimensions that may stand there, where the field is an amount.
    """

    read: Callable[[str], object]
    schema: tuple[tuple[str, Any], ...] = (("type", "string"),)
    measures: frozenset[Dimension] = frozenset()

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._validate)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {key: list(value) if isinstance(value, tuple) else value for key, value in self.schema}

    def _validate(self, value: object) -> object:
        return self.read(as_text(value)) if isinstance(value, (str, list, dict)) else value


def reads(read: Callable[[str], object], *dimensions: Dimension, kind: Any = "string", **more: Any) -> Reads:
    """A marker for a field read by ``read`` (amounts of ``dimensions``); ``more`` goes into its schema."""
    return Reads(read, (("type", kind), *more.items()), frozenset(dimensions))


def _amount(
    *allowed: Dimension,
    example: str,
    bases: frozenset[Basis] = frozenset(),
    default: Basis | None = None,
    ranges: bool = False,
    open_above: bool = False,
) -> Reads:
    @lru_cache(maxsize=512)
    def read(text: str) -> Amount:  # makers write the same amounts again and again
        return parse_amount(
            text, *allowed, bases=bases, default_basis=default, ranges=ranges, open_above=open_above
        )

    kinds = ("string", "number") if {Dimension.PARTS, Dimension.NUMBER} & set(allowed) else "string"
    return reads(read, *allowed, kind=kinds, pattern=_HAS_NUMBER, examples=tuple(example.split("; ")))


_D, _B = Dimension, Basis
DOSE_BASES: Final = frozenset({_B.PORTION_OILS, _B.BATCH_OILS, _B.PORTION_BATTER, _B.BATCH_BATTER})
NOTE_BASES: Final = frozenset({_B.OILS, _B.BATTER, _B.PORTION_OILS, _B.PORTION_BATTER})
BATCH_BASES: Final = frozenset({_B.BATCH_OILS, _B.BATCH_BATTER})

Mass = Annotated[Amount, _amount(_D.MASS, example="30 g; 1 oz")]
Volume = Annotated[Amount, _amount(_D.VOLUME, example="1400 mL")]
Length = Annotated[Amount, _amount(_D.LENGTH, example="3 mm; 1/8 in", ranges=True)]
Temperature = Annotated[Amount, _amount(_D.TEMPERATURE, example="33 °C; 91 °F", ranges=True)]
FlashPoint = Annotated[
    Amount, _amount(_D.TEMPERATURE, example="94 °C; above 93 °C", ranges=True, open_above=True)
]
Time = Annotated[Amount, _amount(_D.TIME, example="25 min")]
TimeRange = Annotated[Amount, _amount(_D.TIME, example="10 to 20 min", ranges=True)]
Number = Annotated[Amount, _amount(_D.NUMBER, example="2.5")]
NumberRange = Annotated[Amount, _amount(_D.NUMBER, example="1.5 to 2.5", ranges=True)]
Fraction = Annotated[Amount, _amount(_D.FRACTION, example="5 %", default=_B.WHOLE)]
FractionRange = Annotated[Amount, _amount(_D.FRACTION, example="3 to 5 %", default=_B.WHOLE, ranges=True)]
Purity = Annotated[Amount, _amount(_D.FRACTION, example="97 to 99 %", default=_B.WHOLE, ranges=True)]
OfScent = Annotated[Amount, _amount(_D.FRACTION, example="5 to 7 %", default=_B.SCENT, ranges=True)]
OfBar = Annotated[Amount, _amount(_D.FRACTION, example="9.1 %", default=_B.FINISHED_BAR)]
OfBatchOils = Annotated[Amount, _amount(_D.FRACTION, example="38 %", default=_B.BATCH_OILS)]
NoteRate = Annotated[Amount, _amount(_D.FRACTION, example="4 % of oils", bases=NOTE_BASES, ranges=True)]
UsualRate = Annotated[
    Amount, _amount(_D.FRACTION, example="0.2 to 1 % of portion oils", bases=NOTE_BASES, ranges=True)
]
OfBatch = Annotated[Amount, _amount(_D.FRACTION, example="4 % of batch oils", bases=BATCH_BASES)]
OilShare = Annotated[Amount, _amount(_D.FRACTION, _D.MASS, example="45 %; 450 g", default=_B.WHOLE)]
AdditiveAmount = Annotated[Amount, _amount(_D.MASS, _D.FRACTION, example="10 g; 1 %", default=_B.BATCH_OILS)]
ColourDose = Annotated[
    Amount,
    reads(
        lambda text: parse_colour_dose(text, DOSE_BASES),
        *(_D.FRACTION, _D.MASS, _D.VOLUME),
        pattern=_HAS_NUMBER,
        examples=("1 % of portion oils", "4 g", "1 tsp", "1/2 tsp ppo"),
    ),
]
EmbedScent = Annotated[Amount, _amount(_D.MASS, _D.FRACTION, example="2 g; 2 %", default=_B.WHOLE)]
BlendPart = Annotated[
    Amount,
    _amount(
        *(_D.PARTS, _D.FRACTION),
        example="2; 2 parts; 40 %; 0.3 oz ppo",
        bases=frozenset({_B.WHOLE, _B.BATCH_OILS}),
        default=_B.WHOLE,
    ),
]
Saponification = Annotated[
    Amount,
    reads(parse_saponification, kind=("string", "number"), examples=("184 to 196", "190 mg KOH/g")),
]
Ratio = Annotated[Amount, reads(parse_ratio, kind=("string", "number"), examples=("2.33", "2.33 : 1"))]
Inside = Annotated[tuple[float, float, float], reads(parse_inside, examples=("25 x 9 x 6.5 cm",))]
PriceField = Annotated[Price, reads(parse_price, examples=("14.50 per 100 g",))]
Share = Annotated[
    Amount | Literal["the rest"],
    reads(
        parse_share,
        *(_D.FRACTION, _D.PARTS, _D.MASS),
        kind=("string", "number"),
        examples=("35 %", "2 parts", "300 g", "the rest"),
    ),
]


@dataclass(frozen=True, slots=True)
class Dose:
    """What the maker's own split says: an ``amount`` (mass or rate), or ``of_total``, a share of it all."""

    amount: Amount | None
    of_total: float | None
    text: str

    def __str__(self) -> str:
        return self.text


_TOTALS: Final = {
    "all of it": 1.0,
    "half of it": 0.5,
    "a third of it": 1 / 3,
    "two thirds of it": 2 / 3,
    "a quarter of it": 0.25,
    "three quarters of it": 0.75,
    "none": 0.0,
}


def parse_dose(text: str) -> Dose:
    """``4 g``, ``3.5 % of portion oils``, ``half of it``, ``none``; raises QuantityError."""
    words = " ".join(text.lower().split())
    if words in _TOTALS:
        return Dose(None, _TOTALS[words], text.strip())
    if words.endswith(" of it"):
        part = parse_amount(words.removesuffix(" of it"), _D.FRACTION, default_basis=_B.WHOLE, ranges=False)
        return Dose(None, part.high, text.strip())
    return Dose(parse_amount(text, _D.MASS, _D.FRACTION, bases=DOSE_BASES, ranges=False), None, text.strip())


DoseField = Annotated[
    Dose, reads(parse_dose, _D.MASS, _D.FRACTION, examples=("4 g", "3.5 % of portion oils", *_TOTALS))
]


@dataclass(frozen=True, slots=True)
class GelPlan:
    """What is meant to happen: avoid, leave or force gel, and at what temperature it is forced."""

    word: Literal["avoid", "leave", "force"]
    at: Amount | None
    text: str

    def __str__(self) -> str:
        return self.text


def parse_gel(text: str) -> GelPlan:
    """``avoid``, ``leave``, ``force``, ``force at 70 °C``; raises FieldError."""
    word, _, rest = text.strip().partition(" at ")
    at = parse_amount(rest, _D.TEMPERATURE, ranges=False) if rest and word == "force" else None
    match word:
        case "avoid" | "leave" if not rest:
            return GelPlan(word, None, text.strip())
        case "force":
            return GelPlan("force", at, text.strip())
        case _:
            raise FieldError(
                f'"{text}" is not a plan for gel.', 'Write "avoid", "leave" or "force at 70 °C".'
            )


GelField = Annotated[GelPlan, reads(parse_gel, examples=("avoid", "leave", "force at 70 °C"))]


@dataclass(frozen=True, slots=True)
class OneOf:
    """Marker for ``Annotated[Literal[...], OneOf()]``: one of a closed set of words, the nearest named."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        words: tuple[str, ...] = get_args(source)

        def read(value: object) -> str:
            word = " ".join(as_text(value).split())
            if word in words:
                return word
            raise FieldError(f'"{word}" is not one of the words that may stand here.', _words(word, words))

        return core_schema.no_info_plain_validator_function(read, metadata={"words": words})

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        metadata: Any = schema.get("metadata") or {}
        return {"type": "string", "enum": list(metadata["words"])}


def _words(word: str, words: tuple[str, ...]) -> str:
    match = nearest(word, words)
    near = f'The nearest is "{match}"; they are' if match else "They are"
    return f"{near} {', '.join(words)}."


_YES: Final = {"yes": True, "true": True, "no": False, "false": False}


def parse_yes(text: str) -> bool:
    """``yes`` or ``no``; anything else is a FieldError."""
    try:
        return _YES[text.strip().lower()]
    except KeyError:
        raise FieldError(f'"{text}" is neither yes nor no.', 'Write "yes" or "no".') from None


_DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def parse_day(text: str) -> date:
    """A day as year-month-day (ISO 8601)."""
    try:
        if _DAY.fullmatch(text.strip()):
            return date.fromisoformat(text.strip())
    except ValueError:
        pass
    raise FieldError(f'"{text}" is not a day.', "Write it as year-month-day, like 2026-02-11.")


def parse_text(text: str) -> str:
    """Words as typed, without outer blanks; empty and overlong ones are refused."""
    words = text.strip()
    if not words:
        raise FieldError(
            "Here stands an empty text.", "Leave the whole field out where nothing is to be said."
        )
    if len(words) > LONGEST_TEXT:
        raise FieldError(
            f"A text of {len(words)} characters is too long (at most {LONGEST_TEXT}).", "Shorten it."
        )
    return words


def parse_name(text: str) -> str:
    """The name of a thing: one line, at most 120 characters, no control characters."""
    name = text.strip()
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        raise FieldError(
            "This is not usable as a name.",
            f"A name is one line of 1 to {LONGEST_NAME} printable characters.",
        )
    return name


_HEX: Final = re.compile(r"#[0-9a-fA-F]{6}")


def parse_hex(text: str) -> str:
    """A colour as ``#rrggbb`` in lower case."""
    if not _HEX.fullmatch(text.strip()):
        raise FieldError(f'"{text}" is not a colour.', 'Write it in quotes with six digits, like "#a0b1c2".')
    return text.strip().lower()


def parse_count(text: str) -> int:
    """A whole number from 1 to 10,000."""
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit() and len(plain) <= 5 and 1 <= int(plain) <= 10_000):
        raise FieldError(f'"{text}" is not a whole number of one or more.', "Write it in digits, like 10.")
    return int(plain)


YesNo = Annotated[bool, reads(parse_yes, kind=("string", "boolean"), enum=("yes", "no", True, False))]
Day = Annotated[date, reads(parse_day, format="date")]
Text = Annotated[str, reads(parse_text, kind=("string", "number"), maxLength=LONGEST_TEXT)]
Name = Annotated[str, reads(parse_name, kind=("string", "number"), maxLength=LONGEST_NAME)]
Hex = Annotated[str, reads(parse_hex, pattern=_HEX.pattern)]
Count = Annotated[int, reads(parse_count, kind=("integer", "string"))]
