"""What a fuzz of bent records found: figures of nothing, and a field that is misspelt."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.strangers.books import a_book
from tests.strangers.runs import ran


@pytest.mark.parametrize("figure", ["oils", "batter"])
@pytest.mark.parametrize("seed", [0, 2])
def test_what_was_poured_is_not_nothing(figure: str, seed: int, tmp_path: Path) -> None:
    """A note whose kept mass is 0 is refused at its line, and the book's other answers go on."""
    book = a_book(tmp_path / "book", seed)
    note = next(
        file for file in sorted((book.folder / "notes").iterdir()) if "frozen:" in file.read_text("utf-8")
    )
    text = note.read_text("utf-8")
    note.write_text(re.sub(rf"{figure}: [\d.]+ (g|oz)", rf"{figure}: 0 \1", text, count=1), "utf-8")
    run = ran("review", "--book", book.folder)
    assert run.code in (0, 1, 2)
    assert "our fault" not in run.err
    assert "what was poured of a portion" in " ".join((run.out + run.err).split())


def test_a_band_ends_above_nothing(tmp_path: Path) -> None:
    """A first band that ends at 0 % has no logarithm: the maker is told, at its line."""
    book = a_book(tmp_path / "book", 0)
    own = book.folder / "rules" / "mine" / "scales.yaml"
    own.parent.mkdir(parents=True, exist_ok=True)
    own.write_text("bands:\n  - {word: ivory, up to: 0 % of portion batter}\n", "utf-8")
    run = ran("review", "--book", book.folder)
    assert (2, "") == (run.code, run.out)
    assert "do not rise from above zero" in " ".join(run.err.split())


def test_a_field_that_is_misspelt_is_refused_though_it_says_not_known(tmp_path: Path) -> None:
    """What is not known of no field at all is a slip of the pen, and is told with the nearest."""
    book = a_book(tmp_path / "book", 0, looks=False)
    shelf = book.folder / "scents.yaml"
    text = shelf.read_text("utf-8")
    assert "allergen sheet: not known" in text
    shelf.write_text(text.replace("allergen sheet: not known", "allergen shet: not known", 1), "utf-8")
    run = ran("check", book.plans[0])
    assert (2, True) == (run.code, "allergen sheet" in run.err), run.err
