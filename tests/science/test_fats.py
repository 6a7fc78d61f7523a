"""Fats that are not clear: worked by hand, beside what is published and what makers pour, and the laws."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import clock, fats

# °C: where a fat alone sets (least, most) and melts (least, most).  Melting: Belitz, Grosch, Schieberle, Food
# Chemistry, tables 14.8 and 14.9 (palm kernel, coconut, babassu, cocoa butter, shea); an abstract on palm
# (32 to 40); Wiley, Foods and Their Adulteration, and a German textbook (lard, tallow); the rest from memory.
ALONE = {
    "coconut": (18, 22, 20, 28),
    "babassu": (18, 22, 22, 26),
    "palm kernel": (20, 25, 23, 30),
    "palm": (22, 31, 32, 40),
    "lard": (24, 31, 28, 44),
    "tallow": (31, 40, 40, 50),
    "shea": (20, 30, 23, 42),
    "cocoa": (17, 26, 28, 36),
    "palm stearin": (38, 46, 44, 56),
    "stearic acid": (53, 57, 54, 70),
}
# Recipes as makers pour them: where they set in a pour, from where they are surely clear.  Common practice.
MIXTURES = [
    ({"coconut": 0.22}, (10, 18), (18, 24)),
    ({"coconut": 0.22, "shea": 0.05}, (12, 21), (20, 28)),
    ({"coconut": 0.80}, (17, 21), (23, 27)),
    ({"palm": 0.25, "coconut": 0.26}, (20, 28), (30, 38)),
    ({"lard": 0.48, "coconut": 0.20}, (22, 30), (30, 38)),
    ({"tallow": 0.48, "coconut": 0.22}, (28, 36), (38, 46)),
    ({"shea": 0.20, "coconut": 0.20}, (18, 26), (28, 38)),
    ({"shea": 0.34, "cocoa": 0.22, "coconut": 0.22}, (20, 29), (34, 40)),
    ({"palm": 0.30, "lard": 0.25, "shea": 0.20, "coconut": 0.20}, (26, 33), (36, 43)),
]
HARD = sorted(fats.FATS)


def points(name: str) -> fats.Points:
    """The points of a fat that the table knows."""
    found = fats.points_of(name)
    assert found is not None
    return found


def recipe(shares: dict[str, float]) -> tuple[float, float]:
    """Where a recipe sets, and where it is clear; the rest of it is liquid oil."""
    known, part = [points(name) for name in shares], list(shares.values())
    sets = fats.setting_celsius([p.sets for p in known], part)
    return float(sets), float(fats.melting_celsius([p.melts for p in known], part))


def test_a_fat_alone_keeps_its_own_points() -> None:
    """With nothing to dissolve it, a fat sets and melts where it does alone."""
    assert float(fats.setting_celsius([30], [1])) == pytest.approx(30)
    assert float(fats.melting_celsius([39], [1])) == pytest.approx(39)


def test_dissolved_fats_worked_by_hand() -> None:
    """A quarter of a fat that melts at 39 °C: 1/T = 1/312.15 - R ln(0.25)/180 kJ; sets likewise."""
    melts = 1 / (1 / 312.15 - 8.314462618 * math.log(0.25) / 180_000) - 273.15
    sets = 1 / (1 / 303.15 - 8.314462618 * math.log(0.25) / 130_000) - 273.15
    assert float(fats.melting_celsius([39], [0.25])) == pytest.approx(melts, abs=1e-9)
    assert float(fats.setting_celsius([30], [0.25])) == pytest.approx(sets, abs=1e-9)
    assert (round(melts, 1), round(sets, 1)) == (32.9, 22.1)


def test_fats_that_set_together_are_counted_together() -> None:
    """Palm (30 °C) at 0.3 beside tallow (36 °C) at 0.2 sets as 0.5 of palm would; the tallow as 0.2 of it."""
    both = float(fats.setting_celsius([30, 36], [0.3, 0.2]))
    alone = [float(fats.setting_celsius([30], [0.5])), float(fats.setting_celsius([36], [0.2]))]
    assert both == pytest.approx(max(alone))


def test_against_tripalmitin_in_triolein() -> None:
    """Hale and Schroeder, Lipids, November 1981 (abstract): onset 56 °C of the pure fat, 37 °C at 15 mol %.

    The law takes off 13 of those 19 degrees; with the heat of the stable form it would take off 9.
    """
    here = float(fats.setting_celsius([56.0], [0.15]))
    assert here == pytest.approx(37.0, abs=7.0)
    assert 37.0 < here < float(fats.melting_celsius([56.0], [0.15]))


def test_heats_lie_within_what_is_published() -> None:
    """From 85 kJ/mol, by those 19 degrees, to 197, stable tristearin (J. Chem. Eng. Data 50, 2005)."""
    least = 8.314462618 * math.log(1 / 0.15) / (1 / 310.15 - 1 / 329.15)
    most = 221.6 * 891.5
    assert round(least / 1000) == 85
    assert least < fats.SETTING_J_PER_MOL < fats.MELTING_J_PER_MOL < most
    assert (fats.SETTING_J_PER_MOL, fats.MELTING_J_PER_MOL) == (130_000, 180_000)


@pytest.mark.parametrize("name", HARD)
def test_each_fat_lies_within_what_is_published(name: str) -> None:
    """Setting and melting of every fat of the table, beside the ends that are published or in use."""
    least, most, low, high = ALONE[name]
    found = fats.FATS[name]
    assert least <= found.sets <= most
    assert low <= found.melts <= high
    assert found.sets < found.melts


def test_the_table_as_it_was_chosen() -> None:
    """The figures themselves: within published ends, chosen so that mixtures lie where they are known to."""
    chosen = {name: (found.sets, found.melts) for name, found in fats.FATS.items()}
    assert chosen == {
        "stearic acid": (55, 68), "palm stearin": (43, 52), "palm kernel": (22, 28), "cocoa": (25, 35),
        "coconut": (21, 27), "babassu": (20.5, 26), "palm": (30, 39), "lard": (30, 40), "tallow": (36, 47),
        "shea": (29, 40),
    }  # fmt: skip
    assert (fats.UNDERCOOLING, fats.DOUBT_CELSIUS, clock.ZERO_CELSIUS) == (9.0, 4.0, 273.15)


@pytest.mark.parametrize(("shares", "sets", "clear"), MIXTURES)
def test_recipes_set_and_clear_where_makers_find_it(
    shares: dict[str, float], sets: tuple[float, float], clear: tuple[float, float]
) -> None:
    """Within a degree of the range in use, for nine recipes (common practice)."""
    here = recipe(shares)
    assert sets[0] - 1 <= here[0] <= sets[1] + 1
    assert clear[0] - 1 <= here[1] <= clear[1] + 1


def test_names_that_the_table_knows() -> None:
    """Head words, in any company; a liquid fraction or a hardened fat is another fat."""
    assert points("cocoa-butter") == fats.FATS["cocoa"]
    assert points("organic palm kernel oil") == fats.FATS["palm kernel"]
    assert points("RBD palm") == fats.FATS["palm"]
    for name in ("olive", "palm olein", "fractionated coconut", "hydrogenated palm kernel", "mango butter"):
        assert fats.points_of(name) is None


def test_an_unknown_point_leaves_it_open_upwards() -> None:
    """Not known is open upwards where the fat is used, and nothing where it is not."""
    assert fats.setting_celsius([25, np.inf], [0.5, 0.1]) == np.inf
    assert np.isfinite(fats.setting_celsius([25, np.inf], [0.5, 0.0]))
    assert fats.setting_celsius([25, -np.inf], [0.5, 0.1]) == fats.setting_celsius([25], [0.5])
    assert fats.melting_celsius([60], [0.0]) == -np.inf


@given(st.data())
def test_more_hard_fat_in_place_of_oil_never_lowers_either(data: st.DataObject) -> None:
    """On generated pots: liquid oil exchanged for a hard fat never lowers setting or clear temperature."""
    parts = data.draw(st.dictionaries(st.sampled_from(HARD), st.floats(0.01, 0.3), min_size=1, max_size=3))
    more = data.draw(st.sampled_from(HARD))
    left = 1 - sum(parts.values())
    fuller = {**parts, more: parts.get(more, 0.0) + data.draw(st.floats(0, left))}
    before, after = recipe(parts), recipe(fuller)
    assert before[0] <= after[0] + 1e-9
    assert before[1] <= after[1] + 1e-9
    assert after[1] <= max(points(name).melts for name in fuller) + 1e-9


def test_more_of_the_hardest_fat_never_lowers_either() -> None:
    """The hardest fat added on top of all, the others thinned by it."""
    before = recipe({"palm": 0.3, "coconut": 0.2})
    after = recipe({"palm": 0.3 * 0.9, "coconut": 0.2 * 0.9, "palm stearin": 0.1})
    assert before[0] <= after[0]
    assert before[1] <= after[1]


def test_senseless_shares_are_refused() -> None:
    """A share above the whole, a fat colder than nothing."""
    with pytest.raises(ValueError, match="fraction of the oils"):
        fats.setting_celsius([30], [1.2])
    with pytest.raises(ValueError, match="too cold"):
        fats.melting_celsius([-300], [0.5])
