"""What a check and a split draw on a page: how the portions lie, their colours, their minutes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from blendwise.answers.check.drawn import Cup, Drawn
from blendwise.show.charts import clock, cut
from blendwise.show.charts.swatches import palette
from blendwise.show.numbers import minutes_left
from blendwise.show.pages.answer import Figure
from blendwise.show.pages.render import said
from blendwise.show.sheet.words import LIES, shortage

if TYPE_CHECKING:
    from markupsafe import Markup

SWATCHES = "Colours: left as poured, right cured"
LAID = "The bar"
CLOCK = "Minutes from emulsion"
READ = (
    "Hatched: to be poured in; the post is where it thickens; past it the bar is broken. "
    "Dashed upright: all is poured."
)


@dataclass(frozen=True, slots=True)
class Line:
    """A cup's minutes as the clock draws them; those that nobody knows run to the end of the pour."""

    scented_at: float
    stirred_by: float
    needed_until: float
    quick_day: float
    fluid: tuple[float, float]
    must_run: bool
    not_known: tuple[str, ...]


def figures(drawn: Drawn | None) -> Iterator[Figure]:
    """The pictures of a plan; none where nothing was worked out."""
    if drawn is None or not drawn.cups:
        return
    kind = cut.kind_of(drawn.pour, drawn.family, drawn.touching, len(drawn.cups))
    parts = [cut.Part(n, c.share, c.fresh, c.cured or "") for n, c in enumerate(drawn.cups, 1)]
    if kind != "swatches":
        yield Figure(
            LAID, said("<div class=lies>{it}</div>", it=cut.cut(kind, parts, LIES[kind])), LIES[kind]
        )
    rows = [
        (n, c.portion, c.fresh, c.cured or "", c.fresh_word, " to ".join(c.cured_words) or "not known")
        for n, c in enumerate(drawn.cups, 1)
    ]
    yield Figure(SWATCHES, palette(rows))
    timed = [(n, cup, line) for n, cup in enumerate(drawn.cups, 1) if (line := _line(cup)) is not None]
    if timed:
        yield Figure(CLOCK, _clock(timed), READ)


def _line(cup: Cup) -> Line | None:
    if cup.scented_at is None or cup.poured_by is None:
        return None
    thick = cup.thick_at
    known = () if thick is not None else (cup.portion,)
    end = inf if thick is None else thick
    return Line(cup.scented_at, cup.scented_at, cup.poured_by, end, (end, end), True, known)


def _clock(timed: list[tuple[int, Cup, Line]]) -> Markup:
    lines = sorted((line for _, _, line in timed), key=lambda line: line.scented_at)
    end = max(line.needed_until for line in lines)
    thick = max((line.fluid[0] for line in lines if line.fluid[0] < inf), default=end)
    first = lines[0].scented_at
    on = clock.scale(end, min(thick, 3 * end), lines)
    order = sorted(timed, key=lambda each: each[2].scented_at)
    rows = [_row(number, cup, line, on, first, end) for number, cup, line in order]
    head = said(
        "<div class='turn brief heads'><span class=who>cup</span><span class=face>{axis}</span>"
        "<span>poured by</span><span>thick at</span></div>",
        axis=clock.axis(on, "minutes from emulsion"),
    )
    return said("<div class=clock>{head}{rows}</div>", head=head, rows=said("").join(rows))


def _row(number: int, cup: Cup, line: Line, on: clock.Scale, first: float, end: float) -> Markup:
    thick = "not known" if line.not_known else minutes_left(line.fluid[0])
    by, at = minutes_left(line.needed_until), minutes_left(line.scented_at)
    late = line.needed_until - line.fluid[0]
    warns = f"{shortage(late)} too short" if late > 0 else ""
    label = f"cup {number}, {cup.portion}: scented at {at}, poured by {by}, thick at {thick} {warns}"
    return said(
        "<div class='turn brief'><div class=who><span class=no>{number}</span> "
        "<strong><bdi>{name}</bdi></strong></div><div class=face>{bar}</div>"
        "<div><span class=label>poured by </span><b>{by}</b></div><div><span class=label>thick at </span>"
        "<b>{thick}</b> <span class='{warn}'>{warns}</span></div></div>",
        number=number,
        name=cup.portion,
        bar=clock.bar(on, line, False, first, end, label),
        by=by,
        thick=thick,
        warn="warns" if warns else "",
        warns=warns,
    )
