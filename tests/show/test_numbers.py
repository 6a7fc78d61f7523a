"""Numbers as shown."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.answers.results import Units
from blendwise.show.numbers import amount, apart, counted, digits, grams, in_units

POSITIVE = st.floats(min_value=1e-6, max_value=1e6)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.0, "0"), (5.0, "5"), (1234.6, "1235"), (0.04567, "0.0457"), (-1.25, "-1.25")],
)
def test_digits_are_few_and_never_an_exponent(value: float, text: str) -> None:
    """Three significant digits, whole digits always, no end zeros."""
    assert text == digits(value)


@given(POSITIVE, POSITIVE)
def test_two_numbers_that_differ_are_shown_differing_and_in_order(one: float, other: float) -> None:
    """A value over its limit never reads as equal to it or below it."""
    first, second = apart(one, other)
    if math.isclose(one, other, rel_tol=1e-13):
        return
    assert (one < other) == (float(first) < float(second))


@given(POSITIVE)
def test_equal_numbers_read_alike(value: float) -> None:
    """A value exactly at its limit reads as its limit."""
    first, second = apart(value, value)
    assert first == second


def test_fractions_are_shown_in_per_cent_or_ounces_per_pound() -> None:
    """6.25 % of oils is 1 oz per lb of oils (trade arithmetic: 16 oz to the pound)."""
    assert "6.25 % of portion oils" == amount(0.0625, "% of portion oils")
    assert "1 oz per lb of portion oils" == amount(0.0625, "% of portion oils", Units(rates="ppo"))


def test_a_share_of_the_bar_stays_a_per_cent_in_any_book() -> None:
    """Limits are in per cent of the finished bar, whatever the book's rates are."""
    assert "5 % of finished bar" == amount(0.05, "% of finished bar", Units(rates="ppo"))


def test_mass_and_temperature_follow_the_book() -> None:
    """453.59237 g is 16 oz and 37.777… °C is 100 °F, both by definition."""
    assert "16 oz" == grams(453.59237, Units(mass="oz"))
    assert "100 °F" == amount(340 / 9, "°C", Units(temperature="F"))


def test_what_has_no_other_unit_stays_as_it_is() -> None:
    """Minutes are minutes in every book."""
    assert (18.0, "min") == in_units(18.0, "min", Units("oz", "F", "ppo"))


@pytest.mark.parametrize(
    ("number", "text"), [(1, "one rule"), (4, "four rules"), (0, "no rules"), (13, "13 rules")]
)
def test_counts_read_as_words(number: int, text: str) -> None:
    """Small counts are words, with the plural where it belongs."""
    assert text == counted(number, "rule")
