"""A plan that was poured many times is judged once, and every batch of it is told alike."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.check.compute import check_situation
from blendwise.answers.harm import PouredPast, poured_past
from blendwise.answers.review import past as rooms
from blendwise.answers.review.past import Past
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles
from blendwise.records.notes.batches import batches_of
from blendwise.records.notes.notebook import read_notebook
from tests.answers.note.thousands import big_book

ROOT = Path(__file__).resolve().parents[3]
TODAY = date(2026, 11, 25)


def test_each_plan_is_judged_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirty batches of the demo: as many judgements as plans past a harm, each answer as by itself."""
    folder = big_book(tmp_path / "book", 30)
    book = Book(folder)
    batches, _ = batches_of(read_notebook(folder), folder, TODAY)
    by_itself = [Past(book.files, TODAY, book.rulebook).of(batch) for batch in batches]
    judged: list[str] = []
    real = rooms._by_its_plan

    def once(files: BookFiles, today: date, rules: Rulebook, text: str) -> PouredPast | None:
        judged.append(text)
        return real(files, today, rules, text)

    monkeypatch.setattr(rooms, "_by_its_plan", once)
    past = Past(book.files, TODAY, book.rulebook)
    assert by_itself == [past.of(batch) for batch in batches]
    assert any(by_itself)
    assert len(judged) == len(set(judged)) < sum(each is not None for each in by_itself)


def test_the_harms_are_those_of_a_check() -> None:
    """Only rules that may stop are asked: each plan of the demo has its check's harms."""
    book, told = Book(ROOT / "demo_catalog"), 0
    for path in book.files.plan_paths():
        situation = book.situation(path, AsOf(TODAY))
        check, past = check_situation(situation, book.rulebook), poured_past(situation, book.rulebook)
        assert (past.harm if past else ()) == check.harm
        assert (past.rework if past else check.rework if not check.harm else ()) == check.rework
        told += past is not None
    assert told > 0
