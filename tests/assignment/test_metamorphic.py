"""What must not matter, and what must only make things worse."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blendwise.assignment.problem.problem import Alternative, EitherOr, Problem, Row, Slots
from blendwise.assignment.program.program import Ints
from blendwise.assignment.result import Result
from blendwise.assignment.search.solve import Ask, solve
from tests.assignment.small import small

EXACT = Ask(gap=0.0, runner_up=False, explain=False, seconds=60.0)
SEEDS = st.integers(0, 5000)


def goals(result: Result) -> dict[str, float]:
    """Values by goal, empty where nothing fits."""
    return {str(goal.measure): goal.value for goal in result.goals} if result.best is not None else {}


def rearranged(problem: Problem, oils: Ints, portions: Ints) -> Problem:
    """The same problem with oil k now called what oil ``oils[k]`` was, likewise the portions."""
    place_s, place_p = np.argsort(oils), np.argsort(portions)

    def table(given: np.ndarray | None) -> np.ndarray | None:
        return None if given is None else given[np.ix_(oils, portions)]

    def row(given: Row) -> Row:
        return replace(given, a=given.a[np.ix_(oils, portions)], uncertain=table(given.uncertain))

    def side(given: Alternative) -> Alternative:
        empty = tuple((int(place_s[s]), int(place_p[p])) for s, p in given.empty)
        unscented = tuple(int(place_p[p]) for p in given.unscented)
        return Alternative(tuple(row(r) for r in given.rows), empty, unscented)

    def either(given: EitherOr) -> EitherOr:
        return replace(given, alternatives=tuple(side(a) for a in given.alternatives))

    def clock(given: Slots | None) -> Slots | None:
        if given is None:
            return None
        order = None if given.order is None else tuple(int(place_p[p]) for p in given.order)
        return replace(given, pace=given.pace[np.ix_(oils, portions)], order=order)

    def line(given: np.ndarray | None, order: np.ndarray) -> np.ndarray | None:
        return None if given is None else given[order]

    return replace(
        problem,
        scents=tuple(problem.scents[s] for s in oils),
        portions=tuple(problem.portions[p] for p in portions),
        blend=problem.blend[oils],
        portion_oils=problem.portion_oils[portions],
        rows=tuple(row(r) for r in problem.rows),
        either=tuple(either(e) for e in problem.either),
        slots=clock(problem.slots),
        lower=table(problem.lower),
        upper=table(problem.upper),
        fixed=table(problem.fixed),
        empty=table(problem.empty),
        unscented=line(problem.unscented, portions),
        must_scent=line(problem.must_scent, portions),
        dose=line(problem.dose, portions),
        browning=line(problem.browning, oils),
        light=line(problem.light, portions),
    )


def scaled(problem: Problem, factor: float) -> Problem:
    """Everything in grams times ``factor``, the scale's step too."""

    def row(given: Row) -> Row:
        return replace(given, a=given.a / factor)

    def either(given: EitherOr) -> EitherOr:
        sides = tuple(replace(a, rows=tuple(row(r) for r in a.rows)) for a in given.alternatives)
        return replace(given, alternatives=sides)

    def times(given: np.ndarray | None) -> np.ndarray | None:
        return None if given is None else given * factor

    slots = problem.slots
    return replace(
        problem,
        portion_oils=problem.portion_oils * factor,
        total=problem.total * factor,
        step=problem.step * factor,
        dose=times(problem.dose),
        rows=tuple(row(r) for r in problem.rows),
        either=tuple(either(e) for e in problem.either),
        lower=times(problem.lower),
        upper=times(problem.upper),
        fixed=times(problem.fixed),
        slots=None if slots is None else replace(slots, pace=slots.pace / factor),
    )


@settings(max_examples=40, deadline=None, derandomize=True)
@given(SEEDS, st.integers(0, 10))
def test_order_of_oils_and_portions_does_not_matter(seed: int, shuffle: int) -> None:
    """Portions and oils told in another order: the same goals are reached."""
    problem = small(seed)
    if problem.dosing == "same total" and not whole(problem):
        return
    draw = np.random.default_rng(shuffle)
    other = rearranged(problem, draw.permutation(problem.shape[0]), draw.permutation(problem.shape[1]))
    assert goals(solve(other, EXACT)) == pytest.approx(goals(solve(problem, EXACT)), abs=1e-5)


def whole(problem: Problem) -> bool:
    """Whether no scent's total is rounded (else ties of rounding go by position)."""
    steps = problem.blend * round(problem.total / problem.step)
    return bool(np.allclose(steps, np.round(steps)))


@settings(max_examples=40, deadline=None, derandomize=True)
@given(SEEDS, st.sampled_from([2.0, 4.0, 0.5]))
def test_scaling_masses_scales_doses(seed: int, factor: float) -> None:
    """A batch twice as large on a scale twice as coarse gets the same goals, grams times two."""
    problem = small(seed)
    one, other = solve(problem, EXACT), solve(scaled(problem, factor), EXACT)
    grams = {"true to blend", "even scent", "only where it browns"}
    expected = {m: v * (factor if m in grams else 1.0) for m, v in goals(one).items()}
    assert goals(other) == pytest.approx(expected, abs=1e-5)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(SEEDS, st.integers(0, 4), st.sampled_from(["true to blend", "even scent", "few weighings"]))
def test_tightening_a_limit_never_improves(seed: int, which: int, goal: str) -> None:
    """With one hard limit pulled in, the best is no better, and impossible stays impossible."""
    problem = replace(small(seed), prefer=(goal,))  # type: ignore[arg-type]
    hard = tuple(row if row.hard else replace(row, level="conflict", uncertain=None) for row in problem.rows)
    problem = replace(problem, rows=hard, dosing="same total", dose=None)
    k = which % len(hard)
    tighter = (*hard[:k], replace(hard[k], a0=hard[k].a0 + 0.2 * abs(hard[k].a0)), *hard[k + 1 :])
    before, after = solve(problem, EXACT), solve(replace(problem, rows=tighter), EXACT)
    if before.best is None:
        assert after.best is None
    if after.best is not None:
        first = after.goals[0].measure
        assert after.goals[0].value >= goals(before)[first] - 1e-6
