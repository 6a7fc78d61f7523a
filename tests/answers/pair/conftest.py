"""What the tests of pairing share: the demo book on a fixed day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from blendwise.api import Book

ROOT = Path(__file__).resolve().parents[3]
DEMO = ROOT / "demo_catalog"
TODAY = date(2026, 11, 25)


@pytest.fixture(scope="session")
def book() -> Book:
    """The demo book, read once; nothing here writes."""
    return Book(DEMO)
