"""Words that bound a demand by what no rule here holds: they are underlined, never left out."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.facts.scales import MONTHS

_MONTH: Final = rf"(?:{'|'.join(rf'{name}|{name[:3]}' for name in MONTHS)})\b"
_OF_A_MONTH: Final = (
    r"(?:by|only (?:until|till|through|up to))(?: the)?(?: (?:end|beginning|start|middle) of)?"
    r"(?: early| late)?"
    r"|(?:the )?(?:end|beginning|start|middle|(?:first|second|last) (?:half|week|days?)) of|early(?: in)?"
    r"|late(?: in)?|mid"
)
_BEYOND: Final = (
    re.compile(rf"\b(?:{_OF_A_MONTH})[ -]{_MONTH}", re.IGNORECASE),  # months are whole here
    re.compile(
        r"\b(?:sold|sell|sells|selling)\b(?: \w+){0,2}? (?:within|before|after|by|no later than)\b(?= \w)",
        re.IGNORECASE,
    ),  # when a bar is sold is no age of a bottle
    re.compile(
        r"\b(?:of|after|from|since) (?:the |its |their |my |)"
        r"(?:pour|pouring|cut|cutting|cure|curing|unmoulding)\b",
        re.IGNORECASE,
    ),  # nor is an age from the pour
)
_MADE: Final = frozenset({"from", "out of", "made from", "made with", "made of", "by"})


def beyond_words(text: str) -> tuple[int, int] | None:
    """Where words stand that no rule holds: a part of a month, when a bar is sold, an age from the pour."""
    found = (pattern.search(text) for pattern in _BEYOND)
    return next((match.span() for match in found if match), None)


def made_colour(parts: Sequence[Token], text: str) -> tuple[int, int] | None:
    """Where a colour is told with what it is made from, and is no cup called so: "green from spirulina"."""
    for one, other in pairwise(parts):
        between = text[one.end : other.start].strip().casefold()
        if set("VW") & set(one.letter) and "C" in other.letter and between in _MADE:
            return one.start, other.end
    return None
