"""A colour through the weeks: a patch a look at its day, over a band of the colour that was expected."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from blendwise.show.charts.svg import INK, element, figure, group, line, percent, rect

if TYPE_CHECKING:
    from markupsafe import Markup

TALL, MID = 34, 17
TICKS = (0, 1, 2, 4, 6, 8)
LAST = 8.5  # weeks at the end of the axis; what is looked at later stands there
WIDE = 3.2  # weeks·10 of a patch, in per cent


def at(days: float) -> float:
    """A day after the pour, in per cent of the width; room is kept for half a patch at both ends."""
    return WIDE / 2 + (100 - WIDE) * min(max(days / 7, 0.0), LAST) / LAST


def axis(label: str) -> Markup:
    """Weeks from the pour."""
    words = [
        element(
            "text",
            str(week),
            x=percent(at(7 * week)),
            y=14,
            text_anchor="start" if week == 0 else "middle",
            fill=INK,
        )
        for week in TICKS
    ]
    marks = [line(at(7 * week), at(7 * week), 17, 21) for week in TICKS]
    return figure(label, 22, *words, *marks, line(0, 100, 21, 21), class_="bar axis")


def strip(expected: str, seen: Sequence[tuple[int, str]], label: str) -> Markup:
    """``expected``: a hex code, "" where none was written down; ``seen``: days and hex codes."""
    aim = {"fill": expected, "stroke": INK, "stroke_width": 0.8, "class_": "hue"}
    patches = (
        rect(at(days) - WIDE / 2, WIDE, 3, TALL - 6, fill=hue or "none", stroke=INK, class_="hue")
        for days, hue in seen
    )
    return figure(
        label,
        TALL,
        rect(0, 100, MID - 5, 10, **aim) if expected else line(0, 100, MID, MID, stroke_dasharray="2 4"),
        group(*patches),
        class_="bar",
    )
