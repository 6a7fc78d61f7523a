"""Answers to larger problems, judged by an evaluator that shares nothing with the solver."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.result import Answer, Result
from blendwise.assignment.search.solve import Ask, solve
from tests.assignment.oracle import Answers, sound, steps_of, values
from tests.bench.instances import instance

SIZES = ((3, 3), (3, 4), (3, 5), (4, 4), (4, 6), (5, 5))
SEEDS = range(12)
FEW = range(4)  # of the two largest sizes; all by `python tests/long.py answers`


def keeps_everything(problem: Problem, answer: Answer) -> None:
    """All hard items, the totals, whole steps, least weighings, and at most two premixes a portion."""
    assert bool(sound(problem, answer.grams[None])[0])
    assert answer.grams.sum(axis=1) == pytest.approx(np.array(steps_of(problem)) * problem.step)
    steps = answer.doses / problem.step
    assert steps == pytest.approx(np.round(steps), abs=1e-6)
    assert bool((np.round(steps)[answer.doses > 0] >= problem.min_steps).all())
    assert bool(((answer.doses > 0).sum(axis=0) <= problem.per_portion).all())
    assert sorted(s for premix in answer.premixes for s in premix.scents) == list(range(problem.shape[0]))
    assert len(answer.premixes) <= problem.premixes


def values_agree(problem: Problem, result: Result) -> None:
    """Each goal's value is what the answer itself comes to, and its bound is not above it."""
    assert result.best is not None
    groups = tuple(premix.scents for premix in result.best.premixes)
    told = values(problem, Answers(groups, result.best.doses[None], result.best.grams[None]))
    assert result.best.values == pytest.approx({m: float(v[0]) for m, v in told.items()}, abs=1e-6)
    for goal in result.goals:
        assert goal.bound <= goal.value <= goal.end
        assert result.best.values[goal.measure] <= goal.end + 1e-6


@pytest.mark.parametrize(("oils", "portions"), SIZES)
def test_every_answer_keeps_every_rule(oils: int, portions: int) -> None:
    assert every_answer_keeps_every_rule(oils, portions, FEW if oils * portions > 20 else SEEDS) >= 2


def every_answer_keeps_every_rule(oils: int, portions: int, seeds: range) -> int:
    """Best and runner-up keep all rules, totals and steps, and are not the same soap; how many answered."""
    answered = 0
    for seed in seeds:
        problem = instance(oils, portions, seed)
        result = solve(problem, Ask(seconds=60.0))
        if result.best is None:
            assert result.status == "infeasible"
            continue
        answered += 1
        assert result.status == "optimal"
        keeps_everything(problem, result.best)
        values_agree(problem, result)
        if result.runner_up is not None:
            keeps_everything(problem, result.runner_up)
            apart = abs(result.runner_up.grams - result.best.grams).max()
            assert apart >= 0.1 * result.best.grams.sum() - 1e-6
    return answered


def test_premixes_are_weighed_whole() -> None:
    """What a premix is made of is in whole steps and adds up to what is taken from it."""
    result = solve(instance(4, 6, 0), Ask(seconds=60.0))
    assert result.best is not None
    for premix, doses in zip(result.best.premixes, result.best.doses, strict=True):
        assert sum(premix.grams) == pytest.approx(premix.total)
        assert doses.sum() == pytest.approx(premix.total)
        assert np.array(premix.grams) / 0.1 == pytest.approx(np.round(np.array(premix.grams) / 0.1), abs=1e-6)
