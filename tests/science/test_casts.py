"""Families of casts: what makers report of constituents at usual doses; more never tints less."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.science import casts
from blendwise.science.browning import band_of
from blendwise.science.casts import EDGES, HEXES, WORDS, cast_absorption, cast_of, weight
from blendwise.science.colour import lab_from_hex
from blendwise.science.constituents import known
from blendwise.science.tables import read_table

BATTER = 1.424  # g per g of oils at 33 % lye (derived)
BANDS = (0.0001, 0.0003, 0.0008, 0.002, 0.004)  # edges of the rulebook


def load(dose: float, content: float) -> float:
    """Load in the batter of a content, at a dose on oils."""
    return dose * content / (BATTER + dose)


@pytest.mark.parametrize(
    ("dose", "citral", "words"),
    [(0.03, 0.75, {"yellow", "orange"}), (0.05, 0.75, {"orange", "yellow"}), (0.03, 0.03, {"none"})],
)
def test_citral_goes_yellow_to_orange(dose: float, citral: float, words: set[str]) -> None:
    """Litsea and lemongrass go yellow to orange at usual doses, expressed lemon hardly (common practice)."""
    found = load(dose, citral * weight("Citral", "yellow"))
    assert WORDS["yellow"][int(cast_of(found, "yellow"))] in words
    assert weight("Citral", "brown") == 0


@pytest.mark.parametrize(("dose", "bands"), [(0.01, {3, 4}), (0.015, {3, 4}), (0.03, {4, 5})])
def test_clove_goes_tan_to_brown(dose: float, bands: set[int]) -> None:
    """An oil of four fifths eugenol goes tan to brown at 1 to 1.5 % of oils (common practice)."""
    assert int(band_of(load(dose, 0.8 * weight("Eugenol", "brown")), BANDS)) in bands


def test_every_substance_is_known_to_the_table_of_constituents() -> None:
    """A cast belongs to a substance that sheets can name, by its name there; its weight is above nothing."""
    for row in read_table("casts"):
        found = known(row["substance"])
        assert found is not None, row
        assert found.name.casefold() == row["substance"].casefold()
        assert 0 < float(row["weight"]) <= 1


@pytest.mark.parametrize("family", ["yellow", "pink"])
def test_more_never_tints_less(family: casts.Family) -> None:
    """As the load rises no word falls and no channel absorbs less; blue light goes first in yellow."""
    loads = np.geomspace(1e-6, 0.2, 400)
    assert (np.diff(cast_of(loads, family)) >= 0).all()
    assert (np.diff(cast_absorption(loads, family), axis=0) >= -1e-12).all()
    assert len(WORDS[family]) == len(EDGES[family]) + 1 == len(HEXES[family]) + 1
    strongest = lab_from_hex(HEXES[family][-1])
    assert strongest[2] > 10 if family == "yellow" else strongest[1] > 5
