"""Every lever shown, written and checked again, is as told: generated books in both unit systems."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.api import Book
from tests.levers.doors import over_books
from tests.strangers.books import a_book


@pytest.mark.parametrize("first", [100, 104, 108])
def test_every_lever_shown_mends_what_it_says_and_breaks_nothing(first: int, tmp_path: Path) -> None:
    """Twenty plans each, one book by every door: none is left, nothing is worse, the verdict is as told."""
    score = over_books(tmp_path, range(first, first + 4), deep=[first])
    assert [] == score.wrong
    assert score.plans >= 16
    assert score.levers >= 8


def test_the_sample_holds_both_unit_systems(tmp_path: Path) -> None:
    """The books that are tried are kept in grams and in ounces."""
    masses = {
        Book(a_book(tmp_path / str(seed), seed, 1, looks=False).folder).files.usual.units.mass
        for seed in range(100, 112)
    }
    assert {"g", "oz"} == masses
