"""How fast a spreadsheet is read: 2,000 rows of twenty columns, CSV and XLSX, in 3 s each, cold process.

Run it by hand: ``python tests/bench/import_speed.py``.  It exits 1 where a time is missed, where a sheet of
100,000 rows is not refused within the same time, or where that takes more than 400 MB.
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from openpyxl import Workbook

ROOT = Path(__file__).resolve().parents[2]
ROWS, TOO_MANY = 2_000, 100_000
MOST_SECONDS, MOST_MEGABYTES = 3.0, 400.0
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


def once(file: Path, expected: int) -> tuple[float, float]:
    """Wall seconds and peak megabytes of one cold import to nowhere; RuntimeError where it ends otherwise."""
    arguments = ["scents", "import", str(file), "--json", "--book", str(ROOT / "demo_catalog")]
    started = time.perf_counter()
    child = subprocess.Popen(
        [sys.executable, "-m", "blendwise.cli.main", *arguments], cwd=ROOT, stdout=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(child.pid, 0)
    taken = time.perf_counter() - started
    if os.waitstatus_to_exitcode(status) != expected:
        raise RuntimeError(f"{file.name} left with {os.waitstatus_to_exitcode(status)}")
    return taken, usage.ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024)


def main() -> int:
    """Measure, print a line each, and say by the exit code whether all of it holds."""
    sound = True
    with tempfile.TemporaryDirectory() as folder:
        files = [
            (as_csv(Path(folder) / "oils.csv", ROWS), 0),
            (as_xlsx(Path(folder) / "oils.xlsx", ROWS), 0),
            (as_csv(Path(folder) / "many.csv", TOO_MANY), 2),
            (as_xlsx(Path(folder) / "many.xlsx", TOO_MANY), 2),
        ]
        for file, expected in files:
            seconds, megabytes = min(once(file, expected) for _ in range(3))
            holds = seconds <= MOST_SECONDS and megabytes <= MOST_MEGABYTES
            sound = sound and holds
            print(f"{file.name}: {seconds:.2f} s, {megabytes:.0f} MB: {'holds' if holds else 'MISSED'}")
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main())
