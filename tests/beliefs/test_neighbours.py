"""Brown that crept in from beside a portion is not booked on the portion's own oils: at the command line."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.strangers.books import FOUND
from tests.strangers.runs import ran


@pytest.fixture
def years(tmp_path: Path) -> Path:
    """The book of ten years: its week 6 saw a beige top with a soft edge beside a chocolate body."""
    shutil.copytree(FOUND / "ten-years" / "book", tmp_path / "book")
    return tmp_path / "book"


def bands(book: Path) -> tuple[str, str]:
    """The bands that the orange alone is believed to reach, light end first."""
    (side,) = ran("pair", "Blood Orange 5x", "--book", book, "--json").document["sides"]
    return side["bands"]["low"], side["bands"]["high"]


def test_a_soft_edge_beside_a_darker_portion_says_at_most(years: Path) -> None:
    """The same note with a clean edge teaches the portion's own oil; with a soft one hardly."""
    soft = bands(years)
    note = years / "notes" / "2026-10-17-porch-rough-week-6.yaml"
    note.write_text(
        note.read_text("utf-8").replace("edge: soft, remarks: brown 3 mm in", "edge: clean"), "utf-8"
    )
    words = ("ivory", "cream", "beige", "tan", "brown", "chocolate")
    assert words.index(soft[1]) < words.index(bands(years)[1])


def test_a_halo_noted_on_the_dark_portion_counts_as_well(years: Path) -> None:
    """Whichever side of the line the maker writes it on."""
    note = years / "notes" / "2026-10-17-porch-rough-week-6.yaml"
    text = note.read_text("utf-8").replace("edge: soft, remarks: brown 3 mm in", "edge: clean")
    note.write_text(text, "utf-8")
    clean = bands(years)
    note.write_text(text.replace("strength: strong}", "strength: strong, halo: 3 mm}"), "utf-8")
    assert bands(years) != clean
