"""What forcing a dose comes to: what forbids it, or the first goal that it worsens."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from blendwise.assignment.explain.conflict import conflict_of
from blendwise.assignment.problem.goals import Measure, gap
from blendwise.assignment.problem.problem import Problem, Row, Source
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.result import Obstacle, Result
from blendwise.assignment.search.solve import Ask, solve

FORCED: Final = "forced"
"""Kind of the source of the row that forces a dose."""


@dataclass(frozen=True, slots=True)
class Forced:
    """What came of it: an irreducible ``core`` that forbids it, or ``obstacle``, or a ``result`` and in it
    the first goal that is ``worse`` (None: none is; the plan as written is farther then)."""

    core: tuple[Source, ...] = ()
    obstacle: Obstacle = ""
    result: Result | None = None
    worse: Measure | None = None


def forced(problem: Problem, best: Result, ask: Ask, portion: int, scent: int | None, least: float) -> Forced:
    """The problem solved anew with at least ``least`` g of a scent (None: of any) in a portion."""
    a = np.zeros(problem.shape)
    a[slice(None) if scent is None else scent, portion] = -1.0
    source: Source = (FORCED, problem.portions[portion])
    row = Row(f"{FORCED}: {problem.portions[portion]}", source, a, least, scale=max(least, 1e-6))
    asked = replace(problem, rows=(*problem.rows, row))
    core = conflict_of(asked, Engine(), time.monotonic() + ask.seconds)
    if core:
        return Forced(core=tuple(each for each in core if each != source))
    found = solve(asked, replace(ask, runner_up=False, explain=False))
    if found.status != "optimal":  # a figure is told of what is proven
        return Forced(obstacle=found.obstacle)
    return Forced(result=found, worse=first_worse(problem, best, found, ask.gap))


def first_worse(problem: Problem, best: Result, other: Result, share: float) -> Measure | None:
    """The first goal whose best is beyond what the goals after it were left in ``best``."""
    theirs = {goal.measure: goal.value for goal in other.goals}
    for goal in best.goals:
        room = max(gap(goal.measure, problem.grams, share), 1e-6)
        if theirs.get(goal.measure, goal.value) > goal.end + room:
            return goal.measure
    return None
