"""What is told of a plan is what ``check`` holds of it; what was made is told as it was made."""

from __future__ import annotations

import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.ask.compute import meant
from tests.answers.ask.asked import asked, told
from tests.strangers.books import DEMO, FOUND
from tests.strangers.runs import ran

YEARS, SELLER = (Book(FOUND / name / "book") for name in ("ten-years", "seller"))


def said(book: Book, question: str, text: str, plan: str = "") -> str:
    """What is answered to a question of a plan."""
    return told(asked(book, question, text, book.folder / "plans" / f"{plan}.yaml" if plan else None))


@pytest.mark.parametrize("units", ["{mass: oz, temperature: F, rates: ppo}", "{mass: g, temperature: C}"])
def test_minutes_and_pace_are_those_of_check(tmp_path: Path, units: str) -> None:
    """The cup's own pace, and its minutes and what it needs, each rounded to the nearest, in both units."""
    folder = Path(shutil.copytree(FOUND / "seller" / "book", tmp_path / "book"))
    usual = folder / "usual.yaml"
    usual.write_text(re.sub(r"(?m)^units:.*$", "", usual.read_text("utf-8")) + f"\nunits: {units}\n", "utf-8")
    book = Book(folder)
    check = book.check(folder / "plans" / "harvest.yaml", working=True)
    facts = {(each.measure, each.subject): each.low for each in check.working}
    pace, has, needs = (facts[name, "cream"] for name in ("thickening", "minutes fluid", "minutes needed"))
    text = said(book, "time", "have I time", "harvest")
    assert f"cream thickens {pace:.3g} times as fast as unscented, through Tonka & Honey" in text
    assert f"cream has {has:.2g}, needs {needs:.2g}" in text


def test_bars_that_were_made_are_judged_as_they_were_poured() -> None:
    """Cream was poured with little of the browner: what the file plans today is not what is in it."""
    text = said(SELLER, "why: will the colour stay", "will my harvest bars stay like this", "harvest")
    assert "tan in the cup cream" in text
    assert "By the doses that were poured in harvest 2026-11-28; your plan was changed since" in text
    assert "changed since" not in said(YEARS, "why: will the colour stay", "will it stay", "porch-rough")


def test_a_ring_that_was_noted_as_partial_gel_is_partial_gel() -> None:
    """Whatever words are used for it, and no brown of the air on the second day."""
    result = asked(SELLER, "why: a dark ring or a pale core", "a ring in my bars", _plan("harvest"))
    text = told(result)
    assert "It is partial gel, as you noted it" in text
    assert "Likely: partial gel" in text
    assert "browning from the faces" not in text


def _plan(name: str) -> Path:
    return SELLER.folder / "plans" / f"{name}.yaml"


def test_what_the_maker_wrote_on_an_oil_is_told() -> None:
    """A look that stands on the oil's own entry counts as a look."""
    text = said(YEARS, "browns", "will Pumpkin Porch brown")
    assert 'Seen of Pumpkin Porch, by your own entry: "Brown by day 4 in the white test cup."' in text
    assert "nobody here has seen" not in text


def test_a_conflict_that_is_counted_is_named() -> None:
    """ "One conflict" without saying which helps nobody; of a pairing, none that nobody asked of."""
    text = said(YEARS, "browns", "will Pumpkin Porch go brown at 0.7 oz ppo", "porch-rough")
    assert "one conflict" in text
    assert "Conflict: " in text
    alone = said(YEARS, "browns", "will Pumpkin Porch go brown at 0.7 oz ppo")
    assert "one conflict" not in alone


def test_a_brown_that_crept_in_is_not_laid_to_an_oil() -> None:
    """``review`` and ``ask`` find the same: the cup's soft edge, and nothing in it that browns."""
    review = ran("review", "porch-rough", "--book", YEARS.folder, "--today", "2026-11-30")
    change = " ".join(review.out.split()).partition("Change one thing: ")[2]
    assert "it crept in" in change
    assert "keep Blood Orange" not in change
    assert "middle colour between cream-top" in change


OTHERS = (
    *("cat puked on the rug agin", "how old becomes a turtle", "how long do I bake the rolls"),
    *("get a mark out of a tablecloth of my grandmother's", "how much fragrance for a soy candle"),
)


@pytest.mark.parametrize("line", OTHERS)
def test_what_is_of_another_subject_is_declined(line: str) -> None:
    """Neither deferred as one of health nor answered: it was only the least far."""
    assert meant(Book(DEMO), line).status == "declined"


@pytest.mark.parametrize("line", ["is the soap all right for my grandmother", "may old people use lime"])
def test_health_is_still_deferred(line: str) -> None:
    """Where it is of soap, or of an oil, somebody's health is deferred as ever."""
    assert meant(Book(DEMO), line).status == "deferred"


def test_a_word_of_another_subject_takes_the_certainty_away() -> None:
    """Rice is cooked, and batter rices: which is meant is told with its doubt, or declined."""
    assert not meant(Book(DEMO), "how long do I cook the rice for four").sure


def test_amounts_are_read_however_they_are_typed() -> None:
    """Without the nought and the blank, with the unit's long name, in words."""
    named = [meant(YEARS, f"how much at {each}").named.amounts[0] for each in (".7oz ppo", "half oz")]
    assert ["0.7 oz ppo", "0.5 oz"] == named
    assert ("10 x 3.5 x 2.75 in",) == meant(YEARS, "a 10 x 3.5 x 2.75 inch mould").named.amounts
    assert date(2025, 10, 11) == YEARS.ask("will Pumpkin Porch brown").words_of_oils[0].on
