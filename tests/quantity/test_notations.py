"""Amounts of a shape of their own."""

from __future__ import annotations

import pytest

from blendwise.quantity import Basis, Dimension, QuantityError, parse_colour_dose
from blendwise.quantity.typed import figures, share_in_words, sides, with_unit


@pytest.mark.parametrize(
    ("text", "teaspoons", "basis"),
    [
        ("1 tsp ppo", 1.0, Basis.PORTION_OILS),
        ("1/2 tsp ppo", 0.5, Basis.PORTION_OILS),
        ("1 1/2 teaspoons per pound of oils", 1.5, Basis.PORTION_OILS),
        ("1 tbsp per lb of batch oils", 3.0, Basis.BATCH_OILS),
    ],
)
def test_spoons_to_a_pound_of_oils(text: str, teaspoons: float, basis: Basis) -> None:
    """Millilitres to a gram of oils: a pound of them takes the spoons that are written."""
    found = parse_colour_dose(text, frozenset(Basis))
    assert (Dimension.VOLUME, basis) == (found.dimension, found.basis)
    assert teaspoons * 4.92892159375 == pytest.approx(found.value * 453.59237)


@pytest.mark.parametrize("text", ["20 tsp ppo", "1 tsp ppo of scent", "tsp ppo"])
def test_no_spoons_to_a_pound(text: str) -> None:
    """Too many, of something else, or none at all."""
    with pytest.raises(QuantityError):
        parse_colour_dose(text, frozenset(Basis))


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        (with_unit("500", "g"), "500 g"),
        (with_unit("2 1/2", "oz"), "2 1/2 oz"),
        (with_unit("500 g", "oz"), "500 g"),
        (share_in_words("Half"), "50 %"),
        (share_in_words("remainder"), "the rest"),
        (share_in_words("35 %"), "35 %"),
        (sides("20x8x6", "cm"), "20 x 8 x 6 cm"),
        (sides("10 by 3.5 by 2.5 inches", "cm"), "10 x 3.5 x 2.5 inches"),
        (sides("20x8", "cm"), ""),
        (figures("33% 5%", 2), ["33 %", "5 %"]),
        (figures("33/5", 2), ["33 %", "5 %"]),
        (figures("31 %, superfat 5 %", 2), None),
    ],
)
def test_short_answers_are_written_in_full(typed: object, written: object) -> None:
    """In the units that the maker was asked in; what is written in full stays."""
    assert written == typed
