"""Base oils by kind: each found by its own name, none by another's."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.science.base_oils import base_oil, base_oils, polyunsaturated


def test_each_row_is_found_by_its_words() -> None:
    for kind in base_oils():
        assert base_oil(" ".join(kind.words)) is not None
        assert 0 <= kind.polyunsaturated[0] <= kind.polyunsaturated[1] <= 1
        assert kind.standing in ("read", "read in part", "reported", "from memory")


@pytest.mark.parametrize(
    ("name", "inci"),
    [
        ("coconut", "Cocos Nucifera (Coconut) Oil"),
        ("Coconut oil 76", "Cocos Nucifera (Coconut) Oil"),
        ("olive-pomace", "Olea Europaea (Olive) Husk Oil"),
        ("palm kernel oil", "Elaeis Guineensis (Palm) Kernel Oil"),
        ("high-oleic sunflower", "Helianthus Annuus (Sunflower) Seed Oil"),
        ("sweet almond", "Prunus Amygdalus Dulcis (Sweet Almond) Oil"),
    ],
)
def test_names(name: str, inci: str) -> None:
    found = base_oil(name)
    assert found is not None
    assert found.inci == inci


@pytest.mark.parametrize(
    "name", ["hydrogenated soya", "date palm", "bitter almond", "soya wax", "emu", "fat"]
)
def test_another_fat_is_not_taken_for_one(name: str) -> None:
    found = base_oil(name)
    assert found is None or not found.inci


def test_latin_leaves_the_brackets_out() -> None:
    found = base_oil("coconut")
    assert found is not None
    assert found.latin == "Cocos Nucifera Oil"


def test_high_oleic_keeps_where_ordinary_does_not() -> None:
    plain = polyunsaturated(["sunflower"], np.array([1.0]), [None])
    oleic = polyunsaturated(["sunflower high oleic"], np.array([1.0]), [None])
    assert oleic[2] < plain[0]


def test_what_nobody_knows_may_be_all_of_it() -> None:
    least, middle, most, all_of_it = polyunsaturated(["emu", "olive"], np.array([0.4, 0.6]), [None, None])
    assert all_of_it == pytest.approx(most + 0.4)
    assert least < middle < most
    assert polyunsaturated(["emu"], np.array([1.0]), [0.12]) == pytest.approx([0.12] * 4)
