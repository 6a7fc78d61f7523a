"""Amounts in a sentence: ``half a per cent``, ``0.3 oz per pound``, ``90 °F``, ``18 months``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from blendwise.answers.rules.sentences.terms import NUMBERS
from blendwise.quantity import QuantityError
from blendwise.quantity.typed import SIGNS, TYPED, number

_WORDS: Final = "|".join(sorted(map(re.escape, NUMBERS), key=len, reverse=True))
_NUMBER: Final = rf"(?P<number>{TYPED}|\b(?:{_WORDS})\b)"
_A_POUND: Final = r"(?:ppo|(?:per|a|to the) (?:lb|pound)(?: of (?:the |base )?oils?)?)"
_A_KILO: Final = r"(?:per|a|to the) (?:kg|kilo(?:gram)?s?)(?: of (?:the |base )?oils?)?"
DEGREES: Final = "degrees"
"""The unit of a temperature where neither °F nor °C is said: the book's own, where it can only be that."""
_UNITS: Final = {
    "A": (
        (rf"(?:oz|ounces?) {_A_POUND}", "oz per lb"),
        (r"%|per ?cent\b|percent\b|pct\b|in (?:the|a) hundred\b", "%"),
        (rf"g(?:rams?)? {_A_KILO}", "g per kg"),
    ),
    "H": (
        (r"(?:°|degrees? ?|deg ?)? ?F(?:ahrenheit)?\b", "°F"),
        (r"(?:°|degrees? ?|deg ?)? ?C(?:elsius|entigrade)?\b", "°C"),
        (r"°|degrees?\b", DEGREES),
    ),
    "J": (
        (r"(?:oz|ounces?)\b", "oz"),
        (r"kg\b", "kg"),
        (r"(?:lbs?|pounds?)\b", "lb"),
        (r"g(?:rams?)?\b", "g"),
    ),
    "I": ((r"min(?:ute)?s?\b", "min"),),
    "Y": (
        (r"y(?:ea)?rs?\b", "year"),
        (r"mo(?:nth|s)?s?\b", "month"),
        (r"w(?:ee)?ks?\b", "week"),
        (r"fortnights?\b", "fortnight"),
        (r"days?\b", "day"),
    ),
}
_PATTERNS: Final = tuple(
    (letter, unit, re.compile(rf"(?: (?:of )?(?:an?|one|the))? ?(?:{pattern})", re.IGNORECASE))
    for letter, units in _UNITS.items()
    for pattern, unit in units
)
"""What may stand behind a figure; the figure is read once, before any of them."""
_MINUTE: Final = re.compile(rf"min(?:ute)? (?P<number>{TYPED})", re.IGNORECASE)
_COUNT: Final = re.compile(_NUMBER, re.IGNORECASE)
_ARTICLES: Final = frozenset({"a", "an"})
_FRACTION: Final = re.compile(rf"\d+[/⁄]\d+|[{SIGNS}]")


@dataclass(frozen=True, slots=True)
class Said:
    """An amount in a text: ``letter`` tells its kind, ``text`` is how a rule writes it, up to ``end``."""

    letter: str
    text: str
    end: int


def amount_at(text: str, start: int) -> Said | None:
    """The amount that begins at a place of a text, the longest; None where none does, or two may be meant."""
    try:
        return _amount_at(text, start)
    except QuantityError:
        return None


def _amount_at(text: str, start: int) -> Said | None:
    if found := _MINUTE.match(text, start):
        return Said("I", f"{_plain(float(found['number']))} min", found.end())
    figure = _COUNT.match(text, start)
    if figure is None:
        return None
    matches = [
        (match.end(), letter, unit)
        for letter, unit, pattern in _PATTERNS
        if (match := pattern.match(text, figure.end())) is not None
    ]
    if matches:
        end, letter, unit = max(matches, key=lambda found: found[0])
        value = _value(figure["number"])
        if unit == "fortnight":
            value, unit = 2 * value, "week"
        return Said(letter, f"{_plain(value)} {unit}", end)
    return _count(text, figure)


def _count(text: str, match: re.Match[str]) -> Said | None:
    word = match["number"].casefold()
    if word in _ARTICLES or (word == "one" and not _counts(text, match.end())):
        return None
    if 0 < NUMBERS.get(word, 1.0) < 1 or _FRACTION.fullmatch(word):
        return Said("A", f"{_plain(100 * _value(word))} %", match.end())
    return Said("#", _plain(_value(word)), match.end())


def _counts(text: str, end: int) -> bool:
    """Whether "one" counts: before a cup."""
    return re.match(r" (?:cups?|portions?|layers?|oils?|scents?|colou?rs?)\b", text[end:], re.I) is not None


def _value(word: str) -> float:
    word = word.casefold()
    return NUMBERS[word] if word in NUMBERS else number(word)


def in_degrees(text: str, unit: str) -> str:
    """A temperature in degrees alone, or both ends of one, in the book's own (``F`` or ``C``).

    Empty where that would be no warmth of batter or room.
    """
    value = float(text.split()[0])
    low, high = WARMTH[unit]
    return text.replace(DEGREES, f"°{unit}") if low <= value <= high else ""


WARMTH: Final = {"F": (60.0, 212.0), "C": (10.0, 59.0)}
"""Where degrees alone can only be these: 60 °C and more may be °F, and less than 60 °F may be °C."""


def _plain(value: float) -> str:
    return f"{value:.10g}"
