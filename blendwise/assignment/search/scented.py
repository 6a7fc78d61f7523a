"""No cup is left bare unasked: each that is meant to be scented is forced to be, as far as the rules let it.

Forced is a row of its own with a source, so that where it cannot be, the irreducible core that contains it is
the reason why the cup stays bare.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from blendwise.assignment.explain.conflict import conflict_of
from blendwise.assignment.problem.problem import Problem, Row, Source
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.result import Result
from blendwise.assignment.search.solve import Ask, solve

MEANT: Final = "meant to be scented"
SECONDS: Final = 5.0


@dataclass(frozen=True, slots=True)
class Bare:
    """A cup (index) that stays bare: what else has to hold, and cannot together with scent in it.

    ``because`` empty: it could be scented but for the scale's steps or the number of premixes.
    """

    portion: int
    because: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """The problem as it was solved, what came of it, and the cups that stay bare."""

    problem: Problem
    result: Result
    bare: tuple[Bare, ...] = ()


def place(problem: Problem, ask: Ask) -> Placed:
    """The best split with scent in every cup that can have it."""
    if problem.least is None or not (problem.least > 0).any():
        return Placed(problem, solve(problem, ask))
    forced, bare = _forced(problem, time.monotonic() + min(ask.seconds, SECONDS))
    if forced is None:
        return Placed(problem, solve(problem, ask))
    result = solve(forced, ask)
    if result.best is not None or result.status == "not solved":
        return Placed(forced, result, bare)
    free = solve(problem, ask)
    if free.best is None:
        return Placed(problem, free)
    empty = np.flatnonzero((problem.least > 0) & (free.best.grams.sum(axis=0) <= 0))
    told = {each.portion: each for each in bare}
    return Placed(problem, free, tuple(told.get(int(p), Bare(int(p))) for p in empty))


def _forced(problem: Problem, deadline: float) -> tuple[Problem | None, tuple[Bare, ...]]:
    """The problem with scent in as many cups as can have it, and why the others cannot; None where not the
    cups are what is in the way."""
    assert problem.least is not None
    meant = [int(p) for p in np.flatnonzero(problem.least > 0)]
    bare: list[Bare] = []
    while meant:
        forced = replace(problem, rows=(*problem.rows, *(_row(problem, p) for p in meant)))
        core = conflict_of(forced, Engine(), deadline)
        if not core:
            closed = problem.closed.copy()
            closed[[each.portion for each in bare]] = True
            return replace(forced, unscented=closed), tuple(bare)
        rows = {_source(problem, p): p for p in meant}
        cups = [rows[source] for source in core if source in rows]
        if not cups:
            return None, ()
        out = min(cups, key=lambda p: (not _light(problem, p), float(problem.portion_oils[p]), p))
        bare.append(Bare(out, tuple(source for source in core if source != _source(problem, out))))
        meant.remove(out)
    return problem, tuple(bare)


def _light(problem: Problem, portion: int) -> bool:
    return problem.light is not None and bool(problem.light[portion])


def _source(problem: Problem, portion: int) -> Source:
    return MEANT, problem.portions[portion]


def _row(problem: Problem, portion: int) -> Row:
    """At least so much scent in the cup."""
    assert problem.least is not None
    a = np.zeros(problem.shape)
    a[:, portion] = -1.0
    least = float(problem.least[portion])
    return Row(f"{MEANT}: {problem.portions[portion]}", _source(problem, portion), a, least, scale=least)
