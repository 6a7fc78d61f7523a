"""Colours in plain words."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.science import colour
from blendwise.science.colour_words import NAMED_HEXES, colour_words, hex_of_word


@pytest.mark.parametrize("word", NAMED_HEXES)
def test_every_name_names_its_own_colour(word: str) -> None:
    """The colour that stands for a name is called by that name."""
    assert word == colour_words(colour.lab_from_hex([NAMED_HEXES[word]]))[0]


@pytest.mark.parametrize(
    ("code", "word"),
    [
        ("#ffffff", "white"),
        ("#000000", "black"),
        ("#808080", "grey"),
        ("#8b4513", "rust"),
        ("#000080", "navy"),
        ("#008080", "teal"),
        ("#d2b48c", "tan"),
        ("#f5f5dc", "ivory"),
        ("#808000", "olive"),
        ("#ffc0cb", "pink"),
        ("#800080", "purple"),
        ("#ff0000", "scarlet"),
    ],
)
def test_colours_of_the_web_standard_get_the_word_one_expects(code: str, word: str) -> None:
    """Codes that CSS Color Module Level 4 gives a name get the same plain name, or its nearest kin."""
    assert word == colour_words(colour.lab_from_hex([code]))[0]


def test_many_at_once() -> None:
    """Many colours are named as one by one; none, none."""
    lab = colour.lab_from_hex(list(NAMED_HEXES.values()))
    assert list(NAMED_HEXES) == colour_words(lab)
    assert colour_words(np.zeros((0, 3))) == []


def test_names_are_plain_and_apart() -> None:
    """No two names stand for colours that look alike (CIEDE2000 under 3), and none is more than two words."""
    lab = colour.lab_from_hex(list(NAMED_HEXES.values()))
    gaps = colour.colour_difference(lab[:, None], lab[None])
    assert gaps[~np.eye(len(lab), dtype=bool)].min() > 3
    assert all(len(word.split()) <= 2 for word in NAMED_HEXES)


def test_hex_of_a_word() -> None:
    """A known word gives its code, an unknown one nothing."""
    assert hex_of_word("tan") == NAMED_HEXES["tan"]
    assert hex_of_word("sparkle") is None
