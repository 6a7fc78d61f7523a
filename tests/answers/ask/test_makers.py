"""Wordings of makers of two books in ounces: understood, turned away, or led to the page of an accident.

``makers.txt``: the number of the question, or ``x`` for none of ours, the book, its plan and the words.
They were used to mend the matching, so what they score is a floor and no measure; ``test_unseen`` has that.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Final

import pytest

from blendwise import Book
from blendwise.answers.ask.compute import names_of, of_health
from blendwise.answers.ask.reading import understand
from blendwise.answers.ask.topics import HEALTH, NOT_OURS
from tests.answers.ask.test_unseen import _numbers
from tests.strangers.books import FOUND

LINES: Final = [
    line.split("|")
    for line in Path(__file__).with_name("makers.txt").read_text(encoding="utf-8").splitlines()
]


@cache
def _book(name: str) -> Book:
    return Book(FOUND / name / "book")


def _near(book: str, plan: str, words: str) -> list[str]:
    file = _book(book).folder / "plans" / f"{plan}.yaml" if plan else None
    return _numbers(words, names_of(_book(book), file))


def test_makers_are_understood() -> None:
    """Nine in ten at once, all but one in fifty among the three nearest."""
    asked = [(number, _near(*rest), rest[-1]) for number, *rest in LINES if number != "x"]
    missed = [words for number, near, words in asked if near[:1] != [number]]
    lost = [words for number, near, words in asked if number not in near]
    assert len(missed) <= 0.1 * len(asked), missed
    assert len(lost) <= 0.02 * len(asked), lost


def test_other_subjects_are_turned_away() -> None:
    """Nine in ten of them."""
    others = [rest for number, *rest in LINES if number == "x"]
    answered = [rest[-1] for rest in others if _near(*rest) != ["x"]]
    assert len(answered) <= 0.1 * len(others), answered


PAGES: Final = {
    "lye met aluminium": ("i put lye in the aluminium pot and its fizzing", "hydrogen"),
    "dry lye in the oils": ("i forgot to add the water, dumped lye in the oils", "no water on it now"),
    "the lye may be there twice": ("i might have weighed the lye twice", "Do not pour"),
    "lye was spilled": ("the lye jug tipped over on my counter", "Step back"),
}


@pytest.mark.parametrize("page", PAGES)
def test_an_accident_with_lye_has_its_page(page: str) -> None:
    """In ``why`` and in ``ask``, with the danger first and who is to be called."""
    words, danger = PAGES[page]
    told = _book("ten-years").why(words).symptom
    assert told is not None
    assert (page, True) == (told.symptom, danger in told.safety)
    assert f"why: {page}" == understand(words, {})[0][0].question


@pytest.mark.parametrize("words", ["can i drink this", "is it ok to eat a bar", "may the dog lick it"])
def test_what_is_never_eaten_opens_with_first_aid(words: str) -> None:
    """Not turned away as another subject: it may be done already."""
    result = _book("ten-years").ask(words)
    assert "poisons line" in getattr(result.found, "deferred").answer  # noqa: B009


def test_a_pet_alone_is_no_question_of_health() -> None:
    """A pet's name is another subject; what a soap does to a pet is for a vet."""
    assert not of_health("what's a good name for my dog")
    assert of_health("can i use clove bud attic round my cat")
    assert understand("is it safe for dogs", {})[0][0].question == HEALTH or of_health("is it safe for dogs")


def test_a_part_of_a_name_is_the_oil_of_the_plan() -> None:
    """ "The tonka stuff" is the plan's tonka; where nothing tells which, it is an oil without a name."""
    file = _book("seller").folder / "plans" / "harvest.yaml"
    named = understand("does the tonka stuff go brown", names_of(_book("seller"), file))[1]
    assert [name for name in named.oils if "tonka" in name.casefold()] == list(named.oils) != []
    several = {"OIL": ["tonka-milk", "tonka-absolute"], "HERE": []}
    matches, named, strange = understand("does the tonka stuff go brown", several)
    assert ("browns", (), False) == (matches[0].question, named.oils, strange)


def test_a_name_of_a_letter_and_a_colour_of_spots_are_no_cups() -> None:
    """A cup "a" is meant beside "cup" alone, and orange spots are no spots of the cup "orange"."""
    cups = {"CUP": ["a", "orange"]}
    assert understand("is it a good idea", cups)[1].portions == ()
    assert understand("cup a is thick", cups)[1].portions == ("a",)
    assert understand("little orange spots on my bars", cups)[1].portions == ()


def test_what_is_named_is_never_another_subject() -> None:
    """A sentence with an oil of the book and nothing foreign beside it is unsure at worst."""
    matches, _, strange = understand("cedar alongside lavender, thoughts?", {"OIL": ["cedar", "lavender"]})
    assert not strange
    assert matches[0].question != NOT_OURS


def test_a_kitchen_itches_nobody() -> None:
    """A word is the slip of another only where it begins as that does."""
    told = _book("ten-years").why("knocked the lye jug over on the kitchen floor").symptom
    assert told is not None
    assert told.symptom == "lye was spilled"
