"""The places for names and numbers in a rule's own sentence: ``{portion} would turn {value}``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from blendwise.judge.rulebook.compile import Rule

PLACE: Final = re.compile(r"\{([^{}]*)\}")
_NAMES: Final = {
    "batch": ("plan",),
    "portion": ("portion",),
    "scent": ("oil",),
    "dose": ("oil", "portion"),
    "pair": ("oil", "portion"),
    "edge": ("portion",),
    "additive": (),
    "embed": (),
}


def fillable(rule: Rule) -> tuple[str, ...]:
    """The places that every finding of this rule can fill.

    ``subject`` and the names of its grain always; ``value`` where it reads one; ``limit`` where each line of
    ``must`` sets one.
    """
    lines = tuple(rule.must)
    limit = ("limit",) if lines and all(line.limits or line.words for line in lines) else ()
    return ("subject", *_NAMES[rule.looks_at], "value", *limit)


def unfilled(rule: Rule) -> Iterator[tuple[str, str]]:
    """What is wrong with the places in ``says``: a sentence and a remedy each."""
    places = tuple(f"{{{name}}}" for name in fillable(rule))
    for name in PLACE.findall(rule.record.says):
        if f"{{{name}}}" not in places:
            yield f'Nothing fills "{{{name}}}" in `says`.', f"It may use {', '.join(places)}."
    if set("{}") & set(PLACE.sub("", rule.record.says)):
        yield "A bracket in `says` is not closed, or not opened.", "Write a place like {portion}."
