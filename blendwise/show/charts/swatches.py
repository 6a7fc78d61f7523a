"""Portions as swatches: as poured beside cured, numbered, with their colours in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from blendwise.show.charts.svg import element, group

if TYPE_CHECKING:
    from markupsafe import Markup


def swatch(fresh: str, cured: str, label: str) -> Markup:
    """Left as poured, right cured; a cross where it is not known."""
    drawn = [element("rect", width="50%", height="100%", fill=fresh)]
    if cured:
        drawn.append(element("rect", x="50%", width="50%", height="100%", fill=cured))
    else:
        cross = {"stroke": "currentColor", "stroke_width": 2}
        drawn.append(element("line", x1="50%", y1="0%", x2="100%", y2="100%", **cross))
        drawn.append(element("line", x1="50%", y1="100%", x2="100%", y2="0%", **cross))
    return element("svg", *drawn, class_="swatch", role="img", aria_label=label, width="100%", height=40)


def palette(rows: Iterable[tuple[int, str, str, str, str, str]]) -> Markup:
    """Number, name, hex codes fresh and cured, and their words, a swatch each."""
    from markupsafe import Markup

    made = [
        element(
            "div",
            swatch(fresh, cured, f"{name}: {fresh_word}, cured {cured_word}"),
            Markup("<p><span class=no>{}</span> <b><bdi>{}</bdi></b> {} → {}</p>").format(
                number, name, fresh_word, cured_word
            ),
        )
        for number, name, fresh, cured, fresh_word, cured_word in rows
    ]
    return element("div", group(*made), class_="palette")
