"""The demo as a maker gets it: the demo catalogue under the rules of the package."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from blendwise.records import BookFiles, Note, Plan, load_book, load_notes, load_plan

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the demo, so that no test can change the one in the repository."""
    book = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ROOT / "demo_catalog", book, ignore=shutil.ignore_patterns("rules"))
    return book


@pytest.fixture(scope="session")
def book(folder: Path) -> BookFiles:
    return load_book(folder)


@pytest.fixture(scope="session")
def plans(book: BookFiles) -> dict[str, Plan]:
    """Every plan of the demo by its name."""
    return {plan.plan: plan for plan in (load_plan(path, book) for path in book.plan_paths())}


@pytest.fixture(scope="session")
def notes(folder: Path) -> list[Note]:
    return load_notes(folder)[0]
