"""The book that a command speaks of: named by ``--book``, or found from the plan upwards."""

from __future__ import annotations

from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

from blendwise.records.book import find_book
from blendwise.records.place import read_fault

if TYPE_CHECKING:
    from blendwise.api import Book


def open_book(start: Path, folder: Path | None) -> Book:
    """The book around a plan (or a folder), or the one named; RecordError where there is none."""
    if not start.exists():
        raise read_fault(start, "There is no such file.", _nearest(start))
    from blendwise.api import Book

    return Book(folder if folder is not None else find_book(start))


def _nearest(plan: Path) -> str:
    """What lies nearest by name in the same folder."""
    names = sorted(each.name for each in plan.parent.glob("*.yaml")) if plan.parent.is_dir() else []
    near = get_close_matches(plan.name, names, n=1, cutoff=0.4)
    if near:
        return f'The nearest in that folder is "{near[0]}".'
    return "Name a plan of your book, such as plans/NAME.yaml."
