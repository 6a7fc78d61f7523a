"""A file as nodes: every value is text and has a place; what YAML would guess or hide is refused."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from blendwise.records.place import RecordError
from blendwise.records.reading.document import read_document, text_document
from blendwise.records.reading.nodes import DEEPEST, LARGEST_FILE, MOST_ENTRIES

NORWAY = "on: 1:30\nhex: '#a0b1c2'\nyes: no\nnumber: 012\nday: 2026-02-11\nnothing: ~\nother: null\n"


def faults(text: str) -> list[tuple[int, int, str]]:
    """(line, column, whole sentence) of everything wrong with a text."""
    with pytest.raises(RecordError) as caught:
        text_document(text)
    return [(f.place.line, f.place.column, f"{f.message} {f.remedy}") for f in caught.value.faults]


def test_every_scalar_stays_text() -> None:
    """`on`, `1:30`, `no`, `012`, a day, `~` and `null` are all the text that was typed."""
    assert text_document(NORWAY).root.plain == {
        "on": "1:30",
        "hex": "#a0b1c2",
        "yes": "no",
        "number": "012",
        "day": "2026-02-11",
        "nothing": "~",
        "other": "null",
    }


REFUSED = [
    ("a: b\nc: d\na: e\n", 3, 1, "line 1, column 1"),
    ("x: {a: b, a: c}\n", 1, 11, "line 1, column 5"),
    ("hex: #a0b1c2\n", 1, 1, "read as a remark: put the value in quotes"),
    ("- {hex: #a0b1c2, at: 3}\n- {b: c}\n", 1, 9, "read as a remark: put the value in quotes"),
    ("- #x\n", 1, 2, "read as a remark"),
    ("{a: 45,5 %}\n", 1, 8, "write 45.5 %"),
    ("a:\nb: c\n", 1, 1, "has no value"),
    ("a: {b, c: d}\n", 1, 5, "has no value"),
    ("- \n- b\n", 1, 2, "empty"),
    ("'': b\n", 1, 1, "name is missing"),
    ("a: &here b\n", 1, 4, "Anchors"),
    ("a: *here\n", 1, 4, "Aliases"),
    ("a: !!int 5\n", 1, 4, "Tags"),
    ("a: !x 5\n", 1, 4, "Tags"),
    ("a: b\n---\nc: d\n", 2, 1, "second document"),
    ("? [a]\n: b\n", 1, 3, "A name must stand here"),
    ("\ta: b\n", 1, 1, "tab"),
    ("a:\n  \tb: c\n", 2, 3, "tab"),
    ("a: b: c\n", 1, 5, "second colon"),
    ("a: [b, c\nd: e\n", 2, 2, "not closed"),
    ("a: 'b\n", 2, 1, "quotes"),
    ("a: @b\n", 1, 4, "quotes"),
    ("a: b\x07\n", 1, 5, "control character"),
    ('a: "\\x1b[31m"\n', 1, 4, "control character"),
    ('"a\\nb": c\n', 1, 1, "control character"),
    ('"a\\u202eb": c\n', 1, 1, "control character"),
    ("n" * 121 + ": c\n", 1, 1, "121 characters"),
    ("", 1, 1, "empty"),
    ("# only a remark\n", 1, 1, "empty"),
]


@pytest.mark.parametrize(("text", "line", "column", "says"), REFUSED)
def test_refused_with_place_and_remedy(text: str, line: int, column: int, says: str) -> None:
    """Everything that YAML would guess, hide or run away with is refused where it stands, in plain words."""
    first = faults(text)[0]
    assert (line, column) == first[:2]
    assert says in first[2]


def test_several_slips_are_told_at_once() -> None:
    """All that can be told in one reading is told in one reading."""
    assert [1, 2, 4] == [line for line, _, _ in faults("a:\nhex: #fff\nb: c\nb: d\n")]


def test_names_of_the_longest_length_are_read() -> None:
    """A name of 120 characters is still a name."""
    assert text_document("n" * 120 + ": c\n").root.plain == {"n" * 120: "c"}


def test_depth_is_bounded_without_recursion() -> None:
    """Twenty levels are read, one more is refused, and a hundred thousand are refused as calmly."""
    assert text_document("[" * DEEPEST + "a" + "]" * DEEPEST).root.children
    for depth in (DEEPEST + 1, 100_000):
        assert "nested" in faults("[" * depth + "a")[0][2]
        assert "nested" in faults("{a: " * depth)[0][2]


def test_width_is_bounded() -> None:
    """A list longer than any book needs is refused."""
    assert "entries" in faults("\n".join(["- a"] * (MOST_ENTRIES + 1)))[0][2]


def test_byte_order_mark_and_windows_lines(tmp_path: Path) -> None:
    """A byte order mark and CRLF line ends are accepted, and places are counted as an editor shows them."""
    file = tmp_path / "a.yaml"
    file.write_bytes("\ufeffa: b\r\ncé: dé\r\n".encode())
    doc = read_document(file)
    assert doc.root.plain == {"a": "b", "cé": "dé"}
    assert (2, 5) == (doc.place("cé").line, doc.place("cé").column)


def test_offsets_point_into_the_text() -> None:
    """Start and end of a scalar are offsets of characters into the text, whatever came before."""
    text = 'é: ü\r\nx: {a: 4 % of oils , b: "c d"}\r\n'
    doc = text_document(text)
    cut = [text[n.start : n.end] for n in (doc.node("é"), doc.node("x", "a"), doc.node("x", "b"))]
    assert cut == ["ü", "4 % of oils", '"c d"']


def test_not_utf_8(tmp_path: Path) -> None:
    """A file in another encoding is refused at its first bad byte."""
    file = tmp_path / "a.yaml"
    file.write_bytes(b"a: b\nc: caf\xe9\n")
    with pytest.raises(RecordError, match="UTF-8") as caught:
        read_document(file)
    assert (2, 7) == (caught.value.faults[0].place.line, caught.value.faults[0].place.column)


def test_a_huge_file_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Fifty megabytes are refused by their size alone: the file is never opened."""
    file = tmp_path / "a.yaml"
    with file.open("wb") as stream:
        stream.truncate(50_000_000)
    monkeypatch.setattr(Path, "open", lambda *_: pytest.fail("it was opened"))
    with pytest.raises(RecordError, match=r"50\.0 MB"):
        read_document(file)


def test_the_largest_file_is_read(tmp_path: Path) -> None:
    """Two megabytes are read, one byte more is not."""
    file = tmp_path / "a.yaml"
    file.write_bytes(b"a: b\n#" + b"x" * (LARGEST_FILE - 6))
    assert read_document(file).root.plain == {"a": "b"}
    file.write_bytes(b"a: b\n#" + b"x" * (LARGEST_FILE - 5))
    with pytest.raises(RecordError, match="MB"):
        read_document(file)


def test_what_is_not_a_file(tmp_path: Path) -> None:
    """A folder, a pipe, a missing file and an impossible name are refused, and nothing waits."""
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path, tmp_path / "pipe", tmp_path / "none", Path("a\0b"), tmp_path / ("n" * 5000)):
        with pytest.raises(RecordError):
            read_document(path)
