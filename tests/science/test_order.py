"""Scenting orders: each rule against trying every order."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import clock, order

qs = st.lists(st.floats(1, 12), min_size=1, max_size=6)


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


def three_layers(least: float) -> order.Layers:
    return order.Layers(20, 4, np.array([1.0, 2, 1]), np.full(3, 1.0), np.full(3, 2.0), np.full(3, least))


def test_layers_without_waiting_by_hand() -> None:
    """B = 20, begun at 4, three minutes each: 4-7, 7-10, 10-13."""
    starts, ends = order.layer_times(three_layers(0), [0, 1, 2])
    assert starts.tolist() == [4, 7, 10]
    assert ends.tolist() == [7, 10, 13]


def test_layers_that_must_carry_by_hand() -> None:
    """Half thick is an age of 10: the first carries at 10, so the second is scented at 9; it carries at
    9.5, before the hands are free at 12."""
    starts, ends = order.layer_times(three_layers(0.5), [0, 1, 2])
    assert starts.tolist() == [4, 9, 12]
    assert ends.tolist() == [7, 12, 15]


def test_senseless_layers_are_refused() -> None:
    """A layer that takes no time, a batter without time and a thickness over 1 are refused."""
    ones = np.ones(1)
    with pytest.raises(ValueError, match="takes no time"):
        order.Layers(20, 4, ones, ones * 0, ones, ones)
    with pytest.raises(ValueError, match="fluid for no time"):
        order.Layers(0, 4, ones, ones, ones, ones)
    with pytest.raises(ValueError, match="from emulsion"):
        order.Layers(20, 4, ones, ones, ones, ones * 1.1)
