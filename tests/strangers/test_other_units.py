"""No metric word in a book of ounces and °F: one generated book (forty: ``tests/long.py own_units``)."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.quantity import METRIC, ShownIn
from blendwise.quantity.prose import DIFFERENCE, asked, theirs
from blendwise.show.numbers import amount
from tests.strangers.books import a_book
from tests.strangers.other_units import american, metric

AMERICAN = ShownIn("oz", "F", "ppo")


def test_a_book_of_ounces_hears_no_grams(tmp_path: Path) -> None:
    """Short and whole answers, symptoms, questions and pages: only what its files hold may be metric."""
    book = a_book(tmp_path / "book", 2)
    assert american(book.folder)
    assert [] == list(metric(book.plans[0], tmp_path / "page.html"))


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
    assert ("4 °C", "7.2 °F") == (amount(4, DIFFERENCE), amount(4, DIFFERENCE, AMERICAN))
    assert ("at most 4 °C", "at most 7.2 °F") == (
        asked("at most 4", DIFFERENCE, METRIC),
        asked("at most 4", DIFFERENCE, AMERICAN),
    )
    assert "at most 95 °F" == asked("at most 35 °C", "°C", AMERICAN)
