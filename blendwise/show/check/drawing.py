"""A plan drawn for the terminal: each cup's colour as poured and cured, its minutes as a bar, the cut bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor
from typing import Final

from blendwise.answers.check.drawn import Cup, Drawn
from blendwise.show.blocks import BLOCK, Block, Drawing, Run

BEFORE, POURED, SPARE, LATE = "\u00b7", "\u2588", "\u2591", "!"
"""A minute before its scenting, of its pour, to spare, and of the pour when it is too thick already."""
CLOCK, WIDE, LONGEST = 20, 44, 14
"""Columns of the clock and of the cut bar, letters of a name."""
DARK: Final = 110
"""Brightness (0 to 255) of a colour below which what stands on it is white."""
Part = tuple[Run, ...]


def drawing_blocks(drawn: Drawn | None) -> Iterator[Block]:
    """A row a cup, then the bar cut across, as poured above and cured below."""
    if drawn is None or not drawn.cups:
        return
    ends = [end for cup in drawn.cups for end in (cup.poured_by, cup.thick_at) if end is not None]
    last = max(ends, default=0.0)
    names = min(LONGEST, max(len(cup.portion) for cup in drawn.cups))
    words = [max(len(text) for text in column) for column in zip(*map(_words, drawn.cups), strict=True)]
    rows = [
        (_name(number, cup, names), *_colours(cup, words), _clock(cup, last))
        for number, cup in enumerate(drawn.cups, 1)
    ]
    yield Drawing((*rows, *_bar(drawn)))


def _words(cup: Cup) -> tuple[str, str]:
    return cup.fresh_word, " to ".join(cup.cured_words) or "not known"


def _name(number: int, cup: Cup, width: int) -> Part:
    return (Run(f"{number} {cup.portion[:width]:<{width}} "),)


def _colours(cup: Cup, widths: Sequence[int]) -> Iterator[Part]:
    """Fresh, then cured: a swatch and its word."""
    fresh, cured = _words(cup)
    yield Run(BLOCK, cup.fresh), Run(f" {fresh:<{widths[0]}} cures to ")
    yield Run(BLOCK if cup.cured else "??", cup.cured or ""), Run(f" {cured:<{widths[1]}} ")


def _clock(cup: Cup, last: float) -> Part:
    """The minutes from emulsion as a bar, and the minute at which the cup is too thick (rounded down)."""
    if cup.thick_at is None or cup.scented_at is None or not last:
        return (Run("minutes not known"),)
    scented, thick = (round(CLOCK * minute / last) for minute in (cup.scented_at, cup.thick_at))
    poured = round(CLOCK * (cup.poured_by or cup.scented_at) / last)
    late = max(poured - thick, 0)
    strokes = (
        BEFORE * scented + POURED * (min(poured, thick) - scented) + SPARE * (thick - poured) + LATE * late
    )
    return (Run(f"{strokes:<{CLOCK}}"), Run(f" thick at {floor(cup.thick_at)} min"))


def _bar(drawn: Drawn) -> Iterator[tuple[Part, ...]]:
    """The shares of the bar, each with its cup's number: layers and sides alike lie from left to right."""
    for when, hexes in (
        ("poured", [cup.fresh for cup in drawn.cups]),
        ("cured ", [cup.cured for cup in drawn.cups]),
    ):
        runs = [Run(f"{when} ")]  # beside an empty first part, so that it is left out where it is too wide
        for number, (cup, colour) in enumerate(zip(drawn.cups, hexes, strict=True), 1):
            width = max(2, round(WIDE * cup.share))
            ink = "" if colour is None else "#ffffff" if _brightness(colour) < DARK else "#000000"
            runs.append(Run(f"{number:^{width}}", ink, colour or ""))
        yield (), tuple(runs)


def _brightness(colour: str) -> float:
    """0 to 255, by the luma of ITU-R BT.601."""
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue
