"""Edits change what they say and not one other byte."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.records.place import RecordError
from blendwise.records.reading.document import read_document, text_document
from blendwise.records.writing.edit import add_field, add_item, flow, remove_field, save, set_value

TEXT = """\
# my oils
tonka-milk:
  vanillin: 5 to 7 %     # by the sheet
  price: "14.50 per 100 g"
  limit in bar: {most: 9.1 %, dated: 2024-06-30}
  tags: [aldehyde , gourmand ]   # two
  seen:
    - {on: 2026-02-11, what: "Clean."}
    # a remark of mine

# the next one
lime-leaf:
  remarks: |
    long
    text

vetiver: {}
"""
LOOK = {"on": "2026-03-01", "what": "Caramel: at last, 5 % # not 4"}


def test_one_value() -> None:
    """A value is replaced inside its quotes or brackets; remarks and blanks stay."""
    doc = set_value(text_document(TEXT), ("tonka-milk", "vanillin"), "6 %")
    doc = set_value(doc, ("tonka-milk", "price"), "15 per 100 g")
    doc = set_value(doc, ("tonka-milk", "limit in bar", "most"), "8 %")
    expected = (
        TEXT.replace("5 to 7 %", "6 %").replace('"14.50 per 100 g"', "15 per 100 g").replace("9.1 %", "8 %")
    )
    assert expected == doc.text


def test_quotes_where_they_are_needed() -> None:
    """A value that YAML would misread is put in quotes."""
    doc = set_value(text_document(TEXT), ("tonka-milk", "vanillin"), "#a0b1c2")
    assert '  vanillin: "#a0b1c2"     # by the sheet\n' in doc.text


def test_append_to_a_list() -> None:
    """A look is appended after the last one, before the remarks below it."""
    doc = add_item(text_document(TEXT), ("tonka-milk", "seen"), LOOK)
    line = '    - {on: 2026-03-01, what: "Caramel: at last, 5 % # not 4"}\n'
    assert doc.text == TEXT.replace('Clean."}\n', 'Clean."}\n' + line)


def test_append_inside_brackets() -> None:
    """An entry is written inside the brackets, with the blanks as they were."""
    doc = add_item(text_document(TEXT), ("tonka-milk", "tags"), "spice")
    assert doc.text == TEXT.replace("gourmand ]", "gourmand, spice ]")


def test_begin_a_list() -> None:
    """A list that is not there yet is begun, in a block or in brackets as its entry is written."""
    doc = add_item(text_document(TEXT), ("lime-leaf", "seen"), LOOK)
    added = '  seen:\n    - {on: 2026-03-01, what: "Caramel: at last, 5 % # not 4"}\n'
    assert doc.text == TEXT.replace("    text\n", "    text\n" + added)
    doc = add_item(text_document(TEXT), ("vetiver", "seen"), {"on": "2026-03-01"})
    assert doc.text == TEXT.replace("vetiver: {}", "vetiver: {seen: [{on: 2026-03-01}]}")


def test_add_a_field() -> None:
    """A field is added below the last one of its entry, or inside its braces."""
    doc = add_field(text_document(TEXT), ("tonka-milk",), "lot", "B-2231")
    doc = add_field(doc, ("tonka-milk", "limit in bar"), "certificate", "51st: amendment")
    doc = add_field(doc, (), "cedar", {"kind": "essential oil"})
    expected = TEXT.replace('Clean."}\n', 'Clean."}\n  lot: B-2231\n').replace(
        "2024-06-30}", '2024-06-30, certificate: "51st: amendment"}'
    )
    assert doc.text == expected + "cedar: {kind: essential oil}\n"


@pytest.mark.parametrize(
    ("name", "left"),
    [("a", "{b: 2 , c: 3}"), ("b", "{a: 1, c: 3}"), ("c", "{a: 1, b: 2}")],
)
def test_take_a_field_out(name: str, left: str) -> None:
    """A field is taken out of a mapping on one line, first, middle or last, with the comma it had."""
    doc = remove_field(text_document("x: {a: 1, b: 2 , c: 3}  # remark\n"), ("x", name))
    assert doc.text == f"x: {left}  # remark\n"


def test_take_a_field_out_of_a_block() -> None:
    """A field with its own lines goes with its lines and nothing else."""
    doc = remove_field(text_document(TEXT), ("tonka-milk", "price"))
    assert doc.text == TEXT.replace('  price: "14.50 per 100 g"\n', "")


@pytest.mark.parametrize("text", ["x: {a: 1}\n", "x: {b: 1, c: 2}\n", "x: [a, b]\n"])
def test_what_cannot_be_taken_out(text: str) -> None:
    """The only field of a mapping, and one that is not there, stay as they are."""
    with pytest.raises(RecordError):
        remove_field(text_document(text), ("x", "a"))


def test_a_file_without_a_last_line_end() -> None:
    """Where the last line is not ended, the new one is not ended either, and nothing is lost."""
    assert add_field(text_document("a: b"), (), "c", "d").text == "a: b\nc: d"
    assert add_item(text_document("- a # x"), (), "b").text == "- a # x\n- b"


def test_windows_lines_and_mark_stay(tmp_path: Path) -> None:
    """CRLF and the byte order mark are kept; new lines end as the others do."""
    file = tmp_path / "a.yaml"
    file.write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode())
    doc = add_item(read_document(file), ("tonka-milk", "seen"), {"on": "2026-03-01"})
    save(set_value(doc, ("tonka-milk", "vanillin"), "6 %"))
    expected = TEXT.replace("5 to 7 %", "6 %").replace('Clean."}\n', 'Clean."}\n    - {on: 2026-03-01}\n')
    assert file.read_bytes() == b"\xef\xbb\xbf" + expected.replace("\n", "\r\n").encode()


def test_a_file_changed_meanwhile(tmp_path: Path) -> None:
    """An edit of a file that has changed since it was read is not saved."""
    file = tmp_path / "a.yaml"
    file.write_text("a: b\n")
    doc = set_value(read_document(file), ("a",), "c")
    file.write_text("a: z\n")
    with pytest.raises(RecordError, match="changed since"):
        save(doc)
    assert file.read_text() == "a: z\n"


@pytest.mark.parametrize(
    "edit",
    [
        lambda doc: set_value(doc, ("tonka-milk",), "x"),
        lambda doc: set_value(doc, ("lime-leaf", "remarks"), "x"),
        lambda doc: set_value(doc, ("nobody",), "x"),
        lambda doc: add_field(doc, ("tonka-milk",), "price", "x"),
        lambda doc: add_field(doc, ("tonka-milk", "price"), "x", "x"),
        lambda doc: add_item(doc, ("tonka-milk", "price"), "x"),
        lambda doc: add_item(doc, ("nobody", "seen"), "x"),
        lambda doc: add_field(doc, (), "n" * 200, "x"),
    ],
)
def test_what_cannot_be_edited(edit) -> None:  # type: ignore[no-untyped-def]
    """A mapping, a text of several lines, a missing place and a name too long are refused."""
    with pytest.raises(RecordError):
        edit(text_document(TEXT))


VALUES = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), min_size=1, max_size=30)


@given(VALUES, st.sampled_from([("tonka-milk", "vanillin"), ("tonka-milk", "limit in bar", "most")]))
def test_any_text_is_written_so_that_it_is_read_back(value: str, path: tuple[str, ...]) -> None:
    """Whatever text is written, it is read back as itself, and the bytes around it are the old ones."""
    old = text_document(TEXT)
    new = set_value(old, path, value)
    node, before = new.node(*path), old.node(*path)
    assert value == node.plain
    assert (old.text[: before.start], old.text[before.end :]) == (
        new.text[: node.start],
        new.text[node.end :],
    )


@given(
    st.recursive(
        VALUES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(VALUES, inner, max_size=3)
    )
)
def test_any_value_on_one_line(value: object) -> None:
    """Texts, lists and mappings are written on one line from which they are read back."""
    written = flow(value)  # type: ignore[arg-type]
    assert "\n" not in written
    if all(name.strip() and name.isprintable() for name in _keys(value)):
        assert text_document(f"- {written}").root.plain == [value]


def _keys(value: object) -> list[str]:
    if isinstance(value, dict):
        return [*value, *(key for inner in value.values() for key in _keys(inner))]
    return [key for inner in value for key in _keys(inner)] if isinstance(value, list) else []
