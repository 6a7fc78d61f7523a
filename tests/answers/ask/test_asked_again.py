"""What a strict reader found: symptoms asked of named cups, early looks, nobody's skin, other crafts."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.ask.compute import meant
from blendwise.answers.why.accidents import is_accident
from blendwise.records.as_of import AsOf
from tests.answers.ask.asked import asked, told
from tests.strangers.books import FOUND

VEINS = "why: white veins"
AT_THE_CUT = AsOf(date(2026, 9, 8))
"""A day after the cut of the stranger's batch, long before it is cured."""


@pytest.fixture(scope="module")
def years(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """The book of a maker of ten years, in ounces, with one batch noted."""
    to = tmp_path_factory.mktemp("years") / "book"
    shutil.copytree(FOUND / "ten-years" / "book", to)
    return Book(to)


def plan(book: Book, name: str) -> Path:
    """One of its plans."""
    return book.folder / "plans" / f"{name}.yaml"


@pytest.mark.parametrize("cups", ["", " in the plum", " through the pond and plum", " through the snow"])
def test_veins_are_likely_whichever_cups_show_them(years: Book, cups: str) -> None:
    """White far off draws the veins: naming coloured cups does not clear the plan; as the water question."""
    text = told(asked(years, VEINS, f"white veins{cups}", plan(years, "wet-swirl")))
    assert "Likely rivers: with 26 % lye and gel forced" in text
    assert "Unlikely: much water" not in text
    assert "speaks for none" not in text
    water = told(asked(years, "water", "how much water", plan(years, "wet-swirl")))
    assert "white veins are likely" in water


def test_no_veins_are_likely_where_the_water_question_says_so(years: Book) -> None:
    """Strong lye: neither answer calls rivers likely."""
    for question in (VEINS, "water"):
        text = told(asked(years, question, "white veins in plum", plan(years, "dry-swirl")))
        assert "veins are likely" not in text


def test_a_look_of_the_second_day_tells_no_final_colour(years: Book) -> None:
    """How far it goes is not seen by week four; the note is held against "looked right"."""
    words = "I cut it two days ago and it looked right, is it final"
    early = told(asked(years, "why: will the colour stay", words, plan(years, "porch-rough"), AT_THE_CUT))
    assert "how far it goes is known by your own batch" not in early
    assert "you have not seen: your last look at PR-1 is of day 2" in early
    assert "You say it looked right; your note says porch tan at the cut" in early
    later = told(asked(years, "why: will the colour stay", "is it final", plan(years, "porch-layers")))
    assert "known by your own batch" in later  # the same oil was seen at week six


@pytest.mark.parametrize(
    ("words", "status"),
    [
        ("dye cotton with onion skins, which mordant", "declined"),
        ("can i drink the goat milk if it was open for 5 days", "declined"),
        ("is it fine for dry skin", "deferred"),
        ("will it irritate sensitive skins", "deferred"),
        ("can i drink the lye water", "deferred"),
        ("can i drink the goat milk after i added lye", "deferred"),
        ("can i drink tea with peppermint oil in it", "deferred"),
        ("can my son eat the soap", "deferred"),
    ],
)
def test_only_a_bodys_skin_and_what_is_no_food_is_left_to_others(
    years: Book, words: str, status: str
) -> None:
    """A plant's skin and a carton of milk are no matter of health; lye, oils and soap always are."""
    assert meant(years, words).status == status


def test_milk_alone_is_no_accident() -> None:
    """But whoever drank what has lye in it is."""
    assert not is_accident("can i drink the milk")
    assert is_accident("can i drink the milk with lye in it")
    assert is_accident("my kid drank the milk")


@pytest.mark.parametrize(
    "words",
    [
        "how much cotton line in a body lotion",
        "what wick for a soy candle with pumpkin porch",
        "a roll on with lilac lane, how strong",
        "how do i pour resin without bubbles",
        "my drill is broken, how do i repair it",
    ],
)
def test_another_craft_is_declined_though_an_oil_is_named(years: Book, words: str) -> None:
    """What is asked about is no soap."""
    assert meant(years, words).status == "declined"


def test_a_craft_beside_soap_is_ours(years: Book) -> None:
    """A candle scent in soap is a question of ours."""
    assert meant(years, "will pumpkin porch, a candle scent, turn my soap brown").status == "answered"


def test_stronger_lye_is_no_way_to_gel_what_would_melt(years: Book) -> None:
    """Pieces set in soften in gel whatever the lye: 33 % is offered against veins alone."""
    alone = told(asked(years, "gel", "should I gel", plan(years, "wet-swirl")))
    assert "To gel it all the same" in alone
    result = asked(years, "gel", "should I gel", plan(years, "cookie-cups"))
    assert result.gelled is not None
    assert result.gelled.veins, "the case is none without veins"
    assert "soften from 125 °F" in told(result)
    assert "To gel it all the same" not in told(result)


def test_cups_that_alternate_are_scented_before_the_pour(years: Book) -> None:
    """In a column pour nobody can scent a cup in the moment before it is poured."""
    text = told(asked(years, "order", "in what order", plan(years, "four-swirl")))
    assert "in the moment before" not in text
    assert "scent all before you pour, as the cups alternate, the quickest last" in text


def test_minutes_until_too_thick_are_no_minutes_to_wait(years: Book) -> None:
    """The clock of the unscented batter ends where it no longer pours."""
    question = "why: it is too thin and the colours mix"
    text = told(asked(years, question, "too thin", plan(years, "porch-rough")))
    assert "wait towards" not in text
    assert "too thick to pour" in text
    assert "light trace, well before that" in text


def test_folded_citrus_is_not_advised_as_if_it_were_not(years: Book) -> None:
    """The oil that faded is folded already: the advice says of which it holds."""
    text = told(asked(years, "why: the scent is gone", "Blood Orange 5x is gone", plan(years, "porch-rough")))
    assert "Next time: Folded citrus" not in text
