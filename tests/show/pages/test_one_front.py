"""Up to five cups and four oils are made from one front, in both systems, in books that are not the demo."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.sheet.result import Sheet
from blendwise.quantity.show import ShownIn
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from blendwise.show.sheet import front
from blendwise.show.sheet.findings import findings
from blendwise.show.sheet.layout import MOST_CUPS, clock_face, layout
from blendwise.show.sheet.paper import MOST_SCENTS
from blendwise.show.sheet.trouble import trouble
from tests.show.pages.conftest import DAY, DEMO, PLANS
from tests.strangers.books import a_book, found

SYSTEMS = (ShownIn(), ShownIn(mass="oz", temperature="F"))
LONG = 40  # characters of a name, beyond which its column is a column of words


def small_sheets(folder: Path, plans: Sequence[Path | str]) -> Iterator[Sheet]:
    """The sheets that the issue wants on one front, with their conflicts accepted, in both systems."""
    book = Book(folder)
    for plan in plans:
        try:
            sheet = book.sheet(plan, on=AsOf(DAY), evenly=True)
        except RecordError:
            continue
        few = len(sheet.portions) <= MOST_CUPS and len(front.columns(sheet)) <= MOST_SCENTS
        if sheet.pot is not None and few:
            kept = tuple(each for each in sheet.check.findings if each.level != "conflict")
            yield from (
                replace(sheet, check=replace(sheet.check, findings=kept), units=units) for units in SYSTEMS
            )


def fronts(sheet: Sheet) -> int:
    """On how many fronts it stands."""
    return len(layout(sheet, list(findings(sheet)), list(trouble(sheet))).fronts)


@pytest.mark.parametrize("name", ["seller", "beginner", "ten-years"])
def test_strangers_small_plans_have_one_front(tmp_path: Path, name: str) -> None:
    """Each plan of people who are not us, up to five cups and four oils."""
    book = found(name, tmp_path / name)
    told = [(sheet.plan, sheet.units.mass, fronts(sheet)) for sheet in small_sheets(book.folder, book.plans)]
    assert told
    assert [] == [each for each in told if each[2] != 1]


def test_the_demos_small_plans_have_one_front() -> None:
    """Each plan of the demo, the one of five cups and three oils too."""
    told = [(sheet.plan, sheet.units.mass, fronts(sheet)) for sheet in small_sheets(DEMO, PLANS)]
    assert ("orchard-wall", "oz", 1) in told
    assert [] == [each for each in told if each[2] != 1]


@pytest.mark.parametrize("seed", [504, 513, 527, 534, 541])
def test_generated_small_plans_have_one_front(tmp_path: Path, seed: int) -> None:
    """Plans of five cups and two oils with two colourants in a cup, of mixes and of milk: one front each."""
    book = a_book(tmp_path / "book", seed, plans=2, looks=False)
    made = [
        sheet
        for sheet in small_sheets(book.folder, book.plans)
        if all(len(name) <= LONG for name in front.columns(sheet))
    ]
    assert made
    assert [] == [(sheet.plan, sheet.units.mass) for sheet in made if fronts(sheet) != 1]


def test_a_cup_without_scent_shows_no_scenting(sheets: dict[str, Sheet]) -> None:
    """The clock draws the solid block of stirring scent in for the cups that take some, and for no other."""
    sheet = sheets["lake-house"]
    bare = replace(sheet, portions=tuple(replace(cup, scents=()) for cup in sheet.portions))
    blocks = [
        sum('width="0' not in mark for mark in str(row.drawn).split("<rect")[1:] if 'height="20"' in mark)
        for face in (clock_face(sheet), clock_face(bare))
        if face is not None
        for row in face.rows
    ]
    there, without = blocks[: len(blocks) // 2], blocks[len(blocks) // 2 :]
    assert all(one > other for one, other in zip(there, without, strict=True))
