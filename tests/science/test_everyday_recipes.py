"""Everyday recipes at a usual superfat are not cried wolf at.

The saponification ranges below are partly recalled from Codex and pharmacopoeias; what is checked is the
grading of superfat over ranges of that width, not any oil's value.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import ArrayLike

from blendwise.science import lye
from blendwise.science.guards import Floats

# mg KOH per g, low and high.
RANGES = {
    "olive": (184, 196),
    "coconut": (248, 265),
    "palm": (190, 209),
    "shea": (160, 190),
    "rapeseed": (182, 193),
    "sunflower": (187, 194),
    "castor": (176, 187),
    "lard": (192, 203),
    "tallow": (190, 202),
    "cocoa butter": (188, 198),
    "rice bran": (180, 199),
    "almond": (183, 207),
}

RECIPES = {
    "olive alone": {"olive": 100},
    "olive and coconut": {"olive": 70, "coconut": 25, "castor": 5},
    "olive, coconut, palm": {"olive": 40, "coconut": 30, "palm": 30},
    "swirl": {"olive": 45, "coconut": 25, "shea": 10, "rapeseed": 20},
    "lard": {"lard": 60, "coconut": 20, "sunflower": 20},
    "tallow": {"tallow": 50, "coconut": 20, "olive": 25, "castor": 5},
    "shea-heavy": {"shea": 40, "coconut": 25, "olive": 35},
    "shea, half": {"shea": 50, "coconut": 30, "rapeseed": 20},
    "cocoa butter": {"cocoa butter": 15, "olive": 50, "coconut": 25, "castor": 10},
    "rice bran": {"rice bran": 30, "olive": 30, "coconut": 25, "shea": 15},
    "almond": {"almond": 20, "olive": 45, "coconut": 25, "cocoa butter": 10},
    "coconut-rich": {"coconut": 80, "olive": 15, "castor": 5},
}


def graded(counted: float, low_end: float) -> str:
    """Level of a batch: ``counted`` is the superfat by the lot's certificate, else by the middle values."""
    if counted < 0:
        return "stop"
    if counted < 0.02:
        return "conflict"
    return "hint" if low_end < 0 else "none"


def masses_and_ranges(recipe: dict[str, int]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Grams of each oil in 1,000 g, and the ends of their ranges."""
    low, high = np.array([RANGES[oil] for oil in recipe], dtype=float).T
    return 10.0 * np.array(list(recipe.values()), dtype=float), low, high


def superfat_at(sap: Floats, weighed: ArrayLike, masses: Floats) -> float:
    """The superfat of a weighed lye, every oil at its value of ``sap`` (mg KOH per g)."""
    return float(lye.superfat(weighed, 1.0, lye.naoh_need(masses, lye.naoh_per_gram(sap))))


@pytest.mark.parametrize("wanted", [0.03, 0.04, 0.05])
@pytest.mark.parametrize("name", RECIPES)
def test_everyday_recipes_get_a_hint_at_most(name: str, wanted: float) -> None:
    """At 3 to 5 % superfat, weighed to the gram, no everyday recipe draws more than a hint."""
    masses, low, high = masses_and_ranges(RECIPES[name])
    assert masses.sum() == pytest.approx(1000)
    need = lye.naoh_need(masses, lye.naoh_per_gram((low + high) / 2))
    weighed = np.round(lye.lye_for_superfat(need, wanted))
    least, most = (superfat_at(end, weighed, masses) for end in (low, high))
    counted = float(lye.superfat(weighed, 1.0, need))
    assert least < counted < most
    assert graded(counted, least) in ("none", "hint")


def test_shea_at_three_per_cent_is_a_hint() -> None:
    """A shea-heavy batch at 3 % is hinted at: by the low ends of its ranges it would be lye-heavy."""
    masses, low, high = masses_and_ranges(RECIPES["shea-heavy"])
    need = lye.naoh_need(masses, lye.naoh_per_gram((low + high) / 2))
    weighed = lye.lye_for_superfat(need, 0.03)
    least = superfat_at(low, weighed, masses)
    assert graded(float(lye.superfat(weighed, 1.0, need)), least) == "hint"


def test_a_lot_certificate_can_stop_what_the_middle_lets_pass() -> None:
    """Half of shea whose lot is certified at 160: lye-heavy by the certificate, so it stops."""
    masses, low, high = masses_and_ranges(RECIPES["shea, half"])
    middle = (low + high) / 2
    weighed = lye.lye_for_superfat(lye.naoh_need(masses, lye.naoh_per_gram(middle)), 0.03)
    lot = np.where(np.array(list(RECIPES["shea, half"])) == "shea", 160.0, middle)
    assert (
        graded(float(lye.superfat(weighed, 1.0, lye.naoh_need(masses, lye.naoh_per_gram(lot)))), -1.0)
        == "stop"
    )


def test_one_per_cent_is_a_conflict() -> None:
    """One per cent is within the error of a kitchen: between nothing and two per cent is a conflict."""
    masses, low, high = masses_and_ranges(RECIPES["swirl"])
    need = lye.naoh_need(masses, lye.naoh_per_gram((low + high) / 2))
    counted = float(lye.superfat(lye.lye_for_superfat(need, 0.01), 1.0, need))
    assert graded(counted, counted) == "conflict"
