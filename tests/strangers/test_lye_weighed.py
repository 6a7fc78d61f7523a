"""The lye that a sheet tells to weigh and the superfat beside it: one truth, in both units."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.api import Book
from blendwise.facts.situation.pot import need_of
from blendwise.science.lye import superfat, weighed_down
from tests.strangers.books import a_book
from tests.strangers.runs import ran

SEEDS = (0, 1, 2, 3, 4, 5, 6, 7)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_superfat_printed_times_the_lye_weighed_reproduces_the_need(seed: int, tmp_path: Path) -> None:
    """Need × (1 − superfat) and what acids eat is the pure lye that the sheet says to weigh."""
    made = a_book(tmp_path / "book", seed, plans=3, looks=False)
    book, seen = Book(made.folder), 0
    for path in made.plans:
        sheet = book.sheet(path, seconds=2)
        if sheet.pot is None:
            continue
        s, pot = book.situation(path), sheet.pot
        held = dict(zip(s.pot.oils, s.pot.held, strict=True))
        need = sum(
            (oil.grams + held[oil.what]) * need_of(book.files.oils[oil.what], "named") for oil in pot.oils
        )
        assert pot.superfat is not None
        pure = need * (1 - pot.superfat) + s.pot.acids_need
        assert pure == pytest.approx(pot.naoh.grams * pot.purity, rel=1e-9)
        seen += 1
    assert seen or not made.plans


@pytest.mark.parametrize("seed", SEEDS)
def test_lye_that_is_worked_out_is_rounded_down_to_the_scale(seed: int, tmp_path: Path) -> None:
    """Lye worked out from a superfat is weighed in whole steps, less than a step below what was asked."""
    made = a_book(tmp_path / "book", seed, plans=3, looks=False)
    book = Book(made.folder)
    step = book.files.usual.lye_scale_step.value if book.files.usual.lye_scale_step else 1.0
    for path in made.plans:
        pot = book.situation(path).pot
        if pot.weighed == pot.naoh:
            continue
        assert 0 <= pot.naoh - pot.weighed < step
        assert pot.weighed / step == pytest.approx(round(pot.weighed / step), abs=1e-6)


@pytest.mark.parametrize(("fat", "acid", "step"), [(1000, 20, 0.01), (992.233, 28.3495, 0.0283495)])
def test_five_per_cent_is_five_with_an_acid(fat: float, acid: float, step: float) -> None:
    """What citric acid eats is added in full, so that the fats keep the superfat that was asked for.

    By stoichiometry: 192.124 g of citric acid take three times 39.9971 g of sodium hydroxide.
    """
    from blendwise.science.lye import lye_for_superfat

    need, eaten = fat * 0.190 * 39.9971 / 56.1056, acid * 3 * 39.9971 / 192.124
    weighed = weighed_down(lye_for_superfat(need, 0.05, 0.98, eaten), step)
    assert float(superfat(weighed, 0.98, need, eaten)) == pytest.approx(0.05, abs=step / need)
    assert float(superfat(weighed, 0.98, need, eaten)) >= 0.05 - 1e-9


def test_the_sheet_says_what_is_on_the_scale(tmp_path: Path) -> None:
    """At the command line: 5 % asked on a scale of a gram is told as the 5.5 % that 128 g leave."""
    from tests.situations.harness import situations, written

    one = next(s for s in situations() if s.name.startswith("lye for one kilogram"))
    path = written(one, tmp_path / "book")
    page = tmp_path / "it.html"
    assert ran("sheet", path, "--out", page).code in (0, 1)
    text = " ".join(page.read_text("utf-8").split())
    assert "128" in text
    assert "superfat 5.5 %" in text
