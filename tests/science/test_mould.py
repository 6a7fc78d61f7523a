"""Moulds: the tables of oils per volume, the worked loaf, cavities and embeds."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import mould

# lye concentration, g oils per mL, oz oils per in³ at lye of 14 % of oils: derived from handbook densities.
VOLUME_TABLE = np.array(
    [
        [0.25, 0.650, 0.376],
        [0.28, 0.675, 0.390],
        [0.30, 0.690, 0.399],
        [0.33, 0.709, 0.410],
        [0.36, 0.726, 0.419],
        [0.40, 0.744, 0.430],
        [0.50, 0.780, 0.451],
    ]
)
OUNCE, CUBIC_INCH = 28.349523125, 16.387064


def test_oils_per_volume() -> None:
    """Oils per mL and per cubic inch by lye concentration agree as printed; "0.40" means about 30 % lye."""
    concentration, per_ml, per_inch = VOLUME_TABLE.T
    found = mould.oils_per_ml(concentration, 0.14)
    assert found == pytest.approx(per_ml, abs=6e-4)
    assert found * CUBIC_INCH / OUNCE == pytest.approx(per_inch, abs=6e-4)


def test_lye_densities() -> None:
    """Solutions of NaOH at 20 °C have the handbook's densities, and straight lines lie between."""
    strengths = [0.05, 0.10, 0.20, 0.25, 0.28, 0.30, 0.33, 0.36, 0.40, 0.50]
    printed = [(0.998 + 1.109) / 2, 1.109, 1.219, 1.275, 1.307, 1.328, 1.362, 1.393, 1.430, 1.525]
    assert mould.lye_density(strengths) == pytest.approx(printed, abs=5e-4)


def test_fresh_batter_weighs_about_what_water_does() -> None:
    """Fresh batter is 1.00 to 1.02 g/mL over the whole range of lye concentrations (common practice)."""
    concentration = VOLUME_TABLE[:, 0]
    density = (1 + 0.14 / concentration) / mould.batter_volume(1.0, 0.14, concentration)
    assert np.all((density > 0.995) & (density < 1.025))


def test_the_worked_loaf() -> None:
    """A loaf of 25.4 × 8.9 × 6.35 cm holds 1,435 mL: 1,018 g of oils at 33 %, 983 g with scent at 5 %."""
    volume = mould.box_volume(25.4, 8.9, 6.35)
    assert volume == pytest.approx(1435, abs=0.6)
    per_ml = mould.oils_per_ml(0.33, 0.14)
    assert mould.oils_to_fill(volume, per_ml) == pytest.approx(1018, abs=1)
    scented = mould.oils_to_fill(volume, per_ml, scent_per_oil=0.05)
    assert scented == pytest.approx(983, abs=0.8)
    assert mould.oils_to_fill(volume, per_ml) / scented - 1 == pytest.approx(0.035, abs=0.001)


def test_a_pot_and_cups_that_keep_some() -> None:
    """What stays in pot and cups has to be made too: 1,000 g of oils in the mould are 1,020.4 g at 2 %."""
    assert mould.oils_to_fill(1000.0, 1.0, loss=0.02) == pytest.approx(1020.41, abs=0.01)


def test_embeds_take_room() -> None:
    """A 103 g embed at 1.03 g/mL takes the room of 100 mL of batter."""
    assert mould.oils_to_fill(1100.0, 0.7, embeds=103.0) == pytest.approx(700.0)


def test_fill_and_cavities() -> None:
    """Six cavities of 110 mL filled to 95 % take 627 mL of batter."""
    volume = mould.cavities_volume(6, 110.0)
    assert mould.oils_to_fill(volume, 1.0, fill=0.95) == pytest.approx(627.0)


@given(
    st.floats(100, 20_000), st.floats(0.2, 0.5), st.floats(0.1, 0.18), st.floats(0, 0.08), st.floats(0, 50)
)
def test_what_is_reckoned_fills_the_mould(
    volume: float, concentration: float, lye: float, scent: float, embeds: float
) -> None:
    """Oils, lye solution, scent and embeds of the answer together take up the mould's volume."""
    per_ml = mould.oils_per_ml(concentration, lye)
    oils = mould.oils_to_fill(volume, per_ml, scent_per_oil=scent, embeds=embeds)
    filled = mould.batter_volume(oils, oils * lye, concentration) + oils * scent / 1.01 + embeds / 1.03
    assert filled == pytest.approx(volume, rel=1e-9)


@given(st.floats(0.2, 0.5), st.floats(0.2, 0.5))
def test_stronger_lye_means_more_oils_in_the_mould(one: float, other: float) -> None:
    """Less water leaves more room for oils."""
    found = mould.oils_per_ml(sorted([one, other]), 0.14)
    assert found[0] <= found[1] + 1e-12


@pytest.mark.parametrize(
    ("call", "reason"),
    [
        (lambda: mould.box_volume(0.0, 9.0, 6.5), "length must be above 0"),
        (lambda: mould.cavities_volume(0, 110.0), "number of cavities must be at least 1"),
        (lambda: mould.oils_per_ml(0.51, 0.14), "lye concentration must be at most 50 %"),
        (lambda: mould.oils_to_fill(100.0, 0.7, embeds=200.0), "embeds leave no room"),
        (lambda: mould.oils_to_fill(100.0, 0.7, fill=1.2), "fill must be at most 1"),
    ],
)
def test_senseless_moulds_are_refused(call: Callable[[], object], reason: str) -> None:
    """What cannot be is refused by name, never computed with."""
    with pytest.raises(ValueError, match=reason):
        call()
