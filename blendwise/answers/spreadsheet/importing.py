"""A maker's spreadsheet → the text of a catalogue, what was understood of it, and what is asked back."""

from __future__ import annotations

import datetime
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from blendwise.answers.spreadsheet.answers import (
    REMARK_ANSWER,
    Answers,
    answers_file,
)
from blendwise.answers.spreadsheet.doubts import Doubts
from blendwise.answers.spreadsheet.entry import Entry, assembled, left_over, refused
from blendwise.answers.spreadsheet.files.opened import read_sheets
from blendwise.answers.spreadsheet.files.table import DIVIDE, Row, Sheet
from blendwise.answers.spreadsheet.result import CellView, ColumnView, ImportResult, RowView
from blendwise.answers.spreadsheet.rows import Told, alarmed, priced, take
from blendwise.answers.spreadsheet.shelved import Shelved
from blendwise.answers.spreadsheet.skin import FOR_SKIN, SOLD_FOR_SKIN, with_skin_said
from blendwise.answers.spreadsheet.understood import Understood, understand
from blendwise.answers.spreadsheet.words.cells import Reader, is_blank
from blendwise.answers.spreadsheet.words.headings import Column, plainly
from blendwise.answers.spreadsheet.words.numbers import Unread
from blendwise.answers.spreadsheet.words.vocabulary import NAME, TOTALS
from blendwise.quantity import METRIC, Units
from blendwise.quantity.parse import DIGITS
from blendwise.records.kinds.scent import Scent
from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.reading.document import Document, text_document
from blendwise.records.reading.fields import FieldError, parse_name
from blendwise.records.reading.nodes import LARGEST_FILE, copied
from blendwise.records.writing.edit import Plain, save
from blendwise.records.writing.write import write_new

SHOWN_HEADINGS: Final = 12
APART: Final = "Name a new file: --to NEW.yaml."
NO_NAME: Final = "no name in it"
TOTAL: Final = "it adds the others up"
HEADINGS_AGAIN: Final = "the headings once more"
FORMULA_CELL: Final = "="


def import_sheet(
    file: Path,
    to: Path,
    *,
    today: datetime.date,
    shelf: Mapping[str, Scent] | None = None,
    units: Units = METRIC,
    evidence: str = "",
    sheet: str = "",
    answers: Answers | None = None,
    catalogue: Document | None = None,
) -> ImportResult:
    """Read a CSV, TSV, XLSX or ODS of oils; nothing is written before ``write_import``.

    ``shelf``: oils the book has; ``units``: those of bare numbers; ``evidence``: whose word it all is where
    no column says; ``answers``: what a maker said of doubts; ``catalogue``: the file to add to, where it is
    not a new one.  What is doubtful is left out (a remark) and asked for in ``questions``.  RecordError where
    the file cannot be read or no heading says what the oils are called.
    """
    table, understood = _best(read_sheets(file, sheet), answers or Answers(), units)
    run = _Import(table, understood, answers or Answers(), evidence, shelf or {})
    return run.result(to, today, catalogue)


def _best(sheets: Sequence[Sheet], answers: Answers, units: Units) -> tuple[Sheet, Understood]:
    """The sheet of a workbook that says most of oils; RecordError where none says what they are called."""
    found = [(each, told) for each in sheets if (told := understand(each, answers, units)) is not None]
    if not found:
        raise _unmatched(sheets[0])
    return max(found, key=lambda each: each[1].score)


def write_import(result: ImportResult, catalogue: Document | None = None) -> ImportResult:
    """Write the new file, or add the entries to the catalogue; RecordError where a new file is there already,
    or where the catalogue has changed meanwhile."""
    if not result.text:
        return result
    if result.adds and catalogue is not None:
        entries = text_document(result.text, catalogue.file).root.plain or {}
        save(replace(catalogue, text=_added(catalogue, result.text, entries).text))
    else:
        write_new(Path(result.to), result.text)
    return replace(result, written=result.to)


def _added(catalogue: Document, text: str, entries: Mapping[str, Plain]) -> Document:
    """The catalogue with a text of entries at its end; RecordError where it would say anything but both."""
    newline = "\r\n" if "\r\n" in catalogue.text else "\n"
    body = catalogue.text.rstrip() + "\n\n" + text
    told = text_document(body.replace("\r\n", "\n").replace("\n", newline), catalogue.file)
    if {**(catalogue.root.plain or {}), **entries} != told.root.plain:
        message = "Entries cannot be added to the end of this file."
        raise RecordError([Fault(Place(catalogue.file), message, APART)])
    return told


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
        self,
        table: Sheet,
        understood: Understood,
        answers: Answers,
        evidence: str,
        shelf: Mapping[str, Scent],
    ) -> None:
        self.table, self.answers, self.evidence = table, answers, evidence
        self.understood = understood
        self.readers = understood.readers
        self.says_skin = any(each.column.field == FOR_SKIN for each in self.readers)
        self.doubts = Doubts(answers, {each.heading for each in understood.questions})
        self.shelved = Shelved(answers, shelf)

    def result(self, to: Path, today: datetime.date, catalogue: Document | None) -> ImportResult:
        views: list[RowView] = []
        made: list[Entry] = []
        for row in self.understood.body:
            view, entry = self._row(row)
            views.append(view)
            if entry is not None:
                made.append(entry)
        if not views or all(view.why_not in (NO_NAME, TOTAL, HEADINGS_AGAIN) for view in views):
            message = "No row below the headings gives an oil."
            raise RecordError([Fault(Place(self.table.file), message, "Write the oils below the headings.")])
        text = _text(made, self.table.file.name, today, catalogue is not None) if made else ""
        if made:
            _proved(text, to, made, self.table.file, catalogue)
        asked = [*self.understood.questions, *self.shelved.questions()]
        return ImportResult(
            self.table.file.as_posix(),
            self.table.how,
            self._columns(),
            tuple(views),
            text,
            str(to),
            tuple(self.shelved.known),
            (*asked, *self.doubts.questions(len(asked))),
            answers_file(self.table.file).as_posix(),
            catalogue is not None,
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

    def _row(self, row: Row) -> tuple[RowView, Entry | None]:
        number, cells = row
        told = Told(number)
        for reader, text in self._cells(number, cells):
            take(told, reader, text, self.answers)
        alarmed(told)
        told.name = _name(told.found.get(NAME))
        why_not = _why_not(told.name, cells, self.understood.headings)
        if why_not or told.name is None:
            return RowView(number, told.name or "", 0, why_not), None
        fields, scent = self._fields(told.name, told)
        self._ask(told)
        told.remarks += [(cell.heading, cell.cell) for cell in told.lost]
        name, why_not, differs = self.shelved.placed(told.name, scent, told.supplier, number, cells)
        if why_not:
            said = tuple(CellView(*each) for each in differs)
            return RowView(number, name, 0, why_not, (), tuple(told.lost), said), None
        if not self.says_skin:
            fields = with_skin_said(fields, told.remarks, self.answers.every(SOLD_FOR_SKIN))
        entry = Entry(name, fields, told.remarks)
        return RowView(number, name, len(fields), "", tuple(told.read_as), tuple(told.lost)), entry

    def _cells(self, number: int, cells: Sequence[str]) -> Iterator[tuple[Reader, str]]:
        """Each reader with the text of its cell, where it holds any."""
        for reader in self.readers:
            index = reader.column.index
            text = cells[index] if index < len(cells) else ""
            if text and not is_blank(text):
                yield reader, FORMULA_CELL if (number, index) in self.table.formulas else text

    def _ask(self, told: Told) -> None:
        """The doubts of a row that gives an oil."""
        at = (told.number, told.name or "")
        for reader, text, error in told.doubts:
            column = reader.column
            if error.heading:
                guess = self._price_heading(reader) if error.heading == "price" else error.heading
                self.doubts.column(column, guess, error.why, _must(error), at)
            else:
                self.doubts.cell(column, text, error.why, error.guess, at, error.must)

    def _price_heading(self, reader: Reader) -> str:
        """The mass that prices of the column most likely are for: the one that most other cells name."""
        index = reader.column.index
        cells = (cells[index] for _, cells in self.understood.body if index < len(cells))
        named = Counter(found[1] for cell in cells if (found := _PER_MASS.search(cell)))
        return f"price per {named.most_common(1)[0][0]}" if named else REMARK_ANSWER

    def _fields(self, name: str, told: Told) -> tuple[dict[str, Plain], Scent]:
        """The entry's fields, without what the record refuses; that is lost, and asked about."""
        found, at = told.found, (told.number, name)
        priced(told)
        fields = assembled(found, self.evidence)
        for each in left_over(found, fields):
            heading, cell = told.headings.get(each, (each, ""))
            told.lost.append(CellView(heading, cell, "there is nothing here that it belongs to"))
            self.doubts.together(heading, "left over", False, at)
        while isinstance(faults := refused(name, fields), list):
            for each, why in faults:
                heading, cell = told.headings.get(each, (each, ""))
                told.lost.append(CellView(heading, cell, why))
                fields.pop(each, None)
                self.doubts.cell(Column(0, heading, each), cell, why, "", at)
            if all(each not in told.headings for each, _ in faults) and refused(name, fields) == faults:
                raise RecordError([Fault(Place(self.table.file), f'"{name}": {faults[0][1]}')])
        return fields, faults


def _must(error: Unread) -> bool:
    """Whether a guess at a column's unit or order is not enough: either may be meant."""
    return error.heading.endswith("first") or "fraction" in error.why


_PER_MASS: Final = re.compile(
    rf"(?:/|\bper\b|\bfor\b|\ban?\b)\s*((?:(?:{DIGITS}|\d+,\d+)\s*)?[a-z]{{1,6}})\s*$", re.I
)


def _name(value: Plain | None) -> str | None:
    if not isinstance(value, str):
        return None
    try:
        return parse_name(value)
    except FieldError:
        return None


def _why_not(name: str | None, cells: Sequence[str], headings: Sequence[str]) -> str:
    if tuple(cells) == tuple(headings):
        return HEADINGS_AGAIN
    if plainly(name or "") in TOTALS or any(plainly(cell) in TOTALS for cell in cells[:1]):
        return TOTAL
    return NO_NAME if name is None else ""


def _text(made: Sequence[Entry], source: str, today: datetime.date, adds: bool) -> str:
    """The entries as text, with a word on where they come from."""
    tame = "".join(sign if sign.isprintable() else "?" for sign in source)
    head = [f"# Oils taken from {tame} on {today.isoformat()}."]
    if not adds:
        head += [
            "# What is left out here is not known, and is never taken for none. What could not be read, and",
            "# what has no field, stands below its oil as a remark. Look it over before you lean on it.",
        ]
    return "\n".join([*head, *(line for entry in made for line in ("", *entry.lines()))]) + "\n"


def _proved(text: str, to: Path, made: Sequence[Entry], source: Path, catalogue: Document | None) -> None:
    """The text is read as a book would before anybody keeps it: it says what was validated, and no more.

    Where it goes onto a shelf, it is read once, at the end of what stands there.
    """
    meant = {entry.name: copied(entry.fields) for entry in made}
    try:
        told = text_document(text, to) if catalogue is None else _added(catalogue, text, meant)
        if len(told.text.encode()) > LARGEST_FILE:
            raise RecordError([Fault(Place(to), f"It would be {len(told.text) / 1e6:.1f} MB.")])
    except RecordError as error:
        message = f"What was read does not make one catalogue: {error.faults[0].message}"
        remedy = DIVIDE if catalogue is None else APART
        raise RecordError([Fault(Place(source), message, remedy)]) from None
    assert catalogue is not None or told.root.plain == meant
