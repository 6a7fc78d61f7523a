"""Numbers as shown."""

from __future__ import annotations

import pytest

from blendwise.quantity import ShownIn
from blendwise.show.numbers import amount, counted, grams, in_units, minutes_left


def test_fractions_are_shown_in_per_cent_or_ounces_per_pound() -> None:
    """6.25 % of oils is 1 oz per lb of oils (trade arithmetic: 16 oz to the pound)."""
    assert "6.25 % of portion oils" == amount(0.0625, "% of portion oils")
    assert "1 oz ppo of portion oils" == amount(0.0625, "% of portion oils", ShownIn(rates="ppo"))


def test_a_share_of_the_bar_stays_a_per_cent_in_any_book() -> None:
    """Limits are in per cent of the finished bar, whatever the book's rates are."""
    assert "5 % of finished bar" == amount(0.05, "% of finished bar", ShownIn(rates="ppo"))


def test_mass_and_temperature_follow_the_book() -> None:
    """453.59237 g is 16 oz and 37.777… °C is 100 °F, both by definition."""
    assert "16 oz" == grams(453.59237, ShownIn(mass="oz"))
    assert "100 °F" == amount(340 / 9, "°C", ShownIn(temperature="F"))


def test_what_has_no_other_unit_stays_as_it_is() -> None:
    """Minutes are minutes in every book."""
    assert (18.0, "min") == in_units(18.0, "min", ShownIn("oz", "F", "ppo"))


@pytest.mark.parametrize(
    ("number", "text"), [(1, "one rule"), (4, "four rules"), (0, "no rules"), (13, "13 rules")]
)
def test_counts_read_as_words(number: int, text: str) -> None:
    """Small counts are words, with the plural where it belongs."""
    assert text == counted(number, "rule")


@pytest.mark.parametrize(
    ("minutes", "told"),
    [(17.67, "17"), (10.0, "10"), (9.96, "9.9"), (8.9, "8.9"), (0.0, "0"), (-3.21, "-3.3")],
)
def test_minutes_that_are_left_are_rounded_down(minutes: float, told: str) -> None:
    """A deadline is never told later than it is, nor a shortage smaller."""
    assert minutes_left(minutes) == told
