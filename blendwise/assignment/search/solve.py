"""The one door: a problem in, a result out."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np

from blendwise.assignment.explain.obstacle import why_none
from blendwise.assignment.explain.report import answer, early, nothing, too_little
from blendwise.assignment.explain.stops import stops
from blendwise.assignment.problem.goals import BANDS, NEAR
from blendwise.assignment.problem.problem import Alternative, EitherOr, Problem, Row
from blendwise.assignment.problem.ready import Frame
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.result import Answer, GoalResult, Result
from blendwise.assignment.search.afterwards import heaviness, with_cuts
from blendwise.assignment.search.best_first import Search, measures_of
from blendwise.assignment.search.candidates import Candidates, candidates
from blendwise.assignment.search.evaluate import Evaluation
from blendwise.facts.columns import Floats

RECHECKS = 6
VAIN = 1
"""Splits in a row that are looked at in vain before the lightest is told."""
LOOKED_GAP = 0.02
"""How close the goals come to their best in a split that is looked at beside the first."""
ROUNDED = "Once weighed in whole steps, each answer found so far passed a limit by its rounding."
RUNNER_UP_GAP = 0.05
OTHER_GAP = 0.05
RUNNER_UP_SECONDS = 5.0
ANOTHER = 0.1
"""Share of all scent by which a dose differs in what is told as another soap."""
WISHES = 0.3
"""Share of the clock for finding promising divisions where not all can be tried."""


@dataclass(frozen=True, slots=True)
class Ask:
    """How hard to try: ``gap`` as a share of the total scent, ``seconds`` of clock, how often to
    search on where a finished split is objected to, what to add."""

    free: bool = False
    gap: float = 0.005
    seconds: float = 10.0
    rechecks: int = RECHECKS
    runner_up: bool = True
    explain: bool = True


def solve(problem: Problem, ask: Ask | None = None) -> Result:
    """The best assignment, proven; or why there is none.

    The same problem gives the same result as long as the clock does not run out.
    """
    asked = ask or Ask()
    deadline = time.monotonic() + asked.seconds
    whole = ready = with_bottles(problem)
    found, ask = _once(ready, asked, deadline), asked
    best, least, looked, vain = None, float("inf"), 0, 0
    for turn in range(asked.rechecks + 1):
        if found.result.best is None:
            break
        heavy = heaviness(whole, ready, found.result.best)
        vain = vain + 1 if best is not None and heavy >= least else 0
        if vain > VAIN:
            break
        best, least = (found, heavy) if heavy < least else (best, least)
        cut = with_cuts(whole, ready, found.result.best) if turn < asked.rechecks else None
        if cut is None:
            break
        looked += len(cut.either) > len(ready.either)
        ask = replace(asked, gap=max(asked.gap, LOOKED_GAP)) if looked else asked
        ready, found = cut, _once(cut, ask, deadline)
    if best is None and ready.rows[: len(whole.rows)] != whole.rows:
        return Result("not solved", reason=ROUNDED)
    told = _told(best or found, asked)
    return replace(told, looked=looked + 1) if looked else told


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


@dataclass(frozen=True, eq=False)
class Searched:
    """What one search came to, and the search itself where it found something to be told with more."""

    result: Result
    search: Search | None = None
    tried: Candidates | None = None
    found: Evaluation | None = None


def _once(problem: Problem, ask: Ask, deadline: float) -> Searched:
    frame = Frame(problem)
    if problem.grams <= 0.0 or (problem.closed.all() and problem.dosing == "same dose"):
        return Searched(Result("optimal", nothing(frame), free=ask.free))
    per_portion = None if ask.free else problem.per_portion
    if not frame.weighable.all():
        return Searched(replace(why_none(problem, None, True, too_little(frame), deadline), free=ask.free))
    engine = Engine()
    tried = candidates(frame, ask.free, engine, WISHES * ask.seconds)
    search = Search(frame, measures_of(frame), ask.gap, deadline, per_portion, engine, Engine())
    found = search.run(tried.divisions)
    proven = search.finished and tried.complete
    reason = "" if proven else early(frame, tried.complete, found is not None)
    if found is None:
        none = why_none(problem, per_portion, proven, reason, deadline)
        return Searched(replace(none, free=ask.free, divisions=len(tried.divisions)))
    return Searched(_result(frame, search, tried, found, ask, reason), search, tried, found)


def _told(searched: Searched, ask: Ask) -> Result:
    """The result with the runner-up, and with what stops each dose, where these are asked for."""
    search, tried, found = searched.search, searched.tried, searched.found
    if search is None or tried is None or found is None:
        return searched.result
    frame, told = search.frame, None
    if ask.runner_up and not ask.free:
        other = _runner_up(search, tried, found)
        told = None if other is None else answer(frame, other)
        if told is None or _same_soap(frame, told, found.grams):
            told = _another(frame.problem, found, ask, search.deadline)
    return replace(searched.result, runner_up=told, stops=stops(frame, found) if ask.explain else ())


def _result(
    frame: Frame, search: Search, tried: Candidates, found: Evaluation, ask: Ask, reason: str
) -> Result:
    goals = tuple(
        GoalResult(p.measure, p.value, p.bound if tried.complete else search.floor(p.measure), p.end)
        for p in search.phases
        if p.measure != NEAR
    )
    shares = [g.gap / frame.grams for g in goals if BANDS[g.measure].of_total]
    return Result(
        "feasible" if reason else "optimal",
        answer(frame, found),
        None,
        goals,
        max(shares, default=0.0),
        len(tried.divisions),
        ask.free,
        reason=reason,
    )


def _same_soap(frame: Frame, other: Answer, grams: Floats) -> bool:
    """Whether no dose differs by a tenth of all the scent."""
    return float(np.abs(other.grams - grams).max()) < ANOTHER * frame.grams


def _another(problem: Problem, best: Evaluation, ask: Ask, deadline: float) -> Answer | None:
    """The best of those in which some dose differs by a tenth of all the scent."""
    source, by = ("another soap",), ANOTHER * problem.grams
    ways = []
    for cell in np.ndindex(problem.shape):
        for sign in (1.0, -1.0):
            a = np.zeros(problem.shape)
            a[cell] = sign
            row = Row("", source, a, by - sign * float(best.grams[cell]), scale=problem.grams)
            ways.append(Alternative((row,)))
    either = (*problem.either, EitherOr("another soap", source, tuple(ways)))
    gap = max(ask.gap, OTHER_GAP)
    until = min(deadline, time.monotonic() + RUNNER_UP_SECONDS)
    frame = Frame(replace(problem, either=either))
    engine = Engine()
    tried = candidates(frame, False, engine, WISHES * RUNNER_UP_SECONDS)
    search = Search(frame, measures_of(frame), gap, until, problem.per_portion, engine, Engine())
    found = search.run(tried.divisions)
    return None if found is None else answer(frame, found)


def _runner_up(search: Search, tried: Candidates, best: Evaluation) -> Evaluation | None:
    """The best that differs in kind: another division, or else another choice of who takes what."""
    others = [groups for groups in tried.divisions if groups != best.groups]
    found = search.other(best, RUNNER_UP_GAP).run(others)
    return search.other(best, RUNNER_UP_GAP).run([best.groups]) if found is None else found
