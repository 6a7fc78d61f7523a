"""CSV and TSV as makers' programs write them: any of four delimiters, any of the usual encodings."""

from __future__ import annotations

import codecs
import csv
import io
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from blendwise.answers.spreadsheet.table import MOST_COLUMNS, Row, Sheet, kept
from blendwise.records.place import Fault, Place, RecordError, read_fault

DELIMITERS: Final = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}
SAMPLE_LINES: Final = 40
SAMPLE_CHARACTERS: Final = 64_000
SHOWN_LINES: Final = 5
_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8-sig", "UTF-8"),
    (codecs.BOM_UTF32_LE, "utf-32", "UTF-32"),
    (codecs.BOM_UTF32_BE, "utf-32", "UTF-32"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)


def read_delimited(file: Path) -> Sheet:
    """The rows of a delimited text file; RecordError where it is not text or not a table."""
    text, encoded = decoded(file.read_bytes(), file)
    if not text.strip():
        raise read_fault(file, "The file is empty.", "Write a line of headings and a line an oil.")
    text, delimiter = _delimiter(text, file.suffix.casefold() == ".tsv")
    how = (encoded, f"columns divided by {DELIMITERS.get(delimiter, repr(delimiter))}")
    return Sheet(file, tuple(kept(file, _rows(text, delimiter, file))), how)


def decoded(data: bytes, file: Path) -> tuple[str, str]:
    """The text of a file and, in words, what it was written in; line by line where it is mixed."""
    for mark, codec, name in _MARKS:
        if data.startswith(mark):
            return _strictly(data, codec, name, file), name
    for codec, offset in (("utf-16-le", 1), ("utf-16-be", 0)):
        if data[offset:400:2].count(0) > len(data[:400]) / 4:
            return _strictly(data, codec, "UTF-16", file), "UTF-16"
    if b"\0" in data:
        raise read_fault(file, "This is not a text file.", "Save it as CSV (UTF-8) or XLSX.")
    try:
        return data.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError:
        return _mixed(data, file)


def _strictly(data: bytes, codec: str, name: str, file: Path) -> str:
    try:
        return data.decode(codec)
    except UnicodeDecodeError:
        message = f"The file begins as {name} and does not go on so."
        raise read_fault(file, message, "Save it again as CSV (UTF-8) or XLSX.") from None


def _mixed(data: bytes, file: Path) -> tuple[str, str]:
    lines: list[str] = []
    western: list[int] = []
    other = False
    for number, line in enumerate(data.split(b"\n"), start=1):
        try:
            lines.append(line.decode("utf-8"))
            other = other or not line.isascii()
        except UnicodeDecodeError:
            lines.append(_western(line, file, number))
            western.append(number)
    if not other:
        return "\n".join(lines), "Windows-1252"
    shown = ", ".join(map(str, western[:SHOWN_LINES])) + (", …" if len(western) > SHOWN_LINES else "")
    return "\n".join(lines), f"mixed: UTF-8, but Windows-1252 in line {shown}"


def _western(line: bytes, file: Path, number: int) -> str:
    try:
        return line.decode("cp1252")
    except UnicodeDecodeError:
        message = "This line is neither UTF-8 nor Windows-1252."
        raise RecordError([Fault(Place(file, number), message, "Save the file as UTF-8.")]) from None


def _delimiter(text: str, tabs: bool) -> tuple[str, str]:
    """The text (without a ``sep=`` line) and the sign that divides most of its lines into equal columns."""
    first, _, rest = text.partition("\n")
    if first.strip().casefold().startswith("sep=") and len(first.strip()) == 5:
        return rest, first.strip()[4]
    sample = text[:SAMPLE_CHARACTERS].splitlines()[:SAMPLE_LINES]
    scores = {sign: _evenness(sample, sign) for sign in DELIMITERS}
    if tabs and scores["\t"][1] > 1:
        return text, "\t"
    return text, max(scores, key=lambda sign: scores[sign])


def _evenness(sample: list[str], sign: str) -> tuple[float, int]:
    """(share of lines with the commonest count of columns, that count); 0 where it divides nothing."""
    try:
        counts = Counter(len(row) for row in csv.reader(sample, delimiter=sign) if row)
    except csv.Error:
        return 0.0, 0
    several = Counter({columns: lines for columns, lines in counts.items() if columns > 1})
    if not several:
        return 0.0, 0
    columns, lines = several.most_common(1)[0]
    return round(lines / counts.total(), 2), columns


def _rows(text: str, delimiter: str, file: Path) -> Iterator[Row]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    try:
        for cells in reader:
            yield reader.line_num, tuple(cell.strip() for cell in cells[:MOST_COLUMNS])
    except csv.Error as error:
        message = f"The table cannot be read on: {error}."
        raise RecordError(
            [Fault(Place(file, reader.line_num), message, "Look for a quote sign left open.")]
        ) from None
