"""SVG by hand: texts escaped, places in per cent, so that a figure stretches and its type does not."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markupsafe import Markup

INK, GROUND = "currentColor", "var(--ground)"


def element(name: str, *inside: Markup | str, **attributes: object) -> Markup:
    """One element; ``class_`` is its class, ``stroke_width`` its stroke-width, None leaves one out."""
    from markupsafe import Markup, escape

    said = "".join(
        f' {_spelled(key)}="{escape(value)}"' for key, value in attributes.items() if value is not None
    )
    return Markup(f"<{name}{said}>{''.join(map(escape, inside))}</{name}>")


@cache
def _spelled(key: str) -> str:
    """An attribute's name as SVG spells it."""
    plain = key.rstrip("_").replace("_", "-")
    return plain.replace("viewbox", "viewBox").replace("patternunits", "patternUnits")


def group(*inside: Markup | str) -> Markup:
    """Elements one after another."""
    from markupsafe import Markup

    return Markup("").join(inside)


def percent(share: float) -> str:
    """A place or a width: 12.35 of a hundred as "12.35%"."""
    return f"{share:.2f}%"


def rect(x: float, width: float, y: float, height: float, **attributes: object) -> Markup:
    """A rectangle, across in per cent, down in px; nothing where it has no width."""
    if width <= 0:
        return group()
    return element("rect", x=percent(x), width=percent(width), y=y, height=height, **attributes)


def line(x1: float, x2: float, y1: float, y2: float, **attributes: object) -> Markup:
    """A line, across in per cent, down in px."""
    told = {"stroke": INK, "stroke_width": 1, **attributes}
    return element("line", x1=percent(x1), x2=percent(x2), y1=y1, y2=y2, **told)


def words(x: float, y: float, text: str, anchor: str = "start", **attributes: object) -> Markup:
    """Text at a place, in the page's own type."""
    return element("text", text, x=percent(x), y=y, text_anchor=anchor, fill=INK, **attributes)


def figure(label: str, height: float, *inside: Markup | str, class_: str = "chart") -> Markup:
    """The whole drawing: as wide as there is room, so many px tall; ``label`` says it to ears."""
    return element("svg", *inside, class_=class_, role="img", aria_label=label, width="100%", height=height)
