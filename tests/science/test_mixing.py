"""Kubelka and Munk: identities, colourants at their noted rates, and the trade's rules of mixing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from blendwise.science import browning, colour, mixing
from blendwise.science.checks import Floats
from blendwise.science.colour_words import colour_words

NOTHING = mixing.Paint(np.zeros((0, 3)), np.zeros(0))
hex_code = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)
covering = st.sampled_from(["clear", "half", "opaque"])


def soap_colour(
    rates: ArrayLike,
    paints: mixing.Paint,
    cast: ArrayLike = 0.0,
    base: ArrayLike | None = None,
    base_scatter: float = 1.0,
) -> Floats:
    """Linear sRGB of a portion mixed and cast, by the two steps that run."""
    return mixing.soap_colour(mixing.colours_without_cast(rates, paints, base, base_scatter), cast)


def soap_lab(
    rates: ArrayLike, paints: mixing.Paint, cast: ArrayLike = 0.0, *, base_scatter: float = 1.0
) -> Floats:
    """The same in CIELAB."""
    return colour.lab_from_linear(soap_colour(rates, paints, cast, None, base_scatter))


def paint(code: str, covers: str) -> mixing.Paint:
    return mixing.paint_of(mixing.linear_from_hex([code]), [mixing.COVERS_SCATTER[covers]])


def hex_of(rate: float, pigment: mixing.Paint, **more: float) -> str:
    return colour.hex_from_lab(soap_lab([rate], pigment, **more))


@given(st.floats(2e-4, 0.9998))
def test_reflectance_there_and_back(r: float) -> None:
    """R to K/S to R is R."""
    assert pytest.approx(r, rel=1e-9) == float(mixing.reflectance_from_ks(mixing.ks_from_reflectance(r)))


def test_worked_values_of_the_law() -> None:
    """R = 0.5 has K/S 0.25; K/S = 1.5 has R = 0.25·(10 - sqrt(84)), worked by hand."""
    assert mixing.ks_from_reflectance(0.5) == 0.25
    assert pytest.approx(2.5 - 5.25**0.5, abs=1e-12) == float(mixing.reflectance_from_ks(1.5))


def test_the_ends_of_reflectance_are_finite() -> None:
    """Black counts as R = 0.0001 and white as R = 0.9999: K/S = 4999.00005 and 5.0005e-9."""
    assert pytest.approx(4999.00005, rel=1e-9) == float(mixing.ks_from_reflectance(0.0))
    assert pytest.approx(5.00050005e-9, rel=1e-6) == float(mixing.ks_from_reflectance(1.0))


def test_what_absorbs_endlessly_is_black() -> None:
    """Infinite K/S reflects nothing, none reflects everything."""
    np.testing.assert_array_equal(mixing.reflectance_from_ks([np.inf, 0.0]), [0.0, 1.0])


def test_tint_of_nothing_is_the_base() -> None:
    """No colourant, or one at rate 0, leaves the base as it is."""
    base = colour.lab_from_hex(mixing.BASE_HEX)
    np.testing.assert_allclose(soap_lab(np.zeros(0), NOTHING), base, atol=1e-9)
    np.testing.assert_allclose(soap_lab([0.0], paint("#3a6ea8", "half")), base, atol=1e-9)


@given(hex_code, st.sampled_from(["clear", "half"]))
def test_noted_rate_gives_noted_colour(code: str, covers: str) -> None:
    """At the rate it was noted at, a colourant darker than the base gives the colour noted."""
    base = colour.srgb_from_hex(mixing.BASE_HEX)
    darker = np.minimum(colour.srgb_from_hex(code), base)
    made = soap_colour(
        [1.0], mixing.paint_of(colour.linear_from_srgb([darker]), [mixing.COVERS_SCATTER[covers]])
    )
    np.testing.assert_allclose(made, np.maximum(colour.linear_from_srgb(darker), mixing.DARKEST), atol=1e-9)


def test_a_white_paler_than_the_base_gives_its_colour_too() -> None:
    """A white lighter than the base is explained by scattering, and reached."""
    assert hex_of(1.0, paint("#f8f6f0", "clear")) == "#f8f6f0"


def test_a_white_paler_than_soap_is_not_reached() -> None:
    """A white noted as #ffffff scatters four times the base at most, so that it does not hide browning."""
    white = paint("#ffffff", "half")
    assert white.scatter.tolist() == [4.0]
    assert hex_of(1.0, white) == "#faf8f1"


def test_scattering_by_covers() -> None:
    """Clear adds no scattering, half as much as the base, opaque four times; the absorption follows by
    K = K/S(colour)·(1 + s) - K/S(base)."""
    half_grey = [[0.5, 0.5, 0.5]]
    base = [0.8, 0.8, 0.8]  # K/S = 0.04 / 1.6 = 0.025
    for covers, scatter, absorb in (("clear", 0.0, 0.225), ("half", 1.0, 0.475), ("opaque", 4.0, 1.225)):
        pigment = mixing.paint_of(half_grey, [mixing.COVERS_SCATTER[covers]], base)
        assert pigment.scatter.tolist() == [scatter]
        np.testing.assert_allclose(pigment.absorb, [[absorb] * 3], atol=1e-12)


def test_two_colourants_and_a_cast_worked_by_hand() -> None:
    """K and S add up: K/S = (0.025 + 0.5·0.475 + 2·0.225 + 0.3)/(0.7 + 0.5·1) = 0.84375."""
    base = [0.8, 0.8, 0.8]
    pigments = mixing.paint_of([[0.5] * 3, [0.5] * 3], [1.0, 0.0], base)
    made = soap_colour([0.5, 2.0], pigments, [0.3] * 3, base, 0.7)
    np.testing.assert_allclose(made, mixing.reflectance_from_ks([0.84375] * 3), atol=1e-12)


def test_cast_turns_the_plain_base_into_its_colour() -> None:
    """The absorption of a cast turns the plain base into the cast's colour, where it darkens it."""
    tan = mixing.linear_from_hex("#c49b68")
    np.testing.assert_allclose(soap_colour([0.0], paint("#3a6ea8", "half"), mixing.absorption_of(tan)), tan)


def test_a_cast_takes_nothing_away() -> None:
    """A channel in which the cast is paler than the base is left alone."""
    assert mixing.absorption_of(mixing.linear_from_hex("#ffffff")).tolist() == [0, 0, 0]


@given(hex_code, covering, st.floats(0, 4), st.floats(0, 0.02), st.floats(0, 0.02))
def test_more_brown_is_never_lighter(code: str, covers: str, rate: float, load: float, more: float) -> None:
    """Lightness falls, or stays, as the browning load rises, whatever the pigment."""
    pigment = paint(code, covers)
    loads = browning.cast_absorption([load, load + more])
    light = soap_lab([rate], pigment, loads)[:, 0]
    assert light[1] <= light[0] + 1e-9


@given(hex_code, covering)
def test_more_of_a_colourant_goes_one_way(code: str, covers: str) -> None:
    """Each channel moves in one direction as the rate rises."""
    made = soap_colour(np.linspace(0, 5, 40)[:, None], paint(code, covers))
    steps = np.diff(made, axis=0)
    assert ((steps >= -1e-12).all(axis=0) | (steps <= 1e-12).all(axis=0)).all()
    assert ((made >= 0) & (made <= 1)).all()


def test_white_covers_browning_and_does_not_stop_it() -> None:
    """White lightens a brown portion and leaves it darker than white without brown."""
    brown = browning.cast_absorption(0.003)
    bare = soap_lab([0.0], paint("#f8f5ec", "opaque"), brown)[0]
    whitened = soap_lab([1.0], paint("#f8f5ec", "opaque"), brown)[0]
    clean = soap_lab([1.0], paint("#f8f5ec", "opaque"))[0]
    assert bare + 15 < whitened < clean - 15


def test_states_of_the_soap() -> None:
    """Scattering of the base is 1 cured, 0.7 after gel, 0.6 as fresh batter."""
    assert mixing.STATE_SCATTER == {"cured without gel": 1.0, "cured after gel": 0.7, "fresh batter": 0.6}


def test_gel_deepens_and_fresh_batter_is_yellower() -> None:
    """Common practice: gelled soap is darker and more saturated; wet batter is darker and yellower."""
    blue = paint("#7fa6cc", "clear")
    cured, gelled, fresh = (soap_lab([1.0], blue, base_scatter=s) for s in mixing.STATE_SCATTER.values())
    assert gelled[0] < cured[0]
    assert colour.chroma_of(gelled) > colour.chroma_of(cured)
    plain = [soap_lab(np.zeros(0), NOTHING, base_scatter=s) for s in mixing.STATE_SCATTER.values()]
    assert fresh[0] < cured[0]
    assert plain[2][2] > plain[0][2]


def test_colours_without_cast_are_what_a_cast_is_added_to() -> None:
    """The portion's own K and S, with a cast put on top, give what mixing gives at once."""
    pigment, cast = paint("#6f4a8c", "half"), browning.cast_absorption(0.001)
    own = mixing.colours_without_cast([0.8], pigment)
    np.testing.assert_allclose(
        mixing.reflectance_from_ks((own.absorb + cast) / own.scatter),
        soap_colour([0.8], pigment, cast),
    )


YELLOW, TAN, BROWN = "yellow", 0.0016, 0.0035  # an oil's own cast; loads well inside the tan and brown bands
# Common practice, first-order rules of mixing: planned colour, how it covers, what the casts make of it.
TRADE = {
    "white": ("#f8f5ec", "opaque", {"ivory", "cream"}, {"beige"}, {"caramel", "brown", "tan"}),
    "pale blue": ("#b9d3e6", "half", {"sea green"}, {"grey-green", "khaki"}, {"olive", "brown", "taupe"}),
    "strong blue": (
        "#2f62a3",
        "clear",
        {"teal", "dark teal", "slate"},
        {"slate", "dark teal"},
        {"dark green"},
    ),
    "purple": (
        "#86629c",
        "clear",
        {"mauve", "plum", "mauve-brown"},
        {"mauve-brown", "plum"},
        {"brown", "chocolate"},
    ),
    "pink": ("#edb6c2", "half", {"peach"}, {"salmon", "dusty rose", "tan"}, {"brown"}),
    "red": ("#b5302e", "clear", {"red"}, {"brick"}, {"oxblood", "dark red"}),
    "orange": ("#e27a30", "clear", {"amber", "orange"}, {"burnt orange"}, {"rust", "brown"}),
    "yellow": ("#f2d54a", "clear", {"golden", "yellow"}, {"mustard", "caramel"}, {"brown"}),
    "green": ("#4f9255", "clear", {"yellow-green", "green"}, {"olive green"}, {"dark olive"}),
    "black": ("#1d1c1b", "opaque", {"black"}, {"black"}, {"black"}),
    "dark brown": ("#4d2e1e", "half", {"chocolate"}, {"chocolate"}, {"chocolate"}),
    "grey": ("#909090", "half", {"warm grey"}, {"taupe"}, {"brown"}),
}


@pytest.mark.parametrize("planned", TRADE)
def test_the_trade_rules_of_mixing(planned: str) -> None:
    """White and tan make beige, blue and yellow teal, and so on: the words makers use for what comes out."""
    code, covers, *wanted = TRADE[planned]
    casts = (
        browning.own_cast_absorption(YELLOW),
        browning.cast_absorption(TAN),
        browning.cast_absorption(BROWN),
    )
    for cast, words in zip(casts, wanted, strict=True):
        assert colour_words(soap_lab([1.0], paint(code, covers), cast)[None, :])[0] in words


@pytest.mark.parametrize(
    ("rates", "cast", "scatter", "why"),
    [
        ([-0.1], 0.0, 1.0, "colourant rate must be at least 0"),
        ([0.1], -1.0, 1.0, "takes no colour away"),
        ([0.1], 0.0, 0.0, "not opaque at all"),
    ],
)
def test_senseless_mixtures_are_refused(rates: list[float], cast: float, scatter: float, why: str) -> None:
    """A rate below zero, a cast below zero and a base that scatters nothing are refused with the reason."""
    with pytest.raises(ValueError, match=why):
        soap_colour(rates, paint("#3a6ea8", "half"), cast, None, scatter)


def test_negative_absorption_is_refused() -> None:
    """K/S below zero is refused."""
    with pytest.raises(ValueError, match="nothing absorbs less than nothing"):
        mixing.reflectance_from_ks(-0.1)
