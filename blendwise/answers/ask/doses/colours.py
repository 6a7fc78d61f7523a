"""Colours of a question: of which kind, how much the plan writes of each, how much is usual."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door


def usual_rates(book: Door) -> dict[str, tuple[float, float]]:
    """The range in which each colourant is commonly used, where the book says so."""
    rates = {name: each.usual_rate for name, each in book.files.colourants.items()}
    return {name: (rate.low, rate.high) for name, rate in rates.items() if rate is not None}


KINDS: Final = ("mica", "oxide", "clay", "pigment", "plant", "dye", "white")


def of_kind(book: Door, asked: str) -> tuple[str, ...]:
    """The colourants of the kinds that a question names in the plural ("micas")."""
    kinds = [kind for kind in KINDS if re.search(rf"\b{kind}s\b", asked.casefold())]
    held = book.files.colourants.items()
    return tuple(name for name, each in held if each.kind in kinds or any(kind in name for kind in kinds))


def typed(book: Door, plan: str | Path) -> dict[str, str]:
    """What the plan writes of each colour in each cup, by "colour in cup"."""
    return {
        f"{name} in {portion.name}": amount.text
        for portion in book.plan(plan).portions
        for name, amount in portion.colourants.items()
    }


def spoons(book: Door) -> dict[str, float]:
    """What a level teaspoon of each colourant weighs (g), where it was weighed."""
    held = {name: each.grams_per_teaspoon for name, each in book.files.colourants.items()}
    return {name: mass.value for name, mass in held.items() if mass is not None}
