"""The parts of an XLSX package, read as streams (ECMA-376 part 1, 18.3, 18.4 and 18.8).

Which sheets there are, the texts that they share, the formats of cells, and a sheet's cells as they show.
"""

from __future__ import annotations

import datetime
import re
import zipfile
from collections.abc import Iterator
from posixpath import join, normpath
from typing import Any, Final
from xml.etree.ElementTree import Element, XMLParser, fromstring
from xml.parsers.expat import ParserCreate

from blendwise.answers.spreadsheet.files.table import BLANK_ROWS, MOST_COLUMNS, Row
from blendwise.quantity import format_number

CHUNK: Final = 1 << 16
DIGITS: Final = 12
_NUMBERS: Final = {9: "0%", 10: "0.00%", **dict.fromkeys((*range(14, 23), *range(45, 48)), "yyyy-mm-dd")}
"""Formats by number (18.8.30) that say more than the number: per cents and days."""
_QUOTED: Final = re.compile(r'"([^"]*)"')
_UNSHOWN: Final = re.compile(r'"[^"]*"|\[[^\]]*\]|\\.')
_DAY: Final = re.compile(r"[dmyhs]", re.IGNORECASE)
_COLUMN: Final = re.compile(r"[A-Z]+")


class Package:
    """An open workbook: its sheets by title, what their cells share."""

    def __init__(self, packed: zipfile.ZipFile) -> None:
        self.packed = packed
        root = self._target("_rels/.rels", "", "/officeDocument") or "xl/workbook.xml"
        book = self._part(root)
        self.sheets = dict(self._sheets(book, root))
        properties = _first(book, "workbookPr")
        late = properties is not None and properties.get("date1904") in ("1", "true")
        self.day_nought = datetime.datetime(1904, 1, 1) if late else datetime.datetime(1899, 12, 30)
        folder = root.rpartition("/")[0]
        self.texts = self._texts(f"{folder}/sharedStrings.xml")
        self.formats = self._formats(f"{folder}/styles.xml")

    def _part(self, name: str) -> Element:
        return fromstring(self.packed.read(name), parser=XMLParser())

    def _relations(self, name: str, folder: str) -> Iterator[tuple[str, str, str]]:
        if name in self.packed.namelist():
            for each in self._part(name):
                target = each.get("Target", "")
                path = target.lstrip("/") if target.startswith("/") else normpath(join(folder, target))
                yield each.get("Id", ""), each.get("Type", ""), path

    def _target(self, name: str, folder: str, kind: str) -> str:
        return next((path for _, of, path in self._relations(name, folder) if of.endswith(kind)), "")

    def _sheets(self, book: Element, root: str) -> Iterator[tuple[str, str]]:
        """Title and part of each sheet with cells, in the order of its tabs."""
        folder, _, file = root.rpartition("/")
        related = list(self._relations(f"{folder}/_rels/{file}.rels", folder))
        parts = {key: path for key, of, path in related if of.endswith("/worksheet")}
        for each in book.iter():
            if _local(each.tag) == "sheet":
                key = next((value for name, value in each.items() if _local(name) == "id"), "")
                if key in parts:
                    yield each.get("name", ""), parts[key]

    def _texts(self, name: str) -> list[str]:
        if name not in self.packed.namelist():
            return []
        return [_plain(each) for each in self._part(name) if _local(each.tag) == "si"]

    def _formats(self, name: str) -> list[str]:
        """The format of each style of a cell."""
        if name not in self.packed.namelist():
            return []
        styles = self._part(name)
        own = {int(e.get("numFmtId", 0)): e.get("formatCode", "") for e in _all(styles, "numFmt")}
        cells = _first(styles, "cellXfs")
        numbers = [int(each.get("numFmtId", 0)) for each in (cells if cells is not None else ())]
        return [own.get(number, _NUMBERS.get(number, "")) for number in numbers]

    def rows(self, title: str, unvalued: set[tuple[int, int]]) -> Iterator[Row]:
        """The rows of a sheet with the texts of their cells; ``unvalued`` takes formulas without a value."""
        taken = _Taken(self, unvalued)
        with self.packed.open(self.sheets[title]) as stream:
            while chunk := stream.read(CHUNK):
                taken.parser.Parse(chunk, False)
                yield from taken.handed_over()
            taken.parser.Parse(b"", True)
        yield from taken.handed_over()

    def shown(self, kind: str, style: str, value: str) -> str:
        """A cell as text, with the per cent sign, the unit or the day that its format shows."""
        match kind:
            case "s":
                return self.texts[int(value)]
            case "b":
                return "yes" if value.strip() == "1" else "no"
            case "d":
                return value.strip()[:10]
            case "n" | "":
                position = int(style or 0)
                return self._number(value, self.formats[position] if position < len(self.formats) else "")
            case _:
                return value.strip()

    def _number(self, value: str, shown: str) -> str:
        number = float(value)
        unshown = _UNSHOWN.sub("", shown.split(";")[0])
        if "%" in unshown:
            return f"{format_number(number * 100, DIGITS)} %"
        if _DAY.search(unshown) and "general" not in unshown.casefold():
            return (self.day_nought + datetime.timedelta(days=number)).isoformat()[:10]
        literal = "".join(_QUOTED.findall(shown)).strip()
        return f"{format_number(number, DIGITS)} {literal}".strip()


class _Taken:
    """Takes the marks of a sheet one at a time and grows its rows."""

    def __init__(self, package: Package, unvalued: set[tuple[int, int]]) -> None:
        self.package, self.unvalued = package, unvalued
        self.rows: list[Row] = []
        self.number = self.told = 0
        self.cells: list[str] = []
        self.column = -1
        self.kind = self.style = ""
        self.text: list[str] | None = None
        self.value: str | None = None
        self.formula = False
        self.parser = ParserCreate(namespace_separator=" ")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._begun
        self.parser.EndElementHandler = self._ended
        self.parser.CharacterDataHandler = self._said
        self.parser.StartDoctypeDeclHandler = _refused

    def handed_over(self) -> list[Row]:
        """The rows that are whole by now."""
        rows, self.rows = self.rows, []
        return rows

    def _begun(self, tag: str, given: dict[str, str]) -> None:
        name = tag[tag.rfind(" ") + 1 :]
        if name == "c":
            at = given.get("r")
            self.column = _column(at) if at else self.column + 1
            self.kind, self.style = given.get("t", ""), given.get("s", "")
            self.value, self.formula = None, False
        elif name in ("v", "t"):
            self.text = []
        elif name == "f":
            self.formula = True
        elif name == "row":
            self.number = int(given.get("r", self.number + 1))
            self.cells, self.column = [], -1

    def _said(self, text: str) -> None:
        if self.text is not None:
            self.text.append(text)

    def _ended(self, tag: str) -> None:
        name = tag[tag.rfind(" ") + 1 :]
        if name in ("v", "t"):
            self.value, self.text = (self.value or "") + "".join(self.text or ()), None
        elif name == "c":
            self._cell()
        elif name == "row":
            self._row()

    def _cell(self) -> None:
        if not self.value and self.kind in ("", "n"):
            self.value = None
        bare = self.formula and self.value is None
        if self.column >= MOST_COLUMNS or (self.value is None and not bare):
            return
        if bare:
            self.unvalued.add((self.number, self.column))
        self.cells += [""] * (self.column - len(self.cells))
        told = "=" if bare else self.package.shown(self.kind, self.style, self.value or "")
        self.cells.append(told)

    def _row(self) -> None:
        """A row, and the empty ones that were left out before it: so many may mean the end of the sheet."""
        first = max(self.told + 1, self.number - BLANK_ROWS)
        self.rows += [(number, ()) for number in range(first, self.number)]
        self.rows.append((self.number, tuple(self.cells)))
        self.told = self.number


def _refused(*_: Any) -> None:
    raise ValueError("it declares a type of its own")


def _column(reference: str) -> int:
    """``B7`` → 1."""
    found, place = _COLUMN.match(reference), 0
    for letter in found[0] if found else "A":
        place = 26 * place + ord(letter) - 64
    return place - 1


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]


def _all(root: Element, name: str) -> Iterator[Element]:
    return (each for each in root.iter() if _local(each.tag) == name)


def _first(root: Element, name: str) -> Element | None:
    return next(_all(root, name), None)


def _plain(item: Element) -> str:
    """A shared text without its styles, and without how it is spoken (``rPh``)."""
    parts = [item, *(each for each in item if _local(each.tag) == "r")]
    said = (child.text or "" for part in parts for child in part if _local(child.tag) == "t")
    return "".join(said).strip()
