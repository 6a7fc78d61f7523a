"""Cure: the table of common practice, the bound by water, and the days of it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from blendwise.science import cure
from blendwise.science.guards import Floats

# lye concentration, loss to 10 % and to 6 % residual moisture in %: lye 14 % and scent 5 % of oils; derived,
# tolerance as printed.
LOSS_TABLE = np.array(
    [[0.25, 18, 21], [0.28, 15, 18], [0.30, 13, 17], [0.33, 10, 14], [0.36, 8, 12], [0.40, 6, 10]]
)


def usual_loss(water: ArrayLike, wet: ArrayLike) -> tuple[Floats, Floats]:
    """Least and most that usually leaves: to 10 % and to 6 % of residual water."""
    return (
        np.asarray(cure.grams_to_residual(water, wet, 0.10) / np.asarray(wet)),
        np.asarray(cure.grams_to_residual(water, wet, cure.RESIDUAL_LOW) / np.asarray(wet)),
    )


def test_loss_table() -> None:
    """The loss to 10 % and to 6 % residual moisture by lye concentration agrees as printed."""
    concentration, to_ten, to_six = LOSS_TABLE.T
    water = 14 / concentration - 14
    wet = 100 + 14 + water + 5
    least, most = usual_loss(water, wet)
    assert 100 * least == pytest.approx(to_ten, abs=0.6)
    assert 100 * most == pytest.approx(to_six, abs=0.6)


def test_usual_loss_to_the_digit() -> None:
    """At 33 % lye: (28.42 − 0.1 · 147.42) / 0.9 and (28.42 − 0.06 · 147.42) / 0.94 of 147.42 g, by hand."""
    least, most = usual_loss(28.42, 147.42)
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


def test_four_to_six_weeks() -> None:
    """Bars are called cured from four to six weeks after the pour (common practice)."""
    assert cure.CURE_DAYS == (4 * 7, 6 * 7)


@pytest.mark.parametrize(
    ("call", "reason"),
    [
        (lambda: cure.grams_to_residual(200.0, 100.0, 0.1), "more water than wet mass"),
        (lambda: cure.grams_to_residual(20.0, 0.0, 0.1), "wet mass must be above 0"),
        (lambda: cure.grams_to_residual(20.0, 100.0, 1.0), "residual moisture must be below 1"),
    ],
)
def test_senseless_cure_is_refused(call: Callable[[], object], reason: str) -> None:
    """What cannot be is refused by name, never computed with."""
    with pytest.raises(ValueError, match=reason):
        call()
