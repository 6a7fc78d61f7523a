"""What the tests of the shelf share: sheets written on the spot, read as a book would read them."""

from __future__ import annotations

import csv
import datetime
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from openpyxl import Workbook

from blendwise.answers.spreadsheet.answers import Answers
from blendwise.answers.spreadsheet.importing import import_sheet
from blendwise.answers.spreadsheet.result import ImportResult
from blendwise.records.book import BookFiles, entries, load_book
from blendwise.records.kinds.scent import Scent
from blendwise.records.reading.document import text_document
from tests.cli.conftest import run

ROOT = Path(__file__).resolve().parents[3]
TODAY = datetime.date(2026, 11, 25)
Table = Sequence[Sequence[object]]

__all__ = ["run"]


@pytest.fixture(scope="session")
def demo() -> BookFiles:
    """The demo book's files."""
    return load_book(ROOT / "demo_catalog")


def as_csv(file: Path, table: Table, delimiter: str = ",", encoding: str = "utf-8") -> Path:
    """A delimited file of the table."""
    with file.open("w", newline="", encoding=encoding) as stream:
        csv.writer(stream, delimiter=delimiter).writerows(table)
    return file


def as_xlsx(file: Path, table: Table) -> Path:
    """A real workbook of the table."""
    book = Workbook()
    for row in table:
        book.active.append(list(row))  # type: ignore[union-attr]
    book.save(file)
    return file


def read(file: Path, **more: str) -> ImportResult:
    """What an import makes of a file where nobody answers, and guesses are taken that may be."""
    to, evidence = file.with_suffix(".yaml"), more.get("evidence", "")
    return import_with_guesses(file, to, Answers(), today=TODAY, evidence=evidence)[0]


def import_with_guesses(
    file: Path, to: Path, answers: Answers, **more: object
) -> tuple[ImportResult, Answers]:
    """As ``import_sheet``, every guess taken that may be; the answers say which."""
    while True:
        result = import_sheet(file, to, answers=answers, **more)  # type: ignore[arg-type]
        taken = answers.with_guesses(result.questions)
        if taken == answers:
            return result, answers
        answers = taken


def asked(file: Path, **more: object) -> ImportResult:
    """What an import makes of a file before anybody answers anything."""
    return import_sheet(file, file.with_suffix(".yaml"), today=TODAY, **more)  # type: ignore[arg-type]


def oils(result: ImportResult) -> dict[str, Scent]:
    """The oils of the text that an import would write, read back by the records."""
    return entries(Scent, text_document(result.text), "scents")


Imported = Callable[[Table], dict[str, Scent]]


@pytest.fixture
def imported(tmp_path: Path) -> Imported:
    """A table, as a maker's CSV, read back as oils."""
    return lambda table: oils(read(as_csv(tmp_path / "sheet.csv", table)))
