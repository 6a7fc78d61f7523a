"""An import and an export in blocks: what was understood, column by column and row by row, and what not."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.answers.spreadsheet.result import CellView, ColumnView, ExportResult, ImportResult, RowView
from blendwise.show.blocks import Block, Entry, Note, Rows, Section, Title
from blendwise.show.numbers import counted
from blendwise.show.text import joined, quoted, sentence

COLUMNS, ROWS = "What the columns hold", "Row by row"
KEPT = "kept as a remark below each oil"
_HOW = {"as answered": "as you answered", "by a part": "by meaning"}
_WHY_NOT = {"on the shelf": "it is on your shelf, which stays as it is"}
FEW_ROWS = 20
"""Rows without a guess or a doubt that are shown one by one; beyond them they are counted."""
NOTHING_WRITTEN = "Nothing is written yet."
ADD_YES = "To write it, say the same again with --yes."
LOOK_OVER = (
    "Look it over, above all limits and vanillin: a certificate outranks a spreadsheet. What is left out is "
    "not known, never none."
)


def import_blocks(result: ImportResult, every_row: bool = False) -> list[Block]:
    """All that was understood and what was not; ``every_row`` shows rows without a doubt one by one too."""
    doubts = sum(len(row.not_understood) for row in result.rows)
    taken = f"{counted(result.oils, 'oil')} read"
    verdict = (
        f"{taken}; {counted(doubts, 'cell')} not understood" if doubts else f"{taken}, every cell understood"
    )
    return [
        Title(f"{result.file} ({'; '.join(result.how)})", sentence(verdict.capitalize())),
        Section(COLUMNS),
        Rows((), (), tuple(_column(column) for column in result.columns)),
        Section(ROWS),
        *_rows(result, every_row),
        *after_blocks(result),
    ]


def _column(column: ColumnView) -> str:
    name = quoted(column.heading) if column.heading else "the column without a heading"
    if not column.field:
        why = {
            "second of its kind": "a second column for the same",
            "not understood": "not understood",
            "as answered": "as you answered",
            "of another use": "not of a bar of soap",
        }
        return f"{name}: {why.get(column.how, 'no field of an oil')}, {KEPT}"
    unit = (
        f" in {column.unit}"
        if column.unit and not column.unit.startswith("per")
        else f" {column.unit}".rstrip()
    )
    how = "" if column.how == "as written" else f", {_HOW.get(column.how, column.how)}"
    assumed = f"; taken for granted: {joined(column.assumed)}" if column.assumed else ""
    return f"{name}: {column.field}{unit}{how}{assumed}"


def _rows(result: ImportResult, every_row: bool) -> Iterator[Block]:
    plain = [row for row in result.rows if not (row.why_not or row.read_as or row.not_understood)]
    shown = plain if every_row else plain[:FEW_ROWS]
    kept = {row.row for row in shown}
    for row in result.rows:
        if row.why_not or row.read_as or row.not_understood:
            yield _row(row)
        elif row.row in kept:
            yield Rows((), (), (f"row {row.row}: {row.name}, {counted(row.facts, 'fact')}",))
    if len(plain) > len(shown):
        more = counted(len(plain) - len(shown), "more row", "more rows")
        yield Note(sentence(f"{more} without a doubt (--every-row shows them)".capitalize()))


def _row(row: RowView) -> Entry:
    tag = "open" if row.why_not or row.not_understood else ""
    facts = (
        f"left out: {_WHY_NOT.get(row.why_not, row.why_not)}" if row.why_not else counted(row.facts, "fact")
    )
    details = [*(("Read as", _said(cell)) for cell in row.read_as)]
    details += [("Not understood", _lost(cell)) for cell in row.not_understood]
    details += [("Differs", sentence(f"{d.heading}: {d.cell} here, {d.said} there")) for d in row.differs]
    return Entry(tag, f"row {row.row}: {row.name or 'no name'}, {facts}", tuple(details))


def _said(cell: CellView) -> str:
    return sentence(f"{cell.heading} {quoted(cell.cell)} as {cell.said}")


def _lost(cell: CellView) -> str:
    return sentence(f"{cell.heading}: {cell.said}")


def after_blocks(result: ImportResult) -> list[Block]:
    """What is there now, and how the oils come onto the shelf."""
    notes = []
    if result.on_the_shelf:
        names = joined([quoted(name) for name in result.on_the_shelf])
        notes.append(f"On your shelf already, and left as they are: {names}.")
    if result.written and result.adds:
        notes.append(
            f"{counted(result.oils, 'new oil')} at the end of {result.written}; the rest of it is as it was."
        )
    elif result.written:
        notes.append(f"Written: {result.written}, with {counted(result.oils, 'oil')}.")
    else:
        notes.append(f"{NOTHING_WRITTEN} It would go to {result.to}.")
    return [Note(text) for text in (*notes, LOOK_OVER)]


def export_blocks(result: ExportResult) -> list[Block]:
    """Where the shelf was written."""
    harmless = (
        f"{counted(result.made_harmless, 'cell')} began with a sign that a spreadsheet would work out; an "
        "apostrophe stands before it now."
    ).capitalize()
    return [
        Title(f"Written: {result.written}", sentence(f"{counted(result.oils, 'oil')}".capitalize())),
        *([Note(harmless)] if result.made_harmless else []),
    ]
