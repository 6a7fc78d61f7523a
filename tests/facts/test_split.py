"""Shares, and the superfat of every portion as split, by hand."""

from __future__ import annotations

import pytest

from blendwise.facts.situation.worked_out import Situation
from blendwise.records import RecordError
from tests.facts.small import book, value, values, worked

NEED = 0.190 * 39.9971 / 56.1056  # g NaOH per g of olive oil, by the middle of its range


def split(portions: str, held: str = "{}", usual: str = "hands: 1\n") -> Situation:
    """1000 g of olive oil at 5 % superfat, split as given."""
    text = f"""\
plan: split
recipe:
  oils: {{olive: 1000 g}}
  lye: {{concentration: 31 %, superfat: 5 %}}
  held back: {held}
portions: {portions}
"""
    return worked(text, book(usual=usual))


@pytest.mark.parametrize(
    "portions",
    [
        "[{name: a, share: 50 %}, {name: b, share: 30 %}, {name: c, share: 20 %}]",
        "[{name: a, share: 5 parts}, {name: b, share: 3}, {name: c, share: 2 parts}]",
        "[{name: a, share: 50 %}, {name: b, share: 3 parts}, {name: c, share: 2 parts}]",
        "[{name: a, share: 50 %}, {name: b, share: 30 %}, {name: c, share: the rest}]",
    ],
)
def test_shares_are_the_same_however_they_are_written(portions: str) -> None:
    """Per cents, parts and the rest all come to 50, 30 and 20 %."""
    assert values(split(portions), "share") == pytest.approx([0.5, 0.3, 0.2])


def test_grams_are_taken_from_what_the_pot_gives() -> None:
    """A portion in grams weighs so much; the rest is what is left after the pot has kept its own."""
    s = split("[{name: a, share: 300 g}, {name: b, share: the rest}]", usual="pot loss: 2 %\n")
    first, second = values(s, "portion mass")
    assert first == pytest.approx(300)
    assert first + second == pytest.approx(0.98 * value(s, "batter mass"))


@pytest.mark.parametrize(("held", "superfat"), [(70, -0.0215), (21, 0.0296)])
def test_oil_held_back_leaves_the_pot_lye_heavy(held: int, superfat: float) -> None:
    """70 g of 1000 g held back at 5 % stand at about -2 % where none comes back; 21 g at 3 % (derived)."""
    s = split("[{name: a, share: 50 %}, {name: b, share: 50 %}]", f"{{olive: {{a: {held} g}}}}")
    with_it, without = values(s, "portion superfat")
    assert without == pytest.approx(superfat, abs=0.0005)
    assert without == pytest.approx(1 - 0.95 * 1000 / (1000 - held))
    half = (1000 - held) / 2
    assert with_it == pytest.approx(1 - 0.95 * 500 / (half + held))
    assert value(s, "superfat") == pytest.approx(0.05)
    assert value(s, "held back") == pytest.approx(held / 1000)


def test_what_comes_back_in_proportion_changes_nothing() -> None:
    """A portion that gets its own share back stands at the batch's superfat."""
    s = split("[{name: a, share: 40 %}, {name: b, share: 60 %}]", "{olive: {a: 20 g, b: 30 g}}")
    assert values(s, "portion superfat") == pytest.approx([0.05, 0.05])
    assert values(s, "portion oils") == pytest.approx([400, 600])


def test_held_back_and_mixed_in_by_hand() -> None:
    """Both at once: returned oil belongs to the recipe, mixed-in oil comes on top."""
    portions = "[{name: a, share: 50 %, mixed in: {olive: 10 g}}, {name: b, share: 50 %}]"
    s = split(portions, "{olive: {b: 40 g}}")
    lye = 0.95 * 1000 * NEED / 2
    assert values(s, "portion superfat") == pytest.approx(
        [1 - lye / (NEED * (480 + 10)), 1 - lye / (NEED * (480 + 40))]
    )
    assert values(s, "portion oils") == pytest.approx([480, 520])
    assert values(s, "mixed in")[0] == pytest.approx(10 / (value(s, "batter mass") / 2 + 10))


def test_the_low_end_is_the_published_one() -> None:
    """A portion's superfat at the low end takes every oil at the foot of its range (184 of 184 to 196)."""
    s = split("[{name: a, share: 100 %}]")
    assert values(s, "portion superfat at the low end") == pytest.approx([1 - 0.95 * 190 / 184])


def test_a_portion_s_superfat_difference_shows_on_the_edge() -> None:
    """Soft beside hard: the superfats of two portions that touch lie so far apart."""
    s = split("[{name: a, share: 50 %}, {name: b, share: 50 %, mixed in: {olive: 25 g}}]")
    one, other = values(s, "portion superfat")
    assert values(s, "superfat difference") == pytest.approx([other - one])


def test_a_spoon_is_weighed() -> None:
    """A teaspoon of a colourant is what the maker weighed a teaspoon at; two are twice that."""
    s = split("[{name: a, share: 50 %, colourants: {black: 2 tsp}}, {name: b, share: 50 %}]")
    assert value(s, "charcoal rate") == pytest.approx(2 * 1.8 / 500)


def test_a_spoon_nobody_weighed_is_refused() -> None:
    """Without the mass of a teaspoon a spoon says nothing."""
    with pytest.raises(RecordError, match="nobody has weighed a teaspoon"):
        split("[{name: a, share: 50 %, colourants: {clay: 1 tsp}}, {name: b, share: 50 %}]")


def test_rates_of_colour_on_every_basis() -> None:
    """A rate on portion oils, batch oils or portion batter comes to grams on that mass."""
    portions = """[
      {name: a, share: 50 %, colourants: {white: 1 % of portion oils, brick: 0.1 % of batch oils}},
      {name: b, share: 50 %, colourants: {clay: 1 % of portion batter}}]"""
    s = split(portions)
    assert values(s, "white rate") == pytest.approx([0.01, 0.0])
    assert values(s, "pigment rate") == pytest.approx([0.002, 0.0])
    assert values(s, "clay rate") == pytest.approx([0.0, 0.01 * value(s, "batter mass") / 1000])
    assert values(s, "colour rate")[0] == pytest.approx(0.012)
    assert values(s, "times the usual colour rate")[:1] == pytest.approx([0.5])
