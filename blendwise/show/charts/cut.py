"""How portions lie in the bar: half as poured, half cured; numbered and hatched, so read without colour."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.show.charts.svg import element, group

if TYPE_CHECKING:
    from markupsafe import Markup

WIDTH, HEIGHT = 200.0, 110.0
RINGS = ("column", "funnel")  # pours whose portions come to lie in rings about one spot
ASIDE = 30.0  # how far the numbers of thin strips stand apart
UP = (-13.0, 13.0, 0.0)  # how far the numbers of rings stand above or below the middle
ROUNDS = 2  # times that the rings of all portions are drawn
HATCH = (
    "",
    "M0 8 L8 0",
    "M0 0 L8 8",
    "M0 4 H8",
    "M4 0 V8",
    "M0 0 L8 8 M0 8 L8 0",
    "M0 4 H8 M4 0 V8",
    "M3 4 H5",
)


@dataclass(frozen=True, slots=True)
class Part:
    """A portion: its number from 1, its share of the bar, hex codes fresh and cured ("" where not known)."""

    number: int
    share: float
    fresh: str
    cured: str


@dataclass(frozen=True, slots=True)
class Area:
    """A rounded rectangle of one portion, and where its number stands (None: it is numbered elsewhere)."""

    part: Part
    x: float
    y: float
    width: float
    height: float
    round: float
    label: tuple[float, float] | None


def kind_of(pour: str | None, family: str | None, touching: str | None, cups: int) -> str:
    """rings, layers, sides, or swatches where the tool cannot say how the portions lie."""
    if pour in RINGS:
        return "rings"
    if cups > 1 and touching == "in order":
        return "sides" if family == "interleaved" else "layers"
    return "swatches"


def cut(kind: str, row: Sequence[Part], words: str) -> Markup:
    """The drawing; ``row``: portions as they are poured, bottom, outside or left first."""
    found = areas(kind, row)
    if not found:
        return group()
    seam = _seam(kind)
    return element(
        "svg",
        _hatches(),
        *(_half(number, box, found) for number, box in enumerate(_halves(kind))),
        element("path", d=seam, stroke="#000", stroke_width=3),
        element("path", d=seam, stroke="#fff", stroke_width=1.4),
        *(_number(area) for area in found if area.label),
        viewbox=f"0 0 {WIDTH:g} {HEIGHT:g}",
        role="img",
        aria_label=words,
        class_="cut",
    )


def areas(kind: str, row: Sequence[Part]) -> list[Area]:
    """The areas of a sketch."""
    match kind:
        case "rings":
            return list(_rings(row))
        case "layers":
            return list(_strips(row, upright=False))
        case "sides":
            return list(_strips(row, upright=True))
        case _:
            return []


def _halves(kind: str) -> tuple[tuple[float, float, float, float], tuple[float, float, float, float]]:
    """x, y, width, height of the half as poured and of the half cured: across what lies in strips."""
    if kind == "sides":
        return (0, 0, WIDTH, HEIGHT / 2), (0, HEIGHT / 2, WIDTH, HEIGHT / 2)
    return (0, 0, WIDTH / 2, HEIGHT), (WIDTH / 2, 0, WIDTH / 2, HEIGHT)


def _seam(kind: str) -> str:
    return f"M0 {HEIGHT / 2:g} H{WIDTH:g}" if kind == "sides" else f"M{WIDTH / 2:g} 0 V{HEIGHT:g}"


def _strips(row: Sequence[Part], upright: bool) -> Iterator[Area]:
    total, at = math.fsum(part.share for part in row), 0.0
    for place, part in enumerate(row):
        share, aside = part.share / total, (-ASIDE, 0.0, ASIDE)[place % 3]  # so that no number covers another
        if upright:
            x, width = at * WIDTH, share * WIDTH
            yield Area(part, x, 0, width, HEIGHT, 0, (x + width / 2, HEIGHT / 4 + aside / 2))
        else:
            height = share * HEIGHT
            y = HEIGHT - at * HEIGHT - height
            yield Area(part, 0, y, WIDTH, height, 0, (WIDTH / 4 + aside, y + height / 2))
        at += share


def _rings(row: Sequence[Part]) -> Iterator[Area]:
    """From the outside in: what is poured first is pushed outwards by what follows."""
    total, left = math.fsum(part.share for part in row), 1.0
    for place, part in enumerate([*row] * ROUNDS, 1):
        size, inner = math.sqrt(left), math.sqrt(max(left - part.share / total / ROUNDS, 0.0))
        width, height = WIDTH * size, HEIGHT * size
        side = 1 if place % 2 else -1  # numbers stand right and left in turn, so that none covers another
        off = side * WIDTH / 4 * (size + inner) if inner > 1e-3 else 0.0
        x, y = (WIDTH - width) / 2, (HEIGHT - height) / 2
        up = UP[place % len(UP)] if off and height > 4 * abs(UP[0]) else 0.0
        numbered = (WIDTH / 2 + off, HEIGHT / 2 + up) if place > len(row) * (ROUNDS - 1) else None
        yield Area(part, x, y, width, height, height / 2.2, numbered)
        left = inner * inner


def _half(number: int, box: tuple[float, float, float, float], found: Sequence[Area]) -> Markup:
    x, y, width, height = (f"{each:g}" for each in box)
    clip = element("clipPath", element("rect", x=x, y=y, width=width, height=height), id=f"half-{number}")
    return group(
        clip, element("g", *(_area(each, bool(number)) for each in found), clip_path=f"url(#half-{number})")
    )


def _area(area: Area, cured: bool) -> Markup:
    colour = (area.part.cured if cured else area.part.fresh) or "#fff"
    box = {key: f"{getattr(area, key):.2f}" for key in ("x", "y", "width", "height")} | {
        "rx": f"{area.round:.2f}"
    }
    hatch = element("rect", **box, fill=f"url(#hatch-{(area.part.number - 1) % len(HATCH)})")
    return group(element("rect", **box, fill=colour, stroke="#000", stroke_width=0.7), hatch)


def _hatches() -> Markup:
    """Black and white lines, one kind a portion, that show on any ground."""
    return element("defs", *(_pattern(number, path) for number, path in enumerate(HATCH)))


def _pattern(number: int, path: str) -> Markup:
    white = element("path", d=path, stroke="#fff", stroke_width=2, stroke_opacity=0.55, fill="none")
    black = element("path", d=path, stroke="#000", stroke_width=0.9, stroke_opacity=0.75, fill="none")
    lines = (white, black) if path else ()
    return element("pattern", *lines, id=f"hatch-{number}", width=8, height=8, patternunits="userSpaceOnUse")


def _number(area: Area) -> Markup:
    x, y = area.label or (0.0, 0.0)
    disc = element("circle", cx=f"{x:.2f}", cy=f"{y:.2f}", r=10, fill="#fff", stroke="#000", stroke_width=0.8)
    text = element(
        "text", str(area.part.number), x=f"{x:.2f}", y=f"{y + 5.3:.2f}", text_anchor="middle", fill="#000",
        font_size=15, font_weight=700, font_family="sans-serif",
    )  # fmt: skip
    return group(disc, text)
