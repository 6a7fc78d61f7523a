"""What a strict reader of three strangers' books took half a point for, each mended at its cause."""

from __future__ import annotations

import re

import pytest

from blendwise import Book
from tests.answers.ask.asked import asked, told
from tests.strangers.books import FOUND

YEARS, SELLER, FIRST = (Book(FOUND / name / "book") for name in ("ten-years", "seller", "beginner"))


def said(book: Book, question: str, text: str, plan: str = "") -> str:
    """What is answered to a question of a plan."""
    return told(asked(book, question, text, book.folder / "plans" / f"{plan}.yaml" if plan else None))


def test_a_paper_in_the_hand_is_the_limit() -> None:
    """0.8 % of a bar that weighs 1.215 g a gram of oils is 0.98 % of oils, not the most that makers use.

    By hand: 4 % of oils is 3.19 % of the bar, so all else weighs 0.04 / 0.0319 - 0.04 = 1.214 of the oils; of
    them 0.008 / 0.992 is 0.979 %, 9.7 g of 1,000 g on a scale of 0.1 g.
    """
    text = said(FIRST, "certificate", "the paper for Ylang-ylang says 0.8 %, what now")
    assert "at most 0.978 % of the oils: 9.7 g in your usual 1000 g" in text
    assert "not taken up" not in text
    assert "ask the supplier" not in text


def test_no_paper_and_no_figure_gives_no_dose() -> None:
    """Without either it is asked for, never read as no bound."""
    text = said(FIRST, "certificate", "what does the certificate of Ylang-ylang mean")
    assert "No certificate of Ylang-ylang is on file" in text
    assert "62.5 g" not in text


@pytest.mark.parametrize(
    ("question", "text"), [("quick in swirl", "can I swirl with Rose Garden"), ("time", "have I time")]
)
def test_a_speed_that_nobody_knows_is_not_slow(question: str, text: str) -> None:
    """Neither yes nor no: it is not known, and a cup answers."""
    answer = said(FIRST, question, text, "weekend bar")
    assert "Not to be told yet" in answer
    assert "nobody has written down" in answer
    assert "does not quicken" not in answer
    assert not re.search(r"has 0\b", answer)


def test_what_it_waits_for_does_not_stand_before_the_answer() -> None:
    """A stop that hangs on a fact nobody knows comes after the figure; a sale also hears of papers."""
    text = said(FIRST, "mould volume", "how many grams of oils", "weekend bar")
    assert text.index("689 g of oils, 95 g of lye and 194 g of water") < text.index("do not pour before")
    sale = said(YEARS, "one name", "one name", "spring-market")
    assert sale.index("Scents mingle") < sale.index('do not pour before it is written down: "for skin"')
    assert "Stop: Sea Glass Cove: no certificate" in sale


def test_own_bars_stand_before_what_is_expected() -> None:
    """The cup that turned beige is told as beige, with what is known of why."""
    text = said(YEARS, "browns", "will Blood Orange 5x turn my white brown", "porch-rough")
    assert "beige (your own PR-1; ivory was expected) in the cup cream-top" in text
    assert "Pumpkin Porch (7.3 % vanillin), not Blood Orange 5x (no vanillin)" in text
    assert "it was final on 17 October 2026" in said(
        YEARS, "why: will the colour stay", "stay?", "porch-rough"
    )


def test_the_stabiliser_is_for_the_oil_that_browns() -> None:
    """Of the oil with the vanillin, not of the first one or of one with a trace."""
    text = said(SELLER, "stabiliser", "how much", "harvest")
    assert "of Tonka & Honey in this plan" in text
    assert "Quince Rain" not in text


def test_the_quick_one_is_named() -> None:
    """Of an oil that is asked of, its own figure, and which is quicker."""
    text = said(SELLER, "quick in swirl", "is Sage Meadow too fast", "harvest")
    assert "No, not as planned: cream thickens 4.52 times as fast as unscented, through Tonka & Honey" in text
    assert "Sage Meadow thickens it 1.6 times as fast at " in text
    assert "reckoned: your own harvest 2026-11-28 showed 4.9 times at" in text
    alone = said(SELLER, "get on", "Quince Rain and Sage Meadow")
    assert "Sage Meadow thickens it about 1.6 times as fast at " in alone


def test_half_is_half_where_all_cups_are_scented() -> None:
    """No part is named and all is scented: half, and the doubling is what was asked."""
    text = said(SELLER, "half scented", "if I scent only half do I double the scent", "mini")
    assert "in 50 % of the pot" in text
    assert "not taken up" not in text


def test_white_is_kept_by_leaving_the_browner_out() -> None:
    """Who asks of white is not told to let it turn tan."""
    text = said(FIRST, "part white", "will the white part stay white", "weekend bar")
    assert "keep Vanilla Biscuit out of white" in text
    assert "may become" not in text


def test_nothing_poured_is_nothing_to_look_back_on() -> None:
    """What to change is then what the check has against the plan; no refusal."""
    text = said(FIRST, "change next", "what would I do better", "weekend bar")
    assert "No batch of it is noted" in text
    assert "white would turn tan" in text


def test_what_lies_under_a_scent_that_fades() -> None:
    """On whose word it fades, what of the plan lasts under it, what of it is left months on."""
    text = said(YEARS, "citrus lasts", "will Blood Orange 5x last three months", "porch-rough")
    assert "faint after six weeks, by your own batch" in text
    assert (
        "Under Blood Orange 5x lies: in porch Pumpkin Porch (77 % of its scent, lasts); in cream-top nothing"
        in text
    )
    assert "Three months on expect nothing" in text


def test_why_one_cup_is_thicker() -> None:
    """By its colour and its wait, or by nothing in the plan; causes that the plan denies are left out."""
    assert "its colour drinks water" in said(
        SELLER, "why: one colour is thicker than the others", "the cream cup is thicker", "harvest"
    )
    text = said(YEARS, "why: one colour is thicker than the others", "plum is thicker", "four-swirl")
    assert "Nothing in your plan makes plum the thickest" in text
    assert "Unlikely" not in text


def test_a_dark_middle_is_partial_gel_though_gel_was_forced() -> None:
    """What was seen outweighs what was planned."""
    text = said(YEARS, "why: a dark ring or a pale core", "dark ring in the middle", "wet-swirl")
    assert "Your plan forces gel: the edges stayed too cool" in text
    assert "Unlikely: partial gel" not in text


def test_a_bar_that_is_not_weighed_is_reckoned() -> None:
    """What a cured bar will weigh, said to be a guess."""
    assert "reckoned at 109 g, a guess" in said(FIRST, "why: when can it be sold", "sell", "weekend bar")


def test_a_figure_without_an_oil_is_worked_out() -> None:
    """A share of the bar is the same load whatever the oil: 0.5 % in an ounce book, by hand 0.00609 of oils.

    0.6 oz a pound is 3.75 % of oils and 3 % of the bar, so all else weighs 1.2125 of the oils; of them
    0.005 / 0.995 is 0.609 %, 0.0974 oz a pound.
    """
    assert "at most 0.0974 oz ppo" in said(SELLER, "certificate", "my certificate says 0.5 %, what now")


def test_a_temperature_that_is_named_is_judged() -> None:
    """Too cool where the fats cloud, all right where there is time."""
    assert "Too cool: at 80 °F your fats cloud" in said(
        YEARS, "temperature", "is 80F too cool", "porch-rough"
    )
    assert "100 °F is all right: 6 min to spare" in said(SELLER, "temperature", "is 100 °F too hot", "mini")


def test_layers_are_poured_one_by_one() -> None:
    """A pour in turn has a verdict too, and which cup goes into the mould first."""
    assert "Yes, poured one after the other" in said(YEARS, "time", "is there time", "porch-rough")
    text = said(YEARS, "order", "what goes into the mould first", "porch-rough")
    assert "porch goes into the mould first" in text
    assert "scent those last" not in text


def test_the_most_of_an_oil_stands_beside_what_is_planned() -> None:
    """Of a plan's oil without a dose: the most that breaks no limit, and what is planned of it."""
    text = said(SELLER, "how strong", "can I put more Quince Rain in", "harvest")
    assert "at most 1.59 oz of Quince Rain" in text
    assert "Planned is 0.833 oz of Quince Rain" in text


def test_cups_of_one_letter_are_read() -> None:
    """Beside another cup, as nothing else could be meant; "a" alone is a word."""
    named = asked(SELLER, "which cup", "what do I weigh into a and b", SELLER.folder / "plans" / "mini.yaml")
    assert ("a", "b") == named.named.portions
    other = asked(SELLER, "which cup", "is it a good idea", SELLER.folder / "plans" / "mini.yaml")
    assert () == other.named.portions
