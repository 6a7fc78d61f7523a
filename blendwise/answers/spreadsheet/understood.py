"""A sheet's columns as they are understood: by their headings, by what a maker answered, by their cells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from blendwise.answers.spreadsheet.answers import REMARK_ANSWER, Answers
from blendwise.answers.spreadsheet.files.table import Row, Sheet
from blendwise.answers.spreadsheet.result import Question
from blendwise.answers.spreadsheet.words.alarms import alarms
from blendwise.answers.spreadsheet.words.cells import Reader, is_blank
from blendwise.answers.spreadsheet.words.days import months_first
from blendwise.answers.spreadsheet.words.headings import (
    FOR_SKIN,
    Column,
    answered,
    by_its_cells,
    find_headings,
    once_each,
    plainly,
)
from blendwise.answers.spreadsheet.words.numbers import Mark, Unread, mark_of, reading
from blendwise.answers.spreadsheet.words.tongues import HEADINGS_ABROAD
from blendwise.answers.spreadsheet.words.vocabulary import (
    FADES,
    HEADINGS,
    NAME,
    REMARK,
    SAFETY,
    SUPPLIER,
    WORDS,
)
from blendwise.quantity import Units

LOOKED_AT: Final = 200
"""Cells of a column by which it is judged."""
FITTING, HARDLY = 0.8, 0.5
"""Share of its cells that a column must be able to read: where its heading means it by a part, and at all."""
AFTER: Final = "after six weeks"
FEW_WORDS: Final = 4
"""Words of a column of a closed set, each of which is asked about rather than the column."""
_SHARED: Final = frozenset(
    each
    for each, count in Counter(
        plainly(one)
        for words in WORDS.values()
        for one in {one for word, given in words.items() for one in (word, *given)}
    ).items()
    if count > 1
)
"""Words of more than one set ("none", "strong"): they tell of no column by themselves."""
COMMON: Final = frozenset(
    {NAME, SUPPLIER, REMARK, "on hand", "price", "lot", "bought", "size", "evidence", "tags"}
)
"""Fields that a sheet of anything may have."""


@dataclass(frozen=True, slots=True)
class Understood:
    """The rows below the headings, a reader for each column, and what is to be asked of the columns."""

    headings: tuple[str, ...]
    body: tuple[Row, ...]
    readers: tuple[Reader, ...]
    questions: tuple[Question, ...]

    @property
    def score(self) -> int:
        """How many fields of an oil the sheet has."""
        return len({reader.column.field for reader in self.readers} - {REMARK})


def understand(table: Sheet, answers: Answers, units: Units) -> Understood | None:
    """What a sheet's columns hold; None where no row says what the oils are called."""
    place, columns = find_headings(table.rows)
    if place < 0:
        return None
    body = table.rows[place + 1 :]
    sheet = _Sheet(body, answers, units)
    told = [sheet.told(column) for column in columns]
    named = sheet.named(told, table.rows[place][1])
    if not named:
        return None
    readers = tuple(sheet.reader(column) for column in once_each(named))
    return Understood(table.rows[place][1], body, readers, tuple(sheet.asked(readers)))


class _Sheet:
    """The rows of one sheet, and what is known of all of them."""

    def __init__(self, body: Sequence[Row], answers: Answers, units: Units) -> None:
        self.body, self.answers = body, answers
        self.mass, self.temperature = ("oz" if units.mass == "oz" else "g"), f"°{units.temperature}"
        self.mark = mark_of(cell for _, cells in body for cell in cells)
        self.held: dict[int, list[str]] = {}

    def cells(self, column: Column) -> list[str]:
        """The cells of a column that say anything."""
        if column.index not in self.held:
            cells = (cells[column.index] for _, cells in self.body if column.index < len(cells))
            self.held[column.index] = [cell for cell in cells if cell and not is_blank(cell)]
        return self.held[column.index]

    def reader(self, column: Column) -> Reader:
        """How the cells of a column are read."""
        cells = self.cells(column)
        small, first = _small(column, cells, self.mark), months_first(cells)
        return Reader(column, self.mark, self.mass, self.temperature, small=small, months_first=first)

    def told(self, column: Column) -> Column:
        """The column as a maker answered, else by its heading, and where that is not enough by its cells."""
        answer = self.answers.column(column.heading)
        if answer is not None:
            remark = Column(column.index, column.heading, REMARK, how="as answered")
            return remark if answer.casefold() == REMARK_ANSWER else answered(column, answer)
        column = by_its_cells(column, self.body)
        if column.how != "by a part":
            return column
        fields = [each for each in column.may_be if self.fit(replace(column, field=each)) >= FITTING]
        return replace(column, field=fields[0]) if fields else column

    def fit(self, column: Column) -> float:
        """The share of a column's cells that can be read as its field; 1 where it has none."""
        cells = self.cells(column)[:LOOKED_AT]
        if column.field == REMARK or not cells:
            return 1.0
        reader = self.reader(column)
        return sum(_can_be_read(reader, cell) for cell in cells) / len(cells)

    def named(self, columns: list[Column], headings: Sequence[str]) -> list[Column]:
        """The columns with one of names; none where it stays open what the oils are called.

        A heading that only holds a word for names ("Goes what colour") counts where its cells are like names.
        """
        columns = [each if self._may_name(each) else _unread(each) for each in columns]
        if any(column.field == NAME for column in columns):
            return columns
        understood = sum(column.understood for column in columns)
        if not headings[0] and understood >= 2:
            return [Column(0, "", NAME, how="by meaning"), *columns]
        for place, column in enumerate(columns):
            bottle = plainly(column.heading) == "bottle"
            if bottle or (understood >= 2 and self._says_nothing(column) and self._like_names(column)):
                told = replace(column, field=NAME, how="by meaning" if bottle else "by nearness")
                return [*columns[:place], told, *columns[place + 1 :]]
        return []

    def _may_name(self, column: Column) -> bool:
        by_chance = column.field == NAME and column.how in ("by a part", "by nearness")
        return not by_chance or self._like_names(column)

    def _says_nothing(self, column: Column) -> bool:
        """Whether a column is of no field, or its heading only holds a word of one and its cells none."""
        return not column.understood or (column.how == "by a part" and self.fit(column) < HARDLY)

    def _like_names(self, column: Column) -> bool:
        cells = self.cells(column)
        words = sum(any(sign.isalpha() for sign in cell) and len(cell) < 60 for cell in cells)
        return bool(cells) and words == len(cells) and len(set(cells)) > 0.9 * len(cells)

    def by_cells(self, column: Column) -> str:
        """The field whose words most cells of a column are that nothing else tells of; an empty text else."""
        cells = [plainly(cell) for cell in self.cells(column)[:LOOKED_AT]]
        for field in ("browns to", "acceleration", "after six weeks"):
            known = {plainly(each) for word, given in WORDS[field].items() for each in (word, *given)}
            own = known - _SHARED
            if sum(each in known for each in cells) >= FITTING * len(cells) and own & set(cells):
                return field
        return ""

    def asked(self, readers: Sequence[Reader]) -> Iterator[Question]:
        """What is asked of columns that are not certain."""
        particular = {reader.column.field for reader in readers} - COMMON
        for reader in readers:
            column = reader.column
            name = column.field == NAME and not particular
            if self.answers.column(column.heading) is not None or not (name or self.cells(column)):
                continue
            if name:
                yield _of_column(column, "nothing particular", NAME, must=True)
            else:
                yield from self._doubt(column)

    def _few_words(self, column: Column) -> bool:
        """Whether a column that its heading names for certain holds few enough words to ask about each."""
        certain = column.how in ("as written", "by meaning") and not column.turned
        words = {plainly(cell) for cell in self.cells(column)}
        return certain and (column.field in WORDS or column.field == FOR_SKIN) and len(words) <= FEW_WORDS

    def _doubt(self, column: Column) -> Iterator[Question]:
        known = plainly(column.heading) in map(plainly, (*HEADINGS[REMARK], *HEADINGS_ABROAD[REMARK]))
        fit = self.fit(column)
        safety = bool(SAFETY & {column.field, *column.may_be}) or bool(alarms(column.heading)[0])
        if column.how == "not understood" and not known:
            field = self.by_cells(column)
            yield _of_column(column, column.how, field or REMARK_ANSWER, must=safety or bool(field))
        elif column.how == "of another use":
            yield _of_column(column, column.how, REMARK_ANSWER)
        elif column.how == "second of its kind":
            yield _of_column(column, column.how, REMARK_ANSWER, must=safety)
        elif column.how == "by nearness":
            yield _of_column(column, column.how, _heading(column))
        elif (column.how == "by a part" and fit < FITTING) or (fit < HARDLY and not self._few_words(column)):
            guess, must = _unfit(column, self.cells(column), self.mark)
            yield _of_column(column, f"unlike {column.field}", guess, must or safety)


def _unread(column: Column) -> Column:
    return replace(column, field=REMARK, how="not understood")


def _of_column(column: Column, why: str, guess: str, must: bool = False) -> Question:
    return Question("column", column.heading, "", why, guess, must)


def _heading(column: Column) -> str:
    """The heading that would leave no doubt."""
    unit = f" per {column.per}" if column.per else f" {column.unit}".rstrip()
    field = FADES[0] if column.turned and column.field == AFTER else column.field
    return f"{column.constituent or field}{unit}"


def _unfit(column: Column, cells: Sequence[str], mark: Mark) -> tuple[str, bool]:
    """What a column is guessed to be whose cells cannot be read, and whether the guess is not enough."""
    if _small(column, cells, mark):
        return f"{column.field} %", True
    fades = column.turned and column.field == AFTER
    return (_heading(column), True) if fades else (REMARK_ANSWER, column.turned)


def _can_be_read(reader: Reader, cell: str) -> bool:
    """Whether a cell gives something, or at least a guess."""
    try:
        return reader.read(cell) is not None
    except Unread as error:
        return bool(error.guess or error.heading)


def _small(column: Column, cells: Sequence[str], mark: Mark) -> bool:
    """Whether a column's bare numbers are all at most 1: they may be per cent or fractions of one."""
    if column.unit or column.field not in ("vanillin", "ethyl vanillin", "limit in bar", "allergen sheet"):
        return False
    tops = []
    for cell in cells:
        try:
            found = reading(cell, mark)
            if not found.unit:
                tops.append(found.top)
        except Unread:
            continue
    return bool(tops) and 0 < max(tops) <= 1
