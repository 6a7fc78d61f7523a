"""XLSX by openpyxl, read only: values as shown, no formula ever worked out, no bomb unpacked."""

from __future__ import annotations

import datetime
import re
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from blendwise.answers.spreadsheet.files.table import DIVIDE, MOST_COLUMNS, MOST_ROWS, Row, Sheet, kept
from blendwise.quantity import format_number
from blendwise.records.nearest import hint
from blendwise.records.place import RecordError, read_fault

LARGEST_UNPACKED: Final = 400_000_000
LARGEST_PART: Final = 250_000_000
LARGEST_RATIO: Final = 500
"""Our own guards against files made to fill a memory; sheets of makers are far below them."""
MOST_GLANCED: Final = 10 * MOST_ROWS
CHUNK: Final = 1 << 20
DIGITS: Final = 12
_LITERAL: Final = re.compile(r'"([^"]*)"')


def read_workbook(file: Path, name: str = "") -> list[Sheet]:
    """The sheets that hold anything, or the one that is named."""
    refuse_bombs(file, "an XLSX workbook")
    formulas = _has_formulas(file)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # openpyxl's remarks on styles it does not know
        try:
            return _read(file, name, formulas)
        except RecordError:
            raise
        except Exception as error:  # whatever a damaged file makes openpyxl raise
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


def _has_formulas(file: Path) -> bool:
    """Whether any sheet holds a formula; a glance over the packed sheets, which also counts their rows.

    RecordError for a sheet of so many rows that opening it would take long.
    """
    found = False
    try:
        with zipfile.ZipFile(file) as packed:
            for part in packed.namelist():
                if part.startswith("xl/worksheets/") and part.endswith(".xml"):
                    rows, has = _glance(packed, part)
                    found = found or has
                    _refuse_long(file, rows)
    except (zipfile.BadZipFile, EOFError, OSError, ValueError, zlib.error, NotImplementedError, RuntimeError):
        raise read_fault(
            file, "The workbook is damaged or locked.", "Save it again as XLSX, or as CSV."
        ) from None
    return found


def _glance(packed: zipfile.ZipFile, part: str) -> tuple[int, bool]:
    rows, has, before = 0, False, b""
    with packed.open(part) as stream:
        while chunk := stream.read(CHUNK):
            seen = before + chunk
            rows += seen.count(b"<row")
            has = has or b"<f>" in seen or b"<f " in seen
            before = seen[-3:]
    return rows, has


def _refuse_long(file: Path, rows: int) -> None:
    if rows > MOST_GLANCED:
        message = (
            f"A sheet has {rows:,} rows, empty ones counted; a catalogue holds at most {MOST_ROWS:,} oils."
        )
        raise read_fault(file, message, DIVIDE)


def _read(file: Path, name: str, has_formulas: bool) -> list[Sheet]:
    from openpyxl import load_workbook

    values = load_workbook(file, read_only=True, data_only=True)
    formulas = load_workbook(file, read_only=True, data_only=False) if has_formulas else values
    try:
        names = [sheet.title for sheet in values.worksheets]
        found = []
        for title in [chosen_sheet(name, names, file)] if name else names:
            unvalued: set[tuple[int, int]] = set()
            rows = tuple(kept(file, _rows(*_twice(values, formulas, title), unvalued)))
            if rows:
                found.append(Sheet(file, rows, how_chosen(title, names), frozenset(unvalued)))
    finally:
        values.close()
        if formulas is not values:
            formulas.close()
    if not found:
        raise no_rows(file)
    return found


def no_rows(file: Path) -> RecordError:
    """A workbook without anything in it."""
    return read_fault(file, "The workbook holds no rows.", "Write a line of headings and a line an oil.")


def _twice(values: Any, formulas: Any, title: str) -> tuple[Any, Any]:
    """The sheet with its values and with its formulas; the very same where there are none."""
    sheet = values[title]
    return sheet, sheet if formulas is values else formulas[title]


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


def _rows(values: Any, formulas: Any, unvalued: set[tuple[int, int]]) -> Iterator[Row]:
    for sheet in (values, formulas):
        sheet.reset_dimensions()
    pairs = zip(
        values.iter_rows(max_col=MOST_COLUMNS), formulas.iter_rows(max_col=MOST_COLUMNS), strict=False
    )
    for number, (row, asked) in enumerate(pairs, start=1):
        for column, (cell, written) in enumerate(zip(row, asked, strict=False)):
            if cell.value is None and written.value is not None and written.data_type == "f":
                unvalued.add((number, column))
        yield (
            number,
            tuple("=" if (number, column) in unvalued else _text(cell) for column, cell in enumerate(row)),
        )


def _text(cell: Any) -> str:
    """A cell as text, with the per cent sign or the unit that its format shows."""
    value = cell.value
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return _number(float(value), str(cell.number_format or ""))
        case datetime.datetime() | datetime.date():
            return value.isoformat()[:10]
        case _:
            return str(value).strip()


def _number(value: float, shown: str) -> str:
    literal = "".join(_LITERAL.findall(shown)).strip()
    if "%" in _LITERAL.sub("", shown):
        return f"{format_number(value * 100, DIGITS)} %"
    return f"{format_number(value, DIGITS)} {literal}".strip()
