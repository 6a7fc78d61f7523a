"""The one door: a problem in, a result out."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from blendwise.assignment.conflict import conflict_of
from blendwise.assignment.divisions import count, divisions
from blendwise.assignment.evaluate import Evaluation
from blendwise.assignment.explain import stops
from blendwise.assignment.frame import EPSILON, Frame, Groups, whole_shares
from blendwise.assignment.goals import BANDS
from blendwise.assignment.problem import Problem, Row
from blendwise.assignment.result import Answer, GoalResult, Premix, Result
from blendwise.assignment.search import Search, measures_of
from blendwise.assignment.solver import Engine

MOST_DIVISIONS = 5000
RECHECKS = 12


@dataclass(frozen=True, slots=True)
class Ask:
    """How hard to try: ``gap`` as a share of the total scent, ``seconds`` of clock, what to add to the answer."""

    free: bool = False
    gap: float = 0.005
    seconds: float = 10.0
    runner_up: bool = True
    explain: bool = True


def solve(problem: Problem, ask: Ask | None = None) -> Result:
    """The best assignment, proven; or why there is none.  Deterministic as long as the clock does not run out."""
    asked = ask or Ask()
    deadline = time.monotonic() + asked.seconds
    ready = with_bottles(problem)
    result = _once(ready, asked, deadline)
    for _ in range(RECHECKS):
        cuts = ready.recheck(result.best.grams) if ready.recheck and result.best else None
        if not cuts:
            return result
        rows = tuple(cut for cut in cuts if isinstance(cut, Row))
        either = tuple(cut for cut in cuts if not isinstance(cut, Row))
        ready = replace(ready, rows=ready.rows + rows, either=ready.either + either)
        result = _once(ready, asked, deadline)
    return replace(
        result, status="not solved", reason="Checked afterwards, none of the answers found so far held."
    )


def with_bottles(problem: Problem) -> Problem:
    """The problem with what is on hand as rows of their own."""
    if problem.on_hand is None:
        return problem
    rows = []
    for s in np.flatnonzero(np.isfinite(problem.on_hand)):
        a = np.zeros(problem.shape)
        a[s] = 1.0
        most, name = float(problem.on_hand[s]), problem.scents[s]
        rows.append(Row(f"on hand: {name}", ("on hand", name), a, -most, scale=max(most, 1.0)))
    return replace(problem, rows=problem.rows + tuple(rows), on_hand=None)


def _once(problem: Problem, ask: Ask, deadline: float) -> Result:
    frame, engine = Frame(problem), Engine()
    if frame.grams <= EPSILON or problem.closed.all():
        return _nothing(frame)
    candidates, complete = _candidates(frame, ask.free)
    per_portion = None if ask.free else problem.per_portion
    search = Search(frame, measures_of(frame), ask.gap, deadline, per_portion, engine, Engine())
    found = search.run(candidates) if frame.weighable.all() or not frame.least_is_hard else None
    if found is None:
        return _none(problem, frame, search, complete, engine, deadline)
    other = _runner_up(frame, search, candidates, found) if ask.runner_up else None
    goals = tuple(GoalResult(p.measure, p.value, p.bound, p.end) for p in search.phases)
    shares = [g.gap / frame.grams for g in goals if BANDS[g.measure].of_total]
    proven = search.finished and complete
    return Result(
        "optimal" if proven else "feasible",
        answer(frame, found),
        other and answer(frame, other),
        goals,
        max(shares, default=0.0),
        len(candidates),
        ask.free,
        stops(frame, found) if ask.explain else (),
        reason="" if proven else _early(frame, complete),
    )


def _candidates(frame: Frame, free: bool) -> tuple[Sequence[Groups], bool]:
    """The divisions to try, and whether they are all there are."""
    oils, most = frame.shape[0], frame.problem.premixes
    if free:
        return [tuple((s,) for s in range(oils))], True
    if count(oils, most) > MOST_DIVISIONS:
        return [], False
    numbers = range(1, min(oils, most) + 1)
    return [groups for k in numbers for groups in divisions(oils, k, frame.possible)], True


def _early(frame: Frame, complete: bool) -> str:
    if complete:
        return "Stopped by the clock before the best was proven."
    return f"{frame.shape[0]} oils can be divided in too many ways to try them all."


def _none(
    problem: Problem, frame: Frame, search: Search, complete: bool, engine: Engine, deadline: float
) -> Result:
    sources = conflict_of(problem, engine, deadline)
    if sources:
        return Result("infeasible", conflict=sources, obstacle="rules")
    if not (search.finished and complete):
        return Result("not solved", reason=_early(frame, complete))
    return Result("infeasible", obstacle="premixes")


def _nothing(frame: Frame) -> Result:
    """Nothing to give: every portion unscented, or no scent asked."""
    asked = frame.fixed_total and frame.grams > EPSILON
    empty = Answer((), np.zeros(frame.shape), np.zeros((0, frame.shape[1])), (), {"few weighings": 0.0})
    if asked:
        sources = tuple(("unscented", name) for name in frame.problem.portions)
        return Result("infeasible", conflict=sources, obstacle="rules")
    return Result("optimal", empty)


def answer(frame: Frame, found: Evaluation) -> Answer:
    """An evaluation in grams, as it is weighed."""
    unit = frame.unit
    kept = [j for j in range(len(found.groups)) if found.units[j].sum() > 0]
    premixes = tuple(_premix(frame, found.groups[j], float(found.units[j].sum())) for j in kept)
    place = {j: i for i, j in enumerate(kept)}
    small = tuple((place[j], p, 0.5 / float(found.units[j, p])) for j, p in found.small)
    return Answer(
        premixes,
        found.grams,
        found.units[kept] * unit,
        found.order,
        dict(found.values),
        found.broken,
        found.undecided,
        small,
    )


def _premix(frame: Frame, group: tuple[int, ...], units: float) -> Premix:
    exact = frame.shares(group)[list(group)] * units
    weighed = whole_shares(exact, round(units)) if frame.steps else exact
    off = (0.5 + np.abs(weighed - exact)) / np.maximum(weighed, EPSILON)
    grams = tuple(float(round(g * frame.unit, 9)) for g in weighed)
    return Premix(group, grams, tuple(float(o) for o in off), float(round(units * frame.unit, 9)))


def _runner_up(
    frame: Frame, search: Search, candidates: Sequence[Groups], best: Evaluation
) -> Evaluation | None:
    others = [groups for groups in candidates if groups != best.groups]
    second = Search(
        frame,
        search.measures,
        search.gap,
        search.deadline,
        search.per_portion,
        search.engine,
        search.finisher,
        tight=search.tight,
        pool=[e for e in search.pool if e.groups != best.groups],
        models=search.models,
        dead=search.dead,
    )
    return second.run(others)
