"""A book of one's own: whole or not at all, over nothing, and sound from the first plan."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from blendwise import Book
from blendwise.answers.refusals import NotAskable
from blendwise.answers.start.compute import start_book
from blendwise.answers.start.questions import QUESTIONS, answered
from blendwise.cli.exit_codes import CLEAN, NOT_ASKED
from blendwise.quantity import QuantityError
from blendwise.records.book import load_book, load_plan
from blendwise.records.place import RecordError
from blendwise.show.schemas import schema_of
from tests.cli.conftest import Run

ROOT = Path(__file__).resolve().parents[3]


@pytest.mark.parametrize(
    "more", [(), ("--with-demo",), ("--with-demo", "--mass", "oz", "--temperature", "F")]
)
def test_a_new_book_passes_check_on_its_first_plan(run: Run, tmp_path: Path, more: tuple[str, ...]) -> None:
    """By the defaults, with the demo's oils, and in ounces, the first plan breaks nothing."""
    folder = tmp_path / "soap"
    assert CLEAN == run("start", str(folder), "--defaults", *more).code
    ran = run("check", str(folder / "plans" / "first.yaml"))
    assert CLEAN == ran.code, ran.out
    assert CLEAN == run("rules", "lint", "--book", str(folder)).code


def test_the_rulebook_is_there_to_read(tmp_path: Path) -> None:
    """No rule is copied: the package's are listed, and there is a place for one's own with an example."""
    start_book(tmp_path / "soap", {})
    rules = tmp_path / "soap" / "rules"
    assert ["mine/own.yaml"] == [p.relative_to(rules).as_posix() for p in rules.rglob("*") if p.is_file()]
    book = Book(tmp_path / "soap")
    assert Book(ROOT / "demo_catalog").rules().rules[0].rule in [rule.rule for rule in book.rules().rules]
    assert () == book.rulebook.asides


def test_the_example_of_ones_own_rule_is_sound(run: Run, tmp_path: Path) -> None:
    """Its signs taken away, the example is a rule without fault that passes its own tests."""
    start_book(tmp_path / "soap", {})
    file = tmp_path / "soap" / "rules" / "mine" / "own.yaml"
    lines = file.read_text("utf-8").splitlines()
    first = next(i for i, line in enumerate(lines) if line.startswith("# - rule:"))
    last = next(i for i, line in enumerate(lines) if line.startswith("#   misses:"))
    shown = [line[2:] for line in lines[first : last + 1]]
    file.write_text("\n".join(shown) + "\n", "utf-8")
    assert CLEAN == run("rules", "lint", "--book", str(tmp_path / "soap")).code
    assert CLEAN == run("rules", "test", "--book", str(tmp_path / "soap")).code


def test_an_own_rule_counts_at_once(run: Run, tmp_path: Path) -> None:
    """What is written into rules/mine/ changes the rulebook of the new book."""
    start_book(tmp_path / "soap", {})
    (tmp_path / "soap" / "rules" / "mine" / "own.yaml").write_text(
        "- off: contrast-thin\n  because: I like them to melt together.\n", "utf-8"
    )
    assert "contrast-thin" not in [rule.rule for rule in Book(tmp_path / "soap").rules().rules]


def test_nothing_of_the_demo_makers_own_is_passed_on(tmp_path: Path) -> None:
    """Base oils and colourants come without stock, price, lot, certificate or sightings, told as hearsay."""
    start_book(tmp_path / "soap", {})
    book, demo = Book(tmp_path / "soap").files, Book(ROOT / "demo_catalog").files
    assert (demo.oils.keys(), demo.colourants.keys()) == (book.oils.keys(), book.colourants.keys())
    for oil in book.oils.values():
        assert (None, None, None, "hearsay") == (oil.price, oil.on_hand, oil.lot_saponification, oil.evidence)
        assert demo.oils[oil.name].saponification == oil.saponification
    for colourant in book.colourants.values():
        assert ([], None, None, "hearsay") == (
            colourant.seen, colourant.on_hand, colourant.grams_per_teaspoon, colourant.evidence,
        )  # fmt: skip


def test_answers_are_kept_as_typed(tmp_path: Path) -> None:
    """What was said stands in usual.yaml in the maker's own units; the rest is named as taken."""
    given = {"mass": "oz", "oils": "2 lb", "superfat": "6 %", "hands": "2", "currency": "crowns"}
    result = start_book(tmp_path / "soap", given)
    usual = Book(tmp_path / "soap").files.usual
    assert usual.recipe is not None
    assert usual.recipe.amount is not None
    assert ("2 lb", "oz", 2, "crowns") == (
        str(usual.recipe.amount.oils), usual.units.mass, usual.hands, usual.currency,
    )  # fmt: skip
    assert {question.key for question in QUESTIONS} - given.keys() == set(result.taken)


@pytest.mark.parametrize(
    ("key", "text"), [("hands", "3"), ("superfat", "5,5 %"), ("room", "hot"), ("load", "4 %%")]
)
def test_an_answer_that_is_none_is_refused_with_a_remedy(key: str, text: str) -> None:
    """Each wrong answer says what to write instead."""
    question = next(each for each in QUESTIONS if each.key == key)
    with pytest.raises(QuantityError) as refused:
        answered(question, text)
    assert refused.value.remedy


def test_common_words_are_understood() -> None:
    """Grams, celsius and their like are the words that they mean; what is none is still refused."""
    asked = {question.key: question for question in QUESTIONS}
    said = {"mass": "Grams", "temperature": "°C", "rates": "%", "hands": "two", "purpose": "for sale"}
    told = {key: answered(asked[key], text) for key, text in said.items()}
    assert {"mass": "g", "temperature": "C", "rates": "percent", "hands": "2", "purpose": "sale"} == told
    with pytest.raises(QuantityError):
        answered(asked["mass"], "stones")


def test_a_folder_that_holds_anything_is_left_as_it_is(run: Run, tmp_path: Path) -> None:
    """Exit code 2, and every byte in its place; a second start over the first too."""
    (tmp_path / "mine.txt").write_text("mine")
    ran = run("start", str(tmp_path), "--defaults")
    assert NOT_ASKED == ran.code
    assert "mine.txt" in ran.err
    assert ["mine.txt"] == [path.name for path in tmp_path.iterdir()]
    assert CLEAN == run("start", str(tmp_path / "soap"), "--defaults").code
    assert NOT_ASKED == run("start", str(tmp_path / "soap"), "--defaults").code


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    """A folder made beforehand may be used where it is empty."""
    (tmp_path / "soap").mkdir()
    start_book(tmp_path / "soap", {})
    assert Book(tmp_path / "soap").check("first").sound


def test_what_fails_leaves_nothing_behind(tmp_path: Path) -> None:
    """A shelf that cannot be read, or an answer that is none, makes no book and no rest of one."""
    (tmp_path / "bad.csv").write_text("Weight\n1\n")
    with pytest.raises(RecordError):
        start_book(tmp_path / "soap", {}, shelf=tmp_path / "bad.csv")
    with pytest.raises(QuantityError):
        start_book(tmp_path / "soap", {"room": "hot"})
    assert ["bad.csv"] == [path.name for path in tmp_path.iterdir()]


def test_a_book_that_a_killed_run_left_half_made_is_removed(tmp_path: Path) -> None:
    """Where it is old and holds nothing but a new book's files; a fresh one, and anybody else's, stays."""
    old, fresh, theirs = (tmp_path / f".{letter * 16}.tmp" for letter in "abc")
    for left in (old, fresh, theirs):
        (left / "plans").mkdir(parents=True)
    (theirs / "letter.txt").write_text("mine")
    for left in (old, theirs):
        os.utime(left, (0, 0))
    start_book(tmp_path / "book", {})
    assert {fresh, theirs, tmp_path / "book"} == set(tmp_path.iterdir())


def test_a_dry_run_writes_nothing(run: Run, tmp_path: Path) -> None:
    """All is made and tried, and the folder is not there afterwards."""
    ran = run("start", str(tmp_path / "soap"), "--defaults", "--dry-run", "--json")
    assert CLEAN == ran.code
    document = json.loads(ran.out)
    jsonschema.validate(document, schema_of("start"))
    assert (False, True) == (document["kept"], document["sound"])
    assert [] == list(tmp_path.iterdir())


def test_from_a_spreadsheet_to_advice_in_two_commands(run: Run, tmp_path: Path) -> None:
    """Start with one's own list, then ask whether two of its oils get on."""
    (tmp_path / "oils.csv").write_text("Oil,Vanillin %,Trace\nPlum,2,slightly\nMoss,0,no\n", "utf-8")
    folder = str(tmp_path / "soap")
    assert CLEAN == run("start", folder, "--defaults", "--shelf", str(tmp_path / "oils.csv")).code
    ran = run("pair", "plum", "moss", "--book", folder)
    assert ran.code in (0, 1), ran.err
    assert "Plum" in ran.out


@pytest.mark.parametrize("purpose", ["home", "sale"])
def test_what_it_is_for_is_kept_and_counts_everywhere(tmp_path: Path, run: Run, purpose: str) -> None:
    """Asked once: plans and questions that do not say are judged so; what they say goes before."""
    folder = tmp_path / "soap"
    assert CLEAN == run("start", str(folder), "--with-demo", "--for", purpose, "--defaults").code
    first, other = folder / "plans" / "first.yaml", {"home": "sale", "sale": "home"}[purpose]
    book = ("--book", str(folder))
    asks = (("check", str(first)), ("sheet", str(first), *book), ("pair", "lavender", "cedar", *book))
    for words in asks:
        assert purpose == _purpose(json.loads(run(*words, "--json").out)), words
    assert other == _purpose(json.loads(run(*asks[2], "--for", other, "--json").out))
    assert "as usual.yaml says" in run("check", str(first), "--more").out
    first.write_text(first.read_text("utf-8").replace("plan: first", f"plan: first\nfor: {other}"), "utf-8")
    for words in asks[:2]:
        assert other == _purpose(json.loads(run(*words, "--json").out)), words


def _purpose(answer: dict[str, Any]) -> object:
    """What an answer, or the check in it, was judged for."""
    return answer.get("purpose") or answer["check"]["purpose"]


def test_the_first_plan_names_the_shelfs_own_oils(tmp_path: Path, run: Run) -> None:
    """In its remarks, quoted where they want it: no oil of the demo stands in a maker's own book."""
    sheet = tmp_path / "oils.csv"
    sheet.write_text("Name,Kind,Vanillin %\nFig: old,FO,1\nElm,EO,0\nAsh,EO,0\n", "utf-8")
    folder = tmp_path / "soap"
    assert CLEAN == run("start", str(folder), "--shelf", str(sheet), "--defaults").code
    file = folder / "plans" / "first.yaml"
    told = file.read_text("utf-8")
    assert '{"Fig: old": 2, Elm: 1}' in told
    file.write_text(
        told.replace("# scents:", "scents:").replace("#   ", "  ").replace("# never", "never"), "utf-8"
    )
    assert {"Fig: old", "Elm"} == set(load_plan(file, load_book(folder)).scents.blend)  # type: ignore[union-attr]


def test_the_first_plan_speaks_of_load_as_its_book_does(tmp_path: Path, run: Run) -> None:
    """In ounces per pound where the maker thinks so, and nowhere in per cent of something else."""
    said = ("--defaults", "--mass", "oz", "--rates", "ppo", "--load", "0.45 oz ppo")
    assert CLEAN == run("start", str(tmp_path / "soap"), *said).code
    told = (tmp_path / "soap" / "plans" / "first.yaml").read_text("utf-8")
    assert "#   load: 0.45 oz ppo\n" in told
    assert "% of batch oils" not in told


@pytest.mark.parametrize(
    ("key", "typed"), [("concentration", "33% 5%"), ("superfat", "5 33"), ("concentration", "33/5")]
)
def test_two_figures_at_once_are_asked_back(key: str, typed: str) -> None:
    """Lye and superfat in one line: said so, with the first of them; a decimal comma is no second figure."""
    question = next(each for each in QUESTIONS if each.key == key)
    with pytest.raises(NotAskable, match="two figures") as told:
        answered(question, typed)
    assert f"such as {typed[:2].strip()} %" in told.value.remedy
    assert "33 %" == answered(question, "33")
    with pytest.raises(NotAskable) as comma:
        answered(question, "33,5 %")
    assert "two figures" not in str(comma.value)
