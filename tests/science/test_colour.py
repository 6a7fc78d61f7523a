"""Colour spaces and CIEDE2000 against the publication and two independent libraries."""

from __future__ import annotations

import csv
import warnings
from pathlib import Path

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from blendwise.science import colour

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it complains of plotting packages that nothing here needs
    from colour.difference import delta_E_CIE2000

PAIRS = Path(__file__).parents[1] / "reference" / "ciede2000_pairs.csv"
channel = st.floats(0, 1)
srgb_colour = st.tuples(channel, channel, channel)
lab_colour = st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128))


def published_pairs() -> list[dict[str, str]]:
    with PAIRS.open(encoding="utf-8") as text:
        return list(csv.DictReader(line for line in text if not line.startswith("#")))


def lab_of(row: dict[str, str], which: str) -> list[float]:
    return [float(row[axis + which]) for axis in "Lab"]


def random_lab(count: int, seed: int) -> NDArray[np.float64]:
    return np.random.default_rng(seed).uniform([0, -120, -120], [100, 120, 120], (count, 3))


def test_all_34_pairs_are_there() -> None:
    """The list of the paper holds 34 pairs."""
    assert [str(number) for number in range(1, 35)] == [row["pair"] for row in published_pairs()]


@pytest.mark.parametrize("row", published_pairs(), ids=lambda row: f"pair {row['pair']}")
def test_published_pair(row: dict[str, str]) -> None:
    """CIEDE2000 gives the value of Sharma, Wu and Dalal (2005), table 1, to four decimals."""
    seen = float(colour.colour_difference(lab_of(row, "1"), lab_of(row, "2")))
    assert pytest.approx(float(row["dE00_expected"]), abs=5.1e-5) == seen


def test_the_branch_of_pair_14_does_not_hang_on_the_order() -> None:
    """Exactly opposite hues give the same answer whichever colour comes first."""
    one, other = (50.0, -0.0010, 2.4900), (50.0, 0.0010, -2.4900)
    assert colour.colour_difference(one, other) == colour.colour_difference(other, one)


def test_difference_agrees_with_colour_science() -> None:
    """10,000 random pairs agree with colour-science to 1e-9."""
    one, other = random_lab(10_000, 1), random_lab(10_000, 2)
    np.testing.assert_allclose(colour.colour_difference(one, other), delta_E_CIE2000(one, other), atol=1e-9)


def test_difference_agrees_with_coloraide() -> None:
    """10,000 random pairs agree with coloraide to 1e-9."""
    one, other = random_lab(10_000, 3), random_lab(10_000, 4)
    theirs = [
        Color("lab-d65", a).delta_e(Color("lab-d65", b), method="2000")
        for a, b in zip(one.tolist(), other.tolist(), strict=True)
    ]
    np.testing.assert_allclose(colour.colour_difference(one, other), theirs, atol=1e-9)


def test_close_pairs_agree_with_colour_science() -> None:
    """So do 10,000 pairs a step apart, where the differences are made for, greys included."""
    one = random_lab(10_000, 5)
    one[:2000, 1:] = 0
    other = one + np.random.default_rng(6).normal(0, 1, one.shape)
    np.testing.assert_allclose(colour.colour_difference(one, other), delta_E_CIE2000(one, other), atol=1e-9)


def test_srgb_to_lab_agrees_with_coloraide() -> None:
    """sRGB to CIELAB agrees with coloraide to 1e-9, near black included."""
    srgb = np.random.default_rng(7).uniform(0, 1, (2000, 3))
    srgb[:200] *= 0.05
    theirs = [Color("srgb", list(row)).convert("lab-d65").coords() for row in srgb]
    np.testing.assert_allclose(colour.lab_from_srgb(srgb), theirs, atol=1e-9)


def test_lab_to_srgb_agrees_with_coloraide() -> None:
    """CIELAB to sRGB agrees with coloraide to 1e-9, also outside what a screen shows."""
    lab = random_lab(2000, 8)
    theirs = [Color("lab-d65", list(row)).convert("srgb").coords() for row in lab]
    np.testing.assert_allclose(colour.srgb_from_lab(lab), theirs, atol=1e-9)


def test_xyz_agrees_with_coloraide() -> None:
    """Linear light to XYZ agrees with coloraide to 1e-12."""
    linear = np.random.default_rng(9).uniform(0, 1, (500, 3))
    theirs = [Color("srgb-linear", list(row)).convert("xyz-d65").coords() for row in linear]
    np.testing.assert_allclose(colour.xyz_from_linear(linear), theirs, atol=1e-12)


def test_white_and_black() -> None:
    """White is L* 100 without hue, black is 0."""
    np.testing.assert_allclose(
        colour.lab_from_hex(["#ffffff", "#000000"]), [[100, 0, 0], [0, 0, 0]], atol=1e-9
    )


@given(srgb_colour)
def test_there_and_back(srgb: tuple[float, float, float]) -> None:
    """Lab of sRGB, turned back, is the same sRGB."""
    np.testing.assert_allclose(colour.srgb_from_lab(colour.lab_from_srgb(srgb)), srgb, atol=1e-9)


@given(st.from_regex(r"#[0-9a-f]{6}", fullmatch=True))
def test_hex_there_and_back(code: str) -> None:
    """A hex code survives the way through CIELAB."""
    assert code == colour.hex_from_lab(colour.lab_from_hex(code))


@given(lab_colour, lab_colour)
def test_difference_is_symmetric_and_never_negative(
    one: tuple[float, float, float], other: tuple[float, float, float]
) -> None:
    """The difference is finite, not below zero, the same both ways, and none of a colour to itself."""
    there, back = colour.colour_difference(one, other), colour.colour_difference(other, one)
    assert np.isfinite(there)
    assert there >= 0
    assert pytest.approx(float(there), abs=1e-9) == float(back)
    assert colour.colour_difference(one, one) == 0


def test_arrays_broadcast() -> None:
    """One colour against a list, and a list against a list across, keep their shapes."""
    lab = random_lab(6, 10)
    assert colour.colour_difference(lab[0], lab).shape == (6,)
    assert colour.colour_difference(lab[:, None], lab[None, :4]).shape == (6, 4)


def test_lightness_gap_and_chroma() -> None:
    """The lightness gap is without sign; chroma is the distance from grey."""
    assert colour.lightness_gap((40, 1, 2), (65, 9, 9)) == 25
    assert colour.chroma_of((40, 3, -4)) == 5


@pytest.mark.parametrize("code", ["a0b1c2", "#a0b1c", "#a0b1cg", "#a0b1c2 ", ""])
def test_what_is_not_a_colour_is_refused(code: str) -> None:
    """A text that is not # and six digits is named in the refusal."""
    with pytest.raises(ValueError, match="is not a colour"):
        colour.srgb_from_hex(code)


def test_what_lies_outside_the_screen_is_clipped_in_hex() -> None:
    """A colour that no screen shows takes the nearest code channel by channel."""
    assert colour.hex_from_srgb((1.2, -0.3, 0.5)) == "#ff0080"


def test_nan_is_refused() -> None:
    """A colour that is not a number is refused by name."""
    with pytest.raises(ValueError, match="Lab must be a number"):
        colour.colour_difference((50, np.nan, 0), (50, 0, 0))
