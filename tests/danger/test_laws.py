"""No change makes a dangerous plan look better: a seeded part; all by `python -m tests.danger.law`."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.danger.harness import Case, load_cases
from tests.danger.law import better, laws_not_yet, main
from tests.danger.laws import LAWS, Book, Law

PAIRS = 60
SEED = 2026
CASES = {case.name: case for case in load_cases()}


def test_no_verdict_gets_better(capsys: pytest.CaptureFixture[str]) -> None:
    held = main(PAIRS, SEED)
    said = capsys.readouterr().out
    assert held, said
    assert said.startswith(f"{PAIRS} pairs")


@pytest.mark.parametrize(("name", "case"), sorted(laws_not_yet().items()))
def test_what_does_not_hold_yet_still_does_not(name: str, case: str, tmp_path: Path) -> None:
    assert better(CASES[case], LAWS[name], tmp_path), f"{name} holds now: take it off laws_not_yet.txt"


def _less_lye(book: Book) -> bool:
    return book.text("plan", lambda text: text.replace("152 g", "140 g"))


def _less_lye_written(case: Case) -> Law:
    assert "152 g" in repr(case.change)
    return Law("less lye", "same", False, _less_lye)


def test_a_mended_plan_is_seen_to_be_better(tmp_path: Path) -> None:
    """The judge of the pairs itself can say that a verdict got better."""
    case = CASES["naoh-grams"]
    assert better(case, _less_lye_written(case), tmp_path) == "verdict 2 became 0"


def test_laws_are_many() -> None:
    assert len(LAWS) >= 60
    assert sum(each.order == "same" for each in LAWS.values()) >= 40
