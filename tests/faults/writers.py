"""Every command that writes, as words for one book; ``{plan}``, ``{oil}`` and others are filled in."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from blendwise.records.book import load_book
from tests.strangers.books import TODAY, a_book

SEED: Final = 2
DAY: Final = ("--today", TODAY)
BOOK: Final = ("--book", "{book}")
OLD_PAGE: Final = ("sheet", "{plan}", "--out", "{page}", *DAY)
WRITERS: Final[dict[str, tuple[str, ...]]] = {
    "note": ("note", "{plan}", "--saw", "all: ricing none", "--batch", "Z9", *DAY),
    "assign": ("assign", "{plan}", "--write", "{book}/plans/new.yaml", *DAY),
    "check": ("check", "{faulty}", "--write", "{book}/plans/new.yaml", *DAY),
    "again": ("again", "{poured}", "--write", "{book}/plans/new.yaml", *BOOK, *DAY),
    "draft": ("draft", "new", *BOOK, "--portion", "one: 40 %", "--portion", "two: the rest", "--unscented",
              "--yes", *DAY),
    "import": ("scents", "import", "{sheet}", "--yes", *BOOK, *DAY),
    "import asks": ("scents", "import", "{doubtful}", *BOOK, *DAY),
    "import to": ("scents", "import", "{sheet}", "--yes", "--to", "{book}/new.yaml", *BOOK, *DAY),
    "export": ("scents", "export", "{book}/new.xlsx", *BOOK),
    "rename": ("scents", "rename", "{oil}", "wholly new", "--yes", *BOOK),
    "rule": ("rules", "new", "{oil} at most 2 % of portion oils", "--yes", *BOOK, *DAY),
    "booklet": ("rules", "--page", "{book}/new.html", *BOOK),
    "start": ("start", "{book}/another", "--defaults", *DAY),
    "schemas": ("schema", "--all", "{book}/.schemas"),
    "sheet": OLD_PAGE,
    "pdf": ("sheet", "{plan}", "--out", "{page}", "--pdf", *DAY),
    "pair page": ("pair", "{oil}", "{other}", "--page", "{book}/new.html", *BOOK, *DAY),
    "review page": ("review", "--page", "{book}/new.html", *BOOK, *DAY),
    "adopt": ("review", "--adopt", "{looked at}", *BOOK, *DAY),
    "cup": ("cup", "{oil}", "--keep", *BOOK, *DAY),
}  # fmt: skip
"""A writer's name, and its command line."""
SHELF: Final = """name,kind,flash point,speed,stock
Plum Night,fragrance oil,95 °C,slight,120 g
Grass After Rain,essential oil,61 °C,none,30 g
"""
DOUBTFUL: Final = SHELF.replace("slight", "sometimes")
BROWSER: Final = """#!/bin/sh
for each; do case "$each" in --print-to-pdf=*) printf '%%PDF-1.4 not much' >"${each#*=}";; esac; done
"""
"""What prints where no browser is wanted: it makes a file of a few bytes."""


@dataclass(frozen=True)
class Desk:
    """A folder with a book, a cache and a browser, and what the words of a command are filled with."""

    folder: Path
    names: dict[str, str]

    @property
    def environment(self) -> dict[str, str]:
        """Where the cache and the browser are."""
        return {
            "XDG_CACHE_HOME": str(self.folder / "cache"),
            "BLENDWISE_BROWSER": str(self.folder / "browser"),
            "TMPDIR": str(self.folder / "tmp"),
        }

    def words(self, writer: str) -> list[str]:
        """A writer's words for this desk."""
        return [word.format(**self.names) for word in WRITERS[writer]]


def a_desk(folder: Path) -> Desk:
    """A generated book with looks and a spreadsheet, an older page beside it, a cache and a browser."""
    for name in ("cache", "tmp"):
        (folder / name).mkdir(parents=True)
    book = a_book(folder / "book", SEED)
    (book.folder / "shelf.csv").write_text(SHELF, "utf-8")
    (book.folder / "doubtful.csv").write_text(DOUBTFUL, "utf-8")
    browser = folder / "browser"
    browser.write_text(BROWSER, "utf-8")
    browser.chmod(0o755)
    oils = list(load_book(book.folder).scents)
    plans = {path.stem: str(path) for path in book.plans}
    names = {
        "book": str(book.folder), "plan": plans["spin"], "faulty": plans["first try"], "poured": "spin",
        "sheet": str(book.folder / "shelf.csv"),
        "doubtful": str(book.folder / "doubtful.csv"),
        "oil": oils[0], "other": oils[1], "page": str(book.folder / "page.html"),
        "looked at": "चंदन",
    }  # fmt: skip
    return Desk(folder, names)
