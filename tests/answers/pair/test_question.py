"""Questions as typed: ratio, load, purpose, and what is taken from usual.yaml and said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.answers.pair.plan import BAR, recipe_of, situation
from blendwise.answers.pair.question import ask, ask_along, read_load, read_ratio
from blendwise.answers.refusals import Deferred, NotAskable
from blendwise.api import Book
from blendwise.facts.assumed import Assumed, assumed
from blendwise.quantity import Basis, QuantityError
from blendwise.records.kinds.usual import Usual
from tests.answers.pair.conftest import TODAY

OILS = ("a", "b", "c")
parts = st.lists(st.integers(1, 50), min_size=3, max_size=3)


@given(parts, st.integers(1, 9))
def test_only_the_proportions_of_a_ratio_count(numbers: list[int], factor: int) -> None:
    """2:1:1 and 4:2:2 are one ratio, and its shares make a whole."""
    once = read_ratio(":".join(map(str, numbers)), OILS)
    again = read_ratio(" : ".join(str(factor * n) for n in numbers), OILS)
    assert pytest.approx(1) == sum(once)
    assert pytest.approx(once) == again


@pytest.mark.parametrize("text", ["2:1", "1:1:1:1", "1:0:1", "1:-1:1", "a:b:c", "1::1", "5000:1:1"])
def test_a_ratio_that_does_not_match_is_refused(text: str) -> None:
    """Too few or too many parts, nothing, less than nothing, no numbers, absurd ones."""
    with pytest.raises(NotAskable):
        read_ratio(text, OILS)


def test_no_ratio_is_equal_parts_and_said(book: Book) -> None:
    """What is not said is stated."""
    asked = ask(book.files, ["lime", "cedar"], today=TODAY)
    assert (0.5, 0.5) == asked.shares
    assert Assumed("no ratio") in asked.said


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("4", 0.04),
        ("3.5%", 0.035),
        ("5 % of batch oils", 0.05),
        ("0.8 oz ppo", 0.05),
        ("31 g per kg of oils", 0.031),
    ],
)
def test_loads_as_makers_say_them(book: Book, text: str, value: float) -> None:
    """Per cent of oils is meant unless batter is named; 0.8 oz per pound is 5 % by arithmetic."""
    load, _ = read_load(text, book.files)
    assert pytest.approx(value) == load.value
    assert Basis.BATCH_OILS == load.basis


@pytest.mark.parametrize("text", ["0", "0 %", "26 %", "99 %"])
def test_a_load_no_soap_is_made_with_is_refused(book: Book, text: str) -> None:
    """Nothing, or a quarter of the oils and more, is a slip."""
    with pytest.raises(NotAskable, match="not one that soap is made with"):
        read_load(text, book.files)


@pytest.mark.parametrize("text", ["4,5 %", "-3 %", "much", "4 % of the sky"])
def test_a_load_that_is_no_amount_is_refused(book: Book, text: str) -> None:
    """A decimal comma, a negative, words, an unknown basis."""
    with pytest.raises(QuantityError):
        read_load(text, book.files)


def test_a_load_on_batter_is_more_on_oils(book: Book) -> None:
    """2.5 % of batter is 2.5 % of the batter with its scent, whatever the recipe."""
    asked = ask(book.files, ["lime"], load="2.5 % of batch batter", today=TODAY)
    s = situation(asked)
    scent = float(s.x.sum())
    assert pytest.approx(0.025) == scent / (s.split.batter[0] + scent)


def test_the_usual_recipe_is_the_batter(book: Book) -> None:
    """One portion of everything that leaves the pot, uncoloured, with the blend at its load."""
    s = situation(ask(book.files, ["lime", "cedar"], ratio="3:1", today=TODAY))
    assert (BAR,) == s.portions
    assert set(book.files.usual.recipe.oils) == set(s.pot.oils)  # type: ignore[union-attr]
    assert pytest.approx([0.03 * s.split.oils[0], 0.01 * s.split.oils[0]]) == s.x[:, 0].tolist()


def test_a_recipe_without_an_amount_is_reckoned_with_a_kilogram_and_said(book: Book) -> None:
    """Nothing about a pairing hangs on how much is made, so that it need not be known."""
    recipe = book.files.usual.recipe
    assert recipe is not None
    open_ended = recipe.model_copy(update={"amount": None})
    files = replace(book.files, usual=book.files.usual.model_copy(update={"recipe": open_ended}))
    asked = ask(files, ["lime"], today=TODAY)
    assert assumed("no usual mass", grams=1000.0) in asked.said
    assert pytest.approx(1000) == situation(asked).pot.oils_total


@pytest.mark.parametrize("lacking", ["recipe", "lye"])
def test_without_a_recipe_or_lye_nothing_is_made_up(book: Book, lacking: str) -> None:
    """A book that says nothing of its batter is told what to write."""
    files = replace(book.files, usual=book.files.usual.model_copy(update={lacking: None}))
    with pytest.raises(NotAskable, match=f"names no {lacking}"):
        recipe_of(files)


def test_without_a_usual_load_four_per_cent_are_taken_and_said(book: Book) -> None:
    """Common practice stands in, in words."""
    files = replace(
        book.files, usual=Usual.model_construct(recipe=book.files.usual.recipe, lye=book.files.usual.lye)
    )
    load, said = read_load("", files)
    assert 0.04 == load.value
    assert [Assumed("no usual load")] == said


@pytest.mark.parametrize(
    ("names", "part"),
    [
        ([], "No oil is named"),
        (["lime", "Lime"], "the same oil"),
        (["lime"] * 9, "same oil"),
        (["tonka"], "may be 2 scents"),
    ],
)
def test_oils_that_cannot_be_asked(book: Book, names: list[str], part: str) -> None:
    """None, the same twice, an unclear one."""
    with pytest.raises(NotAskable, match=part):
        ask(book.files, names, today=TODAY)


def test_more_oils_than_one_can_look_at_are_refused(book: Book) -> None:
    """Nine different oils are a shelf, not a pairing."""
    with pytest.raises(NotAskable, match="9 oils are too many"):
        ask(book.files, list(book.files.scents)[:9], today=TODAY)


def test_an_empty_shelf_is_said(book: Book) -> None:
    """A book without oils is no fault of the question's."""
    with pytest.raises(NotAskable, match="The shelf is empty"):
        ask(replace(book.files, scents={}), ["lime"], today=TODAY)


@pytest.mark.parametrize("text", ["children", "pregnant women", "sensitive people"])
def test_a_purpose_of_health_is_deferred(book: Book, text: str) -> None:
    """Who asks for whom it is fit is sent to people who may answer."""
    with pytest.raises(Deferred, match="midwife or a doctor"):
        ask(book.files, ["lavender"], purpose=text, today=TODAY)


def test_along_the_shelf_the_ratio_has_two_parts(book: Book) -> None:
    """One part for the oil, one for each other."""
    assert (0.75, 0.25) == ask_along(book.files, "lime", ratio="3:1", today=TODAY).shares
    with pytest.raises(NotAskable, match="3 parts for 2 oils"):
        ask_along(book.files, "lime", ratio="3:1:1", today=TODAY)
