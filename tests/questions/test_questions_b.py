"""Questions before the pour, asked of the demo by command; the answer is read as printed.

The questions are those that makers put to one another with a plan in hand (numbers 13 to 22 of the table in
README.md beside this).
"""

from __future__ import annotations

import html
import json
import re

import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS
from tests.questions.conftest import Answer, Ask, plan


def told(ask: Ask, *args: str) -> Answer:
    """An answer that is no error."""
    answer = ask(*args)
    assert answer.code in (CLEAN, FINDINGS), answer.errors
    return answer


def sheet(ask: Ask, name: str) -> str:
    """The bench sheet of a demo plan as its words, without tags and styles."""
    page = told(ask, "sheet", plan(name), "--out", "-").text
    bare = re.sub(r"<style.*?</style>|<[^>]+>", " ", page)
    return " ".join(html.unescape(bare).split())


def drafted(ask: Ask, *args: str) -> Answer:
    """A plan that is only thought of, with the advice on it; nothing is written."""
    return told(ask, "draft", "thought", "--book", "demo_catalog", "--yes", "--dry-run", *args)


def batter(ask: Ask, *size: str) -> float:
    """Grams of batter in all portions of a demo plan, as it stands or for another size."""
    document = json.loads(told(ask, "assign", plan("harbour-morning"), *size, "--json").text)
    return float(sum(portion["batter"] for portion in document["check"]["grams"]))


def test_13_how_much_of_each_oil_goes_in_each_cup(ask: Ask) -> None:
    """Grams of every oil in every portion, in steps of the scale, with the dose and its basis; sums agree."""
    answer = told(ask, "assign", plan("greenhouse-morning"), "--more")
    assert "premix 1 8.8 g and lime 5.4 g, 5.72 % of portion oils" in answer.text
    assert "Weighed in steps of 0.1 g, as usual.yaml says." in answer.text
    assert "Source: rule" in answer.text
    document = json.loads(ask("assign", plan("greenhouse-morning"), "--json").text)
    step = document["scale_step"]
    for portion in document["portions"]:
        for grams in portion["premixes"].values():
            assert grams / step == pytest.approx(round(grams / step), abs=1e-6)
    body = sheet(ask, "honey-crown").split(" 1 body fresh ", 1)[1].split(" 2 comb ", 1)[0]
    for weighed in ("8.0 g kaolin", "12.2 g hive-and-clover", "5.6 g orange-five-fold", "785 g batter"):
        assert weighed in body


def test_14_if_only_half_is_scented_do_i_double_it(ask: Ask) -> None:
    """Both ways: the same total doubles the dose in the scented half, and that is flagged; or it does not."""
    portions = ("--portion", "white: 50 %", "--portion", "blue: the rest")
    half = (*portions, "--scent", "lavender", "--load", "4 %", "--never", "lavender in white")
    total = drafted(ask, *half, "--dosing", "same total")
    assert "white: 709.24 g of batter, unscented" in total.text
    assert "lavender 39.2 g; together 39.2 g, 8 % of portion oils" in total.text
    assert "blue: times the load 2 × the load, at most 1.5 × the load" in total.text
    alike = drafted(ask, *half, "--dosing", "same dose in each scented portion")
    assert "lavender 19.6 g; together 19.6 g, 4 % of portion oils" in alike.text
    assert "times the load" not in alike.text.split("What goes where", 1)[0].split("advice", 1)[-1]


def test_15_how_much_batter_fills_this_mould(ask: Ask) -> None:
    """Oils and batter from the inside of the mould, with the formula; another mould takes by its volume."""
    answer = told(ask, "check", plan("harbour-morning"), "--working")
    assert "oils mass: 1013.97 g" in answer.text
    assert "batter mass: 1482.77 g = pot oils + NaOH + water + additives" in answer.text
    fills = [batter(ask, *size) for size in ((), ("--mould", "20 x 8 x 6 cm"))]
    assert fills[1] / fills[0] == pytest.approx((20 * 8 * 6) / (25 * 9 * 6.5), rel=1e-3)


def test_16_how_much_mica_or_white_per_cup(ask: Ask) -> None:
    """Grams and about how many spoons a cup, with what it is wetted with, and oil that is in the recipe."""
    page = sheet(ask, "honey-crown")
    assert "8.0 g kaolin in 20 g water (about 3⅜ tsp)" in page
    assert "Water for a colour is extra: in its cup before minute 0." in page
    assert "2.5 g copper-mica smooth in its sunflower (about 1¼ tsp)" in page
    assert "6.0 g olive held back" in page


def test_17_does_the_carrier_oil_change_my_superfat(ask: Ask) -> None:
    """It does, in its own portion: oil mixed in raises it, oil held back from the pot keeps the sum."""
    answer = told(ask, "check", plan("honey-crown"), "--working")
    superfats = re.findall(r"portion superfat: ([\d.]+) %", answer.text)
    body, comb, crown = (float(each) for each in superfats[:3])
    batch = float(answer.between("lye and superfat: superfat: ", " %"))
    assert body < batch < crown < comb
    assert "mixed in: 0.814 % of portion mass" in answer.text


def test_18_how_much_water_for_this_design(ask: Ask) -> None:
    """The conflict is named: less water means fewer rivers and less time; too little suits no slow pour."""
    answer = told(ask, "why", "white veins", plan("harbour-morning"))
    assert "33 % lye or more, less heat, less white. It shortens your working time." in answer.text
    dry = drafted(
        *(ask, "--pour", "column", "--lye", "38 %, 5 %", "--scent", "cedar"),
        *(
            "--portion",
            "white: 50 %; titanium-dioxide 1 %",
            "--portion",
            "blue: the rest; ultramarine-blue 0.5 %",
        ),
    )
    assert "rule water-against-the-clock" in dry.text
    assert "lye concentration 38 %" in dry.text


def test_19_what_temperature(ask: Ask) -> None:
    """To which to cool, and below which the hard fats cloud: one on the sheet, both in the working."""
    assert "Cool to 34 °C. Melt the hard fats, add the rest: 34 °C, not below 27 °C." in sheet(
        ask, "honey-crown"
    )
    working = told(ask, "check", plan("honey-crown"), "--working").text
    assert "above clear temperature: 7.45 °C" in working


def test_20_in_what_order_do_i_scent_and_pour(ask: Ask) -> None:
    """The slowest first and the worst last, each with its minutes; colours lightest first."""
    answer = told(ask, "assign", plan("greenhouse-morning"), "--more")
    order = answer.between("What goes where, in the order of scenting:", "What stops a portion")
    places = [order.index(f"{name}: ") for name in ("milk", "sage", "brick", "soil")]
    assert places == sorted(places)
    page = sheet(ask, "honey-crown")
    assert "Colour by whisk, lightest first: 1, 3, 2" in page
    minutes = re.findall(r"scent at ([\d½]+) (?:poured|piped) by ([\d½]+)", page)
    assert 3 == len(minutes)
    clock = [float(minute.replace("½", ".5")) for cup in minutes for minute in cup]
    assert clock == sorted(clock)  # each is scented just before it is poured, one after the other


def test_21_should_i_gel(ask: Ask) -> None:
    """Neither way is wrong, partial gel is: it is warned of, and the sheet says how to keep to the plan."""
    answer = told(ask, "check", plan("orchard-wall"))
    assert "And five more cautions." in answer.text
    answer = told(ask, "check", plan("clove-hearth"))
    assert "Caution: the middle may gel and the edge may not, which leaves a dark ring" in answer.text
    assert "gel it all, or chill it" in answer.text
    answer = told(ask, "check", plan("orchard-wall"), "--more")
    assert "Either insulate or warm the mould to gel it all, or start cooler and chill it" in answer.text
    assert "Mould full: uncovered, cool, air around it: no gel." in sheet(ask, "honey-crown")


def test_22_have_i_time_for_this_pour(ask: Ask) -> None:
    """Minutes that there are beside minutes that are needed, portion by portion; and what would help."""
    short = told(ask, "check", plan("lilac-feathers"))
    assert FINDINGS == short.code
    conflict = short.between("would thicken", "Conflict:")
    assert re.search(r"^ [\d.]+ min.* after its scenting, and must stay fluid for [\d.]+ min", conflict)
    assert "pour it as " in conflict
    whole = told(ask, "check", plan("lilac-feathers"), "--more")
    conflict = whole.between("Conflict: minutes fluid (minutes needed):", "Source:")
    assert re.search(r"cloud [\d.]+ min, at least [\d.]+ min", conflict)
    enough = told(ask, "assign", plan("greenhouse-morning"), "--more")
    assert re.search(r"milk: lime [^;]*; fluid until \d+ min from emulsion, [\d.]+ min to spare", enough.text)


def test_asking_writes_nothing(ask: Ask) -> None:
    """A plan that was only thought of leaves no file behind, and no unfinished draft."""
    from tests.questions.conftest import ROOT

    drafted(ask, "--portion", "one: 50 %", "--portion", "two: the rest", "--unscented")
    assert [] == list((ROOT / "demo_catalog" / "plans").glob("*thought*"))
