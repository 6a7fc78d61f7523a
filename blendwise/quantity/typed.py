"""Short answers as people type them → as a book writes them; what is written in full already stays as it is.

Units of bare numbers are those that the maker was asked in.
"""

from __future__ import annotations

import re
from typing import Final

from blendwise.quantity.notations import THE_REST
from blendwise.quantity.units import UNITS

_NUMBER: Final = re.compile(r"(?:\d+(?:\.\d+)?|\.\d+|\d+ \d+/\d+|\d+/\d+)")
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


def with_unit(text: str, unit: str) -> str:
    """A bare number with its unit, else the text: ``500`` → ``500 g``."""
    plain = " ".join(text.split())
    return f"{plain} {unit}" if _NUMBER.fullmatch(plain) else plain


def share_in_words(text: str) -> str:
    """``half`` → ``50 %``, ``remainder`` → ``the rest``, else the text."""
    return _WORDS.get(" ".join(text.casefold().split()), text)


def sides(text: str, unit: str) -> str:
    """``20x8x6`` → ``20 x 8 x 6 cm``; an empty text where it is not three sides."""
    parts = [part.strip() for part in _SIDES.split(text.strip())]
    if len(parts) != 3 or not all(_NUMBER.match(part) for part in parts):
        return ""
    last = parts[2].lstrip("0123456789./ ").casefold()
    named = last.strip('."”').rstrip("s") if last not in UNITS else last
    told = {"": unit, "inche": "in", "inch": "in", "in": "in"}.get(named, named)
    return " x ".join([*parts[:2], f"{_NUMBER.match(parts[2]).group()} {told}"])  # type: ignore[union-attr]


def figures(text: str, count: int) -> list[str] | None:
    """``33% 5%`` or ``33/5`` → [``33 %``, ``5 %``]; None where it is not so many bare figures."""
    plain = re.sub(r"[;/]|\band\b", " ", text.replace(",", " "))
    found = re.fullmatch(r"\s*" + r"\s+".join([r"(\d+(?:\.\d+)?)\s*%?"] * count) + r"\s*", plain)
    return [f"{each} %" for each in found.groups()] if found else None
