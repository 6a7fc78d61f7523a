"""Bars on a common axis that is labelled with its unit: loads of a blend, minutes of a pour, beliefs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from blendwise.show.charts.clock import broken, post
from blendwise.show.charts.svg import GROUND, INK, element, figure, line, percent, rect

if TYPE_CHECKING:
    from markupsafe import Markup

TALL, MID = 26, 13
MOST_TICKS = 6


def step_of(top: float) -> float:
    """A round step of 1, 2 or 5 that gives no more ticks than can be read."""
    rough = top / MOST_TICKS
    size = 10.0 ** math.floor(math.log10(rough))
    return next(each * size for each in (1, 2, 5, 10) if each * size >= rough)


def axis(top: float, label: str) -> Markup:
    """Ticks from 0 to ``top`` (in the unit that ``label`` says), each with its figure."""
    step = step_of(top)
    count = math.floor(top / step + 1e-9)
    ticks = [(f"{number * step:.6g}", 100 * number * step / top) for number in range(count + 1)]
    drawn = [
        element("text", told, x=percent(at), y=14, text_anchor=_anchor(at), fill=INK) for told, at in ticks
    ]
    marks = [line(at, at, 17, 21) for _, at in ticks]
    return figure(label, 22, *drawn, *marks, line(0, 100, 21, 21), class_="bar axis")


def _anchor(at: float) -> str:
    return "start" if at < 2 else "end" if at > 98 else "middle"


def limit(top: float, sure: float, perhaps: float, asked: float, label: str) -> Markup:
    """Solid as far as it goes, outlined where it goes on a condition, a dashed upright at what is asked."""
    solid, wide, at = (100 * min(max(each / top, 0.0), 1.0) for each in (sure, perhaps, asked))
    return figure(
        label,
        TALL,
        line(0, 100, MID, MID, stroke_opacity=0.4),
        rect(0, wide, 5, 16, fill="none", stroke=INK, stroke_width=2),
        rect(0, solid, 3, 20, fill=INK),
        line(at, at, 0, TALL, stroke=GROUND, stroke_width=6, stroke_opacity=0.5),
        line(at, at, 0, TALL, stroke="var(--mark)", stroke_width=3, stroke_dasharray="3 3"),
        class_="bar",
    )


def taken(top: float, minutes: float, there: float | None, label: str) -> Markup:
    """What a job takes, hatched, and the post where time is over; past it the bar is broken."""
    whole, end = 100 * min(minutes / top, 1.0), 100 * min(max((there or 0.0) / top, 0.0), 1.0)
    held = whole if there is None else min(whole, end)
    drawn = [rect(0, held, 4, 18, fill="url(#poured)", stroke=INK, stroke_width=1.5)]
    if there is not None:
        drawn += [*broken(end, whole), line(whole, max(end, whole), MID, MID, stroke_width=4), post(end)]
    return figure(label, TALL, *drawn, class_="bar")


def belief(low: float, middle: float, high: float, before: tuple[float, float], label: str) -> Markup:
    """What was believed before, thin, and what is believed now, thick; in per cent of the axis."""
    return figure(
        label,
        TALL,
        line(0, 100, TALL - 2, TALL - 2, stroke_opacity=0.3),
        line(before[0], before[1], 7, 7, stroke_width=2, stroke_dasharray="3 3"),
        line(low, high, 16, 16, stroke_width=7),
        element("circle", cx=percent(middle), cy=16, r=6, fill="var(--ground)", stroke=INK, stroke_width=2),
        class_="bar",
    )
