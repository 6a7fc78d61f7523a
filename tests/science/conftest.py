"""Published check values for the sciences."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

REFERENCE = Path(__file__).parents[1] / "reference"

Rows = list[dict[str, str]]


@pytest.fixture(scope="session")
def published() -> Callable[..., Rows]:
    """``published(name, *statuses)``: rows of a reference file, by default only those read or computed."""

    def read(name: str, *statuses: str) -> Rows:
        text = (REFERENCE / f"{name}.csv").read_text(encoding="utf-8")
        rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
        return [row for row in rows if row["status"] in (statuses or ("seen", "computed"))]

    return read
