"""Two hundred simulated makers with known truths: intervals hold what they promise, and looks teach."""

from __future__ import annotations

from functools import cache
from statistics import median

import numpy as np
import pytest

from blendwise.beliefs.learning.learn import learn
from blendwise.beliefs.lessons import Belief, Lessons
from tests.beliefs.makers import Maker, maker, pour, scales, season

MAKERS, OILS, BATCHES = 200, 6, 10


@cache
def taught() -> list[tuple[Maker, Lessons]]:
    """Each maker with what a season of ten batches taught."""
    by = scales()
    makers = [maker(np.random.default_rng(seed), OILS, by) for seed in range(MAKERS)]
    return [(each, learn(season(each, BATCHES), each.shelf)) for each in makers]


def pairs(trait: str) -> list[tuple[float, Belief]]:
    """Truth and belief of every oil that was looked at."""
    return [
        (getattr(who.truths[oil], trait), belief)
        for who, lessons in taught()
        for oil, learned in lessons.oils.items()
        if (belief := getattr(learned, trait)) is not None
    ]


@pytest.mark.parametrize("trait", ["speed", "browning", "remains"])
def test_intervals_of_eighty_per_cent_hold_about_eighty(trait: str) -> None:
    """Of all intervals of 80 % between 75 and 85 % hold the truth."""
    found = pairs(trait)
    held = [belief.ends()[0] <= truth <= belief.ends()[1] for truth, belief in found]
    assert len(found) > 1000
    assert 0.75 <= sum(held) / len(held) <= 0.85


def test_ten_looks_halve_the_error_of_acceleration() -> None:
    """After ten looks at an oil the median error of its acceleration is at most half of the prior's."""
    by = scales()
    before, after = [], []
    for seed in range(MAKERS // 3):
        who = maker(np.random.default_rng(10_000 + seed), 3, by)
        batches = [
            pour(who, n, [{}, {"oil-0": 0.04}, {"oil-0": 0.03, "oil-1": 0.01}, {"oil-2": 0.04}])
            for n in range(5)
        ]
        belief = learn(batches, who.shelf).oils["oil-0"].speed
        assert belief is not None
        assert 10 == belief.looks
        truth = who.truths["oil-0"].speed
        before.append(abs(belief.prior_mean - truth))
        after.append(abs(belief.mean - truth))
    assert median(after) <= 0.5 * median(before)
