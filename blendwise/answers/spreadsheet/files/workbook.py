"""XLSX, read only: values as shown, no formula ever worked out, no bomb unpacked."""

from __future__ import annotations

import zipfile
import zlib
from pathlib import Path
from typing import Final

from blendwise.answers.spreadsheet.files.package import Package
from blendwise.answers.spreadsheet.files.table import DIVIDE, MOST_ROWS, Sheet, kept
from blendwise.records.nearest import hint
from blendwise.records.place import RecordError, read_fault

LARGEST_UNPACKED: Final = 400_000_000
LARGEST_PART: Final = 250_000_000
LARGEST_RATIO: Final = 500
"""Our own guards against files made to fill a memory; sheets of makers are far below them."""
MOST_GLANCED: Final = 10 * MOST_ROWS
CHUNK: Final = 1 << 20


def read_workbook(file: Path, name: str = "") -> list[Sheet]:
    """The sheets that hold anything, or the one that is named."""
    refuse_bombs(file, "an XLSX workbook")
    _refuse_many(file)
    try:
        return _read(file, name)
    except RecordError:
        raise
    except Exception as error:  # whatever a damaged file makes its reader raise
        what = " ".join(str(error).split())[:120] or type(error).__name__
        raise read_fault(
            file, f"The workbook cannot be read: {what}.", "Save it again as XLSX, or as CSV."
        ) from error


def refuse_bombs(file: Path, what: str) -> None:
    """RecordError where a packed file is none, or unpacks to more than a sheet of a maker ever does."""
    try:
        with zipfile.ZipFile(file) as packed:
            parts = packed.infolist()
    except (zipfile.BadZipFile, OSError):
        raise read_fault(file, f"This is not {what}.", "Save it as XLSX, or as CSV.") from None
    whole = sum(part.file_size for part in parts)
    swollen = any(part.file_size > LARGEST_RATIO * max(part.compress_size, 1000) for part in parts)
    if (
        whole > LARGEST_UNPACKED
        or swollen
        or max((part.file_size for part in parts), default=0) > LARGEST_PART
    ):
        raise read_fault(file, "The workbook unpacks to more than can be read.", "Save the one sheet as CSV.")


def _refuse_many(file: Path) -> None:
    """RecordError for a sheet of so many rows that reading it would take long; a glance tells."""
    try:
        with zipfile.ZipFile(file) as packed:
            for part in packed.namelist():
                if part.startswith("xl/worksheets/") and part.endswith(".xml"):
                    _refuse_long(file, _glance(packed, part))
    except (zipfile.BadZipFile, EOFError, OSError, ValueError, zlib.error, NotImplementedError, RuntimeError):
        raise read_fault(
            file, "The workbook is damaged or locked.", "Save it again as XLSX, or as CSV."
        ) from None


def _glance(packed: zipfile.ZipFile, part: str) -> int:
    rows, before = 0, b""
    with packed.open(part) as stream:
        while chunk := stream.read(CHUNK):
            rows += (before + chunk).count(b"<row")
            before = chunk[-3:]
    return rows


def _refuse_long(file: Path, rows: int) -> None:
    if rows > MOST_GLANCED:
        message = (
            f"A sheet has {rows:,} rows, empty ones counted; a catalogue holds at most {MOST_ROWS:,} oils."
        )
        raise read_fault(file, message, DIVIDE)


def _read(file: Path, name: str) -> list[Sheet]:
    found = []
    with zipfile.ZipFile(file) as packed:
        package = Package(packed)
        names = list(package.sheets)
        for title in [chosen_sheet(name, names, file)] if name else names:
            unvalued: set[tuple[int, int]] = set()
            rows = tuple(kept(file, package.rows(title, unvalued)))
            if rows:
                found.append(Sheet(file, rows, how_chosen(title, names), frozenset(unvalued)))
    if not found:
        raise no_rows(file)
    return found


def no_rows(file: Path) -> RecordError:
    """A workbook without anything in it."""
    return read_fault(file, "The workbook holds no rows.", "Write a line of headings and a line an oil.")


def chosen_sheet(name: str, names: list[str], file: Path) -> str:
    """The sheet of that name; RecordError with the nearest where there is none."""
    found = [title for title in names if title.casefold() == name.casefold()]
    if not found:
        raise read_fault(file, f'There is no sheet "{name}".', hint(name, names, "The workbook"))
    return found[0]


def how_chosen(title: str, names: list[str]) -> tuple[str, ...]:
    """Which sheet was read, and how many were not."""
    others = len(names) - 1
    more = (
        f"; {others} other sheet{'s' if others > 1 else ''} not read (choose with --sheet)" if others else ""
    )
    return (f'sheet "{title}"{more}',)
