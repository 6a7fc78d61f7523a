"""Random pairs of generated books, by the shelf's columns and as a plan in memory, field by field.

A pair is written as the text of a plan of one portion, read by ``Book``, worked out like any plan; the
shelf's table of many says the same of it, or a field is told.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from random import Random

import numpy as np

from blendwise.answers.pair.question import ask
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blends import GRAINS, Blends, NotForManyError
from blendwise.api import Book
from blendwise.facts.columns import Column, SetColumn
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.as_of import AsOf
from tests.strangers.books import TODAY, a_book

ON = AsOf(date.fromisoformat(TODAY), as_written=True)


def differences(folder: Path, seed: int, pairs: int) -> Iterator[str]:
    """What differs in some pairs of one generated book: seed, oils, measure and both values."""
    book = Book(a_book(folder, seed, plans=1, looks=False).folder)
    names = list(book.files.scents)
    shelf = Shelf(ask(book.files, [names[0]], today=ON.today))
    rng = Random(f"pairs {seed}")
    for _ in range(pairs):
        pair = sorted(rng.sample(names, 2), key=names.index)
        part = rng.randint(1, 9) / 10
        many = Blends(shelf, np.array([[shelf.place[name] for name in pair]]), np.array([[part, 1 - part]]))
        alone = in_memory(book, shelf.base, pair, (part, 1 - part))
        pair = [pair[pair.index(name)] for name in alone.scents]
        yield from (f"book {seed}, {' with '.join(pair)}: {told}" for told in unlike(many, alone))


def in_memory(book: Book, base: Situation, pair: list[str], shares: tuple[float, float]) -> Situation:
    """The same pair as a plan in memory: one portion, both oils at their shares of the load."""
    blend = ", ".join(f'"{name}": {100 * share:.9g} %' for name, share in zip(pair, shares, strict=True))
    load = f"{100 * base.scenting.load:.12f} % of batch oils"
    scents = f"scents: {{blend: {{{blend}}}, load: {load}}}"
    return book.situation(f"plan: a pair\nportions: [{{name: bar, share: 1}}]\n{scents}\n", ON)


def unlike(many: Blends, alone: Situation) -> Iterator[str]:
    """Each measure in which a blend among many and a plan by itself differ, with both values."""
    for name, measure in REGISTRY.items():
        if measure.word.grain not in GRAINS:
            continue
        try:
            told = many.home(name)
        except NotForManyError:
            continue
        asked = alone.home(name)
        if isinstance(told, Column) and isinstance(asked, Column):
            where = np.ones(len(asked), dtype=bool) if asked.asked is None else asked.asked
            for one, other in zip(
                (told.low, told.high, *told.outer), (asked.low, asked.high, *asked.outer), strict=True
            ):
                if not np.allclose(one[where], other[where], rtol=1e-9, atol=1e-12):
                    yield f"{name}: {one[where]} among many, {other[where]} alone"
        elif isinstance(told, SetColumn) and isinstance(asked, SetColumn) and _sets(told) != _sets(asked):
            yield f"{name}: {_sets(told)} among many, {_sets(asked)} alone"


def _sets(column: SetColumn) -> list[set[str]]:
    return [{word for word, has in zip(column.words, row, strict=True) if has} for row in column.has]
