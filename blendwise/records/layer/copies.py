"""Copies that 0.1.0 made of the rulebook, compared entry by entry with every text ever released.

What matches a release is the package's business.  Where only numbers or a rule's level differ, the maker's
figures are taken up as adjustments (the judge refuses those that loosen a locked rule).  All else is told
and does not count until it stands in ``rules/mine/``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from blendwise.records.kinds.rule import LEVEL_WORDS, AdjustRecord
from blendwise.records.layer.aside import Aside
from blendwise.records.layer.entries import Entry, entries_of
from blendwise.records.layer.own_files import OwnFile, not_read
from blendwise.records.layer.released import Text, is_released_file, numbered, released, text_of
from blendwise.records.place import RecordError
from blendwise.records.reading.document import Document, read_document
from blendwise.records.reading.nodes import read_bytes

WHAT: dict[str, Any] = {"rules": "rule", "pours": "pour", "scales": "scale", "symptoms": "symptom"}


@dataclass(frozen=True, slots=True)
class Figure:
    """A number that the maker changed in a copied pour or scale: the entry, the path inside it, the text."""

    entry: Entry
    steps: tuple[str | int, ...]
    text: str
    doc: Document


@dataclass
class Copies:
    """What the maker changed in copies: rules to adjust, figures of pours and scales, and what is told."""

    rules: list[AdjustRecord] = field(default_factory=list)
    figures: dict[str, list[Figure]] = field(default_factory=dict)
    asides: list[Aside] = field(default_factory=list)


def compare(files: list[OwnFile], book: Path) -> Copies:
    """All copies of a book against the releases; a file that cannot be read is told, as it does not count."""
    copies = Copies()
    for file in files:
        doc = _changed(file, book, copies)
        if doc is not None:
            for entry in entries_of(doc.root.plain, file.kind):
                _entry(entry, file.kind, doc, copies)
    return copies


def _changed(file: OwnFile, book: Path, copies: Copies) -> Document | None:
    """The document of a copy that is not to the byte a released one."""
    try:
        if is_released_file(file.path.name, read_bytes(file.path)):
            return None
        return read_document(file.path, bare=True)
    except RecordError as error:
        first = error.faults[0]
        copies.asides.append(not_read(file.path, book, first.message, first.remedy))
        return None


def _entry(entry: Entry, kind: str, doc: Document, copies: Copies) -> None:
    text, texts = text_of(entry.tree, kind), released(kind, entry.name)
    if any(text.print == old.print for old in texts):
        return
    same_shape = [old for old in texts if old.shape == text.shape]
    if not same_shape or ("rule" not in entry.tree and kind == "rules") or kind == "symptoms":
        copies.asides.append(_not_counted(entry, kind, doc, bool(texts)))
        return
    old = same_shape[-1]
    moved = [
        (path, new)
        for (path, new), was in zip(numbered(entry.tree, kind), old.leaves, strict=True)
        if new != was
    ]
    if kind == "rules":
        adjusted = list(_adjusted(entry, moved, old, text, doc))
        copies.rules += adjusted
        if not adjusted:
            copies.asides.append(_not_counted(entry, kind, doc, words=not moved))
    else:
        copies.figures.setdefault(kind, []).extend(Figure(entry, path, new, doc) for path, new in moved)


def _adjusted(
    entry: Entry, moved: list[tuple[tuple[str | int, ...], str]], old: Text, text: Text, doc: Document
) -> Iterator[AdjustRecord]:
    """The changes of a copied rule as adjustments, one a line and one for the level."""
    targets: list[Any] = [text.level] if text.level != old.level and text.level in LEVEL_WORDS else []
    targets += [{str(path[-1]): new} for path, new in moved if isinstance(path[-1], str)]
    for to in targets:
        record = AdjustRecord(adjust=entry.name, to=to)
        record._doc, record._index = doc, int(entry.path[0])
        yield record


def _not_counted(entry: Entry, kind: str, doc: Document, known: bool = True, words: bool = False) -> Aside:
    """That an entry does not count; of words alone (a reason, a remark) only the doctor speaks."""
    level = str(entry.tree.get("else", "")) if kind == "rules" else ""
    told = kind != "symptoms" and not words
    message = "words" if words else "known" if known else "own"
    place = doc.key_place(*entry.path)
    return Aside("not counted", WHAT[kind], entry.name, place, level, told, False, message)
