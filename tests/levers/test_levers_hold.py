"""Every lever shown, written and checked again, is as told: generated books in both unit systems."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.api import Book
from tests.levers.doors import over_books
from tests.strangers.books import a_book
from tests.strangers.runs import ran

SAMPLES = {"by every door": (range(100, 103), [100]), "by check": (range(104, 107), [])}


@pytest.mark.parametrize("how", SAMPLES)
def test_every_lever_shown_mends_what_it_says_and_breaks_nothing(how: str, tmp_path: Path) -> None:
    """Each is gone, nothing is worse, the verdict is as told; 500 plans by `tests/long.py levers`."""
    seeds, deep = SAMPLES[how]
    score = over_books(tmp_path, seeds, deep=deep)
    assert [] == score.wrong
    assert score.plans >= 12
    assert score.levers >= 6


def test_the_sample_holds_both_unit_systems(tmp_path: Path) -> None:
    """The books that are tried are kept in grams and in ounces."""
    masses = {
        Book(a_book(tmp_path / str(seed), seed, 1, looks=False).folder).files.usual.units.mass
        for seeds, _ in SAMPLES.values()
        for seed in seeds
    }
    assert {"g", "oz"} == masses


@pytest.mark.parametrize("seed", [6, 7, 12, 18])
def test_a_lever_names_first_what_it_is_told_for(seed: int, tmp_path: Path) -> None:
    """Though a version of the plan breaks the same rule still, what was mended in this one is mended."""
    book = a_book(tmp_path / "book", seed, looks=False)
    told = [lever for plan in book.plans for lever in ran("check", plan, "--json").document.get("levers", ())]
    for lever in told:
        if lever["writable"]:
            assert lever["mends"], lever
            assert lever["mends"][0]["rule"] == lever["rule"], lever
    assert told
