"""Numbers as spreadsheets hold them → the spelling of a book: decimal commas, thousands, ranges, bounds.

What a number is and what it is worth is said by ``quantity.parse`` alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum
from typing import Final

from blendwise.quantity import Dimension, QuantityError, parse_amount
from blendwise.quantity.parse import DIGITS, tidy

_SPACES: Final = " ’'"
_GROUPED: Final = re.compile(rf"(?<![\d.,])\d{{1,3}}(?:[{_SPACES}]\d{{3}})+(?![\d/])")
_TOKEN: Final = re.compile(r"\d+(?:[.,]\d+)+|\d+")
_DECIMAL_COMMA: Final = re.compile(
    r"(?<![\d.,])(?:\d+,(?:\d{1,2}|\d{4,})|0,\d+|\d{1,3}(?:\.\d{3})+,\d+)(?![\d.,])"
)
_DECIMAL_POINT: Final = re.compile(
    r"(?<![\d.,])(?:\d+\.(?:\d{1,2}|\d{4,})|0\.\d+|\d{1,3}(?:,\d{3})+\.\d+)(?![\d.,])"
)
_DASHES: Final = str.maketrans(dict.fromkeys("‐‑‒–—−", "-"))


class Unread(Exception):  # noqa: N818 - not a failure of the run: one cell that could not be understood
    """A cell that cannot be understood; ``why`` says so in words, ``guess`` what it may be, where anything.

    ``heading``: how the column would have to be headed for the cell to be sure; ``must``: no guess is enough.
    """

    def __init__(self, why: str, guess: str = "", heading: str = "", must: bool = False) -> None:
        super().__init__(why)
        self.why = why
        self.guess = guess
        self.heading = heading
        self.must = must


class Mark(Enum):
    """What divides whole and part in a sheet's numbers."""

    COMMA = ","
    POINT = "."
    UNSAID = ""


def mark_of(cells: Iterable[str]) -> Mark:
    """The decimal mark of a sheet, by its numbers that can be read in one way only."""
    commas = points = 0
    for cell in cells:
        if "," in cell and _DECIMAL_COMMA.search(cell):
            commas += 1
        if "." in cell and _DECIMAL_POINT.search(cell):
            points += 1
    if commas == points:
        return Mark.UNSAID
    return Mark.COMMA if commas > points else Mark.POINT


def one_spelling(text: str, mark: Mark) -> str:
    """The text with every number written plainly (``1.234,5``: 1234.5); Unread where two readings fit."""
    text = " ".join(text.translate(_DASHES).split())
    text = _GROUPED.sub(lambda found: re.sub(rf"[{_SPACES}]", "", found.group()), text)
    return _TOKEN.sub(lambda found: _plain(found.group(), mark), text)


def _plain(token: str, mark: Mark) -> str:
    if "," in token and "." in token:
        return _both(token)
    sign = "," if "," in token else "."
    whole, *parts = token.split(sign)
    if not parts:
        return token
    if len(parts) > 1:
        if all(len(part) == 3 for part in parts):
            return whole + "".join(parts)
        raise Unread(f'"{token}" is no number')
    if _is_decimal(whole, parts[0], sign, mark):
        return f"{whole}.{parts[0]}"
    return whole + parts[0]


def _is_decimal(whole: str, part: str, sign: str, mark: Mark) -> bool:
    """Whether one sign inside a number divides whole and part, rather than thousands."""
    if len(part) != 3 or whole == "0" or len(whole) > 3:
        return True
    if sign == ".":
        return mark is not Mark.COMMA
    if mark is Mark.UNSAID:
        raise Unread(f'"{whole},{part}" may be {whole}.{part} or {whole}{part}: write one of them')
    return mark is Mark.COMMA


def _both(token: str) -> str:
    last = max(token.rfind(","), token.rfind("."))
    head, tail = token[:last], token[last + 1 :]
    groups = re.split("[.,]", head)
    if any(len(group) != 3 for group in groups[1:]) or token[last] in head:
        raise Unread(f'"{token}" is no number')
    return f"{''.join(groups)}.{tail}"


_UNIT: Final = r"[^\d\s<>~+-][^\d<>~+]*?"
_BOUND: Final = {
    "up to": (
        "<",
        "<=",
        "≤",
        "up to",
        "max",
        "max.",
        "maximum",
        "at most",
        "less than",
        "below",
        "under",
        "upto",
        *("bis", "bis zu", "unter", "höchstens", "weniger als", "jusqu'à", "moins de", "hasta", "menos de"),
    ),
    "above": (
        *(">", ">=", "≥", "above", "over", "more than", "at least", "min", "min.", "minimum", "from"),
        *("über", "ueber", "mehr als", "mindestens", "plus de", "au moins", "más de", "mas de", "al menos"),
    ),
    "": (
        "~",
        "≈",
        "ca",
        "ca.",
        "c.",
        "approx",
        "approx.",
        "approximately",
        "about",
        "around",
        "roughly",
        "circa",
        *("etwa", "ungefähr", "rund", "environ", "aprox", "aprox.", "unos"),
    ),
}
_BOUND_WORDS: Final = sorted((word for words in _BOUND.values() for word in words), key=len, reverse=True)
_SHAPE: Final = re.compile(
    rf"(?P<bound>{'|'.join(map(re.escape, _BOUND_WORDS))})?\s*(?P<low>{DIGITS})\s*(?P<unit1>{_UNIT})?"
    rf"(?:\s*(?:-|to|\.\.+|…|until|and|bis|à)\s*(?P<high>{DIGITS})\s*(?P<unit2>{_UNIT})?)?\s*(?P<plus>\+)?",
    re.IGNORECASE,
)


class Reading:
    """A number or range with its bound and unit word, taken apart: ``low`` and ``high`` are texts."""

    __slots__ = ("bound", "high", "loose", "low", "unit")

    def __init__(self, found: re.Match[str]) -> None:
        word = (found["bound"] or "").casefold()
        self.low: str = found["low"]
        self.high: str | None = found["high"]
        self.unit = _unit_of(found)
        self.bound = next((key for key, words in _BOUND.items() if word in words), "") if word else ""
        if found["plus"]:
            self.bound = "above"
        self.loose = bool(word) and self.bound == ""

    @property
    def top(self) -> float:
        """The highest number written; Unread where it is none that can be."""
        try:
            return parse_amount(self.high or self.low, Dimension.NUMBER).high
        except QuantityError as error:
            raise Unread(error.message) from None

    def amount(self, unit: str) -> str:
        """The amount as a book writes it, in ``unit``: ``5 to 7 %``, ``up to 5 %``, ``above 93 °C``."""
        numbers = f"{self.low} to {self.high}" if self.high else self.low
        bound = f"{self.bound} " if self.bound and not self.high else ""
        return f"{bound}{numbers} {unit}".strip()


def _unit_of(found: re.Match[str]) -> str:
    first, second = ((found[name] or "").strip() for name in ("unit1", "unit2"))
    if first and second and first.casefold() != second.casefold():
        raise Unread(f'"{found.group()}" has two units')
    return second or first


def reading(text: str, mark: Mark) -> Reading:
    """Take a cell apart that should hold a number; Unread where it is anything else."""
    try:
        plain = tidy(one_spelling(text, mark)).removeprefix("between ").strip()
    except QuantityError:
        plain = ""
    found = _SHAPE.fullmatch(plain)
    if found is None:
        raise Unread(f'"{text}" is no number or range')
    read = Reading(found)
    if read.high and read.bound == "above":
        raise Unread(f'"{text}" is a range and a bound at once')
    return read
