"""Names as people type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.answers.names import find_name, is_part
from blendwise.answers.refusals import Deferred, NotAskable, is_of_health
from blendwise.api import Book

SHELF = ("tonka-milk", "tonka-absolute", "lime", "lime-leaf", "sea-glass", "baby-powder", "vetiver")


def found(typed: str) -> tuple[str, bool]:
    """The name meant, and whether it was a guess that must be stated."""
    name = find_name(typed, SHELF, "scent")
    return name.name, name.guessed


@pytest.mark.parametrize("typed", ["sea-glass", "Sea Glass", "SEA_GLASS", "  sea glass ", "seaglass"])
def test_case_blanks_and_marks_do_not_matter(typed: str) -> None:
    """A name is a name in any case and with any joint, and nothing need be said of it."""
    assert ("sea-glass", False) == found(typed)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("vetivr", "vetiver"),
        ("sea-galss", "sea-glass"),
        ("tonka mlik", "tonka-milk"),
        ("absol", "tonka-absolute"),
    ],
)
def test_a_slip_or_a_part_is_read_and_marked_as_a_guess(typed: str, name: str) -> None:
    """One near name is taken, and marked so that the answer says so."""
    assert (name, True) == found(typed)


def test_an_exact_name_wins_over_longer_ones_that_begin_with_it() -> None:
    """Lime is lime, though lime-leaf begins with it."""
    assert ("lime", False) == found("lime")


@pytest.mark.parametrize(
    ("typed", "names"), [("tonka", ("tonka-absolute", "tonka-milk")), ("li", ("lime", "lime-leaf"))]
)
def test_several_near_ones_are_listed_and_refused(typed: str, names: tuple[str, ...]) -> None:
    """Two names that may be meant are never chosen between in silence."""
    with pytest.raises(NotAskable) as refused:
        found(typed)
    assert all(name in refused.value.message for name in names)


def test_a_name_that_is_like_none_gets_the_list() -> None:
    """Where nothing is near, the refusal says what the catalogue has."""
    with pytest.raises(NotAskable, match='no scent "xylophone"') as refused:
        found("xylophone")
    assert '"vetiver"' in refused.value.remedy


@pytest.mark.parametrize("typed", ["", " ", "-", "%", "?"])
def test_no_name_at_all_is_refused(typed: str) -> None:
    """Nothing that can be read is not a part of every name."""
    with pytest.raises(NotAskable, match="is no name"):
        found(typed)


def test_an_oil_may_be_called_after_a_baby() -> None:
    """The maker's own names come first; only what is no name is looked at for health."""
    assert ("baby-powder", False) == found("baby powder")
    with pytest.raises(Deferred):
        found("for my baby")


@pytest.mark.parametrize(
    "text",
    [
        "pregnancy",
        "is it safe in pregnancy?",
        "for children",
        "my toddler",
        "eczema",
        "breast-feeding",
        "Asthma",
        "healing",
    ],
)
def test_questions_of_health_are_known(text: str) -> None:
    """Pregnancy, children, illness and healing in any text make a question of health."""
    assert is_of_health(text)


@pytest.mark.parametrize(
    "text", ["week 6 of cure", "chill", "patchouli", "millet", "childe-rose", "spill", "nursery-rhyme"]
)
def test_the_trades_own_words_are_no_questions_of_health(text: str) -> None:
    """Cure is a word of the trade, and a part of a word is not the word."""
    assert not is_of_health(text)


@given(data=st.data())
def test_every_oil_of_the_demo_is_found_however_it_is_cased(book: Book, data: st.DataObject) -> None:
    """Upper, lower or title case, hyphen, blank or underscore: the same oil."""
    name = data.draw(st.sampled_from(sorted(book.files.scents)))
    joint = data.draw(st.sampled_from(["-", " ", "_", ""]))
    change = data.draw(st.sampled_from([str.upper, str.lower, str.title]))
    assert name == find_name(change(name.replace("-", joint)), book.files.scents, "scent").name


@given(st.sampled_from(SHELF), st.integers(1, 6))
def test_a_beginning_is_a_part(name: str, length: int) -> None:
    """The first letters of a name are a part of it."""
    assert is_part(name[:length].strip("-"), name)
