"""Scenting orders: each rule against trying every order."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import clock, order

qs = st.lists(st.floats(1, 12), min_size=1, max_size=6)
job = st.tuples(st.floats(0.5, 6), st.floats(-5, 30))


def test_slowest_first_worst_last() -> None:
    """The largest q takes the last slot; equals keep their order."""
    assert order.interleaved_order([3, 1, 8, 1]).tolist() == [1, 3, 0, 2]


@given(qs, st.floats(15, 60), st.floats(0.3, 1), st.sampled_from([1, 2]))
def test_no_order_fits_where_the_sorted_one_does_not(
    q: list[float], base: float, part: float, hands: int
) -> None:
    """Interleaved, up to six portions: if any order keeps all within their caps, the sorted one does; and
    no order leaves the first portion to thicken more time."""
    slots = clock.scenting_slots(clock.Jobs(0.2, 0.3, 0.5, 0.5), len(q), hands)
    end = slots[-1] + part * (base - slots[-1])
    caps = clock.most_quickening(base, slots, end)
    every = np.array([[q[p] for p in way] for way in permutations(range(len(q)))])
    chosen = np.asarray(q)[order.interleaved_order(q)]
    assert bool((chosen <= caps).all()) == bool((every <= caps).all(axis=1).any())
    fluid = clock.fluid_until(base, slots, every).min(axis=1)
    assert clock.fluid_until(base, slots, chosen).min() >= fluid.max() - 1e-9


def test_due_date_of_a_layer() -> None:
    """B = 20: a layer of 3 minutes with q = 4 must be begun by 20 - 12 = 8, so ended by 11."""
    assert order.layer_due(20, [4, 1], [3, 3]).tolist() == [11, 20]


def greatest_lateness(way: list[int], taken: list[float], due: list[float]) -> float:
    ends = np.cumsum([taken[number] for number in way])
    return float(np.max(ends - np.array([due[number] for number in way])))


@given(st.lists(job, min_size=1, max_size=6), st.data())
def test_lawler_against_every_order(jobs: list[tuple[float, float]], data: st.DataObject) -> None:
    """No order that keeps the pairs has a smaller greatest lateness, up to six layers."""
    taken, due = [one for one, _ in jobs], [other for _, other in jobs]
    count = len(jobs)
    pair = st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)).filter(lambda two: two[0] < two[1])
    after = data.draw(st.lists(pair, max_size=4)) if count > 1 else []
    chosen = order.lawler_order(taken, due, after)
    allowed = [
        list(way)
        for way in permutations(range(count))
        if all(way.index(one) < way.index(then) for one, then in after)
    ]
    assert chosen in allowed
    best = min(greatest_lateness(way, taken, due) for way in allowed)
    assert pytest.approx(best, abs=1e-9) == greatest_lateness(chosen, taken, due)


def test_without_pairs_the_earliest_due_goes_first() -> None:
    """Earliest due date first; of equals, the one written first goes first."""
    assert order.lawler_order([1, 1, 1, 1], [9, 3, 9, 5]) == [1, 3, 0, 2]


def test_a_circle_of_layers_is_refused() -> None:
    """Layers that must each come after the other are refused."""
    with pytest.raises(ValueError, match="in a circle"):
        order.lawler_order([1, 1], [5, 5], [(0, 1), (1, 0)])


def three_layers(least: float) -> order.Layers:
    return order.Layers(20, 4, np.array([1.0, 2, 1]), np.full(3, 1.0), np.full(3, 2.0), np.full(3, least))


def test_layers_without_waiting_by_hand() -> None:
    """B = 20, begun at 4, three minutes each: 4-7, 7-10, 10-13; slack 20 - 3q - start = 13, 7, 7."""
    starts, ends = order.layer_times(three_layers(0), [0, 1, 2])
    assert starts.tolist() == [4, 7, 10]
    assert ends.tolist() == [7, 10, 13]
    assert order.layer_slack(three_layers(0), [0, 1, 2]).tolist() == [13, 7, 7]


def test_layers_that_must_carry_by_hand() -> None:
    """Half thick is an age of 10: the first carries at 10, so the second is scented at 9; it carries at
    9.5, before the hands are free at 12."""
    starts, ends = order.layer_times(three_layers(0.5), [0, 1, 2])
    assert starts.tolist() == [4, 9, 12]
    assert ends.tolist() == [7, 12, 15]
    assert order.layer_slack(three_layers(0.5), [0, 1, 2]).tolist() == [13, 5, 5]


layered = st.lists(
    st.tuples(st.floats(1, 6), st.floats(0.3, 2), st.floats(0.3, 3), st.floats(0, 1)), min_size=1, max_size=4
)


@given(layered, st.floats(10, 60))
def test_best_layers_against_every_order(
    layers: list[tuple[float, float, float, float]], base: float
) -> None:
    """No order of up to four layers leaves its tightest layer more slack, waits included."""
    given_layers = order.Layers(base, 2.0, *np.array(layers).T)
    chosen = order.best_layer_order(given_layers)
    best = max(order.layer_slack(given_layers, way).min() for way in permutations(range(len(layers))))
    assert pytest.approx(best, abs=1e-9) == float(order.layer_slack(given_layers, chosen).min())


@given(layered, st.floats(10, 60))
def test_lawler_is_best_where_nothing_must_carry(
    layers: list[tuple[float, float, float, float]], base: float
) -> None:
    """Without a least thickness, Lawler's order is as good as trying every order."""
    q, scent, pour, _ = np.array(layers).T
    free = order.Layers(base, 2.0, q, scent, pour, np.zeros(len(layers)))
    by_due = order.lawler_order(scent + pour, order.layer_due(base, q, scent + pour))
    tried = order.best_layer_order(free)
    assert pytest.approx(float(order.layer_slack(free, tried).min()), abs=1e-9) == float(
        order.layer_slack(free, by_due).min()
    )


def layers_of_two_minutes(q: list[float], least: list[float]) -> tuple[order.Layers, list[int]]:
    """Layers with B = 30 from minute 2, and their order by due date."""
    ones = np.ones(len(q))
    due = order.layer_due(30, q, 2 * ones)
    return order.Layers(30, 2, np.array(q), ones, ones, np.array(least)), order.lawler_order(2 * ones, due)


def test_seven_layers_are_tried_and_eight_go_by_due_date() -> None:
    """Where layers must wait, trying every order of seven beats the due dates (14 min against 12); eight
    layers are taken by due date."""
    q, least = [1.0, 1, 1, 4, 3, 4, 2], [0.3, 0.5, 0.3, 0.3, 0.5, 0.5, 0.5]
    seven, by_due = layers_of_two_minutes(q, least)
    assert order.layer_slack(seven, order.best_layer_order(seven)).min() == 14
    assert order.layer_slack(seven, by_due).min() == 12
    eight, by_due = layers_of_two_minutes([*q, 1.0], [*least, 0.0])
    assert order.best_layer_order(eight) == by_due


def test_senseless_layers_are_refused() -> None:
    """A layer that takes no time, a batter without time and a thickness over 1 are refused."""
    ones = np.ones(1)
    with pytest.raises(ValueError, match="takes no time"):
        order.Layers(20, 4, ones, ones * 0, ones, ones)
    with pytest.raises(ValueError, match="fluid for no time"):
        order.Layers(0, 4, ones, ones, ones, ones)
    with pytest.raises(ValueError, match="from emulsion"):
        order.Layers(20, 4, ones, ones, ones, ones * 1.1)
