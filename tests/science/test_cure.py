"""Cure: the table of common practice, the bound by water, readiness by weight."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import cure, mass

# lye concentration, loss to 10 % and to 6 % residual moisture in %: lye 14 % and scent 5 % of oils; derived,
# tolerance as printed.
LOSS_TABLE = np.array(
    [[0.25, 18, 21], [0.28, 15, 18], [0.30, 13, 17], [0.33, 10, 14], [0.36, 8, 12], [0.40, 6, 10]]
)


def test_loss_table() -> None:
    """The loss to 10 % and to 6 % residual moisture by lye concentration agrees as printed."""
    concentration, to_ten, to_six = LOSS_TABLE.T
    water = 14 / concentration - 14
    wet = 100 + 14 + water + 5
    least, most = cure.usual_loss(water, wet)
    assert 100 * least == pytest.approx(to_ten, abs=0.6)
    assert 100 * most == pytest.approx(to_six, abs=0.6)


def test_usual_loss_to_the_digit() -> None:
    """At 33 % lye: (28.42 − 0.1 · 147.42) / 0.9 and (28.42 − 0.06 · 147.42) / 0.94 of 147.42 g, by hand."""
    least, most = cure.usual_loss(28.42, 147.42)
    assert least == pytest.approx(15.198 / 147.42, abs=1e-4)
    assert most == pytest.approx(20.824 / 147.42, abs=1e-4)


@given(st.floats(0.2, 0.5), st.floats(0.1, 0.18), st.floats(0, 0.3))
def test_the_residual_is_what_is_left(concentration: float, lye: float, residual: float) -> None:
    """After the loss the residual of the bar is water, or it was that dry before and nothing leaves."""
    water = lye / concentration - lye
    wet = 1 + lye + water
    gone = float(cure.grams_to_residual(water, wet, residual))
    assert 0 <= gone <= water
    left = (water - gone) / (wet - gone)
    assert left == pytest.approx(residual if gone > 0 else water / wet, abs=1e-9)
    assert gone > 0 or water / wet <= residual + 1e-12


@given(st.floats(1, 5000), st.floats(0, 800), st.floats(0, 2500))
def test_no_loss_beyond_the_water(oils: float, lye: float, water: float) -> None:
    """The greatest loss is all of the water: the bar then still holds its oils and lye."""
    most = cure.greatest_loss(oils, lye, water)
    assert mass.finished_bar(oils, lye, water, most) == pytest.approx(oils + lye, abs=1e-3)


def test_the_curve() -> None:
    """Most leaves in the first two to four weeks (common practice): 63 % by day 14, 86 % by day 28."""
    found = cure.dried_fraction([0.0, 14.0, 28.0, 730.0])
    assert found == pytest.approx([0.0, 0.632, 0.865, 1.0], abs=0.002)


def test_ready_in_four_to_six_weeks() -> None:
    """By the curve the weekly weighing of a 33 % lye bar says ready in weeks four to six, as makers do."""
    first, strict = cure.ready_days(0.14), cure.ready_days(0.14, strict=True)
    assert 28 < first + 7 < 35 < strict + 7 < 43


def test_ready_days_lie_on_the_curve() -> None:
    """On the day that is named, the next week changes the bar by just the bound."""
    for strict, bound in ((False, 0.01), (True, 0.005)):
        day = float(cure.ready_days(0.14, strict=strict))
        before, after = cure.mass_on_day(150.0, 0.14, [day, day + 7])
        assert cure.weekly_loss(before, after, 7.0) == pytest.approx(bound, rel=1e-6)


def test_a_bar_that_loses_next_to_nothing_is_ready() -> None:
    """Where hardly any water is to leave, the first day is a ready day."""
    assert cure.ready_days([0.0, 0.01]).tolist() == [0.0, 0.0]


def test_weekly_loss() -> None:
    """A gram of a hundred in seven days is 1 % a week, in fourteen half of that; a gain is below zero."""
    assert cure.weekly_loss(100.0, 99.0, [7.0, 14.0]) == pytest.approx([0.01, 0.005])
    assert cure.weekly_loss(99.0, 100.0, 7.0) < 0


@pytest.mark.parametrize(
    ("later", "ready", "strictly"),
    [
        (98.0, False, False),
        (99.0, False, False),
        (99.01, True, False),
        (99.5, True, False),
        (99.51, True, True),
    ],
)
def test_ready_by_weight(later: float, ready: bool, strictly: bool) -> None:
    """A bar is ready just under 1 % a week, strictly just under 0.5 %, and not at the bound."""
    assert cure.ready_by_weight(100.0, later, 7.0) == ready
    assert cure.ready_by_weight(100.0, later, 7.0, strict=True) == strictly


def test_one_house_s_weights_lie_within_the_range() -> None:
    """4.1 oz at day 5 and 3.8 oz at shipping (common practice, one house) is a loss that 33 % lye allows."""
    water = 14 / 0.33 - 14
    least, most = cure.usual_loss(water, 119 + water)
    low, high = np.divide(
        cure.mass_on_day(1.0, [most, least], 35.0), cure.mass_on_day(1.0, [most, least], 5.0)
    )
    assert low < 3.8 / 4.1 < high


@given(st.floats(0, 0.3), st.floats(0, 400), st.floats(0.01, 400))
def test_bars_only_get_lighter(loss: float, day: float, later: float) -> None:
    """A bar never gains on the curve, and never falls below its final mass."""
    before, after = cure.mass_on_day(150.0, loss, [day, day + later])
    assert 150 >= before >= after >= 150 * (1 - loss) - 1e-9


@pytest.mark.parametrize(
    ("call", "reason"),
    [
        (lambda: cure.grams_to_residual(200.0, 100.0, 0.1), "more water than wet mass"),
        (lambda: cure.grams_to_residual(20.0, 0.0, 0.1), "wet mass must be above 0"),
        (lambda: cure.loss_to_residual(20.0, 100.0, 1.0), "residual moisture must be below 1"),
        (lambda: cure.greatest_loss(0.0, 0.0, 0.0), "mass of batter must be above 0"),
        (lambda: cure.dried_fraction(-1.0), "days of cure must be at least 0"),
        (lambda: cure.mass_on_day(100.0, 1.0, 7.0), "cure loss must be below 1"),
        (lambda: cure.weekly_loss(100.0, 99.0, 0.0), "days between must be above 0"),
        (lambda: cure.weekly_loss(np.nan, 99.0, 7.0), "earlier weighing must be a number"),
    ],
)
def test_senseless_cure_is_refused(call: Callable[[], object], reason: str) -> None:
    """What cannot be is refused by name, never computed with."""
    with pytest.raises(ValueError, match=reason):
        call()
