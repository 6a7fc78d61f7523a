"""How fast a spreadsheet is read: 2,000 rows of twenty columns, CSV, XLSX and ODS, cold process.

Run it by hand: ``python tests/bench/import_speed.py``.  Each may take 4 × ``python -c "import pandas"``, in
turns in the same run; it exits 1 where that is missed, where a sheet of 100,000 rows is not refused
within the same, or where that takes more than 400 MB.  Seconds are those of the processor, user and
system: the clock on the wall tells what else a machine does.
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
import tempfile
import zipfile
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from xml.sax.saxutils import escape

from openpyxl import Workbook

ROOT = Path(__file__).resolve().parents[2]
ROWS, TOO_MANY = 2_000, 100_000
MOST_RATIO, MOST_MEGABYTES, ROUNDS = 4.0, 400.0, 5
HEADINGS = (
    *("Oil", "Type", "Note", "Vanillin (%)", "Ethyl vanillin %", "Flash point °F", "Trace", "Rices?"),
    *("Discolours", "Strength after cure", "Max % in soap", "Certificate", "Stock (oz)", "Price per 100 g"),
    *("Date bought", "Supplier", "Lot no.", "Linalool %", "Tags", "Notes"),
)


def row(number: int) -> tuple[str, ...]:
    """One oil as a maker may keep it, different in every row."""
    words = ("no", "slightly", "moderate", "very fast")
    return (
        *(f"oil {number}", "FO" if number % 3 else "EO", ("top", "heart", "base")[number % 3]),
        *(f"{number % 12}-{number % 12 + 1}", f"{number % 7 / 10}", f"> {150 + number % 60}"),
        *(words[number % 4], ("none", "slight", "bad")[number % 3], ("tan", "off white", "?")[number % 3]),
        *(("strong", "medium", "weak")[number % 3], f"{1 + number % 9}.{number % 10}", "51st amendment"),
        *(f"{number % 30}.5", f"{10 + number % 9}.90", f"2026-02-{1 + number % 28:02d}"),
        *(
            f"shop {number % 20}",
            f"L-{number}",
            f"{number % 5}",
            "floral, green",
            f"what I noted of number {number}",
        ),
    )


def as_csv(file: Path, rows: int) -> Path:
    """A CSV of so many oils."""
    with file.open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream).writerows([HEADINGS, *(row(number) for number in range(rows))])
    return file


def as_xlsx(file: Path, rows: int) -> Path:
    """A workbook of so many oils."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet()
    sheet.append(HEADINGS)
    for number in range(rows):
        sheet.append(row(number))
    book.save(file)
    return file


def as_ods(file: Path, rows: int) -> Path:
    """An OpenDocument sheet of so many oils."""
    lines = [HEADINGS, *(row(number) for number in range(rows))]
    body = "".join(f"<table:table-row>{''.join(map(_cell, line))}</table:table-row>" for line in lines)
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet", zipfile.ZIP_STORED)
        package.writestr("content.xml", f"{_HEAD}{body}{_TAIL}")
    return file


def _cell(text: str) -> str:
    return f'<table:table-cell office:value-type="string"><text:p>{escape(text)}</text:p></table:table-cell>'


_SPACE = "urn:oasis:names:tc:opendocument:xmlns"
_HEAD = (
    f'<office:document-content xmlns:office="{_SPACE}:office:1.0" xmlns:table="{_SPACE}:table:1.0" '
    f'xmlns:text="{_SPACE}:text:1.0"><office:body><office:spreadsheet><table:table table:name="oils">'
)
_TAIL = "</table:table></office:spreadsheet></office:body></office:document-content>"


def once(arguments: list[str], expected: int) -> tuple[float, float]:
    """Seconds and peak megabytes of one cold process; RuntimeError where it ends otherwise."""
    child = subprocess.Popen([sys.executable, *arguments], cwd=ROOT, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status) != expected:
        raise RuntimeError(f"{arguments} left with {os.waitstatus_to_exitcode(status)}")
    size = usage.ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024)
    return usage.ru_utime + usage.ru_stime, size


def reading(file: Path) -> list[str]:
    """The words that import a sheet to nowhere."""
    book = str(ROOT / "demo_catalog")
    return ["-m", "blendwise.cli.main", "scents", "import", str(file), "--json", "--book", book]


def main() -> int:
    """Measure, print a line each, and say by the exit code whether all of it holds."""
    sound = True
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        asked = [(end, name, rows, code) for name, rows, code in SIZES for end in MAKERS]
        with ProcessPoolExecutor(1) as apart:  # a child's peak memory begins with its parent's
            files = [
                (apart.submit(MAKERS[end], base / f"{name}.{end}", rows).result(), code)
                for end, name, rows, code in asked
            ]
        turns = [
            [once(["-c", "import pandas"], 0), *(once(reading(file), code) for file, code in files)]
            for _ in range(ROUNDS)
        ]
    (pandas, _), *taken = (min(column) for column in zip(*turns, strict=True))
    for (file, _), (seconds, megabytes) in zip(files, taken, strict=True):
        holds = seconds <= MOST_RATIO * pandas and megabytes <= MOST_MEGABYTES
        sound = sound and holds
        told = f"{seconds / pandas:.2f} × import pandas, {megabytes:.0f} MB"
        print(f"{file.name}: {told}, at most {MOST_RATIO:g} ×: {'holds' if holds else 'MISSED'}", flush=True)
    return 0 if sound else 1


SIZES = ("oils", ROWS, 0), ("many", TOO_MANY, 2)
MAKERS = {"csv": as_csv, "xlsx": as_xlsx, "ods": as_ods}

if __name__ == "__main__":
    sys.exit(main())
