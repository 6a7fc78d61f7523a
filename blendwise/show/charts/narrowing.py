"""A belief over time: a band that narrows with what was seen, its middle as a line; both axes in per cent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from blendwise.show.charts.svg import GROUND, INK, element, figure, percent

if TYPE_CHECKING:
    from markupsafe import Markup

TALL = 110


@dataclass(frozen=True, slots=True)
class Band:
    """From ``since`` on (per cent of the width): low, middle and high (per cent of the height, upwards)."""

    since: float
    low: float
    middle: float
    high: float


def narrowing(bands: Sequence[Band], label: str) -> Markup:
    """Steps: a belief changes on the day of a look and holds until the next."""
    return figure(label, TALL, *_grid(), *_bands(bands), *_middle(bands), class_="bar narrowing")


def _grid() -> Iterator[Markup]:
    for height in (0, 50, 100):
        yield _line(0, 100, height, height, stroke_opacity=0.3, stroke_width=0.5)


def _bands(bands: Sequence[Band]) -> Iterator[Markup]:
    for band, until in _spans(bands):
        top, low = _y(band.high), _y(band.low)
        yield element(
            "rect",
            x=percent(band.since),
            width=percent(max(until - band.since, 0.0)),
            y=percent(top),
            height=percent(low - top),
            fill=INK,
            fill_opacity=0.22,
        )
        yield _line(band.since, until, band.low, band.low)
        yield _line(band.since, until, band.high, band.high)


def _middle(bands: Sequence[Band]) -> Iterator[Markup]:
    for band, until in _spans(bands):
        yield _line(band.since, until, band.middle, band.middle, stroke_width=3)
    for before, band in pairwise(bands):
        yield _line(band.since, band.since, before.middle, band.middle, stroke_width=3)
        yield element(
            "circle",
            cx=percent(band.since),
            cy=percent(_y(band.middle)),
            r=5,
            fill=GROUND,
            stroke=INK,
            stroke_width=2,
        )


def _spans(bands: Sequence[Band]) -> Iterator[tuple[Band, float]]:
    ends = [band.since for band in bands[1:]]
    return zip(bands, [*ends, 100.0], strict=True)


def _y(value: float) -> float:
    return 100 - min(max(value, 0.0), 100.0)


def _line(x1: float, x2: float, y1: float, y2: float, **attributes: object) -> Markup:
    told = {"stroke": INK, "stroke_width": 1, **attributes}
    return element("line", x1=percent(x1), x2=percent(x2), y1=percent(_y(y1)), y2=percent(_y(y2)), **told)
