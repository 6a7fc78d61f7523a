"""The book that a command speaks of: named by ``--book``, or found upwards from the plan or from here."""

from __future__ import annotations

import sys
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

from blendwise.records.book import find_book
from blendwise.records.place import RecordError, read_fault

if TYPE_CHECKING:
    from blendwise.api import Book


def open_book(folder: Path | None, start: Path | None = None) -> Book:
    """The book named, else the one around ``start`` or around the current folder; RecordError if none."""
    from blendwise.api import Book

    book = Book(folder if folder is not None else find_book(start or Path()))
    tell_once(book.folder)
    return book


def tell_once(folder: Path) -> None:
    """Tell a book that an older version began what has changed since, once, on standard error.

    That it was told is kept in the user's cache, never in the book; where nothing can be kept it is told
    each time, and how to end that.
    """
    from blendwise.records.layer.own_files import begun_before

    if not begun_before(folder):
        return
    from hashlib import sha256

    from blendwise.records.writing.cache import cached, keep
    from blendwise.show.words import CHANGED_SINCE
    from blendwise.version import __version__

    name = f"{sha256(str(folder.resolve()).encode()).hexdigest()[:24]}-told.json"
    if cached(name) != __version__:
        keep(name, __version__)
        print(CHANGED_SINCE, file=sys.stderr)


def open_plan(plan: Path, folder: Path | None) -> tuple[Book, Path]:
    """The book of a plan, and the plan's file: a path, or a name in the book's ``plans/``.

    RecordError where there is no such plan (with the nearest), or no book.
    """
    if folder is None and not plan.exists() and len(plan.parts) > 1:
        raise read_fault(plan, "There is no such file.", _nearest(plan, plan.parent))
    book = open_book(folder, plan if plan.exists() else None)
    found = book.plan_path(plan)
    if not found.exists():
        raise read_fault(plan, "There is no such plan.", _nearest(plan, book.folder / "plans"))
    return book, found


def open_plan_or_cup(plan: Path, folder: Path | None) -> tuple[Book, Path | str]:
    """The book and the plan's file, as ``open_plan``; else the name of a test cup kept in its notes."""
    try:
        return open_plan(plan, folder)
    except RecordError:
        if len(plan.parts) > 1 or plan.suffix in (".yaml", ".yml"):
            raise
        opened = open_book(folder)
        if opened.has_cup(plan.name):
            return opened, plan.name
        near = get_close_matches(plan.name, opened.cups(), n=1, cutoff=0.6)
        if near:
            told = f'The nearest test cup is "{near[0]}".'
            raise read_fault(plan, "There is no such plan, and no such cup is kept.", told) from None
        raise


def book_and_name(plan: str, folder: Path | None) -> tuple[Book, str]:
    """The book, and a plan's name: a file is read for its name, a name (or a batch's code) stays as it is."""
    file = Path(plan)
    if not plan or not file.is_file():
        return open_book(folder), plan
    opened = open_book(folder, file)
    return opened, opened.plan_name(file)


def _nearest(plan: Path, folder: Path) -> str:
    """What lies nearest by name in a folder of plans."""
    names = [each.stem for each in sorted(folder.glob("*.yaml"))]
    near = get_close_matches(plan.stem, names, n=1, cutoff=0.4)
    if near:
        return f'The nearest is "{near[0]}" in {folder.as_posix()}.'
    return "Name a plan of your book, such as plans/NAME.yaml."
