"""Plausible figures: outside its band a figure is refused, with the slip that it most likely is.

Within the band a figure may still be odd: the answer says so, and goes on.  Bands are wide: nothing
that makers do is refused.  A field takes its band as a marker beside its type; one row here is all that is
known of it.  Every row is common practice in cold process, with room to spare, unless it says more.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from blendwise.quantity import Amount, Dimension
from blendwise.quantity.units import (
    CM_PER_INCH,
    GRAMS_PER_OUNCE,
    OUNCES_PER_POUND,
    UNITS,
    celsius,
    fahrenheit,
)
from blendwise.records.reading.fields import FieldError

POINTS: Final = ((10.0, "a point too far left"), (0.1, "a point too far right"))
"""What a figure is multiplied by to undo a slip, and how that slip is called."""
SLIPS: Final = {
    Dimension.FRACTION: (*POINTS, (100.0, "a share for per cent"), (OUNCES_PER_POUND / 100, "% for oz ppo")),
    Dimension.MASS: (
        (GRAMS_PER_OUNCE, "ounces written as grams"), (1 / GRAMS_PER_OUNCE, "grams written as ounces"),
        (1000.0, "kilograms written as grams"), (0.001, "grams written as kilograms"),
        (OUNCES_PER_POUND, "pounds written as ounces"), (1 / OUNCES_PER_POUND, "ounces written as pounds"),
        *POINTS,
    ),
    Dimension.LENGTH: (
        (0.1, "millimetres written as centimetres"), (CM_PER_INCH, "inches written as centimetres"),
        (1 / CM_PER_INCH, "centimetres written as inches"), (10.0, "centimetres written as millimetres"),
        *POINTS,
    ),
    Dimension.VOLUME: (
        (1000.0, "litres written as millilitres"), (0.001, "millilitres written as litres"), *POINTS,
    ),
    Dimension.TIME: ((60.0, "hours written as minutes"), (1 / 60, "seconds written as minutes"),
        (1 / 60, "minutes written as hours"), *POINTS,),
}  # fmt: skip
"""The same a dimension; a slip of units counts only where the figure is written in the unit it names last."""
DAY: Final = "day"


@dataclass(frozen=True, slots=True)
class Band:
    """The least and the most of a field, in canonical units (fractions, g, °C, days), and what is usual.

    ``what``: of what it is a figure; ``usual``: a sentence in both systems of units; ``of``: the dimension it
    speaks of, where a field takes several; ``odd``: outside these it is told.  ``slip``: one of its own, as
    (a name, what the figure is multiplied by).  As a marker it refuses what lies outside.
    """

    what: str
    low: float
    high: float
    usual: str
    odd: tuple[float, float] | None = None
    of: Dimension | None = None
    slip: tuple[str, float] | None = None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_after_validator_function(self.checked, handler(source))

    def checked(self, value: Any) -> Any:
        """The value itself; FieldError where it is no plausible figure for its field."""
        wrong = outside(value, self)
        if wrong is not None:
            raise FieldError(*wrong)
        return value

    def is_odd(self, value: object) -> bool:
        """Whether a figure that is not refused is one that is hardly ever meant."""
        return self.odd is not None and any(
            not _between(each, *self.odd) for each, _ in _figures(value, self)
        )


Figure = tuple[tuple[str, ...], object, Band]
"""Where it stands below a record, the figure itself, its band."""


def in_all(value: float, dimension: Dimension, words: str) -> Amount:
    """A figure that follows from several, as a message names it."""
    return Amount(value, value, dimension, None, f"{value:.4g} {words}")


def refuse(figures: Iterable[Figure]) -> None:
    """FieldError for the first of these figures that is not plausible."""
    for path, value, band in figures:
        if wrong := outside(value, band):
            raise FieldError(*wrong, path)


def outside(value: object, band: Band) -> tuple[str, str] | None:
    """(message, remedy) where a figure of the value lies outside the band; None where all is well."""
    for figure, text in _figures(value, band):
        if not _between(figure, band.low, band.high):
            if figure == 0 and band.low > 0 and not text.lower().endswith(("c", "f")):
                return f'"{text}": {band.what} cannot be nothing.', "Write the real figure."
            slip = _slip(figure, text, value, band) or "a slip of the pen"
            message = f'"{text}" is no plausible figure for {band.what}.'
            return message, f"{band.usual}; look for {slip}."
    return None


def _between(value: float, low: float, high: float) -> bool:
    return low - 1e-9 * max(1.0, abs(low)) <= value <= high + 1e-9 * max(1.0, abs(high))


def _figures(value: object, band: Band) -> Iterator[tuple[float, str]]:
    """Every figure of a field that the band speaks of, with its text: ends, sides, the day as a number."""
    held = getattr(value, "amount", getattr(value, "at", value))  # of a dose, of a plan for gel
    if isinstance(held, Amount):
        if band.of in (None, held.dimension):
            yield from ((end, held.text) for end in (held.low, held.high) if end not in _OPEN)
    elif isinstance(held, tuple):
        yield from ((float(side), " x ".join(f"{each:g}" for each in held) + " cm") for side in held)
    elif isinstance(held, date):
        yield float(held.toordinal()), held.isoformat()
    elif isinstance(held, (int, float)):
        yield float(held), str(held)


_OPEN: Final = (float("inf"), float("-inf"))


def _slip(figure: float, text: str, value: object, band: Band) -> str:
    """What most likely happened; empty where nothing that is known to happen leads into the band."""
    if band.slip is not None and _usual(figure * band.slip[1], band):
        return band.slip[0]
    dimension = getattr(getattr(value, "amount", getattr(value, "at", value)), "dimension", None)
    if isinstance(value, tuple):
        dimension = Dimension.LENGTH
    if dimension is Dimension.TEMPERATURE:
        return _of_degrees(figure, text, band)
    for factor, said in SLIPS.get(dimension, ()) if dimension and figure > 0 else ():
        if _usual(figure * factor, band) and _written_in(text, said):
            return said
    return ""


def _usual(figure: float, band: Band) -> bool:
    return _between(figure, *(band.odd or (band.low, band.high)))


def _written_in(text: str, said: str) -> bool:
    """Whether a text ends in the unit that a slip says it was written in; one without units always counts."""
    unit = said.rpartition(" written as ")[2]
    if " written as " not in said:
        return said != "% for oz ppo" or "ppo" in text
    last = text.rsplit(" ", 1)[-1].lstrip("0123456789.,/").lower()
    return UNITS.get(last) == UNITS[unit]


def _of_degrees(value: float, text: str, band: Band) -> str:
    in_fahrenheit = text.rstrip().lower().endswith("f")
    meant = fahrenheit(value) if in_fahrenheit else celsius(value)
    if _between(meant, band.low, band.high):
        return "°C written as °F" if in_fahrenheit else "°F written as °C"
    return next(
        (said for factor, said in POINTS if value > 0 and _between(value * factor, band.low, band.high)), ""
    )


def _day(text: str) -> float:
    return float(date.fromisoformat(text).toordinal())


_INF: Final = float("inf")
_MASS, _RATE, _VOLUME = Dimension.MASS, Dimension.FRACTION, Dimension.VOLUME

# --- lye
PURITY: Final = Band(
    "a purity of lye", 0.93, 1.0, "Sodium hydroxide is sold at 95 to 100 %", (0.95, 1.0),
    slip=("the purity of potassium hydroxide (about 90 %), or two digits that changed places", 1.09),
)  # fmt: skip
"""A purity below the tub's own makes the grams of lye too many: what is lower than any tub's is refused."""
SUPERFAT: Final = Band(
    "a superfat", -_INF, 0.4, "It is 3 to 8 %, with coconut alone up to 20 %", (-_INF, 0.25)
)
"""What is below zero is stopped by the rules of lye."""
CONCENTRATION: Final = Band("a lye concentration", 0.1, 0.6, "Lye is 25 to 40 % of lye and water")
"""Above 50 % it cannot be dissolved (solubility about 52 % at 20 °C, from memory); the rules speak sooner."""
WATER_TO_LYE: Final = Band(
    "water to lye", 0.3, 9.0, "It is 1.5 to 3 grams of water to a gram of lye (ounces alike)", (0.95, 4.0),
    slip=("a lye concentration in per cent", 1 / 13),
)  # fmt: skip
WATER_OF_OILS: Final = Band("water of the oils", 0.04, 0.9, "Water is 25 to 40 % of the oils", (0.15, 0.5))
NAOH: Final = Band(
    "a batch's sodium hydroxide", 0.5, 15e3, "A batch takes 30 g to 3 kg (1 oz to 7 lb)", (1.5, 6e3)
)
WATER: Final = Band("a batch's water", 1.0, 50e3, "A batch takes 60 g to 8 kg (2 oz to 18 lb)", (3.0, 15e3))

# --- how much
BATCH_OILS: Final = Band(
    "a batch's oils", 15.0, 100e3, "A batch is 250 g to 20 kg of oils (8 oz to 45 lb)", (50.0, 50e3)
)
ONE_OIL: Final = Band(
    "an oil of a batch", 0.0, 100e3, "A batch is 250 g to 20 kg of oils", (0.05, 50e3), _MASS
)
SOME_OIL: Final = Band("oil for a portion", 0.0, 10e3, "It is some grams, up to 100 g or 4 oz", (0.05, 2e3))
ADDITIVE: Final = Band(
    "an additive", 0.0, 20e3, "An additive is 1 g to a few hundred grams (up to 1 lb)", (0.0, 8e3), _MASS
)
PORTION: Final = Band(
    "a portion of the batter", 5.0, 60e3, "A portion is 50 g to 5 kg (2 oz to 11 lb)", (15.0, 20e3), _MASS
)
POURED: Final = Band("what was poured of a portion", 0.1, 100e3, "A portion is 50 g to 5 kg (2 oz to 11 lb)")
EMBEDS: Final = Band("embeds", 0.5, 20e3, "They weigh 10 g to 2 kg (1/2 oz to 4 lb)", (2.0, 6e3))
ON_HAND: Final = Band(
    "what is on hand", 0.0, 500e3, "A shelf holds up to 25 kg (55 lb) of a thing", (0.0, 100e3)
)
VOLUME: Final = Band(
    "a volume to fill",
    4.0,
    250e3,
    "A cavity holds 20 to 200 mL (1 to 7 fl oz), a mould up to 20 L",
    (10.0, 80e3),
)
SIDE: Final = Band("a side of a mould", 0.5, 150.0, "A side is 2 to 60 cm (1 to 24 in)", (1.0, 90.0))
LOAF: Final = Band(
    "the inside of a loaf or slab", 200.0, 250e3, "It holds 0.5 to 20 L; 10 x 3.5 x 2.5 in is 1.4 L",
    (250.0, 60e3),
    slip=("inches written as centimetres", CM_PER_INCH**3),
)  # fmt: skip
VESSEL: Final = Band(
    "a jug or pot", 50.0, 500e3, "A jug or pot holds 0.5 to 20 L (1 pint to 5 gallons)", (200.0, 120e3)
)
FILL: Final = Band("how full a mould is", 0.2, 1.0, "It is 80 to 100 % full", (0.4, 1.0))
CAVITIES: Final = Band("cavities", 1, 1000, "There are 1 to 60", (1, 200))
BARS: Final = Band("bars of a batch", 1, 2000, "There are 1 to 100", (1, 500))
BAR_SIZE: Final = Band(
    "the size of a bar", 0.5, 10e3, "A bar is 30 to 250 mL (1 to 8 fl oz): look at the sides and the bars",
    (15.0, 450.0),
)  # fmt: skip
BAR: Final = Band("the mass of a bar", 3.0, 3000.0, "A bar weighs 20 to 200 g (1 to 7 oz)", (8.0, 600.0))

POLYUNSATURATED: Final = Band(
    "linoleic and linolenic acid", 0.0, 0.95, "Oils hold 1 to 80 % of them", (0.0, 0.9)
)

# --- the day
BATTER: Final = Band("a temperature of batter", 5.0, 70.0, "Batter is split at 20 to 60 °C (68 to 140 °F)",
                     (12.0, 62.0))  # fmt: skip
"""In cold process nothing is near boiling or freezing; makers who think in °F work at 75 °F and above."""
BATTER_SEEN: Final = Band(
    "a temperature of batter", 0.0, 100.0, "Batter is split at 20 to 60 °C (68 to 140 °F)"
)
ROOM: Final = Band(
    "a temperature of a room", -10.0, 50.0, "A room has 10 to 35 °C (50 to 95 °F)", (2.0, 42.0)
)
ROOM_SEEN: Final = Band(
    "a temperature of a room", -20.0, 60.0, "A room has 10 to 35 °C (50 to 95 °F)", (2.0, 42.0)
)
GEL: Final = Band(
    "a temperature of gel", 40.0, 120.0, "Gel is forced at 60 to 80 °C (140 to 175 °F)", (48.0, 95.0)
)
"""An oven that is warmed and left, never one that cooks the soap."""
FLUID: Final = Band("minutes at the pour", 0.0, 1440.0, "Batter stays fluid for 3 to 90 min", (0.5, 360.0))
HANDS: Final = Band("pairs of hands at the pour", 1, 2, "Write 1 or 2: more are not reckoned with")
STYLE_MINUTES: Final = Band("minutes of a pour", 0.3, 480.0, "A pour takes 1 to 60 min", (0.5, 120.0))
HALO: Final = Band("a margin of colour", 0.0, 8.0, "It is 0 to 10 mm (up to 3/8 in)", (0.0, 2.5))
THICK: Final = Band("minutes to thick", 0.0, 2880.0, "It is 10 s to some hours", (0.02, 720.0))
JOB: Final = Band("minutes at a cup", 0.0, 120.0, "One cup takes some seconds to 5 min", (0.0, 30.0))
CURE_LOSS: Final = Band("a loss in the cure", 0.0, 0.45, "A bar loses 8 to 16 % in the cure", (0.04, 0.3))
LOSS: Final = Band("batter left behind", 0.0, 0.4, "It is 0.5 to 5 %", (0.0, 0.12))
SOFTENS: Final = Band(
    "where embeds soften", 30.0, 120.0, "They soften at 45 to 70 °C (113 to 158 °F)", (38.0, 95.0)
)
CLEAR: Final = Band("where a fat is clear", -30.0, 110.0, "Hard fats are clear at 25 to 60 °C (77 to 140 °F)")
"""Waxes up to carnauba (about 84 °C); by its name a fat is looked at more closely (`kinds/published.py`)."""

# --- scent and colour
LOAD: Final = Band("a scent load", 0.0, 0.3, "It is 1 to 6 % of the oils (0.2 to 1 oz ppo)", (0.002, 0.12))
DOSE_RATE: Final = Band(
    "a dose of scent", 0.0, 0.4, "It is 1 to 6 % of the oils (0.2 to 1 oz ppo)", (0.0, 0.12), _RATE
)
DOSE_MASS: Final = Band("a dose of scent", 0.0, 5e3, "It is 1 g to 200 g (up to 7 oz)", (0.0, 1500.0), _MASS)
DOSE_SEEN: Final = Band("a dose", 1e-6, 0.4, "It is 0.1 to 6 % (up to 1 oz ppo)", (0.0, 0.15))
EMBED_RATE: Final = Band("scent of embeds", 0.0, 0.4, "It is 1 to 3 %", (0.0, 0.1), _RATE)
EMBED_MASS: Final = Band("scent of embeds", 0.0, 500.0, "It is 0.5 to 20 g", (0.0, 200.0), _MASS)
COLOUR_RATE: Final = Band(
    "a dose of colour", 0.0, 0.4, "It is 0.05 to 3 %, of clay up to 10 %", (0.0, 0.12), _RATE
)
COLOUR_MASS: Final = Band("a dose of colour", 0.0, 3e3, "It is 0.1 to 50 g (up to 2 oz)", (0.0, 500.0), _MASS)
COLOUR_SPOONS: Final = Band("a dose of colour", 0.0, 2e3, "It is 1/8 to 3 tsp", (0.0, 300.0), _VOLUME)
COLOUR: Final = (COLOUR_RATE, COLOUR_MASS, COLOUR_SPOONS)
TEASPOON: Final = Band("a teaspoon of colour", 0.2, 20.0, "It weighs 0.5 to 6 g (up to 1/4 oz)", (0.4, 11.0))
FLASH_POINT: Final = Band(
    "a flash point", 0.0, 350.0, "Scents have 35 to 180 °C (95 to 356 °F)", (22.0, 200.0)
)
"""From thin alcohol to resins; safety data sheets."""
LIMIT: Final = Band(
    "a limit in the bar", 0.0, 1.0, "A limit for category 9 is 0.1 to 30 %, or 100 % for none", (0.001, 1.0)
)
"""0.01 % and less is the label's threshold and refused as that (`records/certificates.py`)."""

# --- scales, measures, days
SCALE: Final = Band(
    "a step of a scale", 0.0005, 60.0, "Scales step by 0.01 to 1 g (0.0005 to 0.05 oz)", (0.001, 5.0)
)
LYE_SCALE: Final = Band(
    "a step of a scale", 0.0005, 60.0, "Scales step by 0.1 to 5 g (0.005 to 0.2 oz)", (0.001, 10.0)
)
OILS_PER_VOLUME: Final = Band(
    "grams of oils to fill a mL", 0.45, 1.0, "It is about 0.69 g a mL (0.40 oz a cubic inch)", (0.55, 0.85),
    slip=("ounces per cubic inch", GRAMS_PER_OUNCE / CM_PER_INCH**3),
)  # fmt: skip
PAPER: Final = Band(
    "the date of a paper", _day("1990-01-01"), _day("2079-12-31"), "Papers are of the last years"
)
DAY_SEEN: Final = Band(
    "a day at the bench", _day("1990-01-01"), _day("2079-12-31"), "It is a day of the last years"
)
LEFT: Final = Band(
    "what is left of a smell", 0.0, 1.0, "It is a share of the smell, such as 15 %", (0.0, 1.0)
)
