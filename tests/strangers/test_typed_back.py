"""What is printed can be typed back: a sample of books, two in ounces (more: ``tests/long.py typed``)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.strangers.books import a_book, found
from tests.strangers.runs import ran
from tests.strangers.typed_back import AMOUNT, answers, apart_in_a_mix, on_the_sheet, otherwise, unread


@pytest.mark.parametrize("seed", [3, 6])
def test_every_printed_amount_is_read_back_as_itself(tmp_path: Path, seed: int) -> None:
    """Masses, rates, degrees, lengths, volumes and times, of seven commands and the sheet."""
    said = [text for _, text in answers(a_book(tmp_path / "book", seed).plans[0])]
    assert sum(len(AMOUNT.findall(text)) for text in said) > 100
    assert [] == [each for text in said for each in unread(text)]


def test_a_door_that_misreads_is_seen() -> None:
    """The law itself: a unit that no door knows, and one that is another amount, stand out."""
    assert [] == list(unread("5.25 oz, 91 to 95 °F, 3 % of portion oils, 0.64 oz ppo of batch oils"))
    assert 1 == len(list(unread("5 % of batch oils to 3 in, 40 to 10 g")))


@pytest.mark.parametrize("seed", [6, 14, 15])
def test_the_printed_doses_are_the_plan(tmp_path: Path, seed: int) -> None:
    """A split's doses as they are printed, typed into the plan, leave every verdict as it was."""
    plan = a_book(tmp_path / "book", seed).plans[0]
    assert [] == list(otherwise(plan))
    assert plan.with_name("typed again.yaml").exists()


def test_the_sellers_printed_doses_are_the_plan(tmp_path: Path) -> None:
    """In a stranger's book of ounces too."""
    plans = {path.stem: path for path in found("seller", tmp_path / "book").plans}
    assert [] == list(otherwise(plans["mini"]))
    assert plans["mini"].with_name("typed again.yaml").exists()


@pytest.mark.parametrize("seed", [6, 19])
def test_the_parts_of_a_premix_are_its_doses(tmp_path: Path, seed: int) -> None:
    """On the sheet of a written split each part of a premix is a whole step, in the ratio of the doses."""
    plan = a_book(tmp_path / "book", seed).plans[0]
    written = plan.with_name("written.yaml")
    assert ran("assign", plan, "--write", written, "--seconds", "5").code in (0, 1)
    assert len(AMOUNT.findall(on_the_sheet(written))) > 20
    assert [] == [*apart_in_a_mix(written), *unread(on_the_sheet(written))]
