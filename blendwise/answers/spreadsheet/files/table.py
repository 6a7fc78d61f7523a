"""A maker's spreadsheet as rows of text, whichever kind of file holds it; read row by row, never whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.reading.nodes import MOST_ENTRIES

MOST_ROWS: Final = MOST_ENTRIES
"""Oils that one catalogue may hold: no sheet of more rows can become one."""
MOST_COLUMNS: Final = 200
LARGEST_TABLE: Final = 64_000_000
"""Bytes of a file that is still opened; the rows that may be read are far fewer (our own guard)."""
BLANK_ROWS: Final = 1000
"""After so many empty rows a sheet is taken to have ended."""
KINDS: Final = (".csv", ".tsv", ".txt", ".xlsx", ".ods")

Row = tuple[int, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows with their numbers as the spreadsheet counts them, and in words how the file was read."""

    file: Path
    rows: tuple[Row, ...]
    how: tuple[str, ...] = ()
    formulas: frozenset[tuple[int, int]] = frozenset()
    """(row, column) of formulas that have no stored value."""


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
