"""What a maker means without writing it: no cup left bare unasked, and the blend's own parts in the bar.

Each such wish is a row of its own with a source, so that where it cannot be, the irreducible core that
contains it is the reason: why a cup stays bare, or why an oil comes to another share of the bar.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from blendwise.assignment.explain.conflict import conflict_of
from blendwise.assignment.problem.problem import Alternative, EitherOr, Problem, Row, Source
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.result import Obstacle, Result
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

    ``because`` empty: it could be but for the ``obstacle``, the scale's steps or the number of premixes.
    """

    wish: str
    name: str
    because: tuple[Source, ...] = ()
    obstacle: Obstacle = ""


@dataclass(frozen=True, slots=True)
class Placed:
    """The problem as it was solved, what came of it, and the wishes that could not be."""

    problem: Problem
    result: Result
    unmet: tuple[Unmet, ...] = ()


def place(problem: Problem, ask: Ask) -> Placed:
    """The best split that does what is meant, as far as the rules let it."""
    wishes = {**_cups(problem), **_parts(problem)}
    left, unmet = _possible(problem, wishes, time.monotonic() + min(ask.seconds, SECONDS))
    if left is None:
        return Placed(problem, solve(problem, ask))
    obstacle: Obstacle = ""
    for kept in _fewer(problem, left):
        dropped = [source for source in left if source not in kept]
        forced = _or_bare(_wished(problem, kept), problem, dropped)
        forced = replace(forced, unscented=_closed(problem, unmet))
        result = solve(forced, ask)
        if result.best is not None or result.status == "not solved":
            told = (Unmet(*source, obstacle=obstacle) for source in _broken(result, left, dropped))
            return Placed(forced, result, (*unmet, *told))
        obstacle = result.obstacle
        if obstacle == "rules":
            break
    free = solve(problem, ask)
    told = (Unmet(*source, obstacle=obstacle) for source in _broken(free, left, tuple(left)))
    return Placed(problem, free, (*unmet, *told) if free.best is not None else ())


Wish = tuple[str, str]
Wishes = Mapping[Wish, tuple[Row, ...]]


def meant(placed: Placed, portion: str) -> Problem:
    """The problem in which a cup that stays bare is scented too."""
    asked = opened(placed.problem, portion)
    return replace(asked, rows=(*asked.rows, *_cups(asked)[MEANT, portion]))


def opened(problem: Problem, portion: str) -> Problem:
    """The problem in which a cup is not closed."""
    others = problem.closed & (np.array(problem.portions) != portion)
    return replace(problem, unscented=others)


def _possible(problem: Problem, wishes: Wishes, deadline: float) -> tuple[Wishes | None, tuple[Unmet, ...]]:
    """The wishes that can be, and why the others cannot; None where not the wishes are what is in the way."""
    left = dict(wishes)
    unmet: list[Unmet] = []
    while left:
        core = conflict_of(_wished(problem, left), Engine(), deadline)
        if not core:
            break
        among = [source for source in left if source in core]
        if not among:
            return None, ()
        out = min(among, key=lambda source: _rank(problem, source))
        unmet.append(Unmet(*out, tuple(source for source in core if source != out)))
        del left[out]
    return left, tuple(unmet)


def _fewer(problem: Problem, left: Wishes) -> Iterator[Wishes]:
    """All of them, then without the one that gives way first, then none: where steps or premixes are
    in the way."""
    order = sorted(left, key=lambda source: _rank(problem, source))
    for drop in sorted({0, min(1, len(order)), len(order)}):
        yield {source: left[source] for source in order[drop:]}


def _wished(problem: Problem, wishes: Wishes) -> Problem:
    return replace(problem, rows=(*problem.rows, *(row for rows in wishes.values() for row in rows)))


def _or_bare(wished: Problem, problem: Problem, dropped: Sequence[Wish]) -> Problem:
    """With cups that take as much as is smelled or none."""
    ways = []
    for wish, name in dropped:
        if wish == MEANT:
            p = problem.portions.index(name)
            some = Alternative(rows=_cups(problem)[wish, name])
            ways.append(EitherOr(f"{wish}: {name}", (wish, name), (some, Alternative(unscented=(p,)))))
    return replace(wished, either=(*wished.either, *ways))


def _broken(result: Result, left: Wishes, dropped: Sequence[Wish]) -> Iterator[Wish]:
    """Which of the wishes that were dropped the answer does not meet."""
    if result.best is None:
        return
    grams = result.best.grams
    for source in dropped:
        if any(float((row.a * grams).sum()) + row.a0 > 1e-6 * row.scale for row in left[source]):
            yield source


def _closed(problem: Problem, unmet: Sequence[Unmet]) -> np.ndarray:
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
