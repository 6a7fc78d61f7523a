"""The shelf as a spreadsheet: words and units as in the book, nothing in it that works itself out."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from blendwise.answers.refusals import NotAskable
from blendwise.answers.scents.statements import contents
from blendwise.answers.spreadsheet.result import ExportResult
from blendwise.answers.spreadsheet.words.cells import HARMFUL
from blendwise.records.book import BookFiles
from blendwise.records.kinds.scent import Scent
from blendwise.records.writing.write import write_new_bytes

COLUMNS: Final = (
    *("name", "kind", "scent note", "vanillin", "ethyl vanillin", "browns by", "browns to", "browns to at"),
    *("browns to evidence", "browns to on", "own cast", "acceleration", "acceleration at"),
    *("acceleration control", "acceleration scented"),
    *(
        "acceleration evidence",
        "acceleration against",
        "ricing",
        "after six weeks",
        "flash point",
        "for skin",
    ),
    *("limit in bar", "certificate", "certificate category", "certificate dated", "supplier statement"),
    *("allergen sheet", "sheet complete", "label name"),
    *("tags", "lot", "price", "on hand", "bought", "evidence", "goes with", "seen"),
)
"""What is written, in this order; ``scents import`` reads every one of them back."""
LONGEST_CELL: Final = 32_000
"""What a cell of a workbook may hold, with room to spare."""


def export_scents(book: BookFiles, to: Path) -> ExportResult:
    """Write the shelf to a new CSV, TSV or XLSX file.

    RecordError where the file is there already or cannot be written; NotAskable for another kind of file.
    """
    rows = [COLUMNS, *(tuple(_cells(scent)) for scent in book.scents.values())]
    safe = [tuple(harmless(cell) for cell in row) for row in rows]
    changed = sum(cell.startswith(HARMFUL) for row in rows for cell in row)
    match to.suffix.casefold():
        case ".csv":
            data = _delimited(safe, ",")
        case ".tsv":
            data = _delimited(safe, "\t")
        case ".xlsx":
            data = _workbook(safe)
        case _:
            message = f'"{to.name}" is no kind of spreadsheet that is written here.'
            raise NotAskable(message, "Name it .csv, .tsv or .xlsx.")
    write_new_bytes(to, data)
    return ExportResult(str(to), len(book.scents), COLUMNS, changed)


def harmless(cell: str) -> str:
    """The cell with an apostrophe before a sign that would make a spreadsheet work it out."""
    return f"'{cell}" if cell.startswith(HARMFUL) else cell


def _cells(scent: Scent) -> Iterator[str]:
    found = {**_behaviour(scent), **_papers(scent)}
    yield from ((found.get(column) or "")[:LONGEST_CELL] for column in COLUMNS)


def _behaviour(scent: Scent) -> dict[str, str | None]:
    browns, quick = scent.browns_to, scent.acceleration
    return {
        "name": scent.name,
        "kind": scent.kind,
        "scent note": scent.scent_note,
        "vanillin": _text(scent.vanillin),
        "ethyl vanillin": _text(scent.ethyl_vanillin),
        "browns by": contents(scent.browns_by),
        "browns to": browns.band if browns else None,
        "browns to at": _text(browns.at) if browns else None,
        "browns to evidence": browns.evidence if browns else None,
        "browns to on": _text(browns.on) if browns else None,
        "own cast": scent.own_cast,
        "acceleration": quick.word if quick else None,
        "acceleration control": _text(quick.control) if quick else None,
        "acceleration scented": _text(quick.scented) if quick else None,
        "acceleration at": _text(quick.at) if quick else None,
        "acceleration evidence": quick.evidence if quick else None,
        "acceleration against": quick.against if quick else None,
        "ricing": scent.ricing,
        "after six weeks": scent.after_six_weeks,
        "goes with": "; ".join(f"{name} {fit}" for name, fit in scent.goes_with.items()),
        "seen": "\n".join(f"{seen.on.isoformat()} {' '.join(seen.what.split())}" for seen in scent.seen),
    }


def _papers(scent: Scent) -> dict[str, str | None]:
    limit, sheet = scent.limit_in_bar, scent.allergen_sheet
    return {
        "flash point": _text(scent.flash_point),
        "for skin": None if scent.for_skin is None else ("yes" if scent.for_skin else "no"),
        "limit in bar": _text(limit.most) if limit else None,
        "certificate": limit.certificate if limit else None,
        "certificate category": limit.category if limit else None,
        "certificate dated": _text(limit.dated) if limit else None,
        "supplier statement": _text(scent.supplier_statement.dated) if scent.supplier_statement else None,
        "allergen sheet": (contents(dict(sheet.names)) or "none named") if sheet else None,
        "sheet complete": None if sheet is None else ("yes" if sheet.complete else "no"),
        "label name": scent.label_name,
        "tags": "; ".join(scent.tags),
        "lot": scent.lot,
        "price": _text(scent.price),
        "on hand": _text(scent.on_hand),
        "bought": _text(scent.bought),
        "evidence": scent.evidence,
    }


def _text(value: object) -> str | None:
    return None if value is None else str(value)


def _delimited(rows: Sequence[Sequence[str]], delimiter: str) -> bytes:
    """UTF-8 with a mark, so that spreadsheets show every sign rightly."""
    stream = io.StringIO(newline="")
    csv.writer(stream, delimiter=delimiter).writerows(rows)
    return stream.getvalue().encode("utf-8-sig")


def _workbook(rows: Sequence[Sequence[str]]) -> bytes:
    from openpyxl import Workbook

    book = Workbook(write_only=True)
    sheet = book.create_sheet("scents")
    for row in rows:
        sheet.append(list(row))
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()
