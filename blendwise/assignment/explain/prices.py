"""What each tight rule costs: the problem solved again without it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from blendwise.assignment.problem.goals import Measure, gap
from blendwise.assignment.problem.problem import Problem, Source
from blendwise.assignment.result import Result
from blendwise.assignment.search.solve import Ask, solve
from blendwise.facts.columns import Bools, Floats

TIGHT_STEPS = 1.0


@dataclass(frozen=True, slots=True)
class Price:
    """What one source costs: the first goal that gets better without it, its value with and without."""

    source: Source
    name: str
    measure: Measure
    value: float
    without: float


def prices(problem: Problem, result: Result, ask: Ask, seconds: float = 5.0) -> tuple[Price, ...]:
    """The price of every source that is tight in the best answer, in order; () where there is no answer.

    Those that cost nothing are left out, and those for which the clock of ``seconds`` leaves no time.
    """
    deadline = time.monotonic() + seconds
    return tuple(_priced(problem, result, ask, deadline)) if result.best is not None else ()


def _priced(problem: Problem, result: Result, ask: Ask, deadline: float) -> Iterator[Price]:
    tight = {s.source: s.name for s in result.stops if s.at - s.takes <= TIGHT_STEPS * problem.step * 1.001}
    for source, name in tight.items():
        left = deadline - time.monotonic()
        if left <= 0:
            return
        freer = solve(without(problem, source), replace(ask, seconds=left, runner_up=False, explain=False))
        if freer.best is None:
            continue
        for goal, new in zip(result.goals, freer.goals, strict=False):
            enough = max(gap(goal.measure, problem.grams, ask.gap), 1e-6)
            if goal.measure == new.measure and goal.value - new.value > enough:
                yield Price(source, name, goal.measure, goal.value, new.value)
            if abs(goal.value - new.value) > enough:
                break


def without(problem: Problem, source: Source) -> Problem:
    """The problem without whatever comes from this source."""
    slots = problem.slots
    return replace(
        problem,
        rows=tuple(row for row in problem.rows if row.source != source),
        either=tuple(either for either in problem.either if either.source != source),
        slots=None if slots is not None and slots.source == source else slots,
        lower=_freed(problem, problem.lower, source),
        upper=_freed(problem, problem.upper, source),
        fixed=_freed(problem, problem.fixed, source),
        empty=_opened(problem, source),
        unscented=_scented(problem, source),
    )


def cell_source(problem: Problem, s: int, p: int) -> Source:
    """Where the bounds of a cell come from."""
    return problem.cell_sources.get((s, p), ("cell", problem.scents[s], problem.portions[p]))


def _cells(problem: Problem, source: Source) -> Bools:
    mine = [cell_source(problem, s, p) == source for s, p in np.ndindex(problem.shape)]
    return np.array(mine, dtype=np.bool_).reshape(problem.shape)


def _freed(problem: Problem, given: Floats | None, source: Source) -> Floats | None:
    return None if given is None else np.where(_cells(problem, source), np.nan, given)


def _opened(problem: Problem, source: Source) -> Bools | None:
    return None if problem.empty is None else problem.empty & ~_cells(problem, source)


def _scented(problem: Problem, source: Source) -> Bools | None:
    if problem.unscented is None:
        return None
    names = problem.portions
    mine = [problem.portion_sources.get(p, ("unscented", names[p])) == source for p in range(len(names))]
    return problem.unscented & ~np.array(mine, dtype=np.bool_)
