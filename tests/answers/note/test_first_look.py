"""The first note of a batch, whenever it is made, is a look of its own day; generated books."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.strangers.books import a_book
from tests.strangers.runs import ran

POURED = ("--poured", "10/10/26", "--today", "2026-12-24", "--json", "--dry-run")


def noted(folder: Path, on: str, seen: str) -> list[tuple[int, str]]:
    """Exit code and note of the first look at the first portion of generated plans."""
    told = []
    for seed in range(6):
        plan = a_book(folder / str(seed), seed, plans=1, looks=False).plans[0]
        asked = ("note", plan, *POURED, "--on", on, "--saw", f"all: {seen}", "--book", plan.parents[1])
        run = ran(*asked)
        told.append((run.code, run.out + run.err))
    return [each for each in told if "cannot be worked out" not in each[1]]


@pytest.mark.parametrize(
    ("on", "seen", "look"),
    [
        ("2026-11-21", "tan, edge soft", "week 6"),
        ("12 Oct 2026", "halo 3 mm", "at the cut"),
        ("11/28/26", "orangey tan", "week 6"),
        ("2026-12-20", "brown", "later"),
        ("2026-10-10", "ricing bad", "at the pot"),
        ("2026-10-11", "thick at 6 min", "at the pot"),
    ],
)
def test_a_first_note_is_the_look_of_its_day(tmp_path: Path, on: str, seen: str, look: str) -> None:
    """A colour six weeks after the pour is no look at the pot; minutes written down later are."""
    told = noted(tmp_path, on, seen)
    good = [text for code, text in told if code == 0]
    assert len(good) >= 3
    assert all(f'"look": "{look}"' in text for text in good)


def test_two_colours_in_one_breath_are_asked_back(tmp_path: Path) -> None:
    """ "Beige, tan" is not noted as the last of them; the same twice is one."""
    told = noted(tmp_path, "2026-11-21", "beige, tan")
    assert told
    assert all(code == 2 and "two words for the colour" in text for code, text in told)
    assert any(code == 0 for code, _ in noted(tmp_path / "same", "2026-11-21", "tan, tan"))
