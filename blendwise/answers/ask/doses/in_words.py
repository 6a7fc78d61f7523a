"""Amounts in words, brought to digits: "eight ounces", "a hundred per cent", "twelve inches by nine"."""

from __future__ import annotations

import re
from typing import Final

NUMBERS: Final = {
    **{"half": 0.5, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8},
    **{"nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30},
    **{"forty": 40, "fifty": 50, "hundred": 100, "dozen": 12},
}
_WORD: Final = rf"(?:{'|'.join(NUMBERS)})"
_UNITS: Final = (
    r"(?:ounces?|oz|grams?|per ?cent|%|(?:pounds?|lbs?)(?= of)|inch(?:es)?|centimet(?:er|re)s?|cm"
    r"|degrees|bars?)(?!\w)"
)
_IN_WORDS: Final = re.compile(
    rf"\b((?:an? )?{_WORD}(?: (?:of )?an?)?|(?<!oz )(?<!ounce )(?<!ounces )(?<!per )an?)\s+({_UNITS})",
    re.IGNORECASE,
)
"""An amount whose number is a word."""
_SIDE: Final = rf"(?:\d+(?:[.,]\d+)?|\b{_WORD}\b)"
_OF_SIDE: Final = r"(?:inch(?:es)?|in|cm|centimet(?:er|re)s?|\"|long|wide|deep|high|tall|across|broad)"
_BETWEEN: Final = rf"(?:[\s,]*{_OF_SIDE}(?!\w))*(?:\s*(?:,|x|×|by|and)(?!\w)|[^\d.?!]{{0,24}}?\s)\s*"
_BOX: Final = re.compile(
    rf"({_SIDE})({_BETWEEN})({_SIDE})({_BETWEEN})({_SIDE})((?:\s*{_OF_SIDE}(?!\w))*)", re.IGNORECASE
)
"""Three sides of a mould, and what stands between and behind them."""
_LENGTH: Final = re.compile(_OF_SIDE, re.IGNORECASE)
TOLD_TO_BE_SIDES: Final = 2
"""Words of length beside three numbers from which these are the sides of a box."""


def in_digits(asked: str) -> str:
    """A question with its amounts in digits: numbers that are words, and the sides of a mould."""
    return _IN_WORDS.sub(_amount, _BOX.sub(_box, asked))


def _amount(match: re.Match[str]) -> str:
    words = re.findall(r"[a-z]+", match[1].casefold())
    number = next((NUMBERS[word] for word in words if word in NUMBERS), 1)
    return f"{number:g} {match[2]}"


def _box(match: re.Match[str]) -> str:
    """ "eleven inches long, four wide and three deep" as "11 x 4 x 3 in"; anything else as it stands."""
    beside = _LENGTH.findall(" ".join((match[2], match[4], match[6])))
    if len(beside) < TOLD_TO_BE_SIDES or not any(_unit(each) for each in beside):
        return match[0]
    unit = next(_unit(each) for each in beside if _unit(each))
    sides = (str(NUMBERS.get(side.casefold(), side)) for side in match.group(1, 3, 5))
    return f"{' x '.join(sides)} {unit}"


def _unit(word: str) -> str:
    said = word.casefold()
    return "in" if said in ("in", '"', "inch", "inches") else "cm" if said.startswith("c") else ""
