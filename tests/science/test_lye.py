"""Lye: stoichiometry against published masses, tables of common practice, laws."""

from __future__ import annotations

from collections.abc import Callable

import chemicals
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import lye

Rows = list[dict[str, str]]

# Sanity of input: a recipe of 10 g to 50 kg, fats between those of wax esters and tricaprylin.
GRAMS = st.floats(10, 50_000)
SAP = st.floats(90, 360)
SUPERFAT = st.floats(0, 0.3)
PURITY = st.floats(0.8, 1)

# lye concentration, water : lye, water % of oils, batter ÷ oils, water % of batter at 14 % lye: common
# practice, worked from the definitions, tolerance as printed.
WATER_TABLE = np.array(
    [
        [0.25, 3.00, 42, 1.560, 26.9],
        [0.28, 2.57, 36, 1.500, 24.0],
        [0.30, 2.33, 33, 1.467, 22.3],
        [0.33, 2.03, 28, 1.424, 20.0],
        [0.36, 1.78, 25, 1.389, 17.9],
        [0.40, 1.50, 21, 1.350, 15.6],
        [0.50, 1.00, 14, 1.280, 10.9],
    ]
)


def test_factor_from_koh_to_naoh() -> None:
    """One gram of KOH does the work of 39.9971 / 56.1056 = 0.71289 g of NaOH (atomic masses of IUPAC)."""
    assert lye.naoh_per_koh() == pytest.approx(0.71289, abs=5e-6)
    assert pytest.approx(chemicals.MW("1310-73-2"), rel=1e-5) == lye.NAOH_MOLAR_MASS
    assert pytest.approx(chemicals.MW("1310-58-3"), rel=1e-5) == lye.KOH_MOLAR_MASS


@pytest.mark.parametrize(
    ("cas", "triglyceride"),
    [
        ("538-23-8", "tricaprylate"),
        ("538-24-9", "trilaurate"),
        ("555-44-2", "tripalmitate"),
        ("555-43-1", "tristearate"),
        ("122-32-7", "trioleate"),
        ("537-40-6", "trilinoleate"),
    ],
)
def test_pure_triglycerides(cas: str, triglyceride: str, published: Callable[..., Rows]) -> None:
    """A mole of a triglyceride takes three of NaOH, whether reckoned from its value or its molar mass."""
    row = next(r for r in published("saponification_values", "computed") if triglyceride in r["fat"])
    need = lye.naoh_need([1000.0], lye.naoh_per_gram([float(row["sap_mid_mg_koh_g"])]))
    assert need == pytest.approx(float(row["naoh_mid_mg_per_g"]), abs=0.06)
    assert need == pytest.approx(3000 * 39.9971 / chemicals.MW(cas), rel=4e-4)


def test_values_for_naoh_of_published_ranges(published: Callable[..., Rows]) -> None:
    """The NaOH value beside every published range is the middle of the range times the factor."""
    rows = published("saponification_values", "seen", "computed")
    middle = np.array([float(r["sap_mid_mg_koh_g"]) for r in rows])
    printed = np.array([float(r["naoh_mid_mg_per_g"]) for r in rows])
    assert len(rows) == 9
    assert lye.naoh_per_gram(middle) * 1000 == pytest.approx(printed, abs=0.06)


def test_water_table() -> None:
    """Concentration, water to lye, water of oils, batter to oils and water in batter agree as printed."""
    share, ratio, of_oils, batter, in_batter = WATER_TABLE.T
    water = lye.water_from_concentration(14.0, share)
    assert water / 14 == pytest.approx(ratio, abs=0.006)
    assert water == pytest.approx(of_oils, abs=0.51)
    assert (114 + water) / 100 == pytest.approx(batter, abs=0.0006)
    assert 100 * water / (114 + water) == pytest.approx(in_batter, abs=0.06)
    assert lye.concentration(14.0, water) == pytest.approx(share)


def test_a_habit_lands_where_makers_say() -> None:
    """Water at 38 % of oils is a lye of 26 to 31 % for usual fats (common practice)."""
    water = lye.water_from_oils(1000.0, 0.38)
    assert lye.concentration([134.0, 170.0], water) == pytest.approx([0.26, 0.31], abs=0.005)


def test_the_strongest_lye() -> None:
    """A lye of 50 % is computed, one just above is refused with its reason, by every way of stating it."""
    assert lye.water_from_concentration(100.0, 0.50) == pytest.approx(100.0)
    assert lye.water_from_ratio(100.0, 1.0) == pytest.approx(100.0)
    reason = r"lye concentration must be at most 50 %.*does not stay dissolved"
    with pytest.raises(ValueError, match=reason):
        lye.water_from_concentration(100.0, 0.501)
    with pytest.raises(ValueError, match=reason):
        lye.water_from_ratio(100.0, 0.99)
    with pytest.raises(ValueError, match=reason):
        lye.concentration(100.0, 99.0)


def test_superfat_and_purity() -> None:
    """Lye for 5 % superfat of an impure lye gives 5 % back, and weak lye leaves more fat free."""
    weighed = lye.lye_for_superfat(140.0, 0.05, 0.98)
    assert weighed == pytest.approx(135.71, abs=0.01)
    assert lye.superfat(weighed, 0.98, 140.0) == pytest.approx(0.05)
    assert lye.superfat(weighed, 0.96, 140.0) > 0.05


def test_carrier_oil_softens_a_portion() -> None:
    """Carrier oil in a 350 g portion at 5 % superfat and 33 % lye moves its superfat as the table prints."""
    oils = 350 / 1.424
    pot_lye, need_per_gram = 0.14 * oils, 0.14 / 0.95
    carrier = np.array([3.0, 5.0, 10.0, 15.0, 30.0])
    found = lye.portion_superfat(1.0, pot_lye, 1.0, oils * need_per_gram, 0.0, carrier * need_per_gram)
    assert 100 * found == pytest.approx([6.1, 6.9, 8.7, 10.5, 15.3], abs=0.06)


def test_oil_held_back_leaves_the_pot_lye_heavy() -> None:
    """70 g of 1,000 g held back at 5 % leave the pot at −2 %; 21 g leave 3 %; its share back restores 5 %."""
    need = lye.naoh_need([1000.0], lye.naoh_per_gram([190.0]))
    weighed = lye.lye_for_superfat(need, 0.05)
    held = np.array([70.0, 21.0])
    in_pot = need * (1000 - held) / 1000
    assert 100 * lye.superfat(weighed, 1.0, in_pot) == pytest.approx([-2.15, 2.96], abs=0.01)
    back = lye.portion_superfat(0.25, weighed, 1.0, in_pot, need * held / 1000 * 0.25)
    assert back == pytest.approx([0.05, 0.05])


def test_a_portion_that_gets_nothing_back_stays_lye_heavy() -> None:
    """With all of the oil held back returned to one half, the other half keeps the superfat of the pot."""
    need, held = 140.0, 9.8
    halves = lye.portion_superfat([0.5, 0.5], 133.0, 1.0, need - held, [held, 0.0])
    assert halves[1] == pytest.approx(lye.superfat(133.0, 1.0, need - held))
    assert halves[1] < 0 < 0.05 < halves[0]


def test_acids_raise_the_superfat() -> None:
    """Citric acid in the pot raises the superfat unless the lye is weighed for it too."""
    need = lye.naoh_need([1000.0], lye.naoh_per_gram([190.0]))
    eaten = 10 * 0.6245  # a gram of citric acid, by its protons: tests/science/test_substances.py
    assert lye.superfat(need, 1.0, need + eaten) == pytest.approx(eaten / (need + eaten))


def test_range_of_the_superfat() -> None:
    """Low saponification values give the low end of the superfat, the middle lies between."""
    weighed = lye.lye_for_superfat(lye.naoh_need([700.0, 300.0], lye.naoh_per_gram([190.0, 256.5])), 0.05)
    per_gram = lye.naoh_per_gram([[184.0, 248.0], [196.0, 265.0]])
    low, high = lye.superfat(weighed, 1.0, lye.naoh_need([700.0, 300.0], per_gram))
    assert low < 0.05 < high
    by_hand = (0.7 * 184 + 0.3 * 248) * 39.9971 / 56.1056
    assert low == pytest.approx(1 - float(weighed) / by_hand)


def test_the_lye_scale_moves_the_superfat() -> None:
    """A scale of 1 g moves the superfat of 140 g of need by half a gram: 0.36 % either way."""
    assert lye.superfat_error(1.0, 1.0, 140.0) == pytest.approx(0.5 / 140)
    moved = lye.superfat(133.0, 0.97, 140.0) - lye.superfat(133.5, 0.97, 140.0)
    assert lye.superfat_error(1.0, 0.97, 140.0) == pytest.approx(moved)


@pytest.mark.parametrize(
    ("times", "asked"),
    [
        (0.95, False),
        (1.04, False),
        (1.289, False),
        (1.2915, True),
        (1.40, True),
        (1.557, True),
        (1.560, False),
    ],
)
def test_a_mass_that_looks_like_koh(times: float, asked: bool) -> None:
    """From 8 % superfat of pure KOH to none of 90 % flakes a mass of lye looks like KOH; NaOH never does."""
    assert lye.looks_like_koh(140.0 * times, 140.0) == asked


@given(GRAMS, GRAMS, SAP, SAP, SUPERFAT, PURITY)
def test_lye_comes_back_as_superfat(
    one: float, other: float, sap_one: float, sap_other: float, wanted: float, purity: float
) -> None:
    """For any sane recipe the lye weighed for a superfat gives that superfat, finite and by every oil."""
    need = lye.naoh_need([one, other], lye.naoh_per_gram([sap_one, sap_other]))
    weighed = lye.lye_for_superfat(need, wanted, purity)
    assert np.isfinite([need, weighed]).all()
    assert lye.superfat(weighed, purity, need) == pytest.approx(wanted, abs=1e-9)
    apart = [lye.naoh_need([m], lye.naoh_per_gram([sap])) for m, sap in ((one, sap_one), (other, sap_other))]
    assert need == pytest.approx(sum(apart))


@given(st.lists(st.floats(0.01, 1), min_size=1, max_size=8), st.floats(0, 0.1), SUPERFAT)
def test_the_batch_is_the_mean_of_its_portions(parts: list[float], held: float, wanted: float) -> None:
    """Weighed by their need, the portions' superfats come to the batch's, whoever gets the oil held back."""
    shares = np.array(parts) / sum(parts)
    need, back = 1000.0, 1000.0 * held * np.eye(len(parts))[0]
    weighed = lye.lye_for_superfat(need, wanted)
    each = lye.portion_superfat(shares, weighed, 1.0, need - back.sum(), back)
    needs = shares * (need - back.sum()) + back
    assert (each * needs).sum() / need == pytest.approx(wanted, abs=1e-9)


@given(st.floats(0.05, 1), st.floats(0, 50), st.floats(0.01, 50))
def test_more_oil_mixed_in_is_more_superfat(share: float, little: float, more: float) -> None:
    """Superfat of a portion rises with every gram mixed in."""
    found = lye.portion_superfat(share, 133.0, 1.0, 140.0, 0.0, [little, little + more])
    assert found[0] < found[1]


@pytest.mark.parametrize(
    ("call", "reason"),
    [
        (lambda: lye.portion_superfat(0.0, 133.0, 1.0, 140.0), "share of the pot must be above 0"),
        (lambda: lye.portion_superfat(1.2, 133.0, 1.0, 140.0), "share of the pot must be at most 1"),
        (lambda: lye.superfat(133.0, 0.0, 140.0), "purity of the lye must be above 0"),
        (lambda: lye.superfat(133.0, 1.02, 140.0), "purity of the lye must be at most 1"),
        (lambda: lye.superfat(133.0, 1.0, 0.0), "the need must be above 0"),
        (lambda: lye.lye_for_superfat(140.0, 1.0), "superfat must be below 1"),
        (lambda: lye.naoh_need([-1.0], lye.naoh_per_gram([190.0])), "mass of an oil must be at least 0"),
        (lambda: lye.naoh_need([np.nan], lye.naoh_per_gram([190.0])), "mass of an oil must be a number"),
        (lambda: lye.naoh_per_gram([np.inf]), "saponification value must be a number"),
        (lambda: lye.naoh_per_gram([1000.0]), "saponification value must be below 1000"),
        (lambda: lye.water_from_concentration(100.0, 0.0), "lye concentration must be above 0"),
        (lambda: lye.concentration(0.0, 100.0), "mass of lye must be above 0"),
        (lambda: lye.water_from_oils(1000.0, 0.0), "water of oils must be above 0"),
    ],
)
def test_senseless_lye_is_refused(call: Callable[[], object], reason: str) -> None:
    """What cannot be is refused by name, never computed with."""
    with pytest.raises(ValueError, match=reason):
        call()
