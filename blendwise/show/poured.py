"""What holds for a batch that was poured past a stop."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from blendwise.answers.harm import PouredPast
from blendwise.quantity import Units
from blendwise.show.blocks import Block, Line, Rows, Section
from blendwise.show.numbers import grams
from blendwise.show.words import TAGS

POURED_ALREADY: Final = "Poured already?"
POURED: Final = (
    "Do not use it, sell it or give it away. Gloves on whenever it is touched.",
    "Set it apart, marked, where no child and no pet comes to it.",
    "It may still be noted, asked about and reviewed: “note” and “why” tell what must go back into it, if it "
    "is reworked.",
)


def poured_blocks(past: PouredPast | None, units: Units, batch: str = "") -> Iterator[Block]:
    """What holds for a batch poured past a harm, and what must go back into it if it is reworked.

    ``batch``: its code, where several are told of.
    """
    if past is None:
        return
    rules = ", ".join(dict.fromkeys(stop.rule for stop in past.harm))
    yield Section(f"{batch}: poured past a stop ({rules})" if batch else f"Poured past a stop ({rules})")
    yield Rows((), (), (*POURED, *_back(past, units)))


def poured_lines(past: PouredPast | None, units: Units, batch: str = "") -> Iterator[Line]:
    """The same in a line each, for a short answer."""
    if past is not None:
        which = f"{batch} was poured past one." if batch else "This plan stands past one. Poured already?"
        yield Line(TAGS["stop"], f"{which} {POURED[0]}")
        yield from (Line("", text) for text in _back(past, units))


def _back(past: PouredPast, units: Units) -> tuple[str, ...]:
    return tuple(
        f"If it is reworked, {each.portion} wants at least {grams(each.oil, units)} more of the "
        "recipe's oils to use up its lye, and the usual superfat on top."
        for each in past.rework
    )
