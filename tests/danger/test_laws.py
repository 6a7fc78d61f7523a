"""No change makes a dangerous plan look better: a seeded part; all by `python -m tests.danger.law`."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest

from tests.danger import law_anew
from tests.danger.harness import Case, load_cases
from tests.danger.law import before, better, laws_not_yet, main, met_cases
from tests.danger.laws import LAWS, Book, Law

PAIRS = 40
SEED = 2026
ANEW = 6
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


def test_a_dangerous_plan_scaled_or_made_again_stays_refused(tmp_path: Path) -> None:
    stopped = [case for case in random.Random(SEED).sample(met_cases(), ANEW) if before(case).stops]
    assert len(stopped) >= ANEW // 4
    for number, case in enumerate(stopped):
        amount = law_anew.AMOUNTS[number % 4]
        for way, asked in (("scaled", amount), ("again", ""), ("again", amount)):
            to = tmp_path / f"{number}-{way}-{asked}"
            assert not law_anew.WAYS[way](case, asked, to), case.name


def test_a_better_plan_written_anew_is_seen(tmp_path: Path) -> None:
    """The judge itself: a sound plan scaled is no longer stopped, and said to be so."""
    sound = replace(CASES["naoh-grams"], change=())
    assert law_anew.better_scaled(sound, "640 g", tmp_path) == "scaled to 640 g, verdict 2 became 0"


def test_laws_are_many() -> None:
    assert len(LAWS) >= 60
    assert sum(each.order == "same" for each in LAWS.values()) >= 40
