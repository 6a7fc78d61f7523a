"""Geometry of the two drawings: how portions lie in the bar, and the pour against the clock.

All of it is numbers for templates; colours come from the looks, and every area carries its portion's
number and a hatch of its own, so that the drawing is read without colour.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from blendwise.answers.sheet.result import Clock, Cup, Turn

WIDTH, HEIGHT = 200.0, 110.0
RINGS = ("column", "funnel")  # pours whose portions come to lie in rings about one spot
ROUNDS = 2  # times that the rings of all portions are drawn
HATCHES = 8


@dataclass(frozen=True, slots=True)
class Area:
    """A rounded rectangle of one portion, and where its number stands (None: it is numbered elsewhere)."""

    number: int
    x: float
    y: float
    width: float
    height: float
    round: float
    label: tuple[float, float] | None
    hatch: int


def kind_of(pour: str | None, family: str | None, touching: str | None, cups: int) -> str:
    """rings, layers, sides, or swatches where the tool cannot say how the portions lie."""
    if pour in RINGS:
        return "rings"
    if cups > 1 and touching == "in order":
        return "sides" if family == "interleaved" else "layers"
    return "swatches"


def areas(kind: str, cups: Sequence[Cup], order: Sequence[int]) -> list[Area]:
    """The areas of a sketch; ``order``: portion numbers as they are poured, bottom or outside first."""
    row = [cups[number - 1] for number in order]
    match kind:
        case "rings":
            return list(_rings(row))
        case "layers":
            return list(_strips(row, upright=False))
        case "sides":
            return list(_strips(row, upright=True))
        case _:
            return []


def halves(kind: str) -> tuple[tuple[float, float, float, float], tuple[float, float, float, float]]:
    """x, y, width, height of the half as poured and of the half cured: across what lies in strips."""
    if kind == "sides":
        return (0, 0, WIDTH, HEIGHT / 2), (0, HEIGHT / 2, WIDTH, HEIGHT / 2)
    return (0, 0, WIDTH / 2, HEIGHT), (WIDTH / 2, 0, WIDTH / 2, HEIGHT)


def _strips(row: Sequence[Cup], upright: bool) -> Iterator[Area]:
    total, at = math.fsum(cup.share for cup in row), 0.0
    for cup in row:
        part = cup.share / total
        if upright:
            x, width = at * WIDTH, part * WIDTH
            yield Area(cup.number, x, 0, width, HEIGHT, 0, (x + width / 2, HEIGHT / 4), _hatch(cup))
        else:
            height = part * HEIGHT
            y = HEIGHT - at * HEIGHT - height
            yield Area(cup.number, 0, y, WIDTH, height, 0, (WIDTH / 4, y + height / 2), _hatch(cup))
        at += part


def _rings(row: Sequence[Cup]) -> Iterator[Area]:
    """From the outside in: what is poured first is pushed outwards by what follows."""
    total, left = math.fsum(cup.share for cup in row), 1.0
    for place, cup in enumerate([*row] * ROUNDS, 1):
        size, inner = math.sqrt(left), math.sqrt(max(left - cup.share / total / ROUNDS, 0.0))
        width, height = WIDTH * size, HEIGHT * size
        side = 1 if place % 2 else -1  # numbers stand right and left in turn, so that none covers another
        off = side * WIDTH / 4 * (size + inner) if inner > 1e-3 else 0.0
        x, y = (WIDTH - width) / 2, (HEIGHT - height) / 2
        numbered = (WIDTH / 2 + off, HEIGHT / 2) if place > len(row) * (ROUNDS - 1) else None
        yield Area(cup.number, x, y, width, height, height / 2.2, numbered, _hatch(cup))
        left = inner * inner


def _hatch(cup: Cup) -> int:
    return (cup.number - 1) % HATCHES


@dataclass(frozen=True, slots=True)
class Bar:
    """One portion's line on the clock, as shares of the axis in per cent; ``late``: minutes short, else 0."""

    turn: Turn
    wait: tuple[float, float]
    work: tuple[float, float]
    spare: tuple[float, float]
    perhaps: tuple[float, float]
    late: float


@dataclass(frozen=True, slots=True)
class Axis:
    """The clock's axis: ticks (minute, per cent) and the portions' bars."""

    ticks: tuple[tuple[int, float], ...]
    end: float
    bars: tuple[Bar, ...]


def axis_of(clock: Clock) -> Axis:
    """The pour on an axis from emulsion to a little after the last minute that matters."""
    last = max([clock.end, clock.base[0], *(t.needed_until for t in clock.turns)])
    step = next((s for s in (2, 5, 10, 20, 30, 60, 120) if last / s <= 8), 240)
    top = step * math.ceil(last * 1.04 / step)
    ticks = tuple((m, 100 * m / top) for m in range(0, top + 1, step))
    return Axis(ticks, 100 * clock.end / top, tuple(_bar(turn, top) for turn in clock.turns))


def _bar(turn: Turn, top: float) -> Bar:
    def part(start: float, stop: float) -> tuple[float, float]:
        first, last = (100 * min(max(v, 0.0), top) / top for v in (start, stop))
        return first, max(last - first, 0.0)

    low, high = turn.fluid if not turn.not_known else (turn.needed_until, turn.needed_until)
    return Bar(
        turn,
        part(0, turn.scented_at),
        part(turn.scented_at, turn.needed_until),
        part(turn.needed_until, low),
        part(max(low, turn.needed_until), high),
        max(turn.needed_until - low, 0.0),
    )
