"""Figures that are not refused and yet hardly ever meant: of a plan, and of what it takes from its book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from blendwise.answers.check.result import Aside
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.book import BookFiles
from blendwise.records.reading.document import Document
from blendwise.records.reading.record import Record
from blendwise.records.reading.walk import figures_of

Held = tuple[Record, Document | None, tuple[str, ...]]
"""A record, its document, and where it begins in it."""


def odd_of_plan(s: Situation) -> Iterator[Aside]:
    """Odd figures of the plan, of the usual ways, and of the oils, scents and colourants that it names."""
    recipe = s.plan.recipe or s.book.usual.recipe
    used = [
        *_of_shelf(s.book, "oils.yaml", s.book.oils, recipe.oils if recipe else ()),
        *_of_shelf(s.book, "scents.yaml", s.book.scents, s.plan.scents.blend if s.plan.scents else ()),
        *_of_shelf(
            s.book, "colourants.yaml", s.book.colourants, [c for p in s.plan.portions for c in p.colourants]
        ),
    ]
    yield from odd([(s.plan, s.plan.doc, ()), *_usual(s.book), *used], s.today)


def odd_of_book(book: BookFiles, today: date) -> Iterator[Aside]:
    """Odd figures of everything on the shelf and of the usual ways."""
    shelf = [
        *_of_shelf(book, "oils.yaml", book.oils, book.oils),
        *_of_shelf(book, "scents.yaml", book.scents, book.scents),
        *_of_shelf(book, "colourants.yaml", book.colourants, book.colourants),
    ]
    yield from odd([*_usual(book), *shelf], today)


def _usual(book: BookFiles) -> Iterator[Held]:
    yield book.usual, book.docs.get("usual.yaml"), ()


def _of_shelf(
    book: BookFiles, file: str, records: Mapping[str, Record], names: Iterable[str]
) -> Iterator[Held]:
    for name in dict.fromkeys(names):
        if name in records:
            yield records[name], book.docs.get(file), (name,)


def odd(held: Iterable[Held], today: date) -> Iterator[Aside]:
    """Every odd figure of these records, its place with its file as it was read."""
    for record, doc, begins in held:
        for path, value, band in figures_of(record):
            to_come = isinstance(value, date) and value > today
            if to_come or band.is_odd(value):
                where = doc.place(*begins, *path).spot if doc else None
                field = ", ".join(str(step) for step in (*begins, *path) if isinstance(step, str))
                why = "day to come" if to_come else "odd figure"
                yield Aside(why, str(value), field, "caution", False, band.usual, "", where)
