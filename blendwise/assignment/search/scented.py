"""What a maker means without writing it: no cup left bare unasked, and the blend's own parts in the bar.

Each such wish is a row of its own with a source, so that where it cannot be, the irreducible core that
contains it is the reason: why a cup stays bare, or why an oil comes to another share of the bar.
"""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from blendwise.assignment.explain.conflict import conflict_of
from blendwise.assignment.problem.problem import Problem, Row, Source
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.result import Result
from blendwise.assignment.search.solve import Ask, solve

MEANT: Final = "meant to be scented"
TRUE: Final = "the blend's own part"
NEAR: Final = 0.1
STEPS: Final = 2.0
"""Under *same dose* an oil holds its part of the bar within a tenth of it, or within so many steps."""
SECONDS: Final = 5.0


@dataclass(frozen=True, slots=True)
class Unmet:
    """A wish (``MEANT`` a cup, ``TRUE`` an oil) that cannot be, and what else has to hold that forbids it.

    ``because`` empty: it could be but for the scale's steps or the number of premixes.
    """

    wish: str
    name: str
    because: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """The problem as it was solved, what came of it, and the wishes that could not be."""

    problem: Problem
    result: Result
    unmet: tuple[Unmet, ...] = ()


def place(problem: Problem, ask: Ask) -> Placed:
    """The best split that does what is meant, as far as the rules let it."""
    wishes = {**_cups(problem), **_parts(problem)}
    if not wishes:
        return Placed(problem, solve(problem, ask))
    forced, unmet = _forced(problem, wishes, time.monotonic() + min(ask.seconds, SECONDS))
    if forced is None:
        return Placed(problem, solve(problem, ask))
    result = solve(forced, ask)
    if result.best is not None or result.status == "not solved":
        return Placed(forced, result, unmet)
    free = solve(problem, ask)
    if free.best is None:
        return Placed(problem, free)
    told = {(each.wish, each.name): each for each in unmet}
    broken = [source for source, rows in wishes.items() if _broken(rows, free.best.grams)]
    return Placed(problem, free, tuple(told.get((w, n), Unmet(w, n)) for w, n in broken))


Wishes = Mapping[tuple[str, str], tuple[Row, ...]]


def _forced(problem: Problem, wishes: Wishes, deadline: float) -> tuple[Problem | None, tuple[Unmet, ...]]:
    """The problem with all wishes that can be, and why the others cannot; None where not the wishes are what
    is in the way."""
    left = dict(wishes)
    unmet: list[Unmet] = []
    while left:
        forced = replace(problem, rows=(*problem.rows, *(row for rows in left.values() for row in rows)))
        core = conflict_of(forced, Engine(), deadline)
        if not core:
            return replace(forced, unscented=_closed(problem, unmet)), tuple(unmet)
        among = [source for source in left if source in core]
        if not among:
            return None, ()
        out = min(among, key=lambda source: _rank(problem, source))
        unmet.append(Unmet(*out, tuple(source for source in core if source != out)))
        del left[out]
    return replace(problem, unscented=_closed(problem, unmet)), tuple(unmet)


def _closed(problem: Problem, unmet: list[Unmet]) -> np.ndarray:
    """The cups that stay bare: what is not smelled is not weighed either."""
    closed = problem.closed.copy()
    closed[[problem.portions.index(each.name) for each in unmet if each.wish == MEANT]] = True
    return closed


def _rank(problem: Problem, source: tuple[str, str]) -> tuple[bool, float, str]:
    """Which wish gives way: a part of the blend before a cup, a light cup first, then the smallest."""
    wish, name = source
    if wish == TRUE:
        return False, float(problem.blend[problem.scents.index(name)]), name
    p = problem.portions.index(name)
    dark = problem.light is None or not problem.light[p]
    return True, float(problem.portion_oils[p]) + (dark * float(problem.portion_oils.sum())), name


def _broken(rows: tuple[Row, ...], grams: np.ndarray) -> bool:
    return any(float((row.a * grams).sum()) + row.a0 > 1e-6 * row.scale for row in rows)


def _cups(problem: Problem) -> Wishes:
    """At least so much scent in every cup that is meant to have some."""
    if problem.least is None:
        return {}
    return {
        (MEANT, problem.portions[p]): (_bound(problem, (MEANT, problem.portions[p]), None, int(p)),)
        for p in np.flatnonzero(problem.least > 0)
    }


def _bound(problem: Problem, source: Source, s: int | None, p: int | None, most: float | None = None) -> Row:
    """At least the least of a cup, or of an oil in the bar; at most ``most`` where it is said."""
    a = np.zeros(problem.shape)
    sign = -1.0 if most is None else 1.0
    a[slice(None) if s is None else s, slice(None) if p is None else p] = sign
    if most is not None:
        return Row(": ".join(map(str, source)), source, a, -most, scale=max(most, 1e-6))
    assert p is None or problem.least is not None
    least = float(problem.least[p]) if p is not None and problem.least is not None else _part(problem, s)[0]
    return Row(": ".join(map(str, source)), source, a, least, scale=max(least, 1e-6))


def _part(problem: Problem, s: int | None) -> tuple[float, float]:
    """Between which grams an oil keeps to its part of the bar."""
    assert s is not None
    part = float(problem.blend[s]) * problem.grams
    room = max(NEAR * part, STEPS * problem.step)
    return max(part - room, 0.0), part + room


def _parts(problem: Problem) -> Wishes:
    """Under *same dose*: every oil holds about its part of the bar."""
    if problem.dosing == "same total" or len(problem.scents) < 2:
        return {}
    found = {}
    for s, name in enumerate(problem.scents):
        source = (TRUE, name)
        most = _part(problem, s)[1]
        found[source] = (
            _bound(problem, source, s, None),
            _bound(problem, source, s, None, most),
        )
    return found
