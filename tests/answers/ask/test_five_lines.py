"""What a strict reader missed in five lines: named, one figure by one route, agreeing with ``check``."""

from __future__ import annotations

import re
import shutil
from itertools import combinations
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.ask.compute import meant
from blendwise.answers.ask.doses.in_words import in_digits
from blendwise.show.check.brief import brief_blocks, finding_lines
from blendwise.show.check.levers import said
from blendwise.show.pair.brief import how_much
from blendwise.show.plain import plain
from blendwise.show.words import TAGS
from tests.answers.ask.asked import ON, asked, told
from tests.strangers.books import FOUND, a_book

YEARS = FOUND / "ten-years" / "book"
PLANS = ("porch-layers", "porch-rough", "four-swirl", "half-swirl", "spring-market", "cookie-cups", "milk")


@pytest.fixture(scope="module")
def years() -> Book:
    """A stranger's book in ounces."""
    return Book(YEARS)


def of_plan(name: str) -> Path:
    """A plan of that book."""
    return YEARS / "plans" / f"{name}.yaml"


@pytest.mark.parametrize("name", PLANS)
def test_white_is_refused_where_check_refuses_it_and_not_elsewhere(years: Book, name: str) -> None:
    """What ``check`` finds of the lightest cup's colour makes the verdict; what is unknown is no brown."""
    check = years.check(of_plan(name), on=ON, working=True)
    light = [f for f in check.working if f.measure == "planned lightness" and isinstance(f.low, float)]
    cup = max(light, key=lambda each: float(each.low or 0.0)).subject
    text = told(asked(years, "part white", "can I keep part white", of_plan(name)))
    broken = [
        f
        for f in check.findings
        if f.status == "broken" and cup in f.subject and (f.measure == "browning band" or "cast" in f.measure)
    ]
    assert ("Not as planned" in text) == bool(broken)
    unknown = [f for f in check.working if f.measure == "browning band" and f.subject == cup and f.missing]
    assert ("nobody has written down how" in text) == bool(unknown)


def test_the_batch_that_went_darker_is_named_with_its_plan(years: Book) -> None:
    """Evidence of another plan's batch is told to be that."""
    text = told(asked(years, "part white", "can I keep part white", of_plan("porch-layers")))
    assert "PR-1 (porch-rough)" in text


@pytest.mark.parametrize("seed", [1, 2])
def test_the_most_of_a_pair_is_one_figure(tmp_path: Path, seed: int) -> None:
    """``ask`` and ``pair`` tell the same bound of the same oils, never more than makers use."""
    book = Book(a_book(tmp_path / "book", seed, looks=False).folder)
    met = 0
    for one, other in list(combinations(book.files.scents, 2))[:6]:
        pair = " ".join(line.text for line in how_much(book.pair(one, other, on=ON)))
        text = told(asked(book, "get on", f"do {one} and {other} get on"))
        found = re.search(r"together at most ([\d.]+ (?:oz ppo|%))", text)
        if found is None:
            continue
        met += 1
        assert found[1] in pair
    assert met


def test_a_way_out_that_empties_the_blend_says_so_and_stands_last(tmp_path: Path) -> None:
    """Where a split fits only with a trace of an oil left, it is told after those that keep the blend."""
    shutil.copytree(YEARS, tmp_path / "book")
    text = (tmp_path / "book" / "plans" / "four-swirl.yaml").read_text("utf-8")
    text = text.replace("{Lilac Lane: 1, Cotton Line: 2}", "{Clove Bud Attic: 1, Peppermint Field: 1}")
    text = text.replace("pour: column", "pour: rough layers").replace("portions:", "portions:", 1)
    text = re.sub(r"\{name: (snow|pond|plum|night),", r"{name: \1, may become: chocolate,", text)
    text = text.replace(", may become: brown}", "}").replace("plan: four-swirl", "plan: spiced")
    (tmp_path / "book" / "plans" / "spiced.yaml").write_text(text, "utf-8")
    ways = [said(each) for each in Book(tmp_path / "book").assign("spiced", on=ON).levers]
    emptied = [way for way in ways if ", but only " in way]
    assert all(way.startswith("dose every scented cup alike") for way in emptied)
    assert ways[len(ways) - len(emptied) :] == emptied
    assert not [way for way in ways if way.startswith("dose every scented cup alike")] or emptied


def test_spoons_stand_beside_the_mass(years: Book) -> None:
    """In a book of ounces also per pound of oils; a colour of which no spoon was weighed is named."""
    text = told(asked(years, "colour rate", "how much", of_plan("four-swirl")))
    assert "snow-white in snow: 0.125 oz (about 1⅛ tsp, 1½ tsp ppo), 1 % of its 12.5 oz of oils" in text
    assert "nobody has weighed one of plum-mica" in text
    grams = 12.544 * 28.349523 * 0.01
    assert grams / 3.0 == pytest.approx(1.125, abs=1 / 16)  # a teaspoon of it weighs 3 g, by the book


def test_minutes_say_of_which_cup_from_when_and_how_many_are_needed(years: Book) -> None:
    """The same two figures as ``check`` has; where it is tight, what gains time."""
    text = told(asked(years, "water", "how much water", of_plan("porch-layers")))
    assert "cream-top runs for 6.6 min from its scenting, and the pour needs 2" in text
    dry = told(asked(years, "water", "how much water", of_plan("dry-swirl")))
    assert "What gains time" in dry
    assert "What gains time" not in text


def test_milk_and_pieces_are_named_with_one_top_figure(years: Book) -> None:
    """No warmth is told to be right that a rule of the same answer calls too warm."""
    milk = told(asked(years, "temperature", "how warm", of_plan("milk")))
    assert "At most 80 °F: honey and goat milk brown and heat" in milk
    assert "goat milk would scorch" in told(asked(years, "gel", "gel?", of_plan("milk")))
    cups = told(asked(years, "temperature", "how warm", of_plan("cookie-cups")))
    span = re.search(r"(\d+) °F to (\d+) °F: the fats are clear", cups)
    rule = re.search(r"start at (\d+) °F or cooler", cups)
    assert span is not None
    assert rule is not None
    assert span[2] == rule[1]
    assert "melt-and-pour stars soften from 125 °F" in told(
        asked(years, "gel", "gel?", of_plan("cookie-cups"))
    )


@pytest.mark.parametrize("page", ["why: it thickens too fast", "why: it seized"])
def test_the_oil_of_this_plan_is_named(years: Book, page: str) -> None:
    """Which one seizes, on whose word, in which cups; no unscented cup is told of where there is none."""
    text = told(asked(years, page, "it went solid", of_plan("four-swirl")))
    assert "it is Lilac Lane, which seizes within a minute (by your own batch), in snow, pond, plum" in text
    assert "unscented one" not in text
    slow = told(asked(years, "why: it seized", "it went solid", of_plan("half-swirl")))
    assert "No oil of this plan is known to be one that seizes" in slow


def test_an_oil_of_another_plan_is_told_to_be_one(years: Book) -> None:
    """Whether it lasts is answered of it alone, and folded citrus is told apart from cold-pressed."""
    other = told(asked(years, "citrus lasts", "will Blood Orange 5x last", of_plan("four-swirl")))
    assert "Blood Orange 5x is not in this plan" in other
    assert "Blood Orange 5x is folded" in other
    own = told(asked(years, "citrus lasts", "will the citrus last", of_plan("porch-layers")))
    assert own.startswith("Will the scent last? Blood Orange 5x fades")
    assert "Pumpkin Porch lasts" not in own


@pytest.mark.parametrize("name", [*PLANS, "harvest"])
def test_the_verdict_counts_what_the_eye_counts(name: str) -> None:
    """So many stops and conflicts as there are lines of them."""
    book = Book(FOUND / "seller" / "book") if name == "harvest" else Book(YEARS)
    check = book.check(name, on=ON)
    verdict = plain(brief_blocks(check), 200).splitlines()[1]
    for level in ("stop", "conflict"):
        lines = sum(line.tag == TAGS[level] for line in finding_lines(check))
        words = ("no", "one", "two", "three", "four", "five", "six", "seven")
        assert lines == 0 or f"{words[lines]} {level}" in verdict


def test_lots_and_warmth_as_poured_stand_beside_the_shelf_and_the_plan(years: Book) -> None:
    """What differs is to be seen in one line; without a batch the lots on the shelf are told."""
    page = "why: same recipe, different result"
    text = told(asked(years, page, "came out different", of_plan("porch-rough")))
    assert "batter 97 °F (planned 95 °F)" in text
    assert "Pumpkin Porch lot PP-19 (the same on your shelf now)" in text
    assert "On your shelf: Pumpkin Porch lot PP-19" in told(
        asked(years, page, "why", of_plan("porch-layers"))
    )


def test_a_label_asks_for_the_country_and_names_what_stands_on_it(years: Book) -> None:
    """Name and address, both units; where a country is named, its law alone is told."""
    text = told(asked(years, "label", "what goes on the label", of_plan("porch-layers")))
    assert "net weight in g and oz, your name and address, batch code PL-" in text
    assert "name the country in your question" in text
    british = told(asked(years, "label", "what goes on the label in the UK", of_plan("porch-layers")))
    assert "UK: " in british
    assert "EU: " not in british
    assert "name the country" not in british


@pytest.mark.parametrize(
    ("said", "cups", "oils"),
    [
        ("is plum thicker than night", {"plum", "night"}, set()),
        ("how much goes in the plum cup", {"plum"}, set()),
        ("white lines in the blue soap", set(), set()),
        ("does the brown of porch creep into cream-top", {"porch", "cream-top"}, set()),
        ("can I trust sea glass in white", set(), {"Sea Glass Cove"}),
    ],
)
def test_cups_and_parts_of_names_are_found_without_a_plan(
    years: Book, said: str, cups: set[str], oils: set[str]
) -> None:
    """Cups of any plan of the book; two words of a longer name; a colour of the bar is no cup."""
    named = meant(years, said).named
    assert cups == set(named.portions) - {"white"}
    assert oils == set(named.oils)


@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("a box eleven inches long, four wide and three deep", "11 x 4 x 3 in"),
        ("twelve inches by nine and filled two inches deep", "12 x 9 x 2 in"),
        ("it says a hundred per cent", "100 per cent"),
        ("2 cups, 3 oils and 4 colours", "2 cups, 3 oils and 4 colours"),
    ],
)
def test_amounts_in_words_are_read(said: str, read: str) -> None:
    """Sides of a mould as they are spoken; three numbers of something else stay as they are."""
    assert read in in_digits(said)
