"""Two amounts as the ends of a span: "between 4 and 7 %", "0.4 to 0.8 oz ppo", "at least 5 and at most 8"."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from blendwise.answers.rules.sentences.lexicon import Token

ENDS: Final = "AHJI#"
_TO: Final = re.compile(r"\s*(?:to|up to|until|till|thru|through|-|–|—)\s*", re.IGNORECASE)


def spans_of(parts: list[Token], text: str) -> list[Token]:
    """The parts with two ends as one amount, held to lie "between"."""
    found: list[Token] = []
    at = 0
    while at < len(parts):
        span, count = _span(parts[at:], text)
        found += span or [parts[at]]
        at += count if span else 1
    return found


def _span(parts: list[Token], text: str) -> tuple[list[Token], int]:
    """A span that begins here, and how many parts it takes; nothing where none does."""
    letters = "".join(part.letter for part in parts[:5])
    end = rf"[{ENDS}]"
    if parts[0].letter == "R" and parts[0].value == "between":
        if re.match(rf"R{end}&?{end}", letters):
            last = 3 if letters[2] == "&" else 2
            return _between(parts[0], parts[1], parts[last]), last + 1
    elif re.match(rf"R{end}&?R{end}", letters):
        last = 4 if letters[2] == "&" else 3
        if (parts[0].value, parts[last - 1].value) == ("at least", "at most"):
            return _between(parts[0], parts[1], parts[last]), last + 1
    elif re.match(rf"{end}{end}", letters) and _TO.fullmatch(text[parts[0].end : parts[1].start]):
        return _between(parts[0], parts[0], parts[1]), 2
    return [], 0


def _between(relation: Token, low: Token, high: Token) -> list[Token]:
    """The relation and both ends as one amount; a bare first end takes the unit of the second."""
    first = low.value
    if low.letter == "#" and high.letter != "#":
        first = f"{first}{high.value[len(high.value.split(' ')[0]) :]}"
    elif low.letter != high.letter:
        return []
    token = replace(high, values=(f"{first} and {high.value}",), start=low.start)
    return [replace(relation, letter="R", values=("between",)), token]
