"""Fade: published figures behind the classes, and the order that makers report."""

from __future__ import annotations

from collections.abc import Callable

import chemicals
import numpy as np
import pytest
from chemicals import vapor_pressure
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science import fade
from blendwise.science.constituents import known
from blendwise.science.tables import read_table

Rows = list[dict[str, str]]
ROOM_KELVIN = 298.15


def test_vapour_pressures_of_landolt() -> None:
    """Each pressure named LANDOLT is exp(A − B / (T + C)) at 298.15 K with that collection's constants."""
    table = vapor_pressure.Psat_data_Landolt_Antoine
    rows = [r for r in read_table("volatility") if r["vapour_pressure_source"] == "LANDOLT"]
    assert len(rows) >= 6
    for r in rows:
        fit = table.loc[r["cas"]]
        expected = np.exp(fit["A"] - fit["B"] / (ROOM_KELVIN + fit["C"]))
        assert float(r["vapour_pressure_pa"]) == pytest.approx(expected, rel=0.005), r["substance"]


def test_vapour_pressures_of_poling() -> None:
    """p-Cymene by the Antoine constants of Poling is 196 Pa at 298.15 K."""
    fit = vapor_pressure.Psat_data_AntoinePoling.loc["99-87-6"]
    found = fade.volatility_of("p-cymene")
    assert found is not None
    assert found.pressure == pytest.approx(10 ** (fit["A"] - fit["B"] / (ROOM_KELVIN + fit["C"])), rel=0.005)


def test_molar_masses_and_boiling_points() -> None:
    """Molar masses and boiling points are those of the chemicals library, from the data set that is named."""
    rows = read_table("volatility")
    assert len(rows) == 46
    for r in rows:
        assert float(r["molar_mass"]) == pytest.approx(chemicals.MW(r["cas"]), abs=0.002), r["substance"]
        if r["boiling_point_k"]:
            method = r["boiling_point_source"]
            assert float(r["boiling_point_k"]) == pytest.approx(
                chemicals.Tb(r["cas"], method=method), abs=0.01
            )


def test_the_table_is_what_was_read(published: Callable[..., Rows]) -> None:
    """No figure is in the table but those that were read."""
    read = {r["cas"]: r for r in published("scent_materials_physical", "seen")}
    for r in read_table("volatility"):
        assert r["vapour_pressure_pa"] == read[r["cas"]]["vapour_pressure_298k_pa"]
        assert r["boiling_point_k"] == read[r["cas"]]["boiling_point_k"]


def test_both_scales_agree() -> None:
    """Every material with both figures falls into one class by either, so the boiling point may stand in."""
    both = [v for v in fade.volatilities() if v.pressure is not None and v.boiling is not None]
    assert len(both) >= 25
    by_pressure = fade.class_by_pressure([v.pressure or 0.0 for v in both])
    by_boiling = fade.class_by_boiling([v.boiling or 0.0 for v in both])
    apart = [v.substance for v, p, b in zip(both, by_pressure, by_boiling, strict=True) if p != b]
    assert apart == []


def test_citrus_herb_spice_root() -> None:
    """Citrus fades before herbs, herbs before spice, spice before roots and woods (makers' common report)."""
    order = [["limonene", "alpha-pinene", "myrcene"], ["linalool", "linalyl acetate", "menthol", "carvone"]]
    order += [["eugenol", "cinnamal", "anethole"], ["cedrol", "benzyl salicylate", "vanillin"]]
    assert [[fade.class_of(name) for name in family] for family in order] == [
        [0] * 3,
        [1] * 4,
        [2] * 3,
        [3] * 3,
    ]


@pytest.mark.parametrize(
    ("oil", "expected"),
    [
        ("sweet orange (expressed)", "fleeting"),
        ("lemon (expressed)", "fleeting"),
        ("eucalyptus (globulus, rectified)", "fleeting"),
        ("lavender", "moderate"),
        ("clove leaf", "lasting"),
    ],
)
def test_oils_by_their_published_constituents(
    oil: str, expected: str, published: Callable[..., Rows]
) -> None:
    """An oil takes the class of most of it, at the middles of the published ranges that were read."""
    rows = [r for r in published("essential_oil_composition", "seen") if r["oil"] == oil]
    middles = np.array([(float(r["min_pct"]) + float(r["max_pct"])) / 200 for r in rows])
    found = fade.main_class([r["constituent"] for r in rows], middles)
    assert found is not None
    assert fade.CLASSES[found] == expected


def test_what_is_not_known_is_told() -> None:
    """Constituents without figures, and what the sheet leaves out, count as not known, not as lasting."""
    shares, unknown = fade.class_shares(["limonene", "patchoulol"], [0.2, 0.3])
    assert shares == pytest.approx([0.2, 0, 0, 0])
    assert unknown == pytest.approx(0.8)
    assert fade.main_class(["limonene", "patchoulol"], [0.2, 0.3]) is None
    assert fade.main_class([], []) is None
    assert fade.class_of("patchoulol") is None
    assert fade.volatility_of("nobody's musk") is None


def test_boundaries_of_the_classes() -> None:
    """The next class begins at its figure, not just before it."""
    assert fade.class_by_pressure([50.01, 50.0, 4.01, 4.0, 0.101, 0.1]).tolist() == [0, 1, 1, 2, 2, 3]
    assert fade.class_by_boiling([461.9, 462.0, 508.4, 508.5, 544.9, 545.0]).tolist() == [0, 1, 1, 2, 2, 3]


def test_an_extrapolated_fit_says_so() -> None:
    """Geraniol's fit does not reach down to room temperature, limonene's does."""
    within = [v.kept_within for v in map(fade.volatility_of, ("limonene", "geraniol")) if v]
    assert within == [True, False]


@given(st.floats(1e-4, 1e4), st.floats(1e-4, 1e4))
def test_less_pressure_lasts_longer(one: float, other: float) -> None:
    """A lower vapour pressure is never in a more volatile class."""
    low, high = fade.class_by_pressure(sorted([one, other]))
    assert low >= high


def test_senseless_figures_are_refused() -> None:
    """A pressure of zero, no number, or contents of over 100 % are refused by name."""
    with pytest.raises(ValueError, match="vapour pressure must be above 0"):
        fade.class_by_pressure(0.0)
    with pytest.raises(ValueError, match="boiling point must be a number"):
        fade.class_by_boiling(np.nan)
    with pytest.raises(ValueError, match="come to more than 100 %"):
        fade.class_shares(["limonene", "linalool"], [0.6, 0.5])


def test_what_is_left_of_a_blend_lies_between_its_ends() -> None:
    """Over random blends every true ratio after cure lies between the two ends; certain figures make one."""
    rng = np.random.default_rng(3)
    for _ in range(200):
        shares = rng.dirichlet(np.ones(4))
        least = rng.uniform(0.01, 0.6, 4)
        most = np.minimum(least + rng.uniform(0, 0.4, 4), 1.0)
        low, high = fade.after_cure(shares, least, most)
        left = shares * rng.uniform(least, most)
        true = left / left.sum()
        assert (low <= true + 1e-12).all()
        assert (true <= high + 1e-12).all()
        one, other = fade.after_cure(shares, least, least)
        assert one == pytest.approx(other)
        assert one.sum() == pytest.approx(1.0)


def test_lye_breaks_esters_and_aldehydes() -> None:
    """Linalyl acetate and citral go in lye, linalool, limonene, benzyl benzoate hold (from memory)."""
    sorts = {row.name.casefold(): row.kind for row in map(known, NAMED) if row is not None}
    broken = {name for name, kind in sorts.items() if fade.breaks_in_lye(name, kind)}
    assert broken == {"linalyl acetate", "citral"}


NAMED = ("Linalyl acetate", "Citral", "Linalool", "Limonene", "Benzyl Benzoate")


WITH_PRESSURE = [row["substance"] for row in read_table("volatility") if row["vapour_pressure_pa"]]


@pytest.mark.parametrize("name", WITH_PRESSURE)
def test_an_extrapolated_pressure_never_makes_a_class_by_itself(name: str) -> None:
    """Where a fit is carried beyond its range, every pressure within its doubt is of the class told, or the
    boiling point says the same."""
    one = fade.volatility_of(name)
    if one is None or one.kept_within:
        return
    told = fade.class_of(name)
    ends = {int(fade.class_by_pressure(end)) for end in fade.pressure_ends(one)}
    boils = None if one.boiling is None else int(fade.class_by_boiling(one.boiling))
    assert told is None or ends == {told} or told == boils


def test_measured_pressures_beside_ours() -> None:
    """Linalyl acetate was measured at 12.2 ± 0.2 Pa at 298.15 K; ours is +22 %, within its own doubt.

    Source: Kozlovskiy, Gobble, Chickos, J. Chem. Thermodyn. 86 (2015) 65, abstract read.
    """
    ours = fade.volatility_of("linalyl acetate")
    assert ours is not None
    assert ours.pressure is not None
    low, high = fade.pressure_ends(ours)
    assert low <= 12.2 - 0.2
    assert 12.2 + 0.2 <= high
    assert ours.pressure / 12.2 - 1 == pytest.approx(0.22, abs=0.01)


@pytest.mark.parametrize(("pressure", "boiling"), [(4.5, 492.7), (0.020, 574.8)])
def test_both_scales_agree_on_what_was_measured(pressure: float, boiling: float) -> None:
    """DL-menthol and α-bisabolol, which the table lacks as pressures: one class by both published figures.

    Source: Keating, Harris, Chickos, J. Chem. Thermodyn. 107 (2017) 18, abstract read (4.5 ± 0.44 and
    0.020 ± 0.003 Pa at 298.15 K; 492.7 and 574.8 K).
    """
    assert fade.class_by_pressure(pressure) == fade.class_by_boiling(boiling)
    assert fade.class_by_boiling(492.7) == fade.class_of("menthol")
