"""What a strict reader found wrong in answers, on strangers' books: told rightly, whatever the wording."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

import pytest

from blendwise import Book
from blendwise.answers.ask.compute import names_of
from blendwise.answers.ask.reading import understand
from tests.answers.ask.asked import asked, told
from tests.answers.ask.test_figures import told as at_the_line
from tests.strangers.books import FOUND

YEARS: Final = FOUND / "ten-years" / "book"

WORDINGS: Final = (
    ("how heavy may I dose Clove Bud Attic", "how strong"),
    ("lower or raise the Clove Bud Attic dose in porch-layers", "how strong"),
    ("how far may I push the Clove Bud Attic", "how strong"),
    ("which color gets its fragrance first and which goes in the mold first", "order"),
    ("which cup should get scented first and which poured last", "order"),
    ("will I be quick enough for this column pour", "time"),
    ("am I fast enough for a drop swirl", "time"),
    ("can I pour porch-layers in a mold twice the size", "why: a bigger mould"),
    ("does porch-layers work in a mould of double the size", "why: a bigger mould"),
    ("how do I keep Lilac Lane from seizing", "keep from seizing"),
    ("how can I avoid that Lilac Lane seizes", "keep from seizing"),
    ("Lilac Lane seized on me, what now", "why: it seized"),
)


@pytest.mark.parametrize(("text", "question"), WORDINGS)
def test_it_is_understood(text: str, question: str) -> None:
    """The question that is meant stands first."""
    plan = YEARS / "plans" / "four-swirl.yaml"
    assert understand(text, names_of(Book(YEARS), plan))[0][0].question == question


def test_a_season_is_no_plan() -> None:
    """ "In spring" names no plan that is called spring-market."""
    found = understand("will Blood Orange 5x still be there in spring", names_of(Book(YEARS), None))[1]
    assert found.plans == ()
    assert found.oils == ("Blood Orange 5x",)


@pytest.mark.parametrize(
    "said", ["12 by 4 by 3 inch", "12 x 4 x 3 in", "12 × 4 × 3 inches", "30 by 10 by 8 cm"]
)
def test_a_mould_that_is_named_is_the_one_told(said: str) -> None:
    """Its volume is said, and no figure is finer than a tenth of an ounce but the lye's."""
    text = at_the_line(YEARS, f"how much batter for a {said} loaf", "porch-layers")
    inches = 144.0 if "12" in said else 30 * 10 * 8 / 2.54**3
    held = re.search(r"That mould holds ([\d.]+) cubic inches", text)
    assert held is not None
    assert float(held[1]) == pytest.approx(inches, rel=0.005)
    assert not re.search(r"\d\.\d{2,} oz of (?:batter|oils|water)", text)
    own = at_the_line(YEARS, "how much batter do I need", "porch-layers")
    assert "That mould" not in own


def test_amounts_as_planned_are_on_the_scale() -> None:
    """Where no split fits, the plan's own amounts stand in steps of the scale."""
    text = told(asked(Book(YEARS), "which cup", "how many", YEARS / "plans" / "four-swirl.yaml"))
    amounts = [float(each) for each in re.findall(r"(\d\.\d+) oz", text.partition("Nothing fits")[0])]
    assert amounts
    assert all(abs(each / 0.005 - round(each / 0.005)) < 1e-6 for each in amounts)


def test_no_temperature_without_a_minute_is_offered() -> None:
    """What leaves no minute is not in the span; the planned temperature is among those told."""
    result = asked(Book(YEARS), "temperature", "how hot", YEARS / "plans" / "porch-layers.yaml")
    good = [way for way in result.warmed if way.leaves_time]
    assert good
    assert all(way.fluid is not None and way.fluid - (way.needed or 0.0) >= 1 for way in good)
    assert any(abs(way.at - 35.0) < 0.1 for way in result.warmed)
    assert "95 °F to 100 °F" in told(result)


def test_minutes_past_a_limit_say_so() -> None:
    """Minutes that are reckoned at more than the certificate allows are told with that."""
    text = told(asked(Book(YEARS), "quick in swirl", "Clove Bud Attic"))
    times = re.search(r"That dose is ([\d.]+) times what its certificate allows", text)
    assert times is not None
    assert float(times[1]) > 1


def test_whose_word_and_what_is_not_known() -> None:
    """A figure of a sheet is no batch's; a browner of which nothing is written is named."""
    book = Book(YEARS)
    text = told(asked(book, "browns", "Oatmeal & Honey"))
    assert "reckoned from its sheet" in text
    assert "ethyl vanillin nothing is known" in text
    text = told(asked(book, "colours left", "Pumpkin Porch"))
    assert "by what its sheet says" in text
    assert "%, by your own batch" not in text


def test_what_two_oils_do_stands_before_the_label() -> None:
    """The reaction and the unknown speed come before names for a label."""
    text = told(asked(Book(YEARS), "get on", "Neroli Dream and Litsea Bright"))
    assert text.index("these two join") < text.index("names for the label")
    assert "How fast Neroli Dream thickens is not known" in text
    assert text.count("these two join") == 1


def test_a_stop_is_named() -> None:
    """ "Do not pour" says which stop."""
    plan: Path = YEARS / "plans" / "spring-market.yaml"
    assert "Sea Glass Cove: no certificate" in told(asked(Book(YEARS), "one name", "one name", plan))


def test_a_scent_of_a_blend_is_not_the_oil_s() -> None:
    """What was smelled of a blend is told as the blend's."""
    text = told(asked(Book(YEARS), "citrus lasts", "Blood Orange 5x"))
    assert "scent of all scents of the cup, not Blood Orange 5x alone: porch" in text


def test_seizing_is_prevented_by_the_book_s_degrees() -> None:
    """Asked beforehand: less, wetter, cooler as the fats allow, scented last."""
    text = told(asked(Book(YEARS), "keep from seizing", "Lilac Lane", YEARS / "plans" / "four-swirl.yaml"))
    assert "scented last" in text
    assert re.search(r"not below [\d.]+ °F", text)
    assert "may seize all the same" in text
