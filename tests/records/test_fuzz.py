"""Whatever stands in a file: it is read, or refused with places; nothing else ever happens."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blendwise.records.book import entries, plan_of
from blendwise.records.kinds.oil import BaseOil
from blendwise.records.kinds.plan import Plan
from blendwise.records.kinds.pour import PourStyle
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent
from blendwise.records.kinds.usual import Usual
from blendwise.records.notes.note import Note
from blendwise.records.place import RecordError
from blendwise.records.reading.document import Document, text_document, validated

PIECES = st.sampled_from(
    [
        *[
            "plan",
            "portions",
            "name",
            "share",
            "scents",
            "blend",
            "doses",
            "never",
            "only",
            "in",
            "touching",
            "order",
            "accept",
            "recipe",
            "oils",
            "lye",
        ],
        *[
            "amount",
            "additives",
            "acceleration",
            "is",
            "seen",
            "on",
            "what",
            "allergen sheet",
            "complete",
            "gel",
            "variations",
            "embeds",
        ],
        *[
            ": ",
            ":",
            "- ",
            ", ",
            "[",
            "]",
            "{",
            "}",
            "\n",
            "\n  ",
            "\n    ",
            "#",
            " # ",
            "'",
            '"',
            "&a ",
            "*a",
            "!t ",
            "? ",
            "---",
            "...",
            "%",
            "\t",
            "\r\n",
            "\x07",
            "\ufeff",
            "\u2028",
        ],
        *[
            "5 %",
            "4 % of oils",
            "the rest",
            "2 parts",
            "yes",
            "not known",
            "2026-02-11",
            "1e9",
            "none",
            "#a0b1c2",
            "45,5 %",
            "é",
            "🧼",
        ],
        "|",
        ">",
        "{a: ",
        "[",
    ]
)


def read_all_ways(text: str) -> None:
    """Read a text as every kind of file; RecordErrors are checked, anything else is let through."""
    try:
        doc = text_document(text)
    except RecordError as error:
        assert_placed(error, text)
        return
    for model in (Plan, Usual, Note, Scales):
        attempt(doc, lambda doc, model=model: validated(model, doc))
    for entry in (Scent, BaseOil, PourStyle):
        attempt(doc, lambda doc, entry=entry: entries(entry, doc, "entries"))
    attempt(doc, plan_of)


def attempt(doc: Document, read) -> None:  # type: ignore[no-untyped-def]
    """Read, and check the places of what is refused."""
    try:
        read(doc)
    except RecordError as error:
        assert_placed(error, doc.text)


def assert_placed(error: RecordError, text: str) -> None:
    """Each fault has words and a place that is in the file."""
    assert error.faults
    for fault in error.faults:
        assert fault.message
        assert 1 <= fault.place.line <= len(text.splitlines()) + 2
        assert fault.place.column >= 1


@settings(max_examples=400)
@given(st.lists(PIECES, max_size=25).map("".join))
def test_pieces_of_files(text: str) -> None:
    """Any heap of the words and signs that files are made of is read or refused."""
    read_all_ways(text)


@settings(max_examples=200)
@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    """Any text is read or refused."""
    read_all_ways(text)


TREES = st.recursive(
    st.sampled_from(["5 %", "x", "4 g", "2", "the rest", "none", "not known", "avoid"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(
                [
                    "plan",
                    "portions",
                    "name",
                    "share",
                    "scents",
                    "blend",
                    "load",
                    "doses",
                    "never",
                    "scent",
                    "in",
                    "touching",
                    "order",
                    "recipe",
                    "oils",
                    "lye",
                    "NaOH",
                    "water",
                    "amount",
                    "mould",
                    "mold",
                    "color",
                    "embeds",
                    "what",
                    "mass",
                    "accept",
                    "variations",
                    "additives",
                    "process",
                    "gel",
                    "x",
                ]
            ),
            inner,
            max_size=6,
        )
    ),
    max_leaves=20,
)


@settings(max_examples=400)
@given(TREES)
def test_any_tree_of_fields(tree: object) -> None:
    """Fields in any shape, lists for texts and texts for mappings, are read or refused."""
    import json

    read_all_ways(json.dumps(tree))


@settings(max_examples=300)
@given(st.data())
def test_a_sound_plan_bent_anywhere(data: st.DataObject) -> None:
    """A sound plan with a stretch cut out, doubled or replaced is read or refused."""
    text = SOUND
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 60)))
    middle = data.draw(PIECES | st.just(text[start:end] * 2) | st.just(""))
    read_all_ways(text[:start] + middle + text[end:])


SOUND = (
    (Path(__file__).parent / "conftest.py")
    .read_text(encoding="utf-8")
    .split('PLAN = """\\\n')[1]
    .split('"""')[0]
)


def test_bytes(tmp_path: Path) -> None:
    """Files of noise, of other encodings and of zeros are refused."""
    from blendwise.records.reading.document import read_document

    for number, data in enumerate(
        [
            b"\xff\xfea\x00:\x00",
            b"\x00" * 1000,
            bytes(range(256)),
            b"\x80",
            b"\xed\xa0\x80",
            b"\xef\xbb\xbf",
            b"PK\x03\x04",
        ]
    ):
        file = tmp_path / f"{number}.yaml"
        file.write_bytes(data)
        with pytest.raises(RecordError):
            validated(Plan, read_document(file))
