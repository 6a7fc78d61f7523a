"""ODS, read as a stream: what each cell shows, no formula worked out (OASIS OpenDocument 1.3, part 3)."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final
from xml.etree.ElementTree import Element, ParseError, iterparse

from blendwise.answers.spreadsheet.files.table import BLANK_ROWS, MOST_COLUMNS, Row, Sheet, kept
from blendwise.answers.spreadsheet.files.workbook import chosen_sheet, how_chosen, no_rows, refuse_bombs
from blendwise.quantity import format_number
from blendwise.records.place import RecordError, read_fault

_T: Final = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_X: Final = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_O: Final = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_CELLS: Final = (f"{_T}table-cell", f"{_T}covered-table-cell")
DIGITS: Final = 12


def read_ods(file: Path, name: str = "") -> list[Sheet]:
    """The sheets that hold anything, or the one that is named; RecordError where the file is none."""
    refuse_bombs(file, "an ODS sheet")
    try:
        with zipfile.ZipFile(file) as packed:
            return _sheets(packed, file, name)
    except RecordError:
        raise
    except (ParseError, KeyError, OSError, ValueError, EOFError, zipfile.BadZipFile, RuntimeError) as error:
        what = " ".join(str(error).split())[:120]
        message = f"The sheet cannot be read: {what}."
        raise read_fault(file, message, "Save it again as ODS, or as CSV.") from None


def _sheets(packed: zipfile.ZipFile, file: Path, name: str) -> list[Sheet]:
    found: dict[str, tuple[tuple[Row, ...], set[tuple[int, int]]]] = {}
    with packed.open("content.xml") as stream:
        events = iterparse(stream, ("start", "end"))
        for event, element in events:
            if event == "start" and element.tag == f"{_T}table":
                unvalued: set[tuple[int, int]] = set()
                title = element.get(f"{_T}name", f"sheet {len(found) + 1}")
                found[title] = tuple(kept(file, _rows(events, unvalued))), unvalued
    names = list(found)
    chosen = [chosen_sheet(name, names, file)] if name else names
    held = [(title, *found[title]) for title in chosen if found[title][0]]
    if not held:
        raise no_rows(file)
    return [Sheet(file, rows, how_chosen(title, names), frozenset(bare)) for title, rows, bare in held]


def _rows(events: Any, unvalued: set[tuple[int, int]]) -> Iterator[Row]:
    """The rows of the table that has just begun; empty ones that are repeated to the end are cut short."""
    number = 0
    for event, element in events:
        if event == "end" and element.tag == f"{_T}table":
            return
        if event == "end" and element.tag == f"{_T}table-row":
            cells, bare = _row(element)
            times = int(element.get(f"{_T}number-rows-repeated", "1"))
            for _ in range(times if cells else min(times, BLANK_ROWS)):
                number += 1
                unvalued.update((number, column) for column in bare)
                yield number, cells
            element.clear()


def _row(row: Element) -> tuple[tuple[str, ...], list[int]]:
    """The texts of a row without the empty end, and where a formula has no stored value."""
    cells: list[str] = []
    bare: list[int] = []
    waiting = 0
    for cell in row:
        if cell.tag not in _CELLS:
            continue
        times = int(cell.get(f"{_T}number-columns-repeated", "1"))
        text = _text(cell) if cell.tag == _CELLS[0] else ""
        formula = not text and cell.get(f"{_T}formula") is not None
        if not text and not formula:
            waiting += times
            continue
        cells += [""] * min(waiting, MOST_COLUMNS - len(cells))
        waiting = 0
        for _ in range(min(times, MOST_COLUMNS - len(cells))):
            if formula:
                bare.append(len(cells))
            cells.append("=" if formula else text)
    return tuple(cells), bare


def _text(cell: Element) -> str:
    """What a cell shows, by its stored value where that says more: days, per cents, plain numbers."""
    kind, value = cell.get(f"{_O}value-type", ""), cell.get(f"{_O}value", "")
    shown = "\n".join("".join(part.itertext()) for part in cell.iter(f"{_X}p")).strip()
    if kind == "date":
        return cell.get(f"{_O}date-value", shown)[:10]
    if kind == "boolean":
        return "yes" if cell.get(f"{_O}boolean-value") == "true" else "no"
    if kind == "percentage" and value:
        return f"{format_number(100 * float(value), DIGITS)} %"
    if kind == "float" and value and not any(sign.isalpha() or sign in "°%$€£" for sign in shown):
        return format_number(float(value), DIGITS)
    return shown or value
