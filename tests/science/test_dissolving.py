"""Heat and room of lye, against what is published and what makers see."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.science.dissolving import heat_of_solution as heat
from blendwise.science.dissolving import hottest_lye, lye_volume


def test_the_row_that_was_read() -> None:
    """34.43 kJ/mol at 4 mol of water: table B.11 of Felder and Rousseau, by its solutions manual."""
    assert heat(4.0) == pytest.approx(34.43)


def test_strong_lye_gives_less_a_mol() -> None:
    assert (np.diff(heat(np.linspace(1, 20, 40))) >= 0).all()
    assert heat(1000.0) == pytest.approx(42.84)  # below 44.5 at endless dilution (from memory)


@pytest.mark.parametrize("strength", [0.25, 0.28, 0.30, 0.33])
def test_within_what_makers_see(strength: float) -> None:
    """Lye just mixed from cool water: 70 to 95 °C by common practice."""
    least, middle, most = hottest_lye(strength, 20.0)
    assert least < middle < most
    assert 70 <= middle <= 95


def test_volume_by_density() -> None:
    """100 g of NaOH in 300 g of water, 25 %: 1.275 g/mL (handbook, from memory)."""
    assert lye_volume(100.0, 300.0) == pytest.approx(400 / 1.275)
