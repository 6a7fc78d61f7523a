"""Ways with colour, band, pour and the order of scenting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

import numpy as np

from blendwise.answers.levers.case import Case, Way, names
from blendwise.answers.levers.result import Details
from blendwise.answers.plan_text import edits
from blendwise.facts.pour.minutes import style_minutes
from blendwise.facts.scales import BANDS
from blendwise.facts.situation.timeline import timeline, wants_fluid
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import format_number
from blendwise.records.reading.document import Document
from blendwise.records.writing.edit import add_field, remove_field

RATES: Final = (0.75, 1.25, 0.5, 1.5, 2.0, 0.25, 3.0)
"""By how much a colour is made paler or deeper so that two portions part."""
MOST_VALUES: Final = 9
CUTS: Final = 64
MOST_ORDERS: Final = 4


def band(case: Case) -> Iterator[Way]:
    """The portions may turn as dark as a band, the lightest that serves."""
    s = case.s
    if case.first.looks_at not in ("portion", "edge"):
        return
    now = min(BANDS.index(s.plan.portions[p].may_become or BANDS[0]) for p in case.portions)

    def edit(doc: Document, to: str) -> Document:
        for p in case.portions:
            doc = edits.let_become(doc, p, to)
        return doc

    yield Way(
        "band",
        BANDS[now + 1 :],
        edit,
        lambda to: {"portion": names(s.portions, case.portions), "band": to},
        ordered=True,
    )


def _coloured_cells(case: Case) -> list[tuple[int, int]]:
    """(colourant, portion) of the portions spoken of, at most four of these."""
    colour = case.s.split.colour
    return [(c, p) for p in case.portions[:4] for c in range(len(colour)) if colour[c, p] > 0]


def less_colour(case: Case) -> Iterator[Way]:
    """Less of the colour in the portions spoken of."""
    cuts = [1 - k / CUTS for k in range(1, CUTS)]
    yield from (_rate("less colour", case.s, c, p, cuts, True) for c, p in _coloured_cells(case))


def other_rate(case: Case) -> Iterator[Way]:
    """One of the two paler or deeper, so that they part."""
    yield from (_rate("other rate", case.s, c, p, RATES, False) for c, p in _coloured_cells(case))


def _rate(name: str, s: Situation, c: int, p: int, by: Sequence[float], ordered: bool) -> Way:
    """A colour at its rate times ``by``."""
    now = float(s.split.colour[c, p] / s.split.oils[p])
    path = ("portions", p, "colourants", s.split.colourants[c])
    told: Details = {"portion": s.portions[p], "colour": s.split.colourants[c], "instead of": now}
    return Way(
        name,
        by,
        lambda doc, to: edits.set_or_add(
            doc, path, f"{format_number(100 * _rounded(now * to), 4)} % of portion oils"
        ),
        lambda to: {**told, "rate": _rounded(now * to)},
        ordered=ordered,
    )


def _rounded(rate: float) -> float:
    """A rate that can be said aloud: two digits, rounded down."""
    digits = 10.0 ** (np.floor(np.log10(rate)) - 1) if rate > 0 else 1.0
    return float(np.floor(rate / digits + 1e-9) * digits)


def other_colour(case: Case) -> Iterator[Way]:
    """Another colour of the shelf in its place, the nearest to it first."""
    yield from (_other_colour(case.s, c, p) for c, p in _coloured_cells(case))


def _other_colour(s: Situation, c: int, p: int) -> Way:
    old = s.split.colourants[c]
    return Way(
        "other colour",
        _nearest(s, c),
        lambda doc, to: _recoloured(doc, s, p, c, to),
        lambda to: {"portion": s.portions[p], "colour": old, "by": to},
    )


def _nearest(s: Situation, c: int) -> tuple[str, ...]:
    """Colourants that lye leaves as they are and that stay where they are put, the most alike first."""
    from blendwise.science.colour import lab_from_linear
    from blendwise.science.mixing import linear_from_hex

    mine = s.book.colourants[s.split.colourants[c]]
    there = lab_from_linear(linear_from_hex(mine.hex))
    shelf = [
        each
        for each in s.book.colourants.values()
        if each.name not in s.split.colourants and each.stable_in_lye is True and each.bleeds is not True
    ]
    far = {
        each.name: float(np.linalg.norm(lab_from_linear(linear_from_hex(each.hex)) - there)) for each in shelf
    }
    return tuple(sorted(far, key=lambda name: (far[name], name))[:MOST_VALUES])


def _recoloured(doc: Document, s: Situation, p: int, c: int, to: str) -> Document:
    old = s.split.colourants[c]
    path = ("portions", p, "colourants")
    rate = format_number(100 * float(s.split.colour[c, p] / s.split.oils[p]), 3)
    doc = add_field(doc, path, to, f"{rate} % of portion oils")
    return remove_field(doc, (*path, old))


def order(case: Case) -> Iterator[Way]:
    """Another order of scenting: the portions spoken of last, or first, or the quickest last."""
    s = case.s
    line = timeline(s)
    if line is None or not case.alone:
        return
    now = [s.portions[p] for p in np.argsort(line.place)]
    mine = [name for name in now if s.portions.index(name) in case.portions]
    rest = [name for name in now if name not in mine]
    quick = [s.portions[p] for p in np.argsort([-float(end) for end in line.fluid_until[0]], kind="stable")]
    choices = dict.fromkeys(tuple(each) for each in ([*rest, *mine], quick, [*mine, *rest]))
    swaps = []
    for one, other in pairwise(range(len(now))):
        swapped = list(now)
        swapped[one], swapped[other] = swapped[other], swapped[one]
        swaps.append(tuple(swapped))
    values = [each for each in dict.fromkeys((*choices, *swaps)) if list(each) != now][:MOST_ORDERS]

    def edit(doc: Document, new: tuple[str, ...]) -> Document:
        if "order" in doc.root.plain:
            doc = remove_field(doc, ("order",))
        return add_field(doc, (), "order", list(new))

    yield Way("order", values, edit, lambda new: {"order": ", ".join(new)})


def other_pour(case: Case) -> Iterator[Way]:
    """Another pour: quicker ones, the nearest to the wanted one first, then thick ones."""
    s = case.s
    if s.pour is None:
        return
    pours = s.book.pours
    times = {name: style_minutes(s, each) for name, each in pours.items()}
    quicker = [name for name in times if times[name] < times.get(s.plan.pour or "", 0.0)]
    quicker.sort(key=lambda name: (-times[name], name))
    thick = [name for name, each in pours.items() if not wants_fluid(each) and name not in quicker]
    same = [name for name in pours if name not in (*quicker, *thick) and name != s.plan.pour]
    yield Way(
        "other pour",
        tuple(name for name in (*quicker, *thick, *same) if name != s.plan.pour)[:MOST_VALUES],
        edits.with_pour,
        lambda name: {"pour": name},
    )
