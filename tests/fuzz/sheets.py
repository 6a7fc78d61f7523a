"""Spreadsheets bent by cell and heading, and written as CSV, TSV, XLSX or ODS."""

from __future__ import annotations

import csv
import io
import zipfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from random import Random
from typing import Final
from xml.sax.saxutils import escape

from openpyxl import Workbook, load_workbook
from openpyxl.utils.exceptions import IllegalCharacterError

from tests.fuzz.bend import FIGURE, ODD, misspelt, other_figure
from tests.strangers.books import DEMO, FOUND

Grid = list[list[str]]
FORMS: Final = ("csv", "tsv", "xlsx", "ods")
SHEETS: Final = (
    DEMO / "bottles.csv", FOUND / "seller" / "oils60.csv", FOUND / "ten-years" / "bottles.csv",
    FOUND / "beginner" / "oils-no-title.xlsx", FOUND / "beginner" / "oils-title-row.xlsx",
)  # fmt: skip
ODS: Final = (
    '<?xml version="1.0"?><office:document-content '
    ' xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"'
    ' xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"'
    ' xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>'
    '<table:table table:name="oils">{rows}</table:table>'
    "</office:spreadsheet></office:body></office:document-content>"
)


@dataclass(frozen=True)
class BentSheet:
    """A grid with one cell bent: its row and column (from 0), what stood there and what does now."""

    grid: Grid
    how: str
    before: str
    now: str
    must_show: bool
    row: int = 0
    column: int = 0


@cache
def _grid(file: Path) -> tuple[tuple[str, ...], ...]:
    if file.suffix == ".xlsx":
        rows = load_workbook(file).worksheets[0].iter_rows(values_only=True)
        return tuple(tuple("" if cell is None else str(cell) for cell in row) for row in rows)
    text = file.read_bytes().decode("cp1252" if file.stem == "oils60" else "utf-8")
    delimiter = ";" if text.count(";") > text.count(",") else ","
    return tuple(map(tuple, csv.reader(io.StringIO(text), delimiter=delimiter)))


def grid(rng: Random) -> Grid:
    """A maker's sheet, of at most a dozen rows below its headings so that it is quick to read."""
    rows = [list(row) for row in _grid(rng.choice(SHEETS))]
    head, body = rows[:3], rows[3:]
    start = 6 * rng.randrange(max(1, len(body) // 6))
    return head + body[start : start + 12]


def bent_grid(rng: Random, rows: Grid) -> BentSheet:
    """A copy with one cell another: a figure of a row, a heading, or anything at all."""
    new = [list(row) for row in rows]
    filled = [(y, x) for y, row in enumerate(new) for x, cell in enumerate(row) if cell.strip()]
    numbers = [(y, x) for y, x in filled if y > 2 and FIGURE.search(new[y][x])]
    if numbers and rng.random() < 0.5:
        y, x = rng.choice(numbers)
        return _cell(new, y, x, other_figure(rng, new[y][x]) or "", "figure", True)
    y, x = rng.choice(filled)
    if rng.random() < 0.4:
        return _cell(new, y, x, misspelt(rng, new[y][x]), "letters", False)
    if rng.random() < 0.2:
        new[y : y + 1] = rng.choice(([], [new[y], new[y]], [[], new[y]], [new[y][1:]], [["x"] * 300]))
        return BentSheet(new, "row", "", "", False)
    other_y, other_x = rng.choice(filled)
    return _cell(new, y, x, rng.choice((rng.choice(ODD), new[other_y][other_x])), "cell", False)


def _cell(rows: Grid, y: int, x: int, new: str, how: str, must_show: bool) -> BentSheet:
    before, rows[y][x] = rows[y][x], new
    return BentSheet(rows, how, before, new, must_show and new != before, y, x)


def written(rows: Grid, form: str) -> bytes | None:
    """A grid as a file of this form; None where the form cannot hold one of its cells."""
    if form in ("csv", "tsv"):
        out = io.StringIO(newline="")
        csv.writer(out, delimiter="," if form == "csv" else "\t").writerows(rows)
        return out.getvalue().encode("utf-8", "surrogatepass")
    return _xlsx(rows) if form == "xlsx" else _ods(rows)


def _xlsx(rows: Grid) -> bytes | None:
    book, out = Workbook(), io.BytesIO()
    assert book.active is not None
    try:
        for row in rows:
            book.active.append(
                [float(cell) if cell.isascii() and cell.isdigit() and len(cell) < 9 else cell for cell in row]
            )
    except IllegalCharacterError:
        return None
    book.save(out)
    return out.getvalue()


def _ods(rows: Grid) -> bytes | None:
    if any(ord(sign) < 32 or sign in "\ufffe\uffff" for row in rows for cell in row for sign in cell):
        return None
    cells = (
        "".join(f"<table:table-cell><text:p>{escape(cell)}</text:p></table:table-cell>" for cell in row)
        for row in rows
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        body = "".join(f"<table:table-row>{each}</table:table-row>" for each in cells)
        packed.writestr("content.xml", ODS.replace("{rows}", body))
    return out.getvalue()
