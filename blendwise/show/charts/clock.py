"""The pour against the clock, a bar a cup: split, colour, scent, pour, and where each cup thickens.

What is told is told by shape: splitting is an open box, colouring a dotted one, stirring scent in is solid,
pouring is hatched; a post stands where the cup thickens, and past it are crosses.  Ticks are minutes
from emulsion.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, Protocol

from blendwise.show.charts.svg import GROUND, INK, element, figure, group, line, percent, rect

if TYPE_CHECKING:
    from markupsafe import Markup

TALL, MID = 26, 13
STEPS = (1, 2, 5, 10, 20, 30, 60, 120)
MOST_TICKS = 8
LONGEST = 5.0  # times the pour that the axis runs on for a cup that thickens late: judgement
BEYOND = 1.04  # of the last minute that matters, where the axis ends


class Timed(Protocol):
    """A cup's minutes from emulsion: see ``Turn`` of the sheet."""

    @property
    def scented_at(self) -> float: ...
    @property
    def stirred_by(self) -> float: ...
    @property
    def needed_until(self) -> float: ...
    @property
    def quick_day(self) -> float: ...
    @property
    def fluid(self) -> tuple[float, float]: ...
    @property
    def must_run(self) -> bool: ...
    @property
    def not_known(self) -> tuple[str, ...]: ...


@dataclass(frozen=True, slots=True)
class Scale:
    """Minutes to per cent of the width; ``ticks``: the minutes that are written."""

    top: float
    ticks: tuple[int, ...]

    def at(self, minute: float) -> float:
        """Where a minute stands, never outside."""
        return 100 * min(max(minute, 0.0), self.top) / self.top


def scale(end: float, turns: Sequence[Timed]) -> Scale:
    """An axis from emulsion to a little after the last minute that matters, where a cup is thick too."""
    thick = [turn.fluid[0] for turn in turns if turn.fluid[0] <= LONGEST * end and not turn.not_known]
    last = max([end, *thick, *(turn.needed_until for turn in turns)])
    step = next((s for s in STEPS if last / s <= MOST_TICKS), 240)
    top = step * math.ceil(last * BEYOND / step)
    return Scale(top, tuple(range(0, top + 1, step)))


def poured_from(family: str | None, turns: Sequence[Timed], scented: Sequence[bool]) -> list[float]:
    """The minute from which each cup is poured: once its own scent is in; in turn, once all are stirred.

    One who pours cups in turn has no hand free to stir another.
    """
    stirred = [turn.stirred_by for turn, smells in zip(turns, scented, strict=True) if smells]
    own = [t.stirred_by if smells else t.scented_at for t, smells in zip(turns, scented, strict=True)]
    last = max(stirred, default=0.0) if family == "interleaved" else 0.0
    return [max(start, last) for start in own]


def shown(turns: Sequence[Timed], scented: Sequence[bool], poured: Sequence[float]) -> set[str]:
    """What the bars of these cups show, of what ``sample`` explains; ``poured``: see ``poured_from``."""
    told = {"split", "colour"}
    for turn, begun, smells in zip(turns, poured, scented, strict=True):
        if smells and (turn.not_known or not turn.must_run or turn.fluid[0] > turn.scented_at):
            told |= {"scent"}
        thick, quick, until = turn.fluid[0], min(turn.quick_day, turn.fluid[0]), turn.needed_until
        if turn.not_known:
            told |= {"pour"}
        elif not turn.must_run:
            told |= {"peak"}
        else:
            kinds = {
                "pour": thick > begun,
                "spare": quick > until,
                "quick": quick < thick,
                "thick": thick < inf,
                "late": until > thick,
            }
            told |= {kind for kind, there in kinds.items() if there}
    return told


def axis(on: Scale, words: str) -> Markup:
    """The minutes over the bars."""
    ends = {on.ticks[0]: "start", on.ticks[-1]: "end"}
    ticks = [
        element(
            "text",
            str(minute),
            x=percent(on.at(minute)),
            y=14,
            text_anchor=ends.get(minute, "middle"),
            fill=INK,
        )
        for minute in on.ticks
    ]
    marks = [line(on.at(minute), on.at(minute), 17, 21) for minute in on.ticks]
    return figure(words, 22, *ticks, *marks, line(0, 100, 21, 21), class_="bar axis")


def before(on: Scale, split_by: float, coloured_from: float, first: float, words: str) -> Markup:
    """What is done with all cups before the first scent, as a bar of its own."""
    return figure(words, TALL, *_grid(on), shared(on, split_by, coloured_from, first), class_="bar")


def shared(on: Scale, split_by: float, coloured_from: float, first: float) -> Markup:
    """Splitting, then (or meanwhile) colouring, which all cups share."""
    lower = coloured_from < split_by
    split = rect(0, on.at(split_by), 3, 9 if lower else 20, **_open(2))
    start, stop = on.at(coloured_from), on.at(first)
    colour = rect(
        start, stop - start, 14 if lower else 3, 9 if lower else 20, **_open(2), stroke_dasharray="2 3"
    )
    return group(split, colour)


def bar(
    on: Scale,
    turn: Timed,
    begun: float,
    first: float,
    end: float,
    words: str,
    *,
    smells: bool,
    already: Markup | str = "",
) -> Markup:
    """One cup: waiting, its scent stirred in where it has one (``smells``), poured, to spare, thick.

    ``begun``: see ``poured_from``; ``already``: see ``shared``.
    """
    cup = _cup(on, turn, on.at(begun), first, smells)
    return figure(words, TALL, *_grid(on), _end(on, end), already, *cup, class_="bar")


def sample(kind: str) -> Markup:
    """A piece of each for the key: split, colour, scent, pour, spare, peak, quick, thick, late."""
    drawn = {
        "split": lambda: rect(2, 96, 4, 16, **_open(2)),
        "colour": lambda: rect(2, 96, 4, 16, **_open(2), stroke_dasharray="2 3"),
        "scent": lambda: rect(0, 100, 3, 20, fill=INK),
        "pour": lambda: _poured(2, 98),
        "spare": lambda: line(4, 96, MID, MID, stroke_width=5),
        "peak": lambda: _peak(50),
        "quick": lambda: group(line(0, 50, MID, MID), _doubt(50)),
        "thick": lambda: group(line(0, 50, MID, MID), post(50)),
        "late": lambda: group(*(_cross(at) for at in (18, 50, 82))),
    }
    return element("svg", drawn[kind](), width=34, height=TALL, aria_hidden="true", class_="sample")


def _cup(on: Scale, turn: Timed, begun: float, first: float, smells: bool) -> Iterator[Markup]:
    start, until = on.at(turn.scented_at), on.at(turn.needed_until)
    stirred = min(begun, on.at(turn.stirred_by)) if smells and begun > start else start
    thick = on.at(turn.fluid[0])
    yield line(on.at(first), start, MID, MID)
    if turn.not_known:
        yield rect(start, stirred - start, 3, 20, fill=INK)
        yield from (line(stirred, begun, MID, MID), _poured(begun, until))
    elif not turn.must_run:
        yield from (line(stirred, max(until, thick), MID, MID, stroke_width=3, stroke_dasharray="1 5"),)
        yield from (rect(start, stirred - start, 3, 20, fill=INK), _peak(until))
    else:
        sure = on.at(min(turn.quick_day, turn.fluid[0]))
        yield line(until, sure, MID, MID, stroke_width=5) if sure > until else group()
        yield line(max(sure, until), thick, MID, MID, stroke_width=2, stroke_dasharray="4 4")
        yield rect(start, min(stirred, max(thick, start)) - start, 3, 20, fill=INK)
        yield line(stirred, begun, MID, MID) if begun < thick else group()
        yield _poured(begun, min(until, max(thick, begun)))
        yield _doubt(sure) if sure < thick else group()
        yield from broken(max(thick, start), until) if until > thick else ()
        yield post(thick) if turn.fluid[0] <= on.top else group()


def _grid(on: Scale) -> Iterator[Markup]:
    return (line(on.at(m), on.at(m), 0, TALL, stroke_opacity=0.3, stroke_width=0.5) for m in on.ticks)


def _end(on: Scale, end: float) -> Markup:
    return line(on.at(end), on.at(end), 0, TALL, stroke_width=1.5, stroke_dasharray="2 2")


def _open(width: float) -> dict[str, object]:
    return {"fill": "none", "stroke": INK, "stroke_width": width}


def _poured(start: float, stop: float) -> Markup:
    whole = {"stroke": INK, "stroke_width": 1.5}
    return rect(start, stop - start, 4, 18, fill="url(#poured)", **whole)


def hatching() -> Markup:
    """What the bars are hatched with, once a page."""
    stripe = element("path", d="M0 6 L6 0", stroke="#888", stroke_width=2)
    made = element("pattern", stripe, id="poured", width=6, height=6, patternunits="userSpaceOnUse")
    return element("svg", element("defs", made), width=0, height=0, class_="apart", aria_hidden="true")


def broken(start: float, stop: float) -> Iterator[Markup]:
    """Past the minute it thickens: a row of crosses, so that no eye takes it for a bar that holds."""
    at = min(start + 1.5, (start + stop) / 2)
    while at < stop:
        yield _cross(at)
        at += 3.0


def _cross(at: float) -> Markup:
    drawn = element("path", d="M-4 9 L4 17 M4 9 L-4 17", stroke=INK, stroke_width=2.5, class_="late")
    return element("svg", drawn, x=percent(at), overflow="visible")


def post(at: float) -> Markup:
    """Where it thickens."""
    cross = element("path", d="M-5 1 L5 1 L0 8 Z M-5 25 L5 25 L0 18 Z M-1.2 1 H1.2 V25 H-1.2 Z", fill=INK)
    return element("svg", cross, x=percent(at), overflow="visible")


def _doubt(at: float) -> Markup:
    mark = element("path", d="M-5 2 L5 2 L0 10 Z", fill=GROUND, stroke=INK, stroke_width=1.3)
    return element("svg", mark, x=percent(at), overflow="visible")


def _peak(at: float) -> Markup:
    """Thick on purpose: a peak that stands where it is piped or spooned."""
    peak = element("path", d="M-7 23 Q-2 18 0 3 Q2 18 7 23 Z", fill=GROUND, stroke=INK, stroke_width=1.5)
    return element("svg", peak, x=percent(at), overflow="visible")
