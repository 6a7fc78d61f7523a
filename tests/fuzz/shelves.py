"""The books that are bent: generated ones and strangers', in grams and ounces, with files of every kind."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from random import Random
from typing import Final

from blendwise import Book
from blendwise.records.against import check_usual
from blendwise.records.book import BookFiles, entries, load_note, load_plan
from blendwise.records.kinds.additive import OwnAdditive
from blendwise.records.kinds.colourant import Colourant
from blendwise.records.kinds.oil import BaseOil
from blendwise.records.kinds.scent import Scent
from blendwise.records.kinds.usual import Usual
from blendwise.records.layer.layer import pours_of, read_own_layer, scales_of
from blendwise.records.place import RecordError
from blendwise.records.reading.document import read_document, validated
from blendwise.records.reading.record import Record
from blendwise.records.shipped import shipped_document
from tests.fuzz.canonical import canonical
from tests.strangers.books import DEMO, STRANGERS, a_book, found

LEFT_BEHIND: Final = Path(__file__).resolve().parents[1] / "upgrade" / "books" / "grams" / "rules"
GENERATED: Final = (0, 1, 2, 3, 6, 7)
CATALOGUES: Final[dict[str, type[Record]]] = {
    "scents": Scent, "colourants": Colourant, "oils": BaseOil, "additives": OwnAdditive,
}  # fmt: skip
COPIES: Final = ("lye", "limits", "rates", "scales", "pours")
"""Starter files of which some books hold a copy, as 0.1.0 left them."""
ADDITIVES: Final = """\
sour whey: {lye: eats 0.012 g a gram}
quarry tonic: {lye: brings 0.02 g a gram}
hop tea: {lye: neutral, water: 90 %, reducing sugar: 2 %, salt: 1 %}
stone milk: {lye: acid 1.2 mol per kg}
"""
POURS: Final = """\
column: {minutes: 6 to 9 min}
slow ladder:
  {family: sequential, minutes: 3 to 5 min, touching: in order, batter: medium,
   tolerates: slight, basis: mine}
"""
SCALES: Final = """\
bands:
  - {word: ivory, up to: 0.012 % of portion batter}
acceleration:
  slight: {factor: 1.2 to 1.6}
"""


@dataclass
class Shelf:
    """A book that is bent and set right again."""

    folder: Path

    @cached_property
    def files(self) -> list[Path]:
        """Its files, in an order that holds."""
        found = (path for path in self.folder.rglob("*.yaml") if ".schemas" not in path.parts)
        return sorted(path for path in found if not path.name.endswith(".answers.yaml"))

    def __post_init__(self) -> None:
        self.book = Book(self.folder)
        self.read: BookFiles = self.book.files

    @cached_property
    def plans(self) -> list[Path]:
        """Its plans, in an order that holds."""
        return [path for path in self.files if path.parent.name == "plans"]

    def kind(self, file: Path) -> str:
        """``plans``, ``notes``, ``rules`` or the name of a catalogue."""
        inside = file.relative_to(self.folder)
        return inside.parts[0] if len(inside.parts) > 1 else inside.stem

    def reading(self, file: Path) -> str:
        """Everything that is read from a file as it stands now; RecordError where it is refused."""
        kind = self.kind(file)
        if kind == "plans":
            return canonical(load_plan(file, self.read))
        if kind == "notes":
            return canonical(load_note(file))
        if kind == "rules":
            own, shipped = read_own_layer(self.folder), shipped_document
            pours, scales = pours_of(shipped("pours.yaml"), own), scales_of(shipped("scales.yaml"), own)
            return canonical([own, pours, scales])
        doc = read_document(file, bare=kind != "usual")
        if kind != "usual":
            return canonical(entries(CATALOGUES[kind], doc, kind))
        usual = validated(Usual, doc)
        if faults := check_usual(usual, self.read.oils, doc):
            raise RecordError(faults)
        return canonical(usual)

    @contextmanager
    def bent(self, file: Path, data: bytes) -> Iterator[bytes]:
        """The book with another content of one of its files, for a while; what stood there is given."""
        before = file.read_bytes()
        file.write_bytes(data)
        try:
            yield before
        finally:
            file.write_bytes(before)


def shelves(folder: Path, few: bool = False) -> list[Shelf]:
    """Books of all sorts in new folders; ``few``: only two strangers', which are quick to make."""
    made = []
    for name in STRANGERS[:1] + STRANGERS[3:] if few else STRANGERS:
        made.append(found(name, folder / name).folder)
    for seed in () if few else GENERATED:
        made.append(a_book(folder / f"generated {seed}", seed, looks=seed % 2 == 0).folder)
    for place, book in enumerate(made):
        _furnish(book, place)
    return list(map(Shelf, made))


def _furnish(book: Path, place: int) -> None:
    """The kinds of file that a book has none of; every other one holds copies of the rules."""
    mine = book / "rules" / "mine"
    mine.mkdir(parents=True, exist_ok=True)
    own = DEMO.parent / "tests" / "strangers" / "found" / "rule-writer" / "own.yaml"
    added = {
        book / "additives.yaml": ADDITIVES, mine / "pours.yaml": POURS, mine / "scales.yaml": SCALES,
        mine / "more.yaml": own.read_text("utf-8"),
    }  # fmt: skip
    for file, text in added.items():
        if not file.exists():
            file.write_text(text, "utf-8")
    for name in COPIES if place % 2 else ():
        shutil.copy(LEFT_BEHIND / f"{name}.yaml", book / "rules" / f"{name}.yaml")


def weighted(rng: Random, shelf: Shelf) -> Path:
    """A file of a book: plans and catalogues more often than each of many notes."""
    kinds: dict[str, list[Path]] = {}
    for file in shelf.files:
        kinds.setdefault(shelf.kind(file), []).append(file)
    names = sorted(kinds)
    weights = [{"plans": 6, "scents": 5, "rules": 4, "notes": 3, "usual": 3}.get(name, 2) for name in names]
    return rng.choice(kinds[rng.choices(names, weights)[0]])
