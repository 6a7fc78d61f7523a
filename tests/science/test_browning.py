"""Browning: loads, bands, casts, days, and the greatest load that keeps a lightness."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from blendwise.science import browning, colour, mixing

# Customary upper edges of the bands, fractions of portion batter (a first default by judgement).
EDGES = (0.0001, 0.0003, 0.0008, 0.002, 0.004)
loads = st.floats(0, 0.05)


def test_bands_at_their_edges() -> None:
    """A load on an edge is in the band below it, the next float up by more than rounding is above it."""
    edges = np.array(EDGES)
    assert browning.band_of(edges, EDGES).tolist() == [0, 1, 2, 3, 4]
    assert browning.band_of(edges * (1 + 1e-6), EDGES).tolist() == [1, 2, 3, 4, 5]
    assert browning.band_of([0, np.inf], EDGES).tolist() == [0, 5]


def test_rounding_at_an_edge() -> None:
    """A load over the edge by less than one part in 1e9 stands on it; by more it does not."""
    assert browning.band_of(0.002 * (1 + np.array([0.99e-9, 1.01e-9])), EDGES).tolist() == [3, 4]


@given(loads, loads)
def test_bands_rise_with_the_load(one: float, other: float) -> None:
    """A greater load is never in a lower band."""
    low, high = browning.band_of([min(one, other), max(one, other)], EDGES)
    assert low <= high


def test_limit_of_a_band_is_in_the_band() -> None:
    """The greatest load of a band is in that band; the last band has no limit."""
    limits = browning.load_limit(range(6), EDGES)
    assert browning.band_of(limits, EDGES).tolist() == [0, 1, 2, 3, 4, 5]
    assert limits[-1] == np.inf


@pytest.mark.parametrize(
    ("call", "why"), [((0.1, (0.2, 0.2)), "must rise"), ((-0.1, EDGES), "less than nothing")]
)
def test_senseless_bands_are_refused(call: tuple[float, tuple[float, ...]], why: str) -> None:
    """Edges that do not rise and loads below zero are refused."""
    with pytest.raises(ValueError, match=why):
        browning.band_of(*call)


def test_a_band_that_is_not_there_is_refused() -> None:
    """Five edges make six bands, numbered 0 to 5."""
    with pytest.raises(ValueError, match="6 bands"):
        browning.load_limit(6, EDGES)


def settled(load: float | list[float]) -> NDArray[np.float64]:
    none = mixing.Paint(np.zeros((0, 3)), np.zeros(0))
    return browning.browned_lab(mixing.colours_without_cast(np.zeros(0), none), load)


def test_each_band_has_its_colour_on_the_plain_base() -> None:
    """In the middle of each customary band the plain base takes the swatch of that band."""
    middles = [0.00005, 0.0002, 0.0005, 0.0013, 0.003, 0.006]
    assert browning.band_of(middles, EDGES).tolist() == [0, 1, 2, 3, 4, 5]
    np.testing.assert_allclose(settled(middles), colour.lab_from_hex(browning.CAST_HEXES), atol=1e-9)


@given(loads, loads)
def test_lightness_falls_as_the_load_rises(one: float, other: float) -> None:
    """A greater load is never lighter, in the swatch on the plain base."""
    low, high = sorted([one, other])
    light = settled([low, high])[:, 0]
    assert light[1] <= light[0]


def test_lightness_falls_strictly_over_the_bands() -> None:
    """Over 0 to 1 % of batter every step of load shows."""
    assert (np.diff(settled(np.linspace(0, 0.01, 200).tolist())[:, 0]) < 0).all()


def test_the_cast_ends_of_the_scale() -> None:
    """No load adds no cast; an endless one leaves no light."""
    assert browning.cast_absorption(0).tolist() == [0, 0, 0]
    np.testing.assert_allclose(settled(np.inf), [0, 0, 0], atol=1e-9)


def test_the_cast_between_two_colours_is_half_of_each() -> None:
    """Half way between two loads the absorption is their mean, and beyond the last it goes on as steeply."""
    between, one, other = browning.cast_absorption([0.00215, 0.0013, 0.003])
    np.testing.assert_allclose(between, (one + other) / 2)
    beyond, last, before = browning.cast_absorption([0.009, 0.006, 0.003])
    np.testing.assert_allclose(beyond, 2 * last - before)


def test_own_cast_by_words() -> None:
    """At its usual dose an oil's own cast gives the plain base its colour; half the dose absorbs half."""
    whole, half = browning.own_cast_absorption("pale yellow", [1.0, 0.5])
    np.testing.assert_allclose(half, whole / 2)
    base = mixing.ks_from_reflectance(mixing.linear_from_hex(mixing.BASE_HEX))
    made = colour.lab_from_linear(mixing.reflectance_from_ks(base + whole))
    assert colour.hex_from_lab(made) == "#f1e7b9"
    assert browning.own_cast_absorption("none").tolist() == [0, 0, 0]


def test_an_unknown_cast_names_the_known_ones() -> None:
    """A cast that is not in the list is refused, with the list."""
    with pytest.raises(ValueError, match="known are: none, pale yellow"):
        browning.own_cast_absorption("sparkling")


def test_day_of_judgement() -> None:
    """Day 28 to 42; with a stabiliser not before the drift has ended, day 180."""
    first, last = browning.judgement_days([False, True])
    assert first.tolist() == [28, 180]
    assert last.tolist() == [42, 180]


def random_portions(rows: int, seed: int) -> mixing.Paint:
    random = np.random.default_rng(seed)
    codes = random.uniform(0.02, 0.98, (rows, 3))
    scatter = random.choice([0.0, 1.0, 4.0], rows)
    paints = mixing.paint_of(colour.linear_from_srgb(codes), scatter)
    base = mixing.ks_from_reflectance(mixing.linear_from_hex(mixing.BASE_HEX))
    return mixing.Paint(paints.absorb + base, 1 + paints.scatter)


def looks(plain: mixing.Paint, load: NDArray[np.float64]) -> NDArray[np.float64]:
    """CIELAB (rows, k, 3) of rows of portions at k loads each."""
    return browning.browned_lab(mixing.Paint(plain.absorb[:, None], plain.scatter[:, None]), load)


def test_lightness_cap_on_4000_random_colours() -> None:
    """At the cap the lightness is what is asked, or the cap is the whole range, or nothing is safe."""
    plain = random_portions(4000, 13)
    least = np.random.default_rng(14).uniform(5, 90, 4000)
    cap = browning.load_for_lightness(plain, least, 0.02)
    light = looks(plain, np.maximum(cap, 0)[:, None])[:, 0, 0]
    at_once = looks(plain, np.zeros((4000, 1)))[:, 0, 0] < least
    np.testing.assert_array_equal(cap == -1, at_once)
    inside = (cap >= 0) & (cap < 0.02)
    np.testing.assert_allclose(light[inside], least[inside], atol=1e-6)
    assert (light[cap == 0.02] >= least[cap == 0.02]).all()


def test_no_room_means_no_load() -> None:
    """With no load to give, the cap is 0 where the colour serves and -1 where it does not."""
    plain = random_portions(1, 15)
    light = looks(plain, np.zeros((1, 1)))[0, 0, 0]
    assert browning.load_for_lightness(plain, light - 1, 0.0).tolist() == [0]
    assert browning.load_for_lightness(plain, light + 1, 0.0).tolist() == [-1]


def test_browning_never_goes_back_and_a_stabiliser_only_delays() -> None:
    """The part that shows rises, all of it by six weeks; stabilised it lags and still comes."""
    plain, held = np.array(browning.developed()), np.array(browning.developed(stabilised=True))
    assert (np.diff(plain, axis=0) >= 0).all()
    assert (np.diff(held, axis=0) >= 0).all()
    assert (held <= plain).all()
    assert plain[2].tolist() == [1.0, 1.0]
    assert held[3, 1] == 1.0


@pytest.mark.parametrize(
    ("words", "tint", "deep"),
    [
        ("deep orange", "orange", True),
        ("dark amber", "orange", True),
        ("pale yellow", "pale yellow", False),
        ("lemon yellow", "yellow", False),
        ("clear", "none", False),
        ("like nothing else", "", None),
    ],
)
def test_an_oils_own_colour_in_a_makers_words(words: str, tint: str, deep: bool | None) -> None:
    """Its tint is the colour that is said; deep ones, by common practice, show in white at a third of the
    dose."""
    assert tint == browning.own_cast_of(words)
    assert deep is browning.is_deep(words)
