"""Shapes named after food, and what only sounds like it."""

from __future__ import annotations

import pytest

from blendwise.science.look_alike import like_food


@pytest.mark.parametrize(
    "shape",
    ["doughnuts", "Cupcake", "ice cream cones", "lemon slices", "cherries", "macaron shells", "an egg"],
)
def test_food(shape: str) -> None:
    assert like_food(shape)


@pytest.mark.parametrize(
    "shape",
    [
        "",
        "shells",
        "hearts",
        "apple green hearts",
        "strawberry scented cubes",
        "melt-and-pour",
        "orange curls",
    ],
)
def test_no_food(shape: str) -> None:
    assert not like_food(shape)
