"""No metric word in a book of ounces and °F: one generated book (forty: ``tests/long.py own_units``)."""

from __future__ import annotations

from pathlib import Path

from tests.strangers.books import a_book
from tests.strangers.other_units import american, metric


def test_a_book_of_ounces_hears_no_grams(tmp_path: Path) -> None:
    """Short and whole answers, symptoms, questions and pages: only what its files hold may be metric."""
    book = a_book(tmp_path / "book", 2)
    assert american(book.folder)
    assert [] == list(metric(book.plans[0], tmp_path / "page.html"))
