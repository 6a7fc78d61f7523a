"""What the words and figures of a certificate mean, and which of them can only be a slip.

Certificates of the fragrance industry give the most of an oil in a product of a category; bar soap is
category 9 since the categories were drawn anew in 2020, and was before.  100 % is "no limit": never a dose.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Final

from blendwise.records.reading.fields import FieldError

SOAP: Final = "9"
LABEL_THRESHOLD: Final = 0.0001  # of a rinsed-off product: above it a name is due on the label; no limit
FIRST_YEAR: Final = 1973  # the industry's association was founded: before it there were no certificates

_ONE = r"\d{1,2}\s?[a-d]?\b"
_SEVERAL = rf"{_ONE}(?:\s*(?:,|;|/|\+|&|and|or|to|-|–|through)\s*(?:cat(?:egory|\.)?\s*)?{_ONE})*"
_NAMED = re.compile(rf"\bcat(?:egor(?:y|ies)|\.|s\.)?\s*[:.]?\s*({_SEVERAL})", re.IGNORECASE)
_PLAIN = re.compile(rf"\s*({_SEVERAL})\s*", re.IGNORECASE)
_RANGE = re.compile(r"(\d{1,2})\s?[a-d]?\s*(?:to|-|–|through)\s*(\d{1,2})", re.IGNORECASE)
_AMENDMENT = re.compile(
    r"\b(\d{1,3})(?:st|nd|rd|th)?[\s.]*amendment|\bamendment\s*(?:no\.?\s*)?(\d{1,3})\b", re.IGNORECASE
)


def categories(text: str, plain: bool = False) -> frozenset[str]:
    """The categories that a text names, as "9" or "10a"; ``plain``: the text may be nothing but numbers."""
    found = [each.group(1) for each in _NAMED.finditer(text)]
    if plain and not found and (whole := _PLAIN.fullmatch(text)):
        found = [whole.group(1)]
    names = {re.sub(r"\s", "", one).lower() for part in found for one in re.findall(_ONE, part, re.I)}
    for part in found:
        for first, last in _RANGE.findall(part):
            names |= {str(number) for number in range(int(first), int(last) + 1)}
    return frozenset(names)


_NO_CERTIFICATE = re.compile(
    r"\b(?:m?sds|(?:material )?safety data|tds|technical data|analysis|coa|allergens?|candles?|diffusers?|"
    r"wax melts?|incense|room sprays?|none|not? (?:yet|there|certificate|paper)|pending|asked|requested|"
    r"ordered|waiting|missing|lost|to come|to follow|tbd|tba|todo|unknown|n/?a)\b|^\W*$",
    re.IGNORECASE,
)
_OF_SOAP = re.compile(r"\bsoaps?\b", re.IGNORECASE)


def is_another_paper(text: str) -> bool:
    """Whether the words of a certificate say that it is none: another paper, one for candles, still to come.

    Not where they speak of soap or of its category too.
    """
    soap = SOAP in categories(text) or _OF_SOAP.search(text) is not None
    return not soap and _NO_CERTIFICATE.search(text) is not None


def amendment(text: str) -> int | None:
    """The amendment that a certificate goes by: 51 in "51st amendment"; None where it names none."""
    found = _AMENDMENT.search(text)
    return int(found.group(1) or found.group(2)) if found else None


def fault_of_limit(low: float, high: float, dated: date | None) -> None:
    """Refuse the threshold of the label typed as a limit, and a day before there were certificates."""
    if 0 < high <= LABEL_THRESHOLD * (1 + 1e-9) or 0 < low <= LABEL_THRESHOLD * (1 + 1e-9):
        raise FieldError(
            "A limit of 0.01 % or less is the threshold above which a name is due on the label, not a limit.",
            "Write the limit that the certificate gives for category 9, such as 4.2 %.",
            ("most",),
        )
    if dated is not None and dated.year < FIRST_YEAR:
        raise FieldError(
            f"A certificate dated {dated.isoformat()} is older than certificates are.",
            "Look for a slip in the year.",
            ("dated",),
        )


def fault_of_category(category: str | None, certificate: str | None) -> None:
    """Refuse a category that is none, and one that the certificate's own words contradict."""
    if category is None:
        return
    said = categories(category, plain=True)
    if not said:
        raise FieldError(
            f'"{category}" is not a category.', "Write its number, like 9 (bar soap).", ("category",)
        )
    other = categories(certificate or "")
    if other and not said & other:
        raise FieldError(
            f'The category is "{category}" here, and another in "{certificate}".',
            "Keep the one that the limit is for.",
            ("category",),
        )
