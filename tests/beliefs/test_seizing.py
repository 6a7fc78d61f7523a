"""That an oil seizes is a gate: seen within a minute or written, never worked out from slower minutes."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.beliefs.believe import believed
from blendwise.beliefs.traits import USUAL_BATTER_TO_OILS, USUAL_DOSE, Traits, traits_of
from blendwise.records.as_of import AsOf
from tests.strangers.books import FOUND, a_book
from tests.strangers.runs import ran

ON = AsOf(date(2026, 12, 1))


def traits(folder: Path) -> dict[str, Traits]:
    """What is believed of each oil of a book."""
    book = Book(folder)
    believing, scales = book.believing(ON), book.files.scales
    args = USUAL_DOSE, USUAL_BATTER_TO_OILS
    return {
        name: believed(traits_of(scent, scales, *args), scent, believing.of(name), scales, *args, False)
        for name, scent in book.files.scents.items()
    }


@pytest.fixture
def seller(tmp_path: Path) -> Path:
    """The seller's book, with what she saw at the pot taken away."""
    book = tmp_path / "book"
    shutil.copytree(FOUND / "seller" / "book", book)
    for note in (book / "notes").glob("*-cut.yaml"):
        note.unlink()
    return book


@pytest.mark.parametrize(("seen", "seizes"), [("5 min", "no"), ("2 min", "no"), ("1 min", "yes")])
def test_only_what_was_solid_within_a_minute_seizes(seller: Path, seen: str, seizes: str) -> None:
    """A cup that was thick in five minutes is fast, though the batter alone had half an hour."""
    (note,) = (seller / "notes").glob("*-pot.yaml")
    text = note.read_text("utf-8")
    others = "".join(f"\n  {cup}: {{minutes to thick: {seen}}}" for cup in ("orange", "brown", "black"))
    changed = text.replace("cream: {minutes to thick: 5 min}", f"cream: {{minutes to thick: {seen}}}{others}")
    note.write_text(changed, "utf-8")
    quick = traits(seller)["Tonka & Honey"]
    assert (seizes, "seizes" if seizes == "yes" else "fast") == (quick.seizes, quick.speed_word)
    told = " ".join(ran("pair", "Tonka & Honey", "--book", seller, "--today", "2026-12-01").out.split())
    assert ("seizes" in told) == (seizes == "yes")


@pytest.mark.parametrize("seed", range(6))
def test_word_and_gate_say_the_same(seed: int, tmp_path: Path) -> None:
    """Whatever was noted: an oil is called seizing exactly where it is held to seize."""
    a_book(tmp_path / "book", seed)
    for name, each in traits(tmp_path / "book").items():
        assert (each.seizes == "yes") == (each.speed_word == "seizes"), name
