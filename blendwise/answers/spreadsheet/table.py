"""A maker's spreadsheet as rows of text, whichever kind of file holds it; read row by row, never whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from blendwise.records.place import Fault, Place, RecordError, read_fault
from blendwise.records.reading.nodes import MOST_ENTRIES

MOST_ROWS: Final = MOST_ENTRIES
"""Oils that one catalogue may hold: no sheet of more rows can become one."""
MOST_COLUMNS: Final = 200
LARGEST_TABLE: Final = 64_000_000
"""Bytes of a file that is still opened; the rows that may be read are far fewer (our own guard)."""
BLANK_ROWS: Final = 1000
"""After so many empty rows a sheet is taken to have ended."""
KINDS: Final = (".csv", ".tsv", ".txt", ".xlsx")

Row = tuple[int, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows with their numbers as the spreadsheet counts them, and in words how the file was read."""

    file: Path
    rows: tuple[Row, ...]
    how: tuple[str, ...] = ()
    formulas: frozenset[tuple[int, int]] = frozenset()
    """(row, column) of formulas that have no stored value."""


def read_sheet(file: Path, name: str = "") -> Sheet:
    """The rows of a CSV, TSV or XLSX file that hold anything; ``name`` chooses a sheet of a workbook.

    RecordError where the file cannot be read, is of another kind, or has more rows than a catalogue may hold.
    """
    kind = file.suffix.casefold()
    if kind not in KINDS:
        raise read_fault(
            file,
            "This is not a kind of spreadsheet that is read here.",
            "Save it as CSV (or .tsv, .xlsx) and try again.",
        )
    _bearable(file)
    if kind == ".xlsx":
        from blendwise.answers.spreadsheet.workbook import read_workbook

        return read_workbook(file, name)
    from blendwise.answers.spreadsheet.delimited import read_delimited

    return read_delimited(file)


def _bearable(file: Path) -> None:
    try:
        if not file.is_file():
            what = "This is not an ordinary file." if file.exists() else "There is no such file."
            raise read_fault(file, what)
        size = file.stat().st_size
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise read_fault(file, f"The file cannot be read: {reason}.") from None
    if size > LARGEST_TABLE:
        raise read_fault(
            file, f"The file is {size / 1e6:.0f} MB; at most {LARGEST_TABLE / 1e6:.0f} MB are opened.", DIVIDE
        )


DIVIDE: Final = "Divide it, or take out what is not about oils."


def kept(file: Path, rows: Iterable[Row]) -> Iterator[Row]:
    """The rows that hold anything, until the sheet ends; RecordError beyond what a catalogue may hold."""
    count = blank = 0
    for number, cells in rows:
        if not any(cells):
            blank += 1
            if blank >= BLANK_ROWS:
                return
            continue
        blank, count = 0, count + 1
        if count > MOST_ROWS + 1:
            message = f"The sheet has more than {MOST_ROWS:,} rows; a catalogue holds at most so many oils."
            raise RecordError([Fault(Place(file, number), message, DIVIDE)])
        yield number, cells
