"""Amounts inside sentences, told in the units of the book that reads them."""

from __future__ import annotations

import pytest

from blendwise.quantity import METRIC, ShownIn
from blendwise.quantity.prose import DIFFERENCE, asked, theirs

AMERICAN = ShownIn("oz", "F", "ppo")


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        ("Up to 60 °C it burns, below 23 °C more", "Up to 140 °F it burns, below 73 °F more"),
        ("batter at 27 to 38 °C, no cover", "batter at 81 to 100 °F, no cover"),
        ("start 5 to 10 °C cooler", "start 9 to 18 °F cooler"),
        ("lines wider than 4 mm", "lines wider than 0.16 in"),
        ("write `eats 0.62 g a gram`", "write `eats 0.62 g a gram`"),
        ("0.7 oz ppo, 33 %, no. 5", "0.7 oz ppo, 33 %, no. 5"),
    ],
)
def test_the_sentences_of_rules_are_told_in_the_books_units(said: str, shown: str) -> None:
    """In a metric book they stand as they are; what is to be typed stays as it is everywhere."""
    assert (said, shown) == (theirs(said, METRIC), theirs(said, AMERICAN))


def test_a_difference_of_degrees_is_no_temperature() -> None:
    """Four degrees Celsius apart are 7.2 °F, not 39."""
    assert ("at most 4 °C", "at most 7.2 °F") == (
        asked("at most 4", DIFFERENCE, METRIC),
        asked("at most 4", DIFFERENCE, AMERICAN),
    )
    assert "at most 95 °F" == asked("at most 35 °C", "°C", AMERICAN)


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        ("Up to 140 °F it burns", "Up to 60 °C it burns"),
        ("81 to 100 °F, no cover", "27 to 38 °C, no cover"),
        ("9 to 18 °F cooler", "5 to 10 °C cooler"),
        ("2 oz or 2 to 3 oz of milk", "57 g or 57 to 85 g of milk"),
        ("0.7 oz ppo, no. 5", "0.7 oz ppo, no. 5"),
    ],
)
def test_a_metric_book_hears_no_ounces(said: str, shown: str) -> None:
    """The other way about: what a maker of ounces wrote is told in grams and °C; to her as typed."""
    assert (shown, said) == (theirs(said, METRIC), theirs(said, AMERICAN))


def test_a_sentence_without_a_figure_is_left_alone() -> None:
    """Nothing to convert, nothing touched; grams and fluid ounces of one sentence each in their own unit."""
    assert "No cover." == theirs("No cover.", AMERICAN)
    assert "30 g in 50 mL" == theirs("30 g in 50 mL", METRIC)
    assert "1.1 oz in 1.7 fl oz" == theirs("30 g in 50 mL", AMERICAN)
