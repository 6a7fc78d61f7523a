"""Conditions as half-spaces: what a line of a rule says of the doses, as ``a·x + a0 ≤ 0``.

The judge evaluates (a·x + a0) / (d·x + d0) against the limit; here the same coefficients are turned into
a·x + a0 − limit·(d·x + d0).  What cannot be written so is None, and is checked afterwards.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from blendwise.facts.columns import Bools, Column, Floats, Word
from blendwise.facts.forms import AffineFraction, End
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import Rows, home_rows, spread
from blendwise.judge.conditions.conditions import Atom, Limit

LINEAR = frozenset({"fraction", "inverted"})
OPPOSITE = {"at most": "above", "below": "at least", "at least": "below", "above": "at most"}
UPPER = frozenset({"at most", "below"})
SMALLEST_SCALE = 1e-6


@dataclass(frozen=True, eq=False)
class Half:
    """``a·x + a0 ≤ 0`` (< 0 where strict).  ``open``: cells whose coefficient nobody knows.

    ``scale``: the size of the limit side, so that a violation is told as a share of the limit.
    """

    a: Floats
    a0: float
    strict: bool
    open: Bools
    scale: float

    @property
    def is_free(self) -> bool:
        """Whether no dose can break it."""
        return bool(self.a0 <= 0 and (self.a <= 0).all() and not self.open.any())

    @property
    def is_hopeless(self) -> bool:
        """Whether no dose can mend it."""
        return bool(self.a0 > 0 and (self.a >= 0).all())

    def holds_without(self, cells: Bools) -> bool:
        """Whether it holds, whatever the other doses, once these cells are empty."""
        rest = np.where(cells, 0.0, self.a)
        return bool(self.a0 <= 0 and (rest <= 0).all() and not (self.open & ~cells).any())


def is_constant(atom: Atom) -> bool:
    """Whether no dose changes what the line says."""
    return all(_form(name) == "constant" for name in atom.measures)


def _form(name: str) -> str:
    return measure_of(name).form


def measure_of(name: str) -> Word:
    """The measure behind a word, sided or not."""
    side, _, rest = name.partition(" ")
    sided = side in ("one", "other", "lighter", "darker") and rest in REGISTRY
    return REGISTRY[rest if sided else name].word


def bounds_of(atom: Atom) -> list[tuple[str, Limit]] | None:
    """The line as bounds that must all hold; None where it is not made of bounds."""
    match atom.relation:
        case "at most" | "at least" | "above" | "below":
            return [(atom.relation, atom.limits[0])]
        case "between":
            return [("at least", atom.limits[0]), ("at most", atom.limits[1])]
        case "is" if atom.limits:
            return [("at least", atom.limits[0]), ("at most", atom.limits[0])]
    return None


def halves(
    atom: Atom,
    rows: Rows,
    row: int,
    s: Situation,
    *,
    negated: bool = False,
    end: End = "middle",
    leaves_open: bool = False,
) -> list[list[Half]] | None:
    """The line at one row as alternatives, each a list of halves that all hold; None if it cannot be said.

    A line that always holds gives one empty alternative.  ``end``: where judgement is taken within its doubt.
    ``leaves_open``: what may be is no fault, only a question: it is taken as it favours the plan.
    """
    bounds = bounds_of(atom)
    if bounds is None or _form(atom.measure) not in LINEAR:
        return None
    found: list[list[Half]] = []
    for relation, limit in bounds:
        wanted = OPPOSITE[relation] if negated else relation
        value = _limit(limit, rows, row, s, end, wanted in UPPER)
        if value is None:
            return None
        bound = _bound(atom.measure, wanted, value, rows, row, s, end, leaves_open)
        if not negated:
            found.append(bound)
        else:
            found += [[half] for half in bound] or [[]]
    return found if negated else [[half for part in found for half in part]]


def _limit(limit: Limit, rows: Rows, row: int, s: Situation, end: End, upper: bool) -> float | None:
    """The limit at a row where no dose moves it, at an end of judgement's doubt."""
    if not limit.measure:
        return limit.value
    if _form(limit.measure) != "constant":
        return None
    name, where = home_rows(s, rows, limit.measure)
    column = spread(s.home(name), where[row : row + 1])
    assert isinstance(column, Column)
    if not column.known[0]:
        return None
    if end == "middle" or not column.widened:
        return float(column.low[0]) * limit.factor
    least, most = column.outer
    return float(most[0] if upper == (end == "kind") else least[0]) * limit.factor


def _bound(
    name: str, relation: str, limit: float, rows: Rows, row: int, s: Situation, end: End, leaves_open: bool
) -> list[Half]:
    measure, where = home_rows(s, rows, name)
    home = int(where[row])
    known = REGISTRY[measure]
    if known.cap is not None:
        bound = known.cap(s, relation, np.full(len(s.home(measure)), limit))
        measure, relation, limit = known.reads[0], bound.relation, float(bound.limit[home])
    if np.isinf(limit):
        return []
    form = s.fraction(measure)
    counted = form.at(end, upper=relation in UPPER)
    if leaves_open:
        maybe = (form.a != form.a_high) & np.isfinite(form.a_high)
        counted = np.where(maybe, form.a if relation in UPPER else form.a_high, counted)
    return [_half(form, int(r), relation, limit, s, counted[r]) for r in form.rows_of(home)]


def _half(
    form: AffineFraction, r: int, relation: str, limit: float, s: Situation, coefficients: Floats
) -> Half:
    if relation in UPPER:
        open_ended = ~np.isfinite(coefficients)
        worst = np.where(open_ended, form.a[r], coefficients)
        a, a0 = worst - limit * form.d[r], float(form.a0[r] - limit * form.d0[r])
    else:
        open_ended = np.zeros(s.shape, dtype=bool)
        a, a0 = limit * form.d[r] - coefficients, float(limit * form.d0[r] - form.a0[r])
    weighed = s.scenting.total * float(np.abs(form.d[r]).max(initial=0.0))  # what doses add below the line
    sides = abs(limit * float(form.d0[r])), abs(float(form.a0[r])), abs(limit) * weighed
    size = max(*sides, SMALLEST_SCALE)
    return Half(a, a0, relation in ("above", "below"), open_ended, size)


def restricted(half: Half, kept: np.ndarray, fixed: Floats) -> Half:
    """The half over the scents that are to be placed; what the others do is part of the constant."""
    rest = np.ones(len(half.a), dtype=bool)
    rest[kept] = False
    return replace(
        half, a=half.a[kept], a0=half.a0 + float((half.a[rest] * fixed[rest]).sum()), open=half.open[kept]
    )
