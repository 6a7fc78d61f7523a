"""Short answers as people type them → as a book writes them; what is written in full already stays as it is.

Units of bare numbers are those that the maker was asked in.
"""

from __future__ import annotations

import re
from typing import Final

from blendwise.quantity.amount import Dimension
from blendwise.quantity.notations import THE_REST
from blendwise.quantity.parse import COMPOUND, VULGAR, parse_amount
from blendwise.quantity.units import UNITS

SIGNS: Final = "".join(VULGAR)
TYPED: Final = (
    rf"(?<![\d.,/⁄])(?:\d+[ -]\d+[/⁄]\d+|\d+ ?[{SIGNS}]|[{SIGNS}]|\d+[/⁄]\d+"
    r"|\d{1,3}(?:[ '’]\d{3})+(?!\d)|[.,]?\d+(?:[.,]\d+)*)"
)
"""A number in a text from its first sign to its last, whatever it may be worth: ``.1``, ``1,000``, ``1½``."""
NEGATIVE: Final = re.compile(r"(?:^|(?<=[(:=≤≥<>])|(?<![\d%°][ ])(?<=[ ]))[-−–][.,]?\d+")
"""A minus sign at the head of a number in a sentence: no dash of a range (``2 -3 %``), word or code."""
_NUMBER: Final = re.compile(TYPED)
DEGREES: Final = ("°C", "°F")
_DEGREES: Final = re.compile(
    r"(-?[.\d,]+) ?(?:degrees?|deg\.?|°)? ?(c|f|celsius|centigrade|fahrenheit)?", re.I
)
_DECIMAL_COMMA: Final = re.compile(r"(\d*),(\d{1,2}|\d{4,})|0?,(\d+)", re.ASCII)
_NAMED: Final = re.compile(
    rf"(?P<name>.+?)(?:\s*:\s*|\s+)(?P<amount>{COMPOUND.pattern}|{TYPED}\D*(?:100 g\D*)?)", re.DOTALL | re.I
)
_SIDES: Final = re.compile(r"\s*[x×*]\s*|\s+by\s+", re.I)
_WORDS: Final = {
    **dict.fromkeys(("half", "a half", "one half", "half of it"), "50 %"),
    **dict.fromkeys(("third", "a third", "one third"), "33.3 %"),
    **dict.fromkeys(("two thirds",), "66.7 %"),
    **dict.fromkeys(("quarter", "a quarter", "one quarter", "a fourth"), "25 %"),
    **dict.fromkeys(("three quarters",), "75 %"),
    **dict.fromkeys(("all", "everything", "the whole", "whole"), "100 %"),
    **dict.fromkeys(("rest", "remainder", "what is left", "the remainder", "whatever is left"), THE_REST),
}


def decimal_point(number: str) -> str:
    """A number with its decimal comma as a point; one that may be thousands (``1,000``) stays as it is."""
    found = _DECIMAL_COMMA.fullmatch(number)
    return f"{found[1] or 0}.{found[2] or found[3]}" if found else number


def number(typed: str) -> float:
    """What a number of a text is worth; QuantityError where it may be two things or none."""
    return parse_amount(decimal_point(typed), Dimension.NUMBER, ranges=False).value


def name_and_amount(text: str) -> tuple[str, str]:
    """``titanium .5 tsp`` → the name and the amount after it, which is empty where none stands there."""
    found = _NAMED.fullmatch(text.strip())
    return (found["name"].strip(), found["amount"].strip()) if found else (text.strip(), "")


def with_unit(text: str, unit: str) -> str:
    """A bare number with its unit, else the text: ``500`` → ``500 g``; ``70 degrees F`` → ``70 °F``."""
    plain = " ".join(text.split())
    if unit in DEGREES and (found := _DEGREES.fullmatch(plain)):
        return f"{found[1]} °{found[2][0].upper()}" if found[2] else f"{found[1]} {unit}"
    return f"{plain} {unit}" if _NUMBER.fullmatch(plain) else plain


def share_in_words(text: str) -> str:
    """``half`` → ``50 %``, ``remainder`` → ``the rest``, else the text."""
    return _WORDS.get(" ".join(text.casefold().split()), text)


def sides(text: str, unit: str) -> str:
    """``20x8x6`` → ``20 x 8 x 6 cm``; an empty text where it is not three sides."""
    parts = [part.strip() for part in _SIDES.split(text.strip())]
    if len(parts) != 3 or not all(_NUMBER.match(part) for part in parts):
        return ""
    last = parts[2].lstrip(f"0123456789./⁄,- {SIGNS}").casefold()
    named = last.strip('."”').rstrip("s") if last not in UNITS else last
    told = {"": unit, "inche": "in", "inch": "in", "in": "in"}.get(named, named)
    return " x ".join([*parts[:2], f"{_NUMBER.match(parts[2]).group()} {told}"])  # type: ignore[union-attr]


def figures(text: str, count: int) -> list[str] | None:
    """``33% 5%`` or ``33/5`` → [``33 %``, ``5 %``]; None where it is not so many bare figures."""
    plain = re.sub(r"[;/]|,\s|\band\b", " ", text)
    found = re.fullmatch(r"\s*" + r"\s+".join([r"(\d+(?:\.\d+)?)\s*%?"] * count) + r"\s*", plain)
    return [f"{each} %" for each in found.groups()] if found else None
