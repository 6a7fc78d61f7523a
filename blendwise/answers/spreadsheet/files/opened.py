"""A spreadsheet opened by its kind: delimited text or a workbook."""

from __future__ import annotations

from pathlib import Path

from blendwise.answers.spreadsheet.files.table import DIVIDE, KINDS, LARGEST_TABLE, Sheet
from blendwise.records.place import read_fault


def read_sheets(file: Path, name: str = "") -> list[Sheet]:
    """The sheets of a CSV, TSV, XLSX or ODS file that hold anything; ``name`` chooses one of a workbook.

    RecordError where the file cannot be read, is of another kind, or has more rows than a catalogue may hold.
    """
    kind = file.suffix.casefold()
    if kind not in KINDS:
        raise read_fault(
            file,
            "This is not a kind of spreadsheet that is read here.",
            "Save it as CSV (or .tsv, .xlsx, .ods) and try again.",
        )
    _bearable(file)
    if kind == ".xlsx":
        from blendwise.answers.spreadsheet.files.workbook import read_workbook

        return read_workbook(file, name)
    if kind == ".ods":
        from blendwise.answers.spreadsheet.files.ods import read_ods

        return read_ods(file, name)
    if name:
        raise read_fault(file, f'There is no sheet "{name}": this file holds one table.', "Name no sheet.")
    from blendwise.answers.spreadsheet.files.delimited import read_delimited

    return [read_delimited(file)]


def _bearable(file: Path) -> None:
    try:
        if not file.is_file():
            what = "This is not an ordinary file." if file.exists() else "There is no such file."
            raise read_fault(file, what)
        size = file.stat().st_size
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise read_fault(file, f"The file cannot be read: {reason}.") from None
    if size > LARGEST_TABLE:
        raise read_fault(
            file, f"The file is {size / 1e6:.0f} MB; at most {LARGEST_TABLE / 1e6:.0f} MB are opened.", DIVIDE
        )
