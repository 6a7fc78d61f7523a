"""Amounts as text in the book's units."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.quantity import (
    Amount,
    Basis,
    Dimension,
    ShownIn,
    format_amount,
    format_number,
    format_pair,
    format_value,
    parse_amount,
)

D, B = Dimension, Basis
OUNCES = ShownIn(mass="oz", temperature="F", rates="ppo")
KINDS = [
    (D.MASS, None, 1e-3, 1e5),
    (D.VOLUME, None, 1e-3, 1e5),
    (D.LENGTH, None, 1e-3, 900.0),
    (D.TEMPERATURE, None, -90.0, 400.0),
    (D.TIME, None, 1e-3, 1e6),
    (D.FRACTION, B.PORTION_OILS, 1e-6, 0.99),
    (D.FRACTION, B.BATCH_BATTER, 1e-6, 0.99),
    (D.FRACTION, B.FINISHED_BAR, 1e-6, 0.99),
    (D.PARTS, None, 1e-3, 1e5),
    (D.NUMBER, None, 1e-3, 1e5),
]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (1100.4, "1100"),
        (12.0, "12"),
        (0.0411, "0.0411"),
        (0.04116, "0.0412"),
        (1e-9, "0.000000001"),
        (99.96, "100"),
        (float("inf"), "∞"),
        (float("nan"), "not known"),
    ],
)
def test_numbers(value: float, text: str) -> None:
    """Numbers are plain digits without exponent or padding, and never lose their whole part."""
    assert text == format_number(value)


def test_values_in_the_books_units() -> None:
    """Grams or ounces, Celsius or Fahrenheit, per cent or ounces per pound of oils, as the book has it."""
    assert format_value(28.349523125, D.MASS, OUNCES) == "1 oz"
    assert format_value(100.0, D.TEMPERATURE, OUNCES) == "212 °F"
    assert format_value(0.04, D.FRACTION, OUNCES, B.BATCH_OILS) == "0.64 oz ppo of batch oils"
    assert format_value(0.04, D.FRACTION, basis=B.PORTION_OILS) == "4 % of portion oils"
    assert format_value(0.01, D.FRACTION, OUNCES, B.FINISHED_BAR) == "1 % of finished bar"


def test_ranges_and_open_ends() -> None:
    """A range shows both its ends and its unit once; an open end says above."""
    assert (
        format_amount(parse_amount("5 to 7 %", D.FRACTION, default_basis=B.SCENT)) == "5 to 7 % of the scent"
    )
    assert format_amount(parse_amount("above 93 °C", D.TEMPERATURE, open_above=True)) == "above 93 °C"


def test_a_pair_is_told_apart() -> None:
    """A value just above its limit is never shown as equal to it."""
    assert format_pair(0.091004, 0.091, D.FRACTION, basis=B.FINISHED_BAR) == (
        "9.1004 % of finished bar",
        "9.1 % of finished bar",
    )


@given(st.floats(0.001, 1e5), st.floats(0.001, 1e5))
def test_two_different_numbers_look_different(one: float, other: float) -> None:
    """However close two numbers are, they are shown with enough digits to differ; equal ones look equal."""
    first, second = format_pair(one, other, D.MASS)
    assert (first == second) == (one == other)


@given(st.sampled_from(KINDS), st.floats(0.0, 1.0), st.sampled_from([ShownIn(), OUNCES]))
def test_what_is_shown_is_read_back(
    kind: tuple[Dimension, Basis | None, float, float], where: float, units: ShownIn
) -> None:
    """Shown with enough digits in any units, an amount is read back as itself."""
    dimension, basis, low, high = kind
    value = low + where * (high - low)
    text = format_amount(Amount(value, value, dimension, basis), units, significant=10)
    bases = frozenset() if basis is None else frozenset({basis})
    assert value == pytest.approx(parse_amount(text, dimension, bases=bases).value, rel=1e-8, abs=1e-8)


@given(st.floats(1e-6, 1e6), st.integers(1, 12))
def test_rounding_is_within_half_a_digit(value: float, digits: int) -> None:
    """A number shown with n digits is off by at most half of the last one."""
    shown = Decimal(format_number(value, digits))
    step = Decimal(10) ** (Decimal(value).adjusted() - digits + 1)
    assert abs(shown - Decimal(value)) <= min(step, Decimal(1)) / 2 * Decimal("1.000001")
