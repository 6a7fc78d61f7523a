"""Parts of a whole side by side on one axis, each with a filling that is told without colour."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from blendwise.show.charts.svg import GROUND, INK, element, figure, line, rect

if TYPE_CHECKING:
    from markupsafe import Markup

TALL = 26
# Solid, empty, then lines: one way, the other, across, upright, both; dots.
LINES = ("", "", "M0 8 L8 0", "M0 0 L8 8", "M0 4 H8", "M4 0 V8", "M0 8 L8 0 M0 0 L8 8", "M3 4 H5")


def fillings() -> Markup:
    """The fillings as patterns, once a page."""
    made = (
        element(
            "pattern",
            element("rect", width=8, height=8, fill=GROUND),
            element("path", d=path, stroke=INK, stroke_width=1.6, fill="none"),
            id=f"filling-{number}",
            width=8,
            height=8,
            patternunits="userSpaceOnUse",
        )
        for number, path in enumerate(LINES)
    )
    return element("svg", element("defs", *made), width=0, height=0, class_="apart", aria_hidden="true")


def stacked(top: float, parts: Sequence[tuple[int, float]], label: str) -> Markup:
    """``parts``: which filling, and how much; ``top``: the end of the axis."""
    return figure(
        label, TALL, line(0, 100, TALL - 1, TALL - 1, stroke_opacity=0.3), *_parts(top, parts), class_="bar"
    )


def _parts(top: float, parts: Sequence[tuple[int, float]]) -> Iterator[Markup]:
    at = 0.0
    for number, value in parts:
        wide = 100 * value / top
        yield rect(at, wide, 3, 19, fill=_fill(number), stroke=INK, stroke_width=1.5)
        at += wide


def sample(number: int) -> Markup:
    """A piece of a filling for the key."""
    drawn = rect(2, 96, 4, 16, fill=_fill(number), stroke=INK, stroke_width=1.5)
    return element("svg", drawn, width=34, height=TALL, aria_hidden="true", class_="sample")


def _fill(number: int) -> str:
    place = number % len(LINES)
    return (INK, GROUND)[place] if place < 2 else f"url(#filling-{place})"
