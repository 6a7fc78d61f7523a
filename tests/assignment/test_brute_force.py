"""The solver against a list of every weighable answer."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.assignment.explain.report import as_weighed
from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.problem.ready import Frame
from blendwise.assignment.result import Result
from blendwise.assignment.search.best_first import measures_of
from blendwise.assignment.search.solve import ROUNDED, Ask, solve
from tests.assignment.oracle import best, row_value, sound
from tests.assignment.small import small

EXACT = Ask(gap=0.0, runner_up=False, explain=False, seconds=60.0)
FREE = Ask(free=True, gap=0.0, runner_up=False, explain=False, seconds=60.0)
BATCHES = 10
SIZE = 30


def check(problem: Problem, result: Result, free: bool) -> None:
    """The verdict and the value of every goal are those of the list."""
    measures = [str(measure) for measure in measures_of(Frame(problem))]
    listed = best(problem, measures, free)
    if problem.dosing == "same dose" and result.reason == ROUNDED:
        return
    assert (listed is None) == (result.best is None)
    if listed is None or result.best is None:
        assert result.status == "infeasible"
        return
    assert result.status == "optimal"
    found = {str(goal.measure): goal.value for goal in result.goals}
    if problem.dosing == "same dose" and found != pytest.approx(listed, abs=1e-5):
        check_as_weighed(problem, result, listed, measures)
        return
    assert found == pytest.approx(listed, abs=1e-5)
    assert bool(sound(problem, result.best.grams[None])[0])


def check_as_weighed(problem: Problem, result: Result, listed: dict[str, float], measures: list[str]) -> None:
    """In *same dose* another answer is taken only where the listed one breaks a rule once it is weighed."""
    assert result.best is not None
    grams = as_weighed(result.best, problem.shape)[None]
    assert all(row_value(row, grams)[0] <= 1e-8 for row in problem.rows if row.hard)
    first = measures[0]
    assert result.best.values[first] >= listed[first] - 1e-6  # type: ignore[index]


@pytest.mark.parametrize("batch", range(BATCHES))
def test_no_weighable_answer_is_better(batch: int) -> None:
    """On small problems no weighable answer beats the solver's in any goal, and impossible is impossible."""
    for seed in range(batch * SIZE, (batch + 1) * SIZE):
        problem = small(seed)
        check(problem, solve(problem, EXACT), free=False)


def test_no_free_split_is_better() -> None:
    """The same holds for the free split, each oil into each portion."""
    for seed in range(1000, 1000 + SIZE):
        problem = small(seed)
        check(problem, solve(problem, FREE), free=True)


def test_the_list_holds_both_verdicts() -> None:
    """The small problems are possible about as often as not, and of both dosings."""
    problems = [small(seed) for seed in range(BATCHES * SIZE)]
    possible = [best(problem, ["few weighings"]) is not None for problem in problems[:100]]
    assert 0.3 < np.mean(possible) < 0.8
    assert {problem.dosing for problem in problems} == {"same total", "same dose"}
