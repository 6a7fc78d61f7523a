"""The small parts: rounding, divisions, bounds over corners, explanations, prices."""

from __future__ import annotations

from dataclasses import replace
from math import comb, factorial
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blendwise.assignment.explain.prices import prices, without
from blendwise.assignment.problem.problem import Alternative, EitherOr, Problem, Row, Slots
from blendwise.assignment.problem.ready import Frame, whole_shares
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.best_first import measures_of
from blendwise.assignment.search.corners import corners_of
from blendwise.assignment.search.divisions import count, divisions
from blendwise.assignment.search.evaluate import weighings
from blendwise.assignment.search.menu import Kitchen, Order
from blendwise.assignment.search.portion_rows import local_of
from blendwise.assignment.search.solve import Ask, solve
from blendwise.assignment.search.tree import Tree
from tests.assignment.oracle import every_answer, sound, values
from tests.assignment.small import small

DIVISIONS = {4: 14, 5: 41, 6: 122, 8: 1094}


@given(st.lists(st.integers(1, 50), min_size=1, max_size=8), st.integers(0, 500))
def test_whole_shares_keep_the_total(parts: list[int], total: int) -> None:
    """Whole numbers sum to the total, and none is a whole step or more from its exact share."""
    shares = np.array(parts, dtype=float)
    whole = whole_shares(shares, total)
    assert whole.sum() == total
    assert bool((np.abs(whole - shares / shares.sum() * total) < 1.0).all())


@pytest.mark.parametrize(("oils", "expected"), DIVISIONS.items())
def test_number_of_divisions_into_three(oils: int, expected: int) -> None:
    """14 divisions of four oils, 122 of six, 1,094 of eight: sums of Stirling numbers of the second kind."""
    listed = [g for k in (1, 2, 3) for g in divisions(oils, k, lambda _: True)]
    assert len(listed) == len(set(listed)) == expected == count(oils, 3)
    for groups in listed:
        assert sorted(s for group in groups for s in group) == list(range(oils))


@given(st.integers(1, 9), st.integers(1, 9))
def test_count_agrees_with_the_closed_form(oils: int, most: int) -> None:
    """The explicit formula for Stirling numbers, summed (Abramowitz and Stegun, 24.1.4)."""
    expected = 0
    for k in range(1, min(oils, most) + 1):
        expected += sum((-1) ** i * comb(k, i) * (k - i) ** oils for i in range(k + 1)) // factorial(k)
    assert count(oils, most) == expected


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.integers(0, 5000))
def test_corners_never_promise_too_little(seed: int) -> None:
    """For every division and goal the bound over corners is at most the best weighable answer's value."""
    problem = small(seed)
    frame, engine = Frame(problem), Engine()
    kitchen = Kitchen(frame, local_of(frame))
    measures = [m for m in measures_of(frame) if m != "wide margin"]
    for answers in every_answer(problem):
        kept = sound(problem, answers.grams)
        if not kept.any():
            continue
        order = Order(even=True, true=True, strict=False)
        corners = corners_of(frame, kitchen, answers.groups, measures, order)
        assert corners is not None
        told = values(problem, answers)
        for measure in measures:
            cost, shift = corners.costs[measure]
            outcome = engine.minimise(corners.program, cost, corners.row_high({}), relaxed=True)
            assert outcome.status == "optimal"
            assert outcome.value + shift <= float(told[measure][kept].min()) + 1e-6


def test_weighings_of_a_premix() -> None:
    """Two oils mixed, for three portions: five; mixed in one cup: two; a bottle for two portions: two."""
    assert weighings(((0, 1),), np.array([[10.0, 10.0, 10.0]])) == 5
    assert weighings(((0, 1),), np.array([[30.0, 0.0, 0.0]])) == 2
    assert weighings(((0,),), np.array([[10.0, 0.0, 20.0]])) == 2


def limited() -> Problem:
    """Vanilla and lime in two portions; milk bears 1.8 g of vanilla; the most even split would want 4 g."""
    a = np.zeros((2, 2))
    a[0, 0] = 1.0
    return Problem(
        scents=("vanilla", "lime"),
        portions=("milk", "soil"),
        blend=np.array([0.4, 0.6]),
        portion_oils=np.array([250.0, 250.0]),
        total=20.0,
        step=0.1,
        step_stated=True,
        premixes=1,
        prefer=("even scent",),
        rows=(Row("browning-shows-in-light", ("browning", "milk"), a, -1.85, scale=1.85),),
    )


def test_what_stops_a_portion_is_where_it_breaks() -> None:
    """The told grams are the limit: as much keeps the rule, a step more breaks it."""
    problem = limited()
    result = solve(problem, Ask(gap=0.0))
    stop = next(s for s in result.stops if s.portion == 0)
    assert stop.source == ("browning", "milk")
    assert stop.takes <= stop.at < stop.takes + problem.step
    assert stop.at * 0.4 == pytest.approx(1.85)


def test_a_tight_rule_has_its_price() -> None:
    """Without the browning rule the split becomes even; the price is the grams that were missing."""
    problem = limited()
    ask = Ask(gap=0.0)
    result = solve(problem, ask)
    (price,) = prices(problem, result, ask)
    assert (price.source, price.measure) == (("browning", "milk"), "even scent")
    assert price.without == pytest.approx(0.0)
    assert price.value == pytest.approx(10.0 - result.stops[0].takes)
    assert solve(without(problem, price.source), ask).best is not None


def test_what_is_checked_afterwards_cuts() -> None:
    """A check that no row says (milk's dose at most 3 g) hands back a cut, and the next answer keeps it."""
    problem = limited()
    a = np.zeros((2, 2))
    a[:, 0] = 1.0
    cut = Row("afterwards", ("afterwards",), a, -3.0, scale=3.0)

    class Later:
        def __call__(self, grams: np.ndarray, so_far: object) -> list[Row] | None:
            return [cut] if self.weight(grams) else None

        def weight(self, grams: np.ndarray) -> float:
            return float(grams[:, 0].sum() > 3.0 + 1e-9)

    result = solve(replace(problem, recheck=Later()), Ask(gap=0.0))
    assert result.best is not None
    assert result.best.grams[:, 0].sum() == pytest.approx(3.0)


def test_what_a_dose_leaves_undecided_is_told() -> None:
    """A stop that a dose of lime in soil leaves open: avoided where possible, else told, never silent."""
    problem = limited()
    unknown = np.zeros((2, 2), dtype=np.bool_)
    unknown[1, 1] = True
    row = Row("over the limit", ("limit",), np.zeros((2, 2)), -1.0, "stop", uncertain=unknown)
    apart = solve(replace(problem, rows=(*problem.rows, row), premixes=2), Ask(gap=0.0))
    assert apart.best is not None
    assert apart.best.undecided == ()
    together = solve(replace(problem, rows=(*problem.rows, row)), Ask(gap=0.0))
    assert together.best is not None
    assert [item.source for item in together.best.undecided] == [("limit",)]
    assert together.best.values["fewest cautions"] == pytest.approx(100.0)


def test_an_either_or_stops_a_portion_too() -> None:
    """Lime may be in milk only beside at most 1 g of vanilla: with lime there, vanilla stops so."""
    a = np.zeros((2, 2))
    a[0, 0] = 1.0
    beside = Row("beside lime", ("beside",), a, -1.0, scale=1.0)
    sides = (Alternative(empty=((1, 0),)), Alternative(rows=(beside,)))
    problem = replace(limited(), either=(EitherOr("beside lime", ("beside",), sides),))
    result = solve(problem, Ask(gap=0.0))
    stop = next(s for s in result.stops if s.portion == 0)
    assert stop.source == ("beside",)
    assert stop.at * 0.4 == pytest.approx(1.0)


def test_the_clock_stops_a_portion_too() -> None:
    """Lime quickens milk by 0.5 a gram; the latest slot bears 2.5: at 3 g of lime it ends."""
    pace = np.array([[0.0, 0.0], [0.5, 0.0]])
    slots = Slots("clock", ("clock",), pace, np.array([1.5, 2.5]))
    problem = replace(limited(), rows=(), slots=slots)
    result = solve(problem, Ask(gap=0.0))
    stop = next(s for s in result.stops if s.portion == 0)
    assert stop.source == ("clock",)
    assert stop.at * 0.6 == pytest.approx(3.0)
    assert result.best is not None
    assert result.best.order == (1, 0)


def test_a_doubt_that_is_but_rounding_parts_nothing() -> None:
    """One corner is kept and its weight falls short of 1 by rounding: the choice is made, not made again."""
    menu = SimpleNamespace(portion=np.array([0]), used=np.array([[True]]))
    corners = SimpleNamespace(menu=menu, usage=lambda weights: np.array([[weights[0]]]))
    tree = Tree.__new__(Tree)
    tree.corners, tree.cost = corners, np.zeros(1)  # type: ignore[assignment]
    assert tree._split(np.array([1.0 - 2e-6]), np.array([True])) is None
