"""Notes as rows: the cache is a shorter way only, order is by reference, doubts are named."""

from __future__ import annotations

import json
import random
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.records import load_notes
from blendwise.records.notes.batches import batches_of, contradictions, in_order
from blendwise.records.notes.note_files import notes_fingerprint
from blendwise.records.notes.notebook import (
    NoteRow,
    Seen,
    plain_row,
    read_notebook,
    row_from,
    row_of,
)


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Each test has a cache folder of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "blendwise"


def test_a_row_says_what_the_note_says(demo: Path) -> None:
    """A row, and the same row through JSON, equals the row of the note as the models read it."""
    notes, _ = load_notes(demo)
    by_name = {row.note: row for row in read_notebook(demo).rows}
    for note in notes:
        row = row_of(note, f"{note.note}.yaml")
        assert by_name[note.note] == row
        assert row_from(json.loads(json.dumps(plain_row(row)))) == row


def test_the_cache_changes_nothing(demo: Path, own_cache: Path) -> None:
    """Read cold, from the cache, and after the cache was deleted, the notebook is the same."""
    cold = read_notebook(demo)
    assert [path.name for path in own_cache.iterdir()]
    warm = read_notebook(demo)
    for path in own_cache.iterdir():
        path.unlink()
    assert cold == warm == read_notebook(demo)
    assert cold.fingerprint == notes_fingerprint(demo)


def test_the_files_are_trusted_not_the_cache(demo: Path) -> None:
    """A note changed by hand is read anew, and one that is gone no longer counts."""
    read_notebook(demo)
    file = demo / "notes" / "2026-11-14-rain-jar-week-6.yaml"
    file.write_text(file.read_text("utf-8").replace("strength: faint", "strength: gone"), "utf-8")
    (row,) = [row for row in read_notebook(demo).rows if row.file == file.name]
    assert "gone" == row.portions["pail"].strength
    file.unlink()
    assert 40 == len(read_notebook(demo).rows)


@pytest.mark.parametrize("damage", [b"", b"{", b"0\n{}", b"\xff" * 100, b'{"format": "notes/1", "rows": []}'])
def test_a_damaged_cache_is_read_past(demo: Path, own_cache: Path, damage: bytes) -> None:
    """Whatever stands in the cache, the notes are read."""
    before = read_notebook(demo)
    for path in own_cache.iterdir():
        path.write_bytes(damage)
    assert before == read_notebook(demo)


def test_a_cache_tampered_with_is_not_believed(demo: Path, own_cache: Path) -> None:
    """A value changed inside the cache fails its digest, and the file's own value is used."""
    before = read_notebook(demo)
    for path in own_cache.iterdir():
        path.write_bytes(path.read_bytes().replace(b'"strength":"faint"', b'"strength":"fairy"'))
    assert before == read_notebook(demo)


def test_a_cache_that_cannot_be_written(demo: Path, own_cache: Path) -> None:
    """Where the cache's folder is a file, nothing is cached and nothing fails."""
    own_cache.parent.mkdir(parents=True, exist_ok=True)
    own_cache.write_text("in the way")
    assert 41 == len(read_notebook(demo).rows)


DAMAGE = {
    "cut off": "note: a\nplan: rain-jar\nlook: week 6\non: 2026-11-1",
    "a tab": "note: a\n\tplan: b\n",
    "no colour": "note: a\nplan: p\nlook: later\non: 2026-11-01\nportions: {pail: {colour: greenish}}\n",
    "no look": "note: a\nplan: p\nlook: week 5\non: 2026-11-01\n",
    "nothing": "",
    "not text": "\x00\x01",
}


@pytest.mark.parametrize("text", DAMAGE.values(), ids=DAMAGE.keys())
def test_a_damaged_note_is_set_aside(demo: Path, text: str) -> None:
    """One damaged note is told with its file, and all the others count."""
    (demo / "notes" / "2026-11-20-broken.yaml").write_text(text, "utf-8")
    notebook = read_notebook(demo)
    assert {"2026-11-20-broken.yaml"} == {fault.place.file.name for fault in notebook.faults}
    assert 41 == len(notebook.rows)


def row(name: str, look: str = "week 1", on: str = "2026-01-08", **more: object) -> NoteRow:
    """A row of one batch."""
    fields = {"batch": "B", "poured": "2026-01-01", **more}
    return NoteRow(name, f"{name}.yaml", "p", look, on, **fields)  # type: ignore[arg-type]


def book_of(folder: Path, *rows: NoteRow) -> tuple[list[str], list[str]]:
    """Names of the looks of the one batch in order, and the messages of the faults."""
    from blendwise.records.notes.notebook import Notebook

    batches, faults = batches_of(Notebook(tuple(rows)), folder, date(2026, 6, 1))
    return [look.note for batch in batches for look in batch.looks], [fault.message for fault in faults]


@given(st.integers(2, 9), st.randoms(use_true_random=False))
def test_order_is_by_reference(count: int, chance: random.Random) -> None:
    """However files and days are mixed up, looks stand in the order of their references."""
    days = [f"2026-02-{chance.randint(1, 28):02d}" for _ in range(count)]
    rows = [row(f"n{k}", on=days[k], after=f"n{k - 1}" if k else None) for k in range(count)]
    chance.shuffle(rows)
    assert [f"n{k}" for k in range(count)] == [each.note for each in in_order(rows)]


def test_a_circle_of_references_loses_nothing() -> None:
    """Notes that name one another in a circle all stand."""
    rows = [row("a", after="c"), row("b", after="a"), row("c", after="b"), row("d", after="d")]
    assert {"a", "b", "c", "d"} == {each.note for each in in_order(rows)}


def test_a_correction_stands_in_its_place(tmp_path: Path) -> None:
    """The corrected note no longer counts, and what follows it follows the correction."""
    first = row("a", look="at the pot", on="2026-01-01")
    wrong = row("b", after="a", portions={"x": Seen(colour="tan")})
    right = row("b2", on="2026-01-20", corrects="b", portions={"x": Seen(colour="beige")})
    last = row("c", look="week 2", on="2026-01-15", after="b")
    names, faults = book_of(tmp_path, wrong, last, first, right)
    assert ["a", "b2", "c"] == names
    assert [] == faults


def test_what_cannot_be_true_is_named(tmp_path: Path) -> None:
    """A look before the pour and one in the future are set aside; a missing corrected note is told."""
    early = row("early", on="2025-12-31")
    late = row("late", on="2026-07-01")
    lost = row("lost", corrects="nobody")
    names, faults = book_of(tmp_path, early, late, lost)
    assert ["lost"] == names
    assert 3 == len(faults)
    assert "before the pour" in faults[0]
    assert "in the future" in faults[1]
    assert '"nobody", which is not there' in faults[2]


def test_two_that_contradict_are_named(demo: Path) -> None:
    """Two looks of one stage which say different things of a portion are told; the later counts."""
    file = demo / "notes" / "2026-11-14-rain-jar-week-6.yaml"
    other = file.read_text("utf-8").replace("note: 2026-11-14-rain-jar-week-6", "note: again")
    other = other.replace("strength: faint", "strength: strong").replace(
        "after: 2026-10-05-rain-jar-cut", f"after: {file.stem}"
    )
    (demo / "notes" / "again.yaml").write_text(other, "utf-8")
    batches, _ = batches_of(read_notebook(demo), demo)
    (jar,) = [batch for batch in batches if batch.plan == "rain-jar"]
    found = list(contradictions(jar))
    assert {("pail", "strength"), ("cloud", "strength")} == {
        (portion, field) for _, _, portion, field in found
    }
    assert {(file.stem, "again")} == {(before.note, after.note) for before, after, _, _ in found}


def test_a_portion_that_was_not_poured(demo: Path) -> None:
    """What is said of a portion that was not poured is set aside by name; the rest of the note counts."""
    file = demo / "notes" / "2026-11-14-rain-jar-week-6.yaml"
    text = file.read_text("utf-8").replace("  cloud: {", "  fog: {colour: tan}\n  cloud: {")
    file.write_text(text, "utf-8")
    batches, faults = batches_of(read_notebook(demo), demo)
    (jar,) = [batch for batch in batches if batch.plan == "rain-jar"]
    assert {"pail", "cloud"} == jar.looks[-1].portions.keys()
    assert ['No portion "fog" was poured in this batch; what is said of it is set aside.'] == [
        f.message for f in faults
    ]
