"""The least change: it works, it is the least on its grid, and it can be said aloud."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from blendwise.assignment.explain.least_change import (
    BETTER,
    LOAD_STEP,
    Change,
    Changer,
    changed,
    least_change,
    workable_change,
)
from blendwise.assignment.problem.problem import Problem, Row
from blendwise.assignment.program.free_split import Freeform
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.solve import Ask, solve
from tests.bench.instances import instance

ASK = Ask(seconds=30.0, runner_up=False, explain=False)
BATTER_PER_OIL = 1.42


def movable(problem: Problem) -> Problem:
    """The problem with portions whose masses may change: every limit grows with its portion."""
    mass = problem.portion_oils * BATTER_PER_OIL

    def row(given: Row) -> Row:
        touched = (given.a != 0.0).any(axis=0)
        return replace(given, on_mass=np.where(touched, given.a0 / mass, 0.0))

    return replace(problem, rows=tuple(row(r) for r in problem.rows), mass=mass, mass_per_scent=1.0)


@cache
def impossible() -> tuple[Problem, ...]:
    """Benchmark instances where nothing fits by their rules."""
    drawn = [instance(3, 5, seed) for seed in range(12)] + [instance(4, 6, 6)]
    problems = [movable(problem) for problem in drawn]
    return tuple(problem for problem in problems if solve(problem, ASK).obstacle == "rules")


@cache
def least(k: int) -> Change:
    """The least change of the k-th of them."""
    change = least_change(impossible()[k], seconds=30.0)
    assert change is not None
    return change


def spoken(share: float, asked: float) -> bool:
    """Whether a share is as asked or a whole per cent."""
    return abs(share - asked) < 1e-9 or abs(100 * share - round(100 * share)) < 1e-6


def said_aloud(change: Change) -> None:
    """Shares sum to 1 and are whole per cents where they moved; the load is in tenths of a per cent."""
    assert change.blend.sum() == pytest.approx(1.0)
    assert change.portions.sum() == pytest.approx(1.0)
    for share, asked in zip(change.blend, change.blend_asked, strict=True):
        assert spoken(float(share), float(asked))
    for share, asked in zip(change.portions, change.portions_asked, strict=True):
        assert spoken(float(share), float(asked))
    steps = change.load / LOAD_STEP
    assert steps == pytest.approx(round(steps), abs=1e-6) or change.load == pytest.approx(change.load_asked)


def test_the_changed_problem_can_be_met() -> None:
    """After the change all rules hold at once, and the change can be said aloud."""
    assert len(impossible()) >= 4
    for k, problem in enumerate(impossible()):
        assert least(k).proven
        said_aloud(least(k))
        after = changed(problem, least(k))
        loosened = replace(after, rows=tuple(replace(r, a0=r.a0 - 1e-7 * r.scale) for r in after.rows))
        form = Freeform(loosened, Engine())
        assert form.possible(form.sources)


def test_nothing_on_the_grid_costs_less() -> None:
    """Asked again for 99 % of the cost, no load of the grid has an answer; off the grid it may cost less."""
    for k, problem in enumerate(impossible()[-2:], start=len(impossible()) - 2):
        change, changer = least(k), Changer(problem)
        assert change.least <= change.cost + BETTER
        for load in np.arange(1, round(2 * change.load_asked / LOAD_STEP) + 1) * LOAD_STEP:
            share = abs(load - change.load_asked) / change.load_asked
            assert changer.said(float(load * changer.oils), 0.99 * change.cost - share) is None


def test_a_change_that_whole_steps_bear() -> None:
    """``workable_change`` keeps a little distance to the limits until an answer can be weighed."""
    problem = impossible()[-1]
    found = workable_change(problem, ASK, seconds=60.0)
    assert found is not None
    change, result = found
    assert result.best is not None
    assert change.cost >= change.least - BETTER


def test_a_possible_problem_needs_no_change() -> None:
    """What fits already costs nothing."""
    problem = next(p for p in map(movable, (instance(3, 4, s) for s in range(20))) if solve(p, ASK).best)
    change = least_change(problem)
    assert change is not None
    assert change.nothing


def test_no_change_helps_against_a_ban() -> None:
    """An oil that may go nowhere: no share, load or mass helps, because each oil keeps a share in words."""
    empty = np.array([[True, True], [False, False]])
    fixed = np.full((2, 2), np.nan)
    fixed[0, 0] = 2.0
    problem = Problem(
        scents=("x", "y"),
        portions=("a", "b"),
        blend=np.array([0.5, 0.5]),
        portion_oils=np.array([500.0, 500.0]),
        total=40.0,
        step=0.1,
        step_stated=True,
        empty=empty,
        fixed=fixed,
    )
    assert least_change(problem) is None


def test_a_smaller_load_where_only_the_load_is_too_much() -> None:
    """Two portions of 500 g, at most 3 % each by a rule, 4 % asked: the change is the load, to 3 %."""
    rows = []
    for p in range(2):
        a = np.zeros((2, 2))
        a[:, p] = 1.0
        rows.append(Row("most", ("most", p), a, -15.0, scale=15.0))
    problem = Problem(
        scents=("x", "y"),
        portions=("a", "b"),
        blend=np.array([0.5, 0.5]),
        portion_oils=np.array([500.0, 500.0]),
        total=40.0,
        step=0.1,
        step_stated=True,
        rows=tuple(rows),
    )
    change = least_change(problem)
    assert change is not None
    assert change.load == pytest.approx(0.03)
    assert change.blend == pytest.approx(problem.blend)
    assert change.cost == pytest.approx(0.25)
