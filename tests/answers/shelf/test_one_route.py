"""The shelf's columns say what a plan in memory says, on pairs of generated books."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from blendwise.answers.pair.question import ask
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blends import Blends
from blendwise.api import Book
from tests.strangers.books import a_book
from tests.strangers.pairs import ON, differences, in_memory, unlike


@pytest.mark.parametrize("seed", range(12))
def test_the_shelf_says_of_a_pair_what_a_plan_says(tmp_path: Path, seed: int) -> None:
    """Five pairs of a generated book, every measure; ``python tests/long.py pairs`` asks a thousand."""
    assert [] == list(differences(tmp_path / "book", seed, 5))


def test_another_plan_is_told_field_by_field(tmp_path: Path) -> None:
    """The comparison sees a difference: a pair at another ratio has other doses, and so other shares."""
    book = Book(a_book(tmp_path / "book", 1, plans=1, looks=False).folder)
    names = list(book.files.scents)[:2]
    shelf = Shelf(ask(book.files, names[:1], today=ON.today))
    many = Blends(shelf, np.array([[shelf.place[name] for name in names]]), np.array([[0.4, 0.6]]))
    assert [] == list(unlike(many, in_memory(book, shelf.base, names, (0.4, 0.6))))
    told = {each.partition(":")[0] for each in unlike(many, in_memory(book, shelf.base, names, (0.6, 0.4)))}
    assert {"blend share", "share in bar", "dose in grams"} <= told
