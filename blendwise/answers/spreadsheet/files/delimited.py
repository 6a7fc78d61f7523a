"""CSV and TSV as makers' programs write them: any of four delimiters, any of the usual encodings."""

from __future__ import annotations

import codecs
import csv
import io
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from blendwise.answers.spreadsheet.files.table import MOST_COLUMNS, Row, Sheet, kept
from blendwise.records.place import Fault, Place, RecordError, read_fault

DELIMITERS: Final = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}
SAMPLE_LINES: Final = 40
SAMPLE_CHARACTERS: Final = 64_000
SHOWN_LINES: Final = 5
WESTERN: Final = "cp1252"
PLAIN: Final = 0.4
"""Likeness to a language (0 to 1) up to which it is not taken for it (judgement, on tables of three rows)."""
ENOUGH: Final = 10
"""Letters beyond ASCII that tell of a script where the western reading is none (judgement)."""
LANGUAGES: Final = {
    "cp1250": ("Polish", "Czech", "Slovak", "Hungarian", "Croatian", "Slovene", "Romanian"),
    "cp1251": ("Russian", "Ukrainian", "Bulgarian", "Serbian", "Macedonian"),
    "cp1253": ("Greek",),
    "cp1254": ("Turkish",),
}
"""Other code pages of Windows, with the languages that are written in them (Microsoft's code page lists)."""
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
    lines = data.split(b"\n")
    other = {number: line for number, line in enumerate(lines, start=1) if not _is_utf8(line)}
    code_page = _code_page(b"\n".join(other.values()))
    name = f"Windows-{code_page.removeprefix('cp')}"
    told = [_line(line, code_page, Place(file, number)) for number, line in enumerate(lines, start=1)]
    if all(line.isascii() for number, line in enumerate(lines, start=1) if number not in other):
        return "\n".join(told), name
    shown = ", ".join(map(str, list(other)[:SHOWN_LINES])) + (", …" if len(other) > SHOWN_LINES else "")
    return "\n".join(told), f"mixed: UTF-8, but {name} in line {shown}"


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _line(line: bytes, code_page: str, place: Place) -> str:
    try:
        return line.decode("utf-8" if _is_utf8(line) else code_page)
    except UnicodeDecodeError:
        message = "This line is neither UTF-8 nor Windows-1252."
        raise RecordError([Fault(place, message, "Save the file as UTF-8.")]) from None


def _code_page(data: bytes) -> str:
    """The code page of a text that is not UTF-8: the western one, unless a language of another is surer.

    A short table tells little: left to itself the detection takes one degree sign for Chinese and French
    for Czech.  So it counts only with a language its code page is for, and where the western reads worse.
    """
    from charset_normalizer import from_bytes

    found = from_bytes(data, cp_isolation=[WESTERN, *LANGUAGES])
    best = found.best()
    if best is None or best.language not in LANGUAGES.get(best.encoding, ()):
        return WESTERN
    western = [each.coherence for each in found if each.encoding == WESTERN]
    if not western and sum(byte > 127 for byte in data) >= ENOUGH:
        return best.encoding
    return best.encoding if best.coherence > max([*western, PLAIN]) else WESTERN


def _delimiter(text: str, tabs: bool) -> tuple[str, str]:
    """The text (without a ``sep=`` line) and the sign that divides its columns.

    ``csv.Sniffer`` is asked first.  Where it cannot say (a title above, decimal commas beside semicolons) it
    is the sign that divides most lines into equally many columns.
    """
    first, _, rest = text.partition("\n")
    if first.strip().casefold().startswith("sep=") and len(first.strip()) == 5:
        return rest, first.strip()[4]
    sample = text[:SAMPLE_CHARACTERS].splitlines()[:SAMPLE_LINES]
    if tabs and _evenness(sample, "\t")[1] > 1:
        return text, "\t"
    with suppress(csv.Error):
        return text, csv.Sniffer().sniff("\n".join(sample), "".join(DELIMITERS)).delimiter
    scores = {sign: _evenness(sample, sign) for sign in DELIMITERS}
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


def _left_open(text: str, delimiter: str) -> bool:
    """Whether the text ends inside quote signs."""
    try:
        for _ in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True):
            pass
    except csv.Error as error:
        return "unexpected end" in str(error)
    return False


def _rows(text: str, delimiter: str, file: Path) -> Iterator[Row]:
    reader, begins = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter), 1
    open_at_end = _left_open(text, delimiter)
    try:
        for cells in reader:
            if open_at_end and reader.line_num == text.count("\n") + (not text.endswith("\n")):
                message = "A quote sign opened in this row is never closed: all below it would be one cell."
                raise RecordError([Fault(Place(file, begins), message, "Close it, or take it away.")])
            begins = reader.line_num + 1
            yield reader.line_num, tuple(cell.strip() for cell in cells[:MOST_COLUMNS])
    except csv.Error as error:
        message = f"The table cannot be read on: {error}."
        raise RecordError(
            [Fault(Place(file, reader.line_num), message, "Look for a quote sign left open.")]
        ) from None
