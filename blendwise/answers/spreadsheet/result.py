"""What an import and an export answer: data only; their sentences are made in ``show``."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from blendwise.answers.answer import Answer, cells, hidden, told
from blendwise.answers.spreadsheet.words.vocabulary import REMARK


@dataclass(frozen=True, slots=True)
class ColumnView:
    """A heading and what it was understood as (``field`` None: its cells are kept as remarks)."""

    heading: str
    field: str | None
    unit: str
    how: str
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CellView:
    """A cell and what is to be said of it: what it was read as, or why it was not understood."""

    heading: str
    cell: str
    said: str


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked back of a column (``cell`` empty), of like cells ("*": all odd ones), or of a name.

    ``guess``: what it most likely is; ``must``: a guess is not enough; ``rows``, ``oils``: where it stands.
    """

    kind: Literal["column", "cell", "name"]
    heading: str
    cell: str
    why: str
    guess: str
    must: bool
    choices: tuple[str, ...] = ()
    rows: tuple[int, ...] = ()
    oils: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RowView:
    """A row, by its number in the sheet: how many facts it gave; ``why_not`` where it gives no oil.

    ``differs``: a field, what the sheet says and what the shelf says, where the oil is on it already.
    """

    row: int
    name: str
    facts: int
    why_not: str = ""
    read_as: tuple[CellView, ...] = ()
    not_understood: tuple[CellView, ...] = ()
    differs: tuple[CellView, ...] = ()

    @told
    def taken(self) -> bool:
        """Whether it gave an oil."""
        return not self.why_not


@dataclass(frozen=True, slots=True)
class ImportResult(Answer):
    """What was understood of a sheet, what is asked back, and the text to be written; nothing is yet.

    ``on_the_shelf``: names that the book has already.  ``to``: where it goes; ``written``: once it is there;
    ``answers``: the file of what was answered.  ``text``: the new file, or the entries to add to one.
    """

    SCHEMA = "blendwise/import/2"

    file: str
    how: tuple[str, ...]
    columns: tuple[ColumnView, ...]
    rows: tuple[RowView, ...]
    text: str = hidden("")
    to: str = ""
    on_the_shelf: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    answers: str = ""
    adds: bool = False
    written: str | None = None

    @told
    def oils(self) -> int:
        """How many new oils there are."""
        return sum(row.taken for row in self.rows)

    @property
    def unread(self) -> tuple[str, ...]:
        """Columns of which nothing is read, by a guess or because the maker said so: remarks alone."""
        answered = (each for each in self.columns if each.how == "as answered")
        return tuple(each.heading for each in answered if each.field in (None, REMARK))

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row for each row of the sheet: its oil, facts, and how many cells were not understood."""
        return ({**cells(row), "not_understood": len(row.not_understood)} for row in self.rows)

    def frame_columns(self) -> list[str]:
        """What a frame has of each row."""
        return ["row", "name", "facts", "not_understood", "why_not"]


@dataclass(frozen=True, slots=True)
class ExportResult(Answer):
    """A spreadsheet that was written: where, its columns, and how many cells were made harmless."""

    SCHEMA = "blendwise/export/1"

    written: str
    oils: int
    columns: tuple[str, ...]
    made_harmless: int
