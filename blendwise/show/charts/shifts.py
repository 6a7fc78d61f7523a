"""Expected beside seen on one axis: a ring where it was expected, a disc where it was seen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from blendwise.show.charts.svg import GROUND, INK, element, figure, group, line, percent, rect

if TYPE_CHECKING:
    from markupsafe import Markup

TALL, MID = 26, 13
PATCH = 12.0  # px of a colour on the axis


def words_axis(words: Sequence[str], hues: Sequence[str], label: str) -> Markup:
    """Steps of a scale from left to right, each with its word; of colours a patch, the ends in words."""
    drawn: list[Markup] = []
    for place, word in enumerate(words):
        if hues:
            drawn.append(_patch(place, len(words), hues[place]))
        if not hues or place in (0, len(words) - 1):
            anchor = "middle" if not hues else "start" if place == 0 else "end"
            at = step(place, len(words)) if not hues else 0.0 if place == 0 else 100.0
            drawn.append(element("text", word, x=percent(at), y=14, text_anchor=anchor, fill=INK))
    tall = 22 + (PATCH if hues else 0)
    return figure(label, tall, *drawn, line(0, 100, tall - 1, tall - 1), class_="bar axis")


def step(place: float, count: int) -> float:
    """Where a step stands, in per cent of the width."""
    return 100 * (place + 0.5) / count


def shift(expected: tuple[float, float], seen: float, label: str) -> Markup:
    """Places in per cent; a span that was expected is a thick bar with a ring at its middle."""
    low, high = (min(max(each, 0.0), 100.0) for each in expected)
    middle, at = (low + high) / 2, min(max(seen, 0.0), 100.0)
    return figure(
        label,
        TALL,
        line(0, 100, MID, MID, stroke_opacity=0.3, stroke_width=0.5),
        line(low, high, MID, MID, stroke_width=7) if high > low else group(),
        line(middle, at, MID, MID, stroke_width=2, stroke_dasharray="3 3"),
        ring(middle),
        disc(at),
        class_="bar",
    )


def dots(places: Sequence[float], label: str) -> Markup:
    """What was seen, each at its place in per cent."""
    return figure(
        label,
        TALL,
        line(0, 100, MID, MID, stroke_opacity=0.3, stroke_width=0.5),
        *map(disc, places),
        class_="bar",
    )


def ring(at: float) -> Markup:
    """What was expected."""
    return element("circle", cx=percent(at), cy=MID, r=7, fill=GROUND, stroke=INK, stroke_width=2.5)


def disc(at: float) -> Markup:
    """What was seen."""
    return element("circle", cx=percent(at), cy=MID, r=7, fill=INK)


def key(kind: str) -> Markup:
    """A piece of each for the key: expected, seen."""
    drawn = ring(50) if kind == "expected" else disc(50)
    return element("svg", drawn, width=22, height=TALL, aria_hidden="true", class_="sample")


def _patch(place: int, count: int, hue: str) -> Markup:
    wide = 80 / count
    return rect(
        step(place, count) - wide / 2, wide, 18, PATCH, fill=hue, stroke=INK, stroke_width=1, class_="hue"
    )
