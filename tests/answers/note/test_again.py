"""The next plan comes from what was poured, not from what the plan's file says today."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import jsonschema
import pytest

from blendwise import Book
from blendwise.records import load_plan
from blendwise.records.as_of import AsOf
from blendwise.show.schemas import schema_of
from tests.answers.note.conftest import Blendwise

DAY = date(2026, 11, 25)


def test_what_is_to_be_changed_is_left_open(demo: Path) -> None:
    """Twice the bars take twice the oils; the split is open but for the version's wish, and what was weighed
    stands above it."""
    book = Book(demo)
    (demo / "plans" / "greenhouse-morning.yaml").unlink()
    result = book.again(
        "greenhouse-morning", on=AsOf(DAY), variation="deep", bars=20, write=demo / "plans" / "next.yaml"
    )
    plan = load_plan(demo / "plans" / "next.yaml", book.files)
    assert "next" == plan.plan == result.plan
    assert {} == plan.variations
    assert result.anew
    assert {"soil": ["tonka-milk"]} == {portion: list(doses) for portion, doses in plan.doses.items()}
    assert "Weighed then in soil: tonka-milk 6.5 g, lime 3.6 g, cedar 4.7 g." in result.learned
    assert plan.recipe is not None
    assert plan.recipe.amount is not None
    assert plan.recipe.amount.oils is not None
    assert plan.recipe.amount.oils.value == pytest.approx(2 * 1013.97, rel=1e-3)


def test_what_was_learned_stands_above_it(demo: Path) -> None:
    """The remarks name the batch, what came out otherwise, what to change; the text below is kept."""
    result = Book(demo).again("milk-and-toffee", on=AsOf(DAY))
    lines = result.text.splitlines()
    assert lines[0].startswith("# From batch MAT-250906, poured 2025-09-06")
    assert any(
        line.startswith("# To change first: milk, browned too far, most likely by burnt-sugar")
        for line in lines
    )
    old = (demo / "plans" / "milk-and-toffee.yaml").read_text("utf-8")
    kept = old[old.index("plan: ") : old.index("\ndoses:")].replace("milk-and-toffee", "milk-and-toffee-2", 1)
    assert kept in result.text
    assert result.check.grams
    assert ["portion", "what", "expected", "seen"] == list(result.to_frame().columns)


def test_the_winner_is_taken_where_no_version_is_named(demo: Path) -> None:
    """Without --variation the version with the votes is poured again."""
    note = demo / "notes" / "2026-04-25-greenhouse-morning-shared-week-6.yaml"
    note.write_text(note.read_text("utf-8") + "votes: {shared: 9, deep: 1}\n", "utf-8")
    again = Book(demo).again("GM-260314", on=AsOf(DAY))
    assert "shared" == again.variation


def test_the_command(blendwise: Blendwise, demo: Path) -> None:
    """Shown in words, as a published document, written once and never over another file."""
    args = ("again", "harbour-morning", "--book", str(demo))
    words = blendwise(*args)
    assert "harbour-morning-2, from batch HM-260822" in words.flat
    told = json.loads(blendwise(*args, "--json").out)
    jsonschema.validate(told, schema_of("again"))
    file = demo / "plans" / "spring.yaml"
    assert words.code == blendwise(*args, "--write", str(file)).code
    assert told["text"].replace("harbour-morning-2", "spring") == file.read_text("utf-8")
    assert 2 == blendwise(*args, "--write", str(file)).code
    assert 2 == blendwise("again", "three-whites", "--book", str(demo)).code
    assert 2 == blendwise(*args, "--variation", "dark").code
    assert words.code == blendwise("check", str(file)).code
