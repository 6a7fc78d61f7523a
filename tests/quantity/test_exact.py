"""Amounts times a fraction, as they were typed; pounds by the agreement of 1959."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from blendwise.quantity import Dimension, QuantityError
from blendwise.quantity.exact import exact_grams, times
from blendwise.quantity.parse import parse_amount

STEP = Fraction(1, 10)


@pytest.mark.parametrize(
    ("text", "factor", "said"),
    [
        ("5 1/16 oz", Fraction(2), "10 1/8 oz"),
        ("1/2 oz", Fraction(2), "1 oz"),
        ("1 lb 2 oz", Fraction(2), "2 lb 4 oz"),
        ("1 lb 12 oz", Fraction(3), "5 lb 4 oz"),
        ("1 lb 2 oz", Fraction(1, 2), "9 oz"),
        ("¼ lb", Fraction(2), "1/2 lb"),
        ("7.5 oz", Fraction(3), "22.5 oz"),
        ("1 kg 500 g", Fraction(2), "3 kg 0 g"),
    ],
)
def test_an_amount_stays_as_it_was_typed(text: str, factor: Fraction, said: str) -> None:
    assert exact_grams(said) == exact_grams(times(text, factor, STEP))
    if "kg" not in said:
        assert said == times(text, factor, STEP)


def test_there_and_back_is_within_half_a_step() -> None:
    """By k, then by 1/k: within half a step of the scale, whatever the unit and the factor."""
    chance = Random(7)
    for _ in range(2000):
        text = _typed(chance)
        factor = Fraction(chance.randint(1, 60), chance.randint(1, 60))
        back = times(times(text, factor, STEP), 1 / factor, STEP)
        assert abs(exact_grams(back) - exact_grams(text)) <= STEP / 2, (text, factor, back)


def test_a_batch_of_nothing_is_refused() -> None:
    with pytest.raises(QuantityError):
        times("5 g", Fraction(0), STEP)


def _typed(chance: Random) -> str:
    """A mass as a maker writes it."""
    ways = (
        f"{chance.randint(1, 5000)} g",
        f"{chance.randint(1, 99)}.{chance.randint(1, 99)} oz",
        f"{chance.randint(1, 40)} {chance.randint(1, 15)}/16 oz",
        f"{chance.randint(1, 9)} lb {chance.randint(1, 15)} oz",
        f"{chance.randint(1, 7)}/8 lb",
        f"{chance.randint(1, 9)}.{chance.randint(1, 999)} kg",
    )
    return chance.choice(ways)


@pytest.mark.parametrize("text", ["1 lb .5 oz", "1 lb 2 oz", ".5 lb", "2 lb and 3.5 oz", "5 1/16 oz"])
def test_exact_and_plain_reading_agree(text: str) -> None:
    """The exact grams of a text are those that every other field reads."""
    assert pytest.approx(parse_amount(text, Dimension.MASS).value, rel=1e-9) == float(exact_grams(text))
