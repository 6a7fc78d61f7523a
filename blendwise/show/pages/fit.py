"""How large the type of a printed sheet may be, so that all of it is one page of A4 and of Letter.

A browser does not shrink a page to fit, and a page without a script cannot ask.  So the height is reckoned
from what stands on it, in lines of a wide font on the shorter and the narrower of the two papers, and the
type follows.  The tests print every plan of the demo, and far larger ones, and count the pages.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Cup, Sheet

if TYPE_CHECKING:
    from markupsafe import Markup

    Findings = Sequence[tuple[str, Markup]]
    Fixes = Sequence[tuple[str, list[Markup]]]

MOST, LEAST = 9.6, 4.5  # pt
REFERENCE = 8.4  # pt, for which the figures below were measured with DejaVu Sans, as wide as any
ROOM = 985.0  # px of height for the text of a Letter page, a little kept back
GROWTH = 1.6  # height goes with the size of the type to this power: lines grow taller and more
LINE, TICK = 14.5, 21.0  # px of a line of text and of a thing to tick


def type_size(sheet: Sheet, findings: Findings, trouble: Fixes, kind: str) -> float:
    """Size of the body text in pt, to a tenth."""
    height = reckoned(sheet, findings, trouble, kind)
    return int(10 * min(max(REFERENCE * (ROOM / height) ** (1 / GROWTH), LEAST), MOST)) / 10


def reckoned(sheet: Sheet, findings: Findings, trouble: Fixes, kind: str) -> float:
    """Height of the printed sheet in px at the reference size."""
    return sum(
        (
            72 + 24 * ((not sheet.sound) + (len(sheet.plan) > 30) * ceil(len(sheet.plan) / 35)),
            40 + LINE * 4.5 + LINE * _lines((_text(text) for _, text in findings), 54) / 2,
            40 + TICK * _pot_rows(sheet),
            62 + sum(map(_cup, sheet.portions)),
            130,
            _pour(sheet, kind),
            24 + 13.2 * _lines((" ".join(map(_text, lines)) for _, lines in trouble), 47) / 3,
            76 + 18.5 * (len(sheet.portions) + 1),
            34 + LINE * _lines([" ".join(sheet.label_names), " ".join(n for n, _ in sheet.lots)], 105),
        )
    )


def _text(markup: Markup) -> str:
    return str(markup.striptags())


def _lines(texts: Iterable[str], width: int) -> int:
    return sum(ceil((len(text) + 8) / width) for text in texts)


def _pot_rows(sheet: Sheet) -> float:
    assert sheet.pot is not None, "past a harm there is no whole sheet"
    premix = sum(1 + len(mix.scents) for mix in sheet.mixes)
    lye = 2.6 + 1.6 * len(sheet.pot.additives)
    oils = sum(1 + len(oil.what) // 24 for oil in sheet.pot.oils)
    return max(oils, lye, premix)


def _cup(cup: Cup) -> float:
    powders = sum(1.55 + len(d.weighed.what) // 24 for d in cup.dyes) + len(cup.mixed_in) + len(cup.returned)
    scents = sum(1.2 + len(each.what) // 12 for each in cup.scents) / 2 + 0.5
    return 5 + max(38.0, TICK * powders, TICK * scents, LINE * (2 + len(cup.portion) // 15))


def _pour(sheet: Sheet, kind: str) -> float:
    clock = sheet.clock
    if clock is None:
        return 24 + 2 * LINE
    besides = 60 * (len(sheet.pieces) + bool(sheet.stabilised)) + sum(map(len, sheet.colour_order))
    intro = 220 + len(clock.how) + besides
    rows = sum(21 + LINE * (min(len(turn.portion) // 11, 1) + bool(turn.not_known)) for turn in clock.turns)
    return 24 + LINE * 1.1 * ceil(intro / 112) + max(40 + rows, 112 if kind != "swatches" else 0)
