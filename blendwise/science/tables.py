"""Package data: csv files beside the sciences, with ``#`` lines that name their source."""

from __future__ import annotations

import csv
import re
from pathlib import Path

# By path and not by importlib.resources, whose import alone takes several milliseconds of every command.
DATA = Path(__file__).parent / "data"

_BETWEEN = re.compile(r"[\W_]+")


def read_table(name: str) -> list[dict[str, str]]:
    """The rows of ``data/<name>.csv`` as texts by column; lines that start with ``#`` are skipped."""
    text = (DATA / f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def listed(cell: str) -> tuple[str, ...]:
    """The parts of a cell that are parted by semicolons."""
    return tuple(part.strip() for part in cell.split(";") if part.strip())


def fraction(per_cent: str) -> float | None:
    """A cell in per cent as a fraction; None where it is empty (no figure is not zero)."""
    return float(per_cent) / 100 if per_cent else None


def plain_key(name: str) -> str:
    """A name for looking up: lower case, letters and digits only, single spaces."""
    return _BETWEEN.sub(" ", name.casefold()).strip()
