"""A figure names the evidence of that figure: the note's at the note's dose, what is reckoned beside it."""

from __future__ import annotations

import re
from math import sqrt

import pytest

from blendwise import Book
from blendwise.answers.pair.help import known_to_last, may_brown
from tests.answers.ask.asked import asked, told
from tests.strangers.books import FOUND

YEARS, SELLER = (Book(FOUND / name / "book") for name in ("ten-years", "seller"))


def said(book: Book, question: str, text: str, plan: str = "") -> str:
    """What is answered to a question, of a plan where one is named."""
    return told(asked(book, question, text, book.folder / "plans" / f"{plan}.yaml" if plan else None))


@pytest.mark.parametrize("plan", ["", "harvest"])
def test_a_pace_of_an_own_batch_is_told_at_its_own_dose(plan: str) -> None:
    """5 min where 24.5 were reckoned without scent is 4.9 times, at 2.667 g on 431.76 g of oils."""
    text = said(SELLER, "quick in swirl", "is Tonka & Honey too quick", plan)
    look = next(
        look for look in asked(SELLER, "quick in swirl", "Tonka & Honey").looks_of_oils if look.minutes
    )
    assert look.unscented == pytest.approx(24.5)
    assert look.minutes is not None
    assert 24.5 / sqrt(look.minutes[0] * look.minutes[1]) == pytest.approx(4.9)
    assert 2.667 / 431.76 * 16 == pytest.approx(0.099, abs=0.0005)
    assert "your own harvest 2026-11-28 showed 4.9 times at 0.099 oz ppo of it" in text
    assert "beside Quince Rain and Sage Meadow" in text
    assert not re.search(r"1[23] times as fast \(by your own batch\)", text)
    assert re.search(r"1[23] times as fast at 0\.6\d* oz ppo[^:]*, reckoned", text)


def test_a_pace_of_the_shelf_is_told_with_its_word_and_dose() -> None:
    """Pumpkin Porch is noted as slight at 0.7 oz ppo on its entry; the batch with it says the rest."""
    text = said(YEARS, "quick in swirl", "is Pumpkin Porch too quick")
    assert "slight at 0.7 oz ppo" in text or "your own PR-1 showed" in text


def test_the_shelfs_colour_stands_beside_the_one_that_is_reckoned() -> None:
    """The entry says chocolate, at no dose: reckoned for half an ounce is brown; both are told, once."""
    text = said(YEARS, "browns", "how brown is Sugar Cookie Dough at 0.5 oz ppo")
    assert "Brown: that is what" in text
    assert "Your shelf says chocolate of Sugar Cookie Dough, at no dose that is written" in text
    assert "With 1 oz of Sugar Cookie Dough (0.5 oz ppo of batch oils): nothing speaks against it" in text
    assert "0.499" not in text
    assert "rulebook worse than" not in text
    assert "Your shelf says" not in said(SELLER, "browns", "does Tonka & Honey go brown")


@pytest.mark.parametrize(("book", "size"), [(YEARS, "0.16 in"), (SELLER, "0.16 in")])
def test_the_white_itself_is_the_thick_one(book: Book, size: str) -> None:
    """As the rule of a halo has it: a light line wider than 4 mm, or a middle colour between."""
    plan = next(iter(sorted((book.folder / "plans").glob("[hp]*.yaml")))).stem
    text = said(book, "part white", "can a part stay white", plan)
    assert f"a white line thicker than {size}, or a middle colour between it and a browner" in text


def test_what_joins_is_named_with_its_reason_and_a_stop_before_a_caution() -> None:
    """Methyl anthranilate of one and citral of the other; one figure for the one bound."""
    text = said(YEARS, "get on", "Neroli Dream and Litsea Bright")
    assert "holds methyl anthranilate 2 % and Litsea Bright holds citral 70 % by your shelf" in text
    assert "Schiff base" in text
    assert "(common practice)" in text
    assert text.index("Stop: ") < text.index("Caution: ")
    assert "0.547" not in text


def test_a_stop_is_never_folded_away_behind_what_is_no_stop() -> None:
    """Of every oil of the shelf, sold without papers or not: a stop stands in the first two lines."""
    for name in YEARS.files.scents:
        text = said(YEARS, "get on", name)
        if "Stop: " in text and "Caution: " in text:
            assert text.index("Stop: ") < text.index("Caution: "), text


def test_who_may_hold_a_scent_is_known_to_last_or_said_not_to_be() -> None:
    """Nobody wrote how long the one on offer lasts, and it goes beige."""
    text = said(YEARS, "citrus lasts", "will Blood Orange 5x last")
    oil = YEARS.files.scents["Oatmeal & Honey"]
    assert not known_to_last(oil)
    assert may_brown(oil)
    assert known_to_last(YEARS.files.scents["Cotton Line"])
    assert not may_brown(YEARS.files.scents["Cotton Line"])
    assert may_brown(YEARS.files.scents["Sea Glass Cove"]) is False
    assert may_brown(YEARS.files.scents["Neroli Dream"])
    assert "how long Oatmeal & Honey itself lasts nobody has written down" in text
    assert "brown 3 mm in" not in text


def test_one_rule_of_thumb_wets_a_colour() -> None:
    """2.8 g of mica, by hand 5.6 to 8.4 g of oil: 0.2 to 0.3 oz, as the answer on colours has it."""
    text = said(YEARS, "carrier superfat", "does the oil I wet mica with change the superfat", "carrier")
    assert "2 to 3 parts of oil wet the 0.099 oz of colour in blue: 0.2 oz to 0.3 oz is enough" in text
    assert "1 % of a cup's oils is enough" not in text
    assert "2 to 3 parts" in said(YEARS, "colour rate", "how much mica", "carrier")


def test_no_vanillin_says_what_else_browns_and_a_bound_is_no_dose() -> None:
    """The reason of the warning; the usual ceiling beside what a certificate allows."""
    text = said(YEARS, "no vanillin", "Barn Cedar has no vanillin")
    assert "eugenol, citral and anthranilates brown or yellow it too" in text
    assert "a bound is no dose, and 1 oz ppo of oils is the most that makers normally use" in said(
        YEARS, "how strong", "most Clove Bud Attic"
    )
