"""Names and masses of the list of ingredients; the net weight."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.science.ingredients import called, net_weight, oil_called, soap_and_glycerin
from blendwise.science.tables import read_table

TRIOLEIN, OLEATE, GLYCEROL, NAOH = 885.432, 304.449, 92.0938, 39.9971  # g/mol by IUPAC atomic weights


def test_each_row_is_found_by_its_words() -> None:
    for row in read_table("ingredient_names"):
        assert called(row["words"]).eu == row["eu"], row
        assert row["standing"] in ("from memory", "reported")
        assert (row["colour"] == "yes") == (row["eu"].startswith("CI ")), row


def test_triolein_becomes_oleate_and_glycerol() -> None:
    """One mol of triolein and three of NaOH: three of sodium oleate, one of glycerol; nothing is lost."""
    soap, glycerin = soap_and_glycerin(np.array([TRIOLEIN]), np.array([3 * NAOH]), 1.0)
    assert glycerin == pytest.approx(GLYCEROL, rel=1e-4)
    assert soap == pytest.approx(3 * OLEATE, rel=1e-4)


def test_what_lye_does_not_reach_is_no_soap() -> None:
    soap, glycerin = soap_and_glycerin(np.array([1000.0]), np.array([135.0]), 0.95)
    whole, all_of_it = soap_and_glycerin(np.array([1000.0]), np.array([135.0]), 1.2)
    assert soap == pytest.approx(0.95 * whole)
    assert glycerin == pytest.approx(0.95 * all_of_it)


@pytest.mark.parametrize(
    "name", ["emu", "hydrogenated soya", "mystery clay", "pink himalayan salt", "rose water"]
)
def test_a_name_nobody_knows_stays_its_own(name: str) -> None:
    found = oil_called(name) if name in ("emu", "hydrogenated soya") else called(name)
    assert (found.eu, found.known) == (name, False)


def test_an_oil_without_a_name_for_its_soap() -> None:
    found = oil_called("rice bran")
    assert (found.eu, found.known, found.known_in_soap) == ("Oryza Sativa Bran Oil", True, False)


@pytest.mark.parametrize(
    ("bars", "still", "step", "net"),
    [
        ([112.4, 110.2, 115.0], 0.0, 1.0, 110.0),
        ([112.4, 110.2, 115.0], 0.05, 1.0, 104.0),
        ([110.0], 0.0, 1.0, 110.0),
        ([109.999], 0.0, 1.0, 109.0),
    ],
)
def test_the_lightest_rounded_down(bars: list[float], still: float, step: float, net: float) -> None:
    assert net_weight(bars, still, step) == pytest.approx(net)
