"""Plants that carry methyl eugenol or safrole, by names of oils."""

from __future__ import annotations

import pytest

from blendwise.science.constituents import known
from blendwise.science.plants import carried_by, is_strong


@pytest.mark.parametrize(
    ("name", "constituent"),
    [
        ("sassafras", "Safrole"),
        ("brown camphor oil", "Safrole"),
        ("ocotea cymbarum", "Safrole"),
        ("winter clove bud", "Methyl eugenol"),
        ("basil, linalool type", "Methyl eugenol"),
        ("huon pine", "Methyl eugenol"),
        ("Rose otto", "Methyl eugenol"),
        ("bay", "Methyl eugenol"),
        ("French tarragon", "Methyl eugenol"),
    ],
)
def test_carriers(name: str, constituent: str) -> None:
    assert constituent in {each.constituent for each in carried_by(name)}


def test_nutmeg_carries_both() -> None:
    assert {each.constituent for each in carried_by("nutmeg")} == {"Safrole", "Methyl eugenol"}


@pytest.mark.parametrize("name", ["rose geranium", "rosewood", "lemon myrtle", "lavender", "ho wood", ""])
def test_what_is_only_like_one(name: str) -> None:
    assert carried_by(name) == ()


def test_a_name_that_says_more_than_the_plant() -> None:
    """Of an oil that nobody calls a plant's, only the plain name counts."""
    assert carried_by("rose garden party", only=True) == ()
    assert carried_by("rose absolute oil", only=True) != ()


def test_every_constituent_is_one_of_the_table() -> None:
    for name in ("sassafras", "nutmeg", "clove"):
        for each in carried_by(name):
            assert (found := known(each.constituent)) is not None
            assert found.name == each.constituent
            assert 0 < each.most <= 1
            assert each.source


@pytest.mark.parametrize(
    ("words", "strong"),
    [
        (["peppermint"], True),
        (["pepermint"], True),  # doubled letters are set aside
        (["pepperment"], True),  # one slip
        (["pepporment"], False),  # two
        (["cinamom"], True),
        (["oats", "lavender"], False),
        ([], False),
    ],
)
def test_a_strong_plant_is_known_with_one_slip(words: list[str], strong: bool) -> None:
    """A slip of one letter hides no plant that burns; two make another word."""
    assert strong == is_strong(words)


def test_a_plant_of_ones_own_is_strong_as_well() -> None:
    """A word that is told beside the table counts as one of it."""
    assert not is_strong(["frostleaf"])
    assert is_strong(["frostleaf"], ["frostleaf"])
