"""The cells of one row, as they stand or as a maker answered: what they say, what is lost or asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf
from typing import Final

from blendwise.answers.spreadsheet.answers import AS_GUESSED, REMARK_ANSWER, UNKNOWN, Answers
from blendwise.answers.spreadsheet.result import CellView
from blendwise.answers.spreadsheet.words.alarms import LIMIT, agreed, alarms
from blendwise.answers.spreadsheet.words.cells import Reader
from blendwise.answers.spreadsheet.words.headings import Column
from blendwise.answers.spreadsheet.words.numbers import Unread
from blendwise.answers.spreadsheet.words.vocabulary import REMARK, SIZE, SUPPLIER
from blendwise.quantity import Basis, Dimension, QuantityError, parse_amount
from blendwise.records.writing.edit import Plain

TAGS: Final = "tags"


@dataclass(slots=True)
class Told:
    """What one row gave so far: fields, remarks, what is said of its cells, its doubts, its supplier."""

    number: int
    found: dict[str, Plain] = field(default_factory=dict)
    read_as: list[CellView] = field(default_factory=list)
    lost: list[CellView] = field(default_factory=list)
    remarks: list[tuple[str, str]] = field(default_factory=list)
    headings: dict[str, tuple[str, str]] = field(default_factory=dict)
    doubts: list[tuple[Reader, str, Unread]] = field(default_factory=list)
    name: str | None = None
    supplier: str = ""
    alarms: dict[str, Plain] = field(default_factory=dict)


def take(told: Told, reader: Reader, text: str, answers: Answers) -> None:
    """What one cell says, as it stands or as a maker answered."""
    column = reader.column
    heading = column.heading or f"column {column.index + 1}"
    if column.field == REMARK:
        told.remarks.append((heading, text))
        _alarm(told, reader, text, answers)
        return
    told.headings.setdefault(column.field, (column.heading, text))
    answer = answers.cell(column.heading, text)
    if answer is not None and answer.casefold() in (REMARK_ANSWER, UNKNOWN):
        told.remarks.append((heading, text))
        return
    try:
        taken = _read(reader, text, answer, answers)
    except Unread as error:
        told.lost.append(CellView(column.heading, text, error.why))
        told.doubts.append((reader, text, error))
        return
    if taken is not None:
        _add(told.found, column, taken[0])
        if column.field == SUPPLIER and isinstance(taken[0], str):
            told.supplier = taken[0]
            told.remarks.append((heading, text))
        if taken[1]:
            told.read_as.append(CellView(column.heading, text, taken[1]))


def _read(reader: Reader, text: str, answer: str | None, answers: Answers) -> tuple[Plain, str] | None:
    """The value of a cell and what it was read as; Unread where it is not certain."""
    reader.answered = answer is not None
    try:
        taken = reader.read(text if answer is None else answer)
    except Unread as error:
        if answer is not None:
            raise Unread(f'the answer "{answer}" cannot be read: {error.why}', error.guess) from None
        if answers.every(reader.column.heading) == AS_GUESSED and error.guess:
            return _read(reader, text, error.guess, answers)
        raise
    finally:
        reader.answered = False
    if taken is None:
        return None
    said = taken.guess or (answer or "")
    if answer is not None or (taken.sure and not taken.heading):
        return taken.value, said
    if taken.heading:
        raise Unread(f'"{text}" as {taken.guess or taken.value}', heading=taken.heading)
    if answers.every(reader.column.heading) == AS_GUESSED:
        return taken.value, said
    raise Unread(f'"{text}" may be {taken.guess}', taken.guess)


def _alarm(told: Told, reader: Reader, text: str, answers: Answers) -> None:
    """A remark that speaks of skin, a limit, ricing or seizing is asked about; what is agreed is kept."""
    guess, must = alarms(text)
    answer = answers.cell(reader.column.heading, text)
    if answer is None and answers.every(reader.column.heading) == AS_GUESSED:
        answer = guess
    if not guess or (answer is not None and answer.casefold() in (REMARK_ANSWER, UNKNOWN)):
        return
    try:
        if answer is None:
            raise Unread("it speaks of skin, a limit, ricing or seizing", guess, must=must)
        for name, value in agreed(reader, answer).items():
            told.alarms[name] = _worse(name, told.alarms.get(name), value)
            told.headings.setdefault(name, (reader.column.heading, text))
    except Unread as error:
        asked = Unread(error.why, guess, must=must or answer is not None)
        told.doubts.append((reader, text, asked))


def alarmed(told: Told) -> None:
    """What a maker agreed that a remark says stands, whatever a column says: an alarm is the worst word."""
    for name, value in told.alarms.items():
        told.found[name] = _worse(name, told.found.get(name), value)
    told.doubts = [each for each in told.doubts if each[0].column.field not in told.alarms]


def _worse(name: str, held: Plain | None, said: Plain) -> Plain:
    """The stricter of two limits, all of two lists of tags, else what was said last."""
    if name == TAGS and isinstance(held, list):
        return [*held, *(each for each in said if each not in held)]
    if name == LIMIT and isinstance(held, str) and isinstance(said, str):
        return min(held, said, key=lambda each: _per_cent(each))
    return said


def _per_cent(text: str) -> float:
    try:
        return parse_amount(text, Dimension.FRACTION, bases=(Basis.WHOLE,)).high
    except QuantityError:
        return inf


def priced(told: Told) -> None:
    """A price that waited for its mass is for the size of the bottle, where a column gives it; a size that is
    the mass of no price stays as a remark."""
    for place, (reader, text, error) in enumerate(told.doubts):
        if SIZE in told.found and error.heading == "price":
            told.found["price"] = f"{text.replace(',', '.')} per {told.found[SIZE]}"
            del told.doubts[place]
            told.lost = [
                cell for cell in told.lost if (cell.heading, cell.cell) != (reader.column.heading, text)
            ]
            return
    if SIZE in told.found:
        told.remarks.append(told.headings[SIZE])


def _add(found: dict[str, Plain], column: Column, value: Plain) -> None:
    """Keep a value under its field; constituents of several columns go on one sheet."""
    earlier = found.get(column.field)
    if isinstance(earlier, Mapping) and isinstance(value, Mapping):
        value = {**earlier, **value}
    found[column.field] = value
