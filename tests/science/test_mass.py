"""Masses: tables of common practice, mass balance, doses on every basis."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from blendwise.quantity import Basis
from blendwise.science import mass

GRAMS = st.floats(0, 50_000)
RATE = st.floats(0, 0.2)

# Dose on oils -> of wet batter and of cured bar, %: 33 % lye, lye 14 % of oils, cured mass 88 % of wet.
# Derived from the definitions, tolerance as printed.
DOSE_TABLE = np.array(
    [
        [2.0, 1.39, 1.57],
        [3.0, 2.06, 2.34],
        [4.0, 2.73, 3.09],
        [5.0, 3.39, 3.84],
        [6.0, 4.04, 4.57],
        [6.25, 4.20, 4.75],
    ]
)
Weights = dict[Basis, float | NDArray[np.float64]]
LYE, WATER = 14.0, 14 * 0.67 / 0.33


def test_doses_on_three_bases() -> None:
    """A dose on oils is the share of wet batter and of cured bar that the table prints."""
    on_oils, of_batter, of_bar = DOSE_TABLE.T / 100
    batter = mass.batter_mass(100.0, LYE, WATER)
    grams = mass.dose_grams(on_oils, Basis.BATCH_OILS, {Basis.BATCH_OILS: 100.0})
    bar = mass.finished_bar(100.0, LYE, WATER, 0.12, scent=grams)
    assert grams / (batter + grams) == pytest.approx(of_batter, abs=6e-5)
    assert grams / bar == pytest.approx(of_bar, abs=6e-5)
    again = mass.dose_grams(grams / bar, Basis.FINISHED_BAR, {Basis.FINISHED_BAR: bar - grams})
    assert again == pytest.approx(grams)


def test_an_ounce_in_a_pound_of_oils() -> None:
    """An ounce in a pound of oils is a sixteenth: 6.25 % of 16 oz is 1 oz, 3.1 % about half of one."""
    found = mass.dose_grams([0.0625, 0.031], Basis.BATCH_OILS, {Basis.BATCH_OILS: 16.0})
    assert found == pytest.approx([1.0, 0.5], abs=5e-3)


def test_what_leaves_the_pot() -> None:
    """1,424 g of batter less 2 % in the pot are 1,395.5 g; a quarter of it loses as much."""
    assert mass.usable([1424.0, 0.25], 0.02) == pytest.approx([1395.52, 0.245])


@pytest.mark.parametrize(
    ("concentration", "printed"),
    [(0.25, 1.560), (0.28, 1.500), (0.30, 1.467), (0.33, 1.424), (0.36, 1.389), (0.40, 1.350), (0.50, 1.280)],
)
def test_batter_to_oils(concentration: float, printed: float) -> None:
    """Batter ÷ oils at lye of 14 % of oils, by lye concentration, as the table prints."""
    assert mass.batter_to_oils(1000.0, 140.0, 140 / concentration - 140) == pytest.approx(printed, abs=6e-4)


def test_additives_before_the_split_are_batter() -> None:
    """Sugar in the pot makes more batter of the same oils, so each portion holds less oil."""
    assert mass.batter_to_oils(1000.0, 140.0, 284.0, 26.0) == pytest.approx(1.45)


def test_finished_bar_by_hand() -> None:
    """(1 − 12 %) of 1,424 g, with 10 g of colour, 5 g of sugar, 40 g of scent and a 90 g embed."""
    found = mass.finished_bar(
        1000.0, 140.0, 284.0, 0.12, colourants=10.0, additives=5.0, scent=40.0, embeds=90.0
    )
    assert found == pytest.approx(0.88 * 1424 + 145)


def test_embeds_dilute() -> None:
    """An embed without the scent lowers the scent's share of the bar."""
    plain = mass.finished_bar(1000.0, 140.0, 284.0, 0.1, scent=40.0)
    filled = mass.finished_bar(1000.0, 140.0, 284.0, 0.1, scent=40.0, embeds=100.0)
    assert 40.0 / filled < 40.0 / plain


@given(GRAMS, GRAMS, GRAMS, st.floats(0, 1), GRAMS, GRAMS, GRAMS, GRAMS)
def test_mass_balance(
    oils: float,
    lye: float,
    water: float,
    part: float,
    colour: float,
    sugar: float,
    scent: float,
    embed: float,
) -> None:
    """What is weighed in is the bar and the water that left, to the milligram."""
    batter = oils + lye + water
    loss = part * water / batter * 0.999 if batter > 0 else 0.0
    bar = mass.finished_bar(
        oils, lye, water, loss, colourants=colour, additives=sugar, scent=scent, embeds=embed
    )
    gone = mass.water_leaving(oils, lye, water, loss)
    assert np.isfinite(bar)
    assert bar + gone == pytest.approx(batter + colour + sugar + scent + embed, abs=1e-3)
    assert 0 <= gone <= water + 1e-9


@given(st.floats(0, 0.1), st.floats(0, 0.1))
def test_a_drier_bar_holds_more_scent(one: float, other: float) -> None:
    """The share of scent in the finished bar rises with the cure loss."""
    bars = mass.finished_bar(1000.0, 140.0, 284.0, sorted([one, other]), scent=40.0)
    assert 40.0 / bars[0] <= 40.0 / bars[1]


def test_all_water_may_leave_but_no_more() -> None:
    """A loss of exactly all the water is computed; a little above it is refused as more than there is."""
    assert mass.water_leaving(1000.0, 140.0, 285.0, 285 / 1425) == pytest.approx(285.0)
    with pytest.raises(ValueError, match="more water than there is"):
        mass.water_leaving(1000.0, 140.0, 285.0, 0.2001)
    with pytest.raises(ValueError, match="more water than there is"):
        mass.finished_bar(1000.0, 140.0, 285.0, 0.25)


def test_portions_broadcast() -> None:
    """Portions and scents compute in one call: shapes follow NumPy."""
    bars = mass.finished_bar(
        np.array([100.0, 200.0]), [14.0, 28.0], [28.0, 56.0], 0.1, scent=[[0.0, 1.0]] * 3
    )
    assert bars.shape == (3, 2)


@pytest.mark.parametrize(
    ("call", "reason"),
    [
        (lambda: mass.batter_to_oils(0.0, 1.0, 1.0), "mass of oils must be above 0"),
        (lambda: mass.batter_mass(-1.0, 1.0, 1.0), "mass of oils must be at least 0"),
        (lambda: mass.batter_mass(1.0, np.nan, 1.0), "mass of lye must be a number"),
        (lambda: mass.usable(100.0, 1.0), "loss must be below 1"),
        (lambda: mass.finished_bar(1.0, 0.1, 0.2, 0.0, scent=-1.0), "mass of scent must be at least 0"),
        (lambda: mass.dose_grams(1.0, Basis.BATTER, {Basis.BATTER: 1.0}), "dose of batter must be below 1"),
    ],
)
def test_senseless_mass_is_refused(call: Callable[[], object], reason: str) -> None:
    """What cannot be is refused by name, never computed with."""
    with pytest.raises(ValueError, match=reason):
        call()


def test_a_basis_without_a_weight_is_refused() -> None:
    """A dose on a basis that nobody weighed is not guessed from another."""
    with pytest.raises(KeyError):
        mass.dose_grams(0.04, Basis.PORTION_OILS, {Basis.BATCH_OILS: 1000.0})
