"""The law of units, a sample of it; ``python tests/long.py units`` runs three hundred books."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.strangers.books import a_book
from tests.strangers.converting import broken, converted

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("seed", [2, 48, 89])
def test_a_book_in_the_other_units_has_the_same_verdicts_and_levers(tmp_path: Path, seed: int) -> None:
    """Grams, °C and per cent, or ounces, °F and ppo: a maker's units decide nothing."""
    assert [] == list(broken(a_book(tmp_path / "book", seed).plans[0]))


@pytest.mark.parametrize("plan", ["three-whites", "lake-house"])
def test_the_demo_in_ounces_is_the_demo(tmp_path: Path, plan: str) -> None:
    """So has the demo."""
    book = tmp_path / "demo"
    shutil.copytree(ROOT / "demo_catalog", book)
    shutil.rmtree(book / "notes")
    assert [] == list(broken(book / "plans" / f"{plan}.yaml"))


def test_every_amount_is_converted() -> None:
    """Masses, ranges, temperatures, sides of a mould and rates of the oils; figures of nothing are left."""
    said = "a: 5 to 7 g\nb: 33 °C\nc: 10 x 5 x 2.5 cm\nd: 2 % of batch oils\ne: 12 mg KOH/g\nf: 3 x"
    told = converted(said, american=True)
    assert "°C" not in told
    assert "b: 91.4 °F" in told
    assert "d: 0.32 oz ppo of batch oils" in told
    assert told.endswith("e: 12 mg KOH/g\nf: 3 x")
    assert 3 == told.split("\n")[2].count(" in")
