"""The clock of a plan on its page: what is done with all cups, then a line a cup, as on the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from blendwise.answers.check.drawn import Cup, Drawn
from blendwise.show.charts import clock
from blendwise.show.numbers import halves_left
from blendwise.show.pages.render import said
from blendwise.show.sheet.words import drawn_keys, perhaps, shortage

if TYPE_CHECKING:
    from markupsafe import Markup

NOT_KNOWN = "not known"
WANTED = "may be thick: it is spooned or piped"


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


Timed = tuple[int, Cup, Line]


def plan_clock(drawn: Drawn, scented: frozenset[str]) -> Markup | None:
    """The whole clock with its key; None where no minute is known.  ``scented``: the portions that are."""
    timed = [(n, cup, line) for n, cup in enumerate(drawn.cups, 1) if (line := _line(cup)) is not None]
    if not timed:
        return None
    lines = sorted((line for _, _, line in timed), key=lambda line: line.scented_at)
    end = max(line.needed_until for line in lines)
    first = lines[0].scented_at
    on = clock.scale(end, lines)
    order = sorted(timed, key=lambda each: each[2].scented_at)
    smells = [cup.portion in scented for _, cup, _ in order]
    poured = clock.poured_from(drawn.family, lines, smells)
    rows = [
        _row(each, on, (first, end), begun, scent)
        for each, begun, scent in zip(order, poured, smells, strict=True)
    ]
    head = said(
        "<div class='turn brief heads'><span class=who>cup</span><span class=face>"
        "<span class=small>minutes from emulsion</span>{axis}</span>"
        "<span>poured by</span><span>thick at</span></div>",
        axis=clock.axis(on, "minutes from emulsion"),
    )
    whole = [head, _before(drawn, on, first), *rows]
    kinds = drawn_keys(clock.shown(lines, smells, poured))
    keys = (said("<span>{it}{told}</span>", it=clock.sample(kind), told=told) for kind, told in kinds)
    return said(
        "<div class=clock>{rows}</div><p class=key>{key}</p>",
        rows=said("").join(whole),
        key=said("").join(keys),
    )


def _line(cup: Cup) -> Line | None:
    if cup.scented_at is None or cup.poured_by is None:
        return None
    thick = cup.thick_at
    known = () if thick is not None else (cup.portion,)
    end = inf if thick is None else thick
    stirred = cup.scented_at if cup.stirred_by is None else cup.stirred_by
    quick = end if cup.quick_day is None else cup.quick_day
    return Line(cup.scented_at, stirred, cup.poured_by, quick, (end, end), cup.must_run, known)


def _before(drawn: Drawn, on: clock.Scale, first: float) -> Markup:
    """Splitting and colouring, which all cups share."""
    if drawn.split_by is None or drawn.coloured_from is None:
        return said("")
    split, colour, start = (halves_left(each) for each in (drawn.split_by, drawn.coloured_from, first))
    told = f"all cups: split by minute {split}, coloured from {colour} to {start}"
    return said(
        "<div class='turn brief all'><div class=who><strong>all cups</strong></div>"
        "<div class=face>{bar}</div>"
        "<div class='small jobs'>split by <b>{split}</b>, coloured by <b>{start}</b></div></div>",
        bar=clock.before(on, drawn.split_by, drawn.coloured_from, first, told),
        split=split,
        start=start,
    )


def _row(timed: Timed, on: clock.Scale, ends: tuple[float, float], begun: float, smells: bool) -> Markup:
    number, cup, line = timed
    first, end = ends
    thick, told, warns = _thick(line)
    by, at = halves_left(line.needed_until), halves_left(line.scented_at)
    label = f"cup {number}, {cup.portion}: scented at {at}, poured by {by}, thick at {thick} {told}"
    return said(
        "<div class='turn brief'><div class=who><span class=no>{number}</span> "
        "<strong><bdi>{name}</bdi></strong></div><div class=face>{bar}</div>"
        "<div><span class=label>poured by </span><b>{by}</b></div><div><span class=label>thick at </span>"
        "<b>{thick}</b> <span class='small {warn}'>{told}</span></div></div>",
        number=number,
        name=cup.portion,
        bar=clock.bar(on, line, begun, first, end, label, smells=smells),
        by=by,
        thick=thick,
        warn="warns" if warns else "",
        told=told,
    )


def _thick(line: Line) -> tuple[str, str, bool]:
    """The minute, what it means, and whether it warns."""
    if line.not_known:
        return NOT_KNOWN, "", True
    at, late = halves_left(line.fluid[0]), line.needed_until - line.fluid[0]
    if not line.must_run:
        return at, WANTED, False
    if late > 0:
        return at, f"{shortage(late)} too short", True
    if line.needed_until > line.quick_day:
        quick = shortage(line.needed_until - line.quick_day)
        return at, f"{perhaps(line.quick_day)}, {quick} short", True
    return at, perhaps(line.quick_day) if halves_left(line.quick_day) != at else "", False
