"""Input that cannot be meant, or hardly: a right answer or a clear reason, in bounded time."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from blendwise.assignment.problem.problem import Problem, Row
from blendwise.assignment.search.solve import Ask, solve
from tests.bench.instances import instance

SHORT = Ask(seconds=2.0)
SLACK_SECONDS = 8.0


def plain(oils: int = 2, portions: int = 2, **changes: object) -> Problem:
    """Oils in equal parts, equal portions, 40 g on a scale of 0.1 g, no rules."""
    problem = Problem(
        scents=tuple(f"oil{s}" for s in range(oils)),
        portions=tuple(f"portion{p}" for p in range(portions)),
        blend=np.full(oils, 1 / oils),
        portion_oils=np.full(portions, 1000.0 / portions),
        total=40.0,
        step=0.1,
        step_stated=True,
    )
    return replace(problem, **changes)  # type: ignore[arg-type]


def test_one_portion_takes_everything() -> None:
    """One portion, no rules: it gets the blend, each oil weighed into its cup once."""
    result = solve(plain(3, 1), SHORT)
    assert result.best is not None
    assert result.best.grams.sum() == pytest.approx(40.0)
    assert (result.status, result.best.weighings) == ("optimal", 3)
    assert result.best.values["true to blend"] == pytest.approx(0.0)


def test_one_oil_is_spread_evenly_when_that_comes_first() -> None:
    """One oil, three portions, even scent first: each portion's share to within a step."""
    result = solve(plain(1, 3, prefer=("even scent",)), Ask(gap=0.0))
    assert result.best is not None
    assert result.best.grams[0] == pytest.approx(np.full(3, 40 / 3), abs=0.1)


def test_totals_under_a_weighable_minimum_say_which() -> None:
    """0.8 g of each oil on a scale of 0.1 g: fewer than ten steps, so the reason names oil and gram."""
    result = solve(plain(total=1.6), SHORT)
    assert (result.status, result.obstacle) == ("infeasible", "steps")
    assert '"oil0" to 0.8 g' in result.reason
    assert "1 g" in result.reason


def test_a_step_not_stated_only_warns() -> None:
    """The same on a scale that was only assumed: an answer, its cautions counted, each part's error told."""
    result = solve(plain(total=1.6, step_stated=False), SHORT)
    assert result.best is not None
    assert result.best.values["fewest cautions"] == 2.0
    for premix in result.best.premixes:
        assert premix.off == pytest.approx([0.05 / grams for grams in premix.grams])
    for j, p, error in result.best.small:
        assert error == pytest.approx(0.05 / result.best.doses[j, p])


def test_a_step_coarser_than_the_dose() -> None:
    """A scale of 50 g cannot weigh 40 g."""
    result = solve(plain(step=50.0), SHORT)
    assert (result.status, result.obstacle) == ("infeasible", "steps")
    assert "500 g" in result.reason


def test_all_portions_unscented_against_a_load() -> None:
    """40 g to place and every portion to stay unscented: impossible, and the plan's lines are named."""
    result = solve(plain(unscented=np.array([True, True])), SHORT)
    assert result.status == "infeasible"
    kinds = {source[0] for source in result.conflict}
    assert kinds == {"unscented", "total"}


def test_no_scent_asked_is_an_empty_answer() -> None:
    """No total: nothing to weigh, and that is the best."""
    result = solve(plain(total=0.0), SHORT)
    assert result.status == "optimal"
    assert result.best is not None
    assert result.best.grams.sum() == 0.0


def test_same_dose_all_unscented_is_an_empty_answer() -> None:
    """A dose for each scented portion, and none is to be scented."""
    given = plain(dosing="same dose", dose=np.array([20.0, 20.0]), unscented=np.array([True, True]))
    assert solve(given, SHORT).status == "optimal"


def test_same_dose_gives_each_portion_its_dose() -> None:
    """Doses of 20 g and 12.5 g: both portions must be scented and get exactly that."""
    given = plain(dosing="same dose", dose=np.array([20.0, 12.5]), must_scent=np.array([True, True]))
    result = solve(given, SHORT)
    assert result.best is not None
    assert result.best.grams.sum(axis=0) == pytest.approx([20.0, 12.5])


def test_a_short_bottle_is_named() -> None:
    """20 g of an oil asked, 12 g on hand."""
    result = solve(plain(on_hand=np.array([12.0, np.nan])), SHORT)
    assert result.status == "infeasible"
    assert set(result.conflict) == {("on hand", "oil0"), ("total", "oil0")}


def test_too_many_ways_to_divide_says_so() -> None:
    """Twelve oils: answered from the likeliest divisions, not called proven, with the reason and a gap."""
    result = solve(instance(12, 4, 0), Ask(seconds=10.0))
    assert result.status == "feasible"
    assert result.best is not None
    assert "too many ways" in result.reason


def test_thirty_portions_and_forty_oils_answer_in_bounded_time() -> None:
    """A problem far beyond any bench is answered, or not, with a reason, and in bounded work."""
    begun = time.process_time()
    result = solve(replace(instance(40, 30, 0), total=400.0), SHORT)
    assert result.reason or result.conflict or result.status == "optimal"
    assert time.process_time() - begun < SHORT.seconds + SLACK_SECONDS


def test_thirty_portions_answer_in_bounded_time() -> None:
    """Thirty portions of three oils: an answer or a reason."""
    begun = time.process_time()
    result = solve(instance(3, 30, 1), SHORT)
    assert result.best is not None or result.reason or result.conflict
    assert time.process_time() - begun < SHORT.seconds + SLACK_SECONDS


def test_stopped_by_the_clock_is_not_impossible() -> None:
    """With no time at all nothing is called proven and nothing impossible."""
    result = solve(instance(6, 8, 0), Ask(seconds=0.0))
    assert result.status in {"not solved", "feasible"}
    assert result.reason


@pytest.mark.parametrize(
    "changes",
    [
        {"blend": np.array([0.5, 0.6])},
        {"blend": np.array([1.0, 0.0])},
        {"portion_oils": np.array([0.0, 1.0])},
        {"step": 0.0},
        {"total": float("nan")},
        {"total": -1.0},
        {"premixes": 0},
        {"dosing": "same dose"},
        {"rows": (Row("odd", ("odd",), np.zeros((1, 1)), 0.0),)},
        {"rows": (Row("endless", ("odd",), np.full((2, 2), np.inf), 0.0),)},
        {"rows": (Row("no scale", ("odd",), np.zeros((2, 2)), 0.0, scale=0.0),)},
    ],
)
def test_numbers_that_cannot_be_meant_are_refused(changes: dict[str, Any]) -> None:
    """A problem which makes no sense is refused when it is made."""
    with pytest.raises(ValueError, match=r"\w"):
        plain(**changes)
