"""Cups in a sentence: by number and name, and all of them as "all cups"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Sheet
from blendwise.show.pages.render import names

if TYPE_CHECKING:
    from markupsafe import Markup

BY_NAME = 2  # cups that are named; more are told by their numbers


def cups_named(sheet: Sheet, portions: Sequence[str]) -> Markup | str:
    """ "all cups", "milk and soil", or "cups 1, 2 and 4"."""
    if len(portions) > 1 and len(portions) == len(sheet.portions):
        return "all cups"
    if len(portions) <= BY_NAME:
        return names(list(portions))
    numbers = sorted(cup.number for cup in sheet.portions if cup.portion in portions)
    return f"cups {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"
