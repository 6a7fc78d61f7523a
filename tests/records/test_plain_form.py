"""The short way to a plain file says what the long way says, or nothing."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from blendwise.records.notes import notebook
from blendwise.records.notes.notebook import read_notebook
from blendwise.records.place import RecordError
from blendwise.records.reading.nodes import parse_nodes
from blendwise.records.reading.plain_form import in_plain_form
from tests.answers.note.thousands import big_book

ROOT = Path(__file__).resolve().parents[2]
SIGNS = (": ", " #", "\n  ", "\n\n", "é", "\x85", "\u2028", "\ufeff", "- ", "---\n")
BENT = [*" \n:-#,{}[]\"'|>&*!%@`~?\\\t", *SIGNS]
OTHER_FORMS = (
    "a: b: c\n",
    "a: 'it''s'\n",
    'a: "x\\n"\n',
    "a: b # c\n",
    "a: b\na: c\n",
    "a:\n  b: c\n d: e\n",
    "a:\n- b\n",
"a: {b: c, b: d}\n",
    "a: {b: {c: d}}\n",
    "a: []\n",
    "a: {}\n",
    "a:\n",
    "a: |\n\n  b\n",
    "a: >\n  b\n",
    "a: b",
    "a: b\n  c\n",
    "a: |\n    b\n   c\n",
    "- a\n",
    "a : b\n",
    "a: *b\n",
    "a: !b c\n",
    "a: |2\n   b\n",
    "a:b\n",
    "# a\n",
    "a: b\n...\n",
)  # fmt: skip
PLAIN_FORMS = (
    "a: b\n",
    "a: b c-d 4.5 %\n",
    'a: "#a0b1c2"\n',
    "a: {b: c, d e: 9.2 min}\n",
    "a: [b, c d]\n",

    "a:\n  b:\n    c: d\ne: f\n", "a: |\n  b: c\n\n    d # e\nf: g\n",
    "a: |-\n  b\n\n\n",
    "a: |+\n  b\n\n",
    "a: 'b: c'\n",
    "Öl: 1\n",
)  # fmt: skip


def long_way(text: str) -> object:
    """What the nodes say; None where they are refused."""
    try:
        return parse_nodes(text, Path("x")).plain
    except RecordError:
        return None


@pytest.mark.parametrize("text", OTHER_FORMS)
def test_what_is_not_plain_is_left_to_the_long_way(text: str) -> None:
    assert in_plain_form(text) is None


@pytest.mark.parametrize("text", PLAIN_FORMS)
def test_what_is_plain_is_read_as_the_long_way_reads_it(text: str) -> None:
    found = in_plain_form(text)
    assert found is not None
    assert found == long_way(text)


def test_bent_files_are_read_alike_or_not_at_all(tmp_path: Path) -> None:
    """Every file of the demo, and notes bent at one to three places: never another reading."""
    notes = sorted((big_book(tmp_path / "book", 2) / "notes").glob("*.yaml"))
    texts = [path.read_text("utf-8") for path in (*ROOT.glob("demo_catalog/**/*.yaml"), *notes)]
    chance, read = random.Random(3), 0
    for text in [*texts, *PLAIN_FORMS * 40, *(path.read_text("utf-8") for path in notes * 20)]:
        bent = text
        for _ in range(chance.randrange(4)):
            at = chance.randrange(len(bent) + 1)
            bent = bent[:at] + chance.choice(BENT) + bent[at + chance.randrange(2) :]
        found = in_plain_form(bent)
        read += found is not None
        assert found is None or found == long_way(bent), bent
    assert read > 100


def test_rows_are_the_long_ways(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A notebook is the same rows and faults with the short way and without it, bent notes among them."""
    monkeypatch.setenv("BLENDWISE_NO_CACHE", "1")
    folder = big_book(tmp_path / "book", 6) / "notes"
    files = sorted(folder.glob("*.yaml"))
    changes = ((b"fair", b"fairly"), (b"look: later", b"look: soon"), (b"frozen:\n", b"frozen:\n  x: y\n"),
               (b"g}", b"z}"), (b"edge", b"edges"), (b"portions:\n", b"portions: none\nx:\n"))  # fmt: skip
    for path, change in zip(files[::7], changes, strict=False):
        path.write_bytes(path.read_bytes().replace(*change))
    short = read_notebook(folder.parent)
    monkeypatch.setattr(notebook, "_plainly", lambda text, file: None)
    assert read_notebook(folder.parent) == short
    assert 3 <= len({each.place.file for each in short.faults}) < len(files)
