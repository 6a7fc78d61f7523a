"""A book takes a plan in memory, as text or as a record, and says of it what it says of the file."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from blendwise.answers.refusals import NotAskable
from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.records.book import load_plan
from blendwise.records.kinds.plan import Plan
from blendwise.records.place import RecordError
from tests.strangers.books import TODAY, a_book

SEEDS = (1, 2, 5)
ON = AsOf(date.fromisoformat(TODAY))


def of_books(folder: Path) -> list[tuple[Book, Path]]:
    """A plan of each of some generated books that can be worked out."""
    found = []
    for seed in SEEDS:
        made = a_book(folder / str(seed), seed, plans=2, looks=False)
        found += [(Book(made.folder), path) for path in made.plans]
    return found


def said(book: Book, plan: str | Path | Plan) -> object:
    """What ``check`` answers, without the name of the file; or the messages with which it refuses."""
    try:
        answer = book.check(plan, on=ON)
    except RecordError as error:
        return [fault.message for fault in error.faults]
    findings = [(f.rule, f.subject, f.status, f.value, f.low, f.high) for f in answer.findings]
    return findings, answer.grams


def test_path_text_and_record_are_one_plan(tmp_path: Path) -> None:
    """Of generated books: the file, its text and its record are judged alike."""
    judged = 0
    for book, path in of_books(tmp_path):
        by_path = said(book, path)
        assert by_path == said(book, path.read_text("utf-8")), path
        if isinstance(by_path, tuple):
            assert by_path == said(book, load_plan(path, book.files)), path
            judged += 1
    assert judged >= 4


def test_a_changed_record_counts_as_it_stands(tmp_path: Path) -> None:
    """A record that was changed after reading is judged changed, and parts with the text it no longer has."""
    book, path = of_books(tmp_path)[0]
    plan = load_plan(path, book.files)
    bare = plan.model_copy(
        update={"plan": "bare", "scents": None, "doses": {}, "variations": {}, "never": [], "only": []}
    )
    s = book.situation(bare, ON)
    assert s.x.sum() == 0
    assert s.plan.doc is None
    assert plan.doc is not None
    with pytest.raises(NotAskable, match="no text"):
        book.assign(bare, on=ON, oils="900 g")


def test_faults_of_a_text_name_it_and_their_line(tmp_path: Path) -> None:
    """A name that the book does not have is refused at its line, as in a file."""
    book, path = of_books(tmp_path)[0]
    lines = path.read_text("utf-8").splitlines()
    at = next(n for n, line in enumerate(lines) if line.startswith("pour:"))
    lines[at] = "pour: pour of nobody"
    with pytest.raises(RecordError) as caught:
        book.check("\n".join(lines), on=ON)
    fault = caught.value.faults[0]
    assert ("plan in memory", at + 1) == (str(fault.place.file), fault.place.line)


def test_a_changed_record_is_checked_against_the_book(tmp_path: Path) -> None:
    """A record with a strange name is refused like a file with one."""
    book, path = of_books(tmp_path)[0]
    plan = load_plan(path, book.files).model_copy(update={"pour": "pour of nobody"})
    with pytest.raises(RecordError, match="pour of nobody"):
        book.check(plan, on=ON)


def test_a_note_can_be_tried_on_a_plan_in_memory(tmp_path: Path) -> None:
    """The notebook takes the plan's own name from its text."""
    book, path = of_books(tmp_path)[0]
    assert book.noting(path, ON).plan == book.noting(path.read_text("utf-8"), ON).plan
