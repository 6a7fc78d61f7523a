"""What an import and an export answer: data only; their sentences are made in ``show``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from blendwise.answers.documents import HeadDoc
from blendwise.answers.shapes import head

if TYPE_CHECKING:
    import pandas as pd

IMPORT_SCHEMA = "blendwise/import/1"
EXPORT_SCHEMA = "blendwise/export/1"


class ColumnDoc(TypedDict):
    """A column of the sheet: ``field`` is null where its cells were kept as remarks."""

    heading: str
    field: str | None
    unit: str
    how: str
    assumed: list[str]


class CellDoc(TypedDict):
    """A cell that was read as something else than it says, or not understood."""

    heading: str
    cell: str
    said: str


class RowDoc(TypedDict):
    """A row of the sheet: how many facts it gave, and which cells were guessed or not understood."""

    row: int
    name: str
    taken: bool
    why_not: str
    facts: int
    read_as: list[CellDoc]
    not_understood: list[CellDoc]


class ImportDoc(HeadDoc):
    """The document of ``blendwise scents import --json``; ``written`` is null where nothing was written."""

    file: str
    how: list[str]
    columns: list[ColumnDoc]
    rows: list[RowDoc]
    oils: int
    on_the_shelf: list[str]
    to: str
    written: str | None


class ExportDoc(HeadDoc):
    """The document of ``blendwise scents export --json``."""

    written: str
    oils: int
    columns: list[str]
    made_harmless: int


@dataclass(frozen=True, slots=True)
class ColumnView:
    """A heading and what it was understood as (``field`` empty: kept as a remark)."""

    heading: str
    field: str
    unit: str
    how: str
    assumed: tuple[str, ...]

    def body(self) -> ColumnDoc:
        """The column as the published document."""
        return {
            "heading": self.heading,
            "field": self.field or None,
            "unit": self.unit,
            "how": self.how,
            "assumed": list(self.assumed),
        }


@dataclass(frozen=True, slots=True)
class CellView:
    """A cell and what is to be said of it: what it was read as, or why it was not understood."""

    heading: str
    cell: str
    said: str

    def body(self) -> CellDoc:
        """The cell as the published document."""
        return {"heading": self.heading, "cell": self.cell, "said": self.said}


@dataclass(frozen=True, slots=True)
class RowView:
    """A row, by its number in the sheet; ``why_not`` where it gives no oil."""

    row: int
    name: str
    facts: int
    why_not: str = ""
    read_as: tuple[CellView, ...] = ()
    not_understood: tuple[CellView, ...] = ()

    def body(self) -> RowDoc:
        """The row as the published document."""
        return {
            "row": self.row,
            "name": self.name,
            "taken": not self.why_not,
            "why_not": self.why_not,
            "facts": self.facts,
            "read_as": [cell.body() for cell in self.read_as],
            "not_understood": [cell.body() for cell in self.not_understood],
        }


@dataclass(frozen=True, slots=True)
class ImportResult:
    """What was understood of a sheet, and the text of the new catalogue; nothing is written yet.

    ``on_the_shelf``: names that the book has already.  ``to``: where it goes; ``written``: once it is there.
    """

    file: str
    how: tuple[str, ...]
    columns: tuple[ColumnView, ...]
    rows: tuple[RowView, ...]
    text: str
    to: str
    on_the_shelf: tuple[str, ...] = ()
    written: str = ""

    @property
    def oils(self) -> int:
        """How many oils the new file holds."""
        return sum(not row.why_not for row in self.rows)

    def to_json(self) -> ImportDoc:
        """The published document."""
        return {
            **head(IMPORT_SCHEMA),
            "file": self.file,
            "how": list(self.how),
            "columns": [column.body() for column in self.columns],
            "rows": [row.body() for row in self.rows],
            "oils": self.oils,
            "on_the_shelf": list(self.on_the_shelf),
            "to": self.to,
            "written": self.written or None,
        }

    def to_frame(self) -> pd.DataFrame:
        """A row for each row of the sheet: its oil, facts, and how many cells were not understood."""
        import pandas as pd

        rows = [(row.row, row.name, row.facts, len(row.not_understood), row.why_not) for row in self.rows]
        return pd.DataFrame(rows, columns=["row", "name", "facts", "not_understood", "why_not"])


@dataclass(frozen=True, slots=True)
class ExportResult:
    """A spreadsheet that was written: where, its columns, and how many cells were made harmless."""

    written: str
    oils: int
    columns: tuple[str, ...]
    made_harmless: int

    def to_json(self) -> ExportDoc:
        """The published document."""
        return {
            **head(EXPORT_SCHEMA),
            "written": self.written,
            "oils": self.oils,
            "columns": list(self.columns),
            "made_harmless": self.made_harmless,
        }
