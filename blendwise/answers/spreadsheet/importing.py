"""A maker's spreadsheet → the text of a new catalogue, and row by row what was understood of it."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from blendwise.answers.spreadsheet.cells import Reader, is_blank, months_first
from blendwise.answers.spreadsheet.entry import Entry, assembled, left_over, refused
from blendwise.answers.spreadsheet.headings import Column, find_columns
from blendwise.answers.spreadsheet.numbers import Unread, mark_of, reading
from blendwise.answers.spreadsheet.opened import read_sheet
from blendwise.answers.spreadsheet.result import CellView, ColumnView, ImportResult, RowView
from blendwise.answers.spreadsheet.table import DIVIDE, Row, Sheet
from blendwise.answers.spreadsheet.vocabulary import NAME, REMARK, SIZE
from blendwise.quantity import METRIC, Units
from blendwise.records.book import entries
from blendwise.records.kinds.scent import Scent
from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.reading.document import text_document
from blendwise.records.reading.fields import FieldError, parse_name
from blendwise.records.reading.nodes import LARGEST_FILE
from blendwise.records.writing.edit import Plain
from blendwise.records.writing.write import write_new

SHOWN_HEADINGS: Final = 12
NO_NAME: Final = "no name in it"
FORMULA_CELL: Final = "="


def import_sheet(
    file: Path,
    to: Path,
    *,
    today: datetime.date,
    shelf: Iterable[str] = (),
    units: Units = METRIC,
    evidence: str = "",
    sheet: str = "",
) -> ImportResult:
    """Read a CSV, TSV or XLSX of oils; nothing is written before ``write_import``.

    ``shelf``: names the book has; ``units``: those of bare numbers; ``evidence``: whose word it all is where
    no column says.  RecordError where the file cannot be read or no heading says what the oils are called.
    """
    table = read_sheet(file, sheet)
    place, columns = find_columns(table.rows)
    if place < 0:
        raise _unmatched(table)
    return _Import(table, place, columns, units, evidence).result(to, today, set(shelf))


def _view(column: Column, assumed: tuple[str, ...]) -> ColumnView:
    field = (column.constituent or column.field or None) if column.understood else None
    unit = column.unit or (f"per {column.per}" if column.per else "")
    return ColumnView(column.heading, field, unit, column.how, assumed)


def write_import(result: ImportResult) -> ImportResult:
    """Write the new catalogue; RecordError where a file of the name is there."""
    write_new(Path(result.to), result.text)
    return replace(result, written=result.to)


def _unmatched(table: Sheet) -> RecordError:
    number, cells = table.rows[0]
    headings = [f'"{cell}"' for cell in cells if cell][:SHOWN_HEADINGS]
    message = "No heading says what the oils are called, so that nothing was read."
    found = f"The first row has {', '.join(headings)}. " if headings else ""
    remedy = (
        f'{found}Write "Name" above the column of names, and such as "Vanillin %" or "Flash point °C" beside.'
    )
    return RecordError([Fault(Place(table.file, number), message, remedy)])


class _Import:
    """One sheet on its way: a reader for each column, then the rows one after another."""

    def __init__(
        self, table: Sheet, place: int, columns: Sequence[Column], units: Units, evidence: str
    ) -> None:
        self.table = table
        self.columns = columns
        self.evidence = evidence
        self.body = table.rows[place + 1 :]
        mark = mark_of(cell for _, cells in self.body for cell in cells)
        mass, temperature = ("oz" if units.mass == "oz" else "g"), f"°{units.temperature}"
        self.readers = [
            Reader(
                column,
                mark,
                mass,
                temperature,
                small=_small(column, cells),
                months_first=months_first(cells),
            )
            for column in columns
            for cells in [_cells_of(column, self.body)]
        ]

    def result(self, to: Path, today: datetime.date, shelf: set[str]) -> ImportResult:
        views: list[RowView] = []
        made: dict[str, Entry] = {}
        for row in self.body:
            view, entry = self._row(row, made)
            views.append(view)
            if entry is not None:
                made[entry.name] = entry
        if not made:
            message = "No row below the headings gives an oil."
            raise RecordError([Fault(Place(self.table.file), message, "Write the oils below the headings.")])
        text = _text(made.values(), self.table.file.name, today)
        _proved(text, to, len(made), self.table.file)
        known = tuple(name for name in made if name in shelf)
        return ImportResult(
            self.table.file.as_posix(), self.table.how, self._columns(), tuple(views), text, str(to), known
        )

    def _columns(self) -> tuple[ColumnView, ...]:
        return tuple(
            ColumnView(
                reader.column.heading,
                (reader.column.constituent or reader.column.field or None)
                if reader.column.understood
                else None,
                reader.column.unit or (f"per {reader.column.per}" if reader.column.per else ""),
                reader.column.how,
                tuple(reader.assumed),
            )
            for reader in self.readers
        )

    def _row(self, row: Row, made: Mapping[str, Entry]) -> tuple[RowView, Entry | None]:
        number, cells = row
        found: dict[str, Plain] = {}
        read_as: list[CellView] = []
        lost: list[CellView] = []
        remarks: list[tuple[str, str]] = []
        headings: dict[str, tuple[str, str]] = {}
        for reader, text in self._told(number, cells):
            column = reader.column
            if column.field == REMARK:
                remarks.append((column.heading or f"column {column.index + 1}", text))
                continue
            headings.setdefault(column.field, (column.heading, text))
            try:
                taken = reader.read(text)
            except Unread as error:
                lost.append(CellView(column.heading, text, error.why))
                continue
            if taken is None:
                continue
            _add(found, column, taken.value)
            if taken.guess:
                read_as.append(CellView(column.heading, text, taken.guess))
        name = _name(found.get(NAME))
        why_not = _why_not(name, made)
        if why_not or name is None:
            return RowView(number, name or "", 0, why_not, tuple(read_as), tuple(lost)), None
        fields = self._fields(name, found, headings, lost)
        remarks += [(cell.heading, cell.cell) for cell in lost]
        entry = Entry(name, fields, remarks)
        return RowView(number, name, len(fields), "", tuple(read_as), tuple(lost)), entry

    def _told(self, number: int, cells: Sequence[str]) -> Iterator[tuple[Reader, str]]:
        """Each reader with the text of its cell, where it holds any."""
        for reader in self.readers:
            index = reader.column.index
            text = cells[index] if index < len(cells) else ""
            if text and not is_blank(text):
                yield reader, FORMULA_CELL if (number, index) in self.table.formulas else text

    def _fields(
        self,
        name: str,
        found: dict[str, Plain],
        headings: Mapping[str, tuple[str, str]],
        lost: list[CellView],
    ) -> dict[str, Plain]:
        """The entry's fields, without what the record refuses; that is added to ``lost``."""
        _priced(found, headings, lost)
        fields = assembled(found, self.evidence)
        for key in left_over(found, fields):
            lost.append(CellView(*headings.get(key, (key, "")), "there is nothing here that it belongs to"))
        while faults := refused(name, fields):
            for key, why in faults:
                lost.append(CellView(*headings.get(key, (key, "")), why))
                fields.pop(key, None)
            if all(key not in headings for key, _ in faults) and refused(name, fields) == faults:
                raise RecordError([Fault(Place(self.table.file), f'"{name}": {faults[0][1]}')])
        return fields


def _priced(found: dict[str, Plain], headings: Mapping[str, tuple[str, str]], lost: list[CellView]) -> None:
    """A price that waited for its mass is for the size of the bottle, where a column gives it."""
    for place, cell in enumerate(lost):
        if (
            SIZE in found
            and headings.get("price") == (cell.heading, cell.cell)
            and "unsaid mass" in cell.said
        ):
            found["price"] = f"{cell.cell.replace(',', '.')} per {found[SIZE]}"
            del lost[place]
            return


def _add(found: dict[str, Plain], column: Column, value: Plain) -> None:
    """Keep a value under its field; constituents of several columns go on one sheet."""
    earlier = found.get(column.field)
    if isinstance(earlier, Mapping) and isinstance(value, Mapping):
        value = {**earlier, **value}
    found[column.field] = value


def _name(value: Plain | None) -> str | None:
    if not isinstance(value, str):
        return None
    try:
        return parse_name(value)
    except FieldError:
        return None


def _why_not(name: str | None, made: Mapping[str, Entry]) -> str:
    if name is None:
        return NO_NAME
    return f'"{name}" stands in an earlier row' if name in made else ""


def _cells_of(column: Column, rows: Sequence[Row]) -> list[str]:
    return [cells[column.index] for _, cells in rows if column.index < len(cells) and cells[column.index]]


def _small(column: Column, cells: Sequence[str]) -> bool:
    """Whether a column's bare numbers are all at most 1: they may be per cent or fractions of one."""
    if column.unit or column.field not in ("vanillin", "ethyl vanillin", "limit in bar", "allergen sheet"):
        return False
    tops = []
    for cell in cells:
        try:
            found = reading(cell, mark_of(cells))
            if not found.unit:
                tops.append(found.top)
        except Unread:
            continue
    return bool(tops) and max(tops) <= 1


def _text(made: Iterable[Entry], source: str, today: datetime.date) -> str:
    """The new catalogue: a word on where it comes from, then an entry an oil."""
    tame = "".join(sign if sign.isprintable() else "?" for sign in source)
    head = [
        f"# Oils taken from {tame} on {today.isoformat()}.",
        "# What is left out here is not known, and is never taken for none. What could not be understood,",
        "# and what has no field, stands below its oil as a remark. Look it over before you lean on it.",
    ]
    return "\n".join([*head, *(line for entry in made for line in ("", *entry.lines()))]) + "\n"


def _proved(text: str, to: Path, count: int, source: Path) -> None:
    """The text is read as a book would read it before anybody keeps it."""
    try:
        loaded = entries(Scent, text_document(text, to), "scents")
        if len(text.encode()) > LARGEST_FILE:
            raise RecordError([Fault(Place(to), f"It would be {len(text) / 1e6:.1f} MB.")])
    except RecordError as error:
        message = f"What was read does not make one catalogue: {error.faults[0].message}"
        raise RecordError([Fault(Place(source), message, DIVIDE)]) from None
    assert len(loaded) == count
