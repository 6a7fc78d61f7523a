"""Acceleration: what a scent's dose adds to q, and q of portions as the measure of thickening sums it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science.acceleration import excess_per_dose

factor = st.floats(0.3, 20)
dose = st.floats(0, 0.1)
reference = st.floats(0.005, 0.1)


def test_q_worked_by_hand() -> None:
    """Factor 3 noted at 4 %, dosed 2 %, and factor 1.5 noted at 3 %, dosed 3 %: q = 1 + 1 + 0.5."""
    assert pytest.approx([50, 50 / 3]) == excess_per_dose([3, 1.5], [0.04, 0.03]).tolist()
    assert pytest.approx(2.5) == float(1 + excess_per_dose([3, 1.5], [0.04, 0.03]) @ [0.02, 0.03])


def test_thinning_is_never_credited() -> None:
    """A thinning scent takes nothing off the quickening of another."""
    assert excess_per_dose([0.0, 0.5, 1.0], 0.04).tolist() == [0, 0, 0]


def test_not_known_is_open_upwards() -> None:
    """A factor not known lies between 1 and infinity, and what it adds between nothing and no end."""
    assert excess_per_dose([1.0, np.inf], [1.0, 1.0]).tolist() == [0, np.inf]


@given(st.lists(st.tuples(factor, dose, reference), min_size=1, max_size=5), st.integers(0, 4), dose)
def test_q_never_falls_with_a_dose(scents: list[tuple[float, float, float]], which: int, more: float) -> None:
    """More of any scent never slows the portion, and q is at least 1."""
    factors, doses, references = np.array(scents).T
    fuller = doses.copy()
    fuller[which % len(doses)] += more
    rate = excess_per_dose(factors, references)
    assert 1 <= 1 + rate @ doses <= 1 + rate @ fuller + 1e-12


@pytest.mark.parametrize(
    ("call", "why"),
    [
        (([2], [0]), "without a dose cannot be scaled"),
        (([-0.1], [0.04]), "ratio of two times"),
        (([np.nan], [0.04]), "factor must be"),
    ],
)
def test_senseless_scents_are_refused(call: tuple[list[float], list[float]], why: str) -> None:
    """A note without a dose, a factor below nothing: refused with the reason."""
    with pytest.raises(ValueError, match=why):
        excess_per_dose(*call)
