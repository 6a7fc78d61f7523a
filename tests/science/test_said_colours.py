"""Colours said in plain words: each name itself, shades move it the way they say, adjectives draw it."""

from __future__ import annotations

import pytest

from blendwise.science.colour import colour_difference, lab_from_hex
from blendwise.science.colour_words import NAMED_HEXES
from blendwise.science.said_colours import colour_names, hex_of_words

NAMES = ("tan", "orange", "rose", "green", "brown", "lavender")


def lab(words: str) -> list[float]:
    """CIELAB of what is said."""
    code = hex_of_words(words)
    assert code is not None, words
    return [float(each) for each in lab_from_hex([code])[0]]


def chroma(words: str) -> float:
    """How far from grey."""
    _, a, b = lab(words)
    return float((a * a + b * b) ** 0.5)


@pytest.mark.parametrize("name", sorted(NAMED_HEXES))
def test_a_name_is_itself(name: str) -> None:
    """A name of the table of colours gives the table's own colour."""
    assert hex_of_words(name.replace("-", " ")) == NAMED_HEXES[name].lower()


@pytest.mark.parametrize("name", NAMES)
def test_a_shade_moves_a_colour_the_way_it_says(name: str) -> None:
    """Light is lighter and dark darker; dull has less, bright more of the hue."""
    assert lab(f"light {name}")[0] > lab(name)[0] > lab(f"dark {name}")[0]
    assert chroma(f"dull {name}") < chroma(name)
    assert chroma(f"bright {name}") >= chroma(name) * 0.99


@pytest.mark.parametrize(("other", "name"), [("orange", "tan"), ("green", "yellow"), ("pink", "brown")])
def test_an_adjective_draws_a_colour_towards_another(other: str, name: str) -> None:
    """An orangey tan lies between tan and orange: nearer to each than they are to one another."""
    drawn, whole = f"{other}ish {name}", _apart(other, name)
    assert _apart(drawn, name) < whole
    assert _apart(drawn, other) < whole


def _apart(one: str, other: str) -> float:
    return float(colour_difference([lab(one)], [lab(other)])[0])


@pytest.mark.parametrize("words", ["", "nice", "flashes", "a bit of"])
def test_what_is_no_colour_is_none(words: str) -> None:
    """Words without a colour in them are no colour, and are not guessed at."""
    assert hex_of_words(words) is None


def test_every_name_that_is_told_is_read() -> None:
    """What is offered as a colour can be typed back."""
    assert [name for name in colour_names() if hex_of_words(name) is None] == []
