"""Whether oils are sold for use on skin, where no column of a sheet says so: asked once, never guessed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from blendwise.answers.spreadsheet.answers import EVERY, UNKNOWN, Answers
from blendwise.answers.spreadsheet.result import ImportResult, Question
from blendwise.records.reading.document import text_document
from blendwise.records.writing.edit import Plain

FOR_SKIN: Final = "for skin"
SOLD_FOR_SKIN: Final = "sold for use on skin"
"""What the answer is kept under, in place of a heading."""
NO_COLUMN: Final = "no column of it"
PAPERS: Final = frozenset({"certificate", "dated"})
YES: Final = "yes"
"""Of them all; a maker's "no" is of some, nobody said of which, and stays unknown."""


def skin_unsaid(result: ImportResult, answers: Answers) -> Iterator[Question]:
    """The question of a sheet without such a column, with the oils that it is about; nothing else."""
    if answers.every(SOLD_FOR_SKIN) is not None or any(each.field == FOR_SKIN for each in result.columns):
        return
    entries = text_document(result.text).root.plain or {} if result.text else {}
    oils = tuple(
        str(name)
        for name, entry in entries.items()
        if isinstance(entry, Mapping) and FOR_SKIN not in entry and not _has_papers(entry)
    )
    if oils:
        yield Question("cell", SOLD_FOR_SKIN, EVERY, NO_COLUMN, UNKNOWN, True, (YES, UNKNOWN), (), oils)


def _has_papers(entry: Mapping[str, Plain]) -> bool:
    """Whether a certificate, by its number or day, says for itself what the oil is for."""
    limit = entry.get("limit in bar")
    return isinstance(limit, Mapping) and bool(PAPERS & limit.keys())


def with_skin_said(
    fields: dict[str, Plain], remarks: Sequence[tuple[str, str]], answer: str | None
) -> dict[str, Plain]:
    """The fields of an entry with what a maker said of them all, but where its own remarks speak of skin."""
    own = FOR_SKIN in fields or any("skin" in text.casefold() for pair in remarks for text in pair)
    return fields if answer != YES or own or _has_papers(fields) else {**fields, FOR_SKIN: YES}
