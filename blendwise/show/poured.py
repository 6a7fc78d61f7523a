"""What holds for a batch that was poured past a stop."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from blendwise.answers.check.result import Rework
from blendwise.answers.harm import PouredPast
from blendwise.quantity import Units, format_number
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
    rules = ", ".join(dict.fromkeys(stop.protects or "its own rule" for stop in past.harm))
    yield Section(f"{batch}: poured past a stop ({rules})" if batch else f"Poured past a stop ({rules})")
    yield Rows((), (), (*POURED, *_back(past, units)))


def poured_lines(past: PouredPast | None, units: Units, batch: str = "") -> Iterator[Line]:
    """The same in a line each, for a short answer."""
    if past is not None:
        which = f"{batch} was poured past one." if batch else "This plan stands past one. Poured already?"
        yield Line(TAGS["stop"], f"{which} {POURED[0]}")
        yield from (Line("", text) for text in _back(past, units))


def _back(past: PouredPast, units: Units) -> tuple[str, ...]:
    return tuple(f"If it is reworked: {free_lye(each, units)}." for each in past.rework)


def free_lye(each: Rework, units: Units) -> str:
    """What lye a portion holds that its oils do not use, and the oil that would use it up."""
    hidden, like = "", ""
    if each.batch > 0 and each.as_batch is not None:
        batch = f"{format_number(round(100 * each.batch, 1))} %"
        hidden = f", which the batch's {batch} of superfat hides"
        like = f", and {grams(each.as_batch, units)} to have {batch} like the batch"
    return (
        f"{each.portion} holds {grams(each.lye, units)} of lye too much{hidden}; it wants at least "
        f"{grams(each.oil, units)} more of the recipe's oils to use that up{like}"
    )
