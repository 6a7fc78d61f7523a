"""The generated books themselves: readable, of every kind, and the same each time; the found ones open."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.strangers.books import FOUND, STRANGERS, a_book, a_plan, found
from tests.strangers.runs import ran

SEEDS = range(10)
READ = (0, 1)  # exit codes of a check that could read its files


@pytest.fixture(scope="module")
def shelves(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Ten books of two plans each, without looks."""
    folder = tmp_path_factory.mktemp("books")
    for seed in SEEDS:
        a_book(folder / str(seed), seed, plans=2, looks=False)
    return folder


def test_most_books_can_be_read_and_judged_either_way(shelves: Path) -> None:
    """Of twenty plans at most one cannot be worked out, and both verdicts are met."""
    codes = [ran("check", plan, "--json").code for plan in sorted(shelves.glob("*/plans/*.yaml"))]
    assert 20 == len(codes)
    assert len([code for code in codes if code in READ]) >= 19
    assert set(READ) <= set(codes) <= {*READ, 2}


def test_the_same_seed_gives_the_same_bytes(shelves: Path, tmp_path: Path) -> None:
    """Written a second time, every file of a book is the same."""
    again = a_book(tmp_path / "again", 3, plans=2, looks=False).folder
    first = {path.relative_to(shelves / "3"): path.read_bytes() for path in files(shelves / "3")}
    assert first == {path.relative_to(again): path.read_bytes() for path in files(again)}
    assert a_plan(5).text == a_plan(5).text
    assert a_plan(5).text != a_plan(6).text


def test_looks_are_noted_with_what_was_expected(tmp_path: Path) -> None:
    """A book with looks has notes that the tool itself wrote, and reviews them all."""
    book = a_book(tmp_path / "book", 4)
    notes = list((book.folder / "notes").glob("*.yaml"))
    assert notes
    assert any("predictions:" in note.read_text("utf-8") for note in notes)
    review = ran("review", "--book", book.folder, "--json").document
    assert [] == review["set_aside"]
    assert len(notes) == sum(batch["looks"] for batch in review["batches"])


def test_what_plans_may_say_is_said_by_some() -> None:
    """Among three hundred plans each pour and each part of a plan that a maker may write is met."""
    plans = [a_plan(seed) for seed in range(300)]
    said = {key for plan in plans for key in plan.document}
    wanted = "recipe process embeds scents doses never only prefer variations accept touching order premixes"
    assert {*wanted.split(), "weigh together"} <= said
    assert 15 == len({plan.document["pour"] for plan in plans})
    recipes = [recipe for plan in plans if isinstance(recipe := plan.document.get("recipe"), dict)]
    assert {"additives", "held back", "lye", "amount"} <= {key for recipe in recipes for key in recipe}
    assert {"g", "oz"} == {plan.shelf.ways.mass for plan in plans}


@pytest.mark.parametrize("name", STRANGERS)
def test_strangers_books_open(name: str, tmp_path: Path) -> None:
    """Every found book is read; the plans whose colourants are gone are the only ones refused."""
    book = found(name, tmp_path / "book")
    assert book.plans
    refused = {plan.stem for plan in book.plans if ran("check", plan, "--json").code not in READ}
    assert ({"first"} if name == "ten-years" else set()) == refused


def test_the_found_are_listed() -> None:
    """Every folder of strangers is one of those that tests ask for."""
    assert set(STRANGERS) == {path.name for path in FOUND.iterdir() if path.is_dir()}


def files(folder: Path) -> list[Path]:
    """Every file below a folder."""
    return sorted(path for path in folder.rglob("*") if path.is_file())
