"""A look teaches only the oils and causes that can give what was seen, on books drawn at random."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from blendwise.beliefs.learning import hexes
from blendwise.beliefs.learning.evidence import HexLook
from blendwise.beliefs.learning.hexes import casts_of, rows_of
from blendwise.beliefs.learning.learn import learn
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import Seen
from blendwise.science.browning import own_cast_absorption
from blendwise.science.colour import hex_from_lab, lab_from_linear
from blendwise.science.mixing import Paint, ks_from_reflectance, linear_from_hex, soap_colour
from tests.beliefs.makers import shelf_of
from tests.beliefs.test_learn import SCALES, batch, browned, oil, traits

PLANNED = "#f4efe1"
NAMES = ("a", "b", "c")


def tinted(cast: str, share: float, covering: float) -> str:
    """The hex code of a pale portion with a cast and no browning."""
    absorb = ks_from_reflectance(linear_from_hex(PLANNED)) * covering
    added = own_cast_absorption(cast, np.array(share))
    return hex_from_lab(lab_from_linear(soap_colour(Paint(absorb, np.array(covering)), added)))


def test_hue_comes_first() -> None:
    """A yellow, pink or green is that cast and no browning; what browning makes is never called a cast."""
    rng = np.random.default_rng(5)
    for cast in ("yellow", "pink", "green"):
        covering, share = float(rng.uniform(1, 5)), float(rng.uniform(1.5, 2.0)) * 2
        seen = tinted(cast, share, covering)
        look = HexLook(0, "x", seen, PLANNED, covering, True, {("a", ""): 0.03}, "n")
        assert casts_of([look]) != [""], (cast, covering, share)
        assert [] == list(rows_of([look]))
    for load in rng.uniform(0.0003, 0.005, 8):
        covering = float(rng.uniform(1, 5))
        seen = browned(PLANNED, covering, float(load))
        brown = HexLook(0, "x", seen, PLANNED, covering, True, {("a", ""): 0.03}, "n")
        assert casts_of([brown]) == [""], load


def flagged(made: Batch, rule: str) -> Batch:
    """The same batch, its portions warned of by a rule when it was poured."""
    day = made.poured_as[None]
    told = replace(day, flagged={rule: list(day.portions)})
    return replace(
        made, poured_as={None: told}, looks=tuple(replace(look, frozen=told) for look in made.looks)
    )


def test_a_tint_of_two_oils_darkens_no_third() -> None:
    """Where an amine beside an aldehyde was foretold, a dark band never makes an oil of that cup browner."""
    shelf = shelf_of([oil(name) for name in NAMES], SCALES)
    for band in ("beige", "tan", "brown", "#f0e0a0"):
        made = batch(1, {"x": dict.fromkeys(NAMES, 4.0)}, {"x": Seen(colour=band)})
        found = learn([flagged(made, "amine-with-aldehyde")], shelf).oils
        for learned in found.values():
            assert learned.browning is None or learned.browning.mean <= learned.browning.prior_mean


def test_without_a_control_nothing_is_told_to_thin() -> None:
    """Still fluid as long as the bare batter, or longer, shows no thinning of an oil called none."""
    rng = np.random.default_rng(7)
    shelf = shelf_of([oil("a", acceleration="none")], SCALES)
    for _ in range(6):
        seen = Seen(fluid_at=float(rng.uniform(15, 40)))
        alone = learn([batch(n, {"x": {"a": 12.0}}, {"x": seen}, 0) for n in (1, 2)], shelf).oils["a"]
        assert alone.speed is not None
        assert traits(shelf, alone, "a").speed_word != "thins"


@pytest.mark.parametrize("bottle", ["L-1", "L-2", "L-3"])
def test_lots_that_differ_are_not_averaged_and_move_no_other_oil(bottle: str) -> None:
    """Brown in one lot and beige in another: the bottle's own is believed, the darker its harsh end."""
    shelf = shelf_of([oil("a", lot=bottle), oil("b")], SCALES)
    cup = {"x": {"a": 12.0, "b": 1.0}}
    books = []
    for number, (lot, band) in enumerate((("L-1", "brown"), ("L-2", "cream")), 1):
        made = batch(number, cup, {"x": Seen(colour=band)}, lot=lot)
        looks = tuple(replace(look, lots={"a": lot, "b": "B-1"}) for look in made.looks)
        books.append(replace(made, looks=looks))
    found = learn(books, shelf).oils
    browning = found["a"].browning
    assert browning is not None
    assert browning.lots_differ
    assert browning.harsh_lot == "L-1"
    used = learn([books[1 if bottle == "L-2" else 0]], shelf).oils["a"].browning
    assert used is not None
    assert browning.mean == pytest.approx(used.mean)
    assert browning.is_this_lot == (bottle != "L-3")
    believed = traits(shelf, found["a"], "a").browner
    assert browning.harsh is not None
    assert believed.most >= np.exp(browning.harsh)
    assert "b" not in found or found["b"].browning is None


def test_colours_too_far_apart_in_lightness_are_left_out_rightly() -> None:
    """400 random colours, at two plans: each cast that may be told has the same gap as with all asked."""
    chance = np.random.default_rng(5)
    said = [
        (f"#{code:06x}", planned, 1.5)
        for planned in ("#efe8d8", "#5f4232")
        for code in chance.integers(0x202020, 0xFFFFFF, 200).tolist()
    ]
    for cast in hexes.CASTS:
        most = chance.uniform(-2.0, hexes.EXPLAINED, len(said))
        some, loads = hexes._with_cast(said, cast, most)
        every, all_loads = hexes._with_cast(said, cast, np.full(len(said), 1e9))
        near = (every <= most) & (most > 0)
        assert near.any()
        np.testing.assert_array_equal(some[near], every[near])
        np.testing.assert_array_equal(loads[near], all_loads[near])
        assert (some[~near & (most > 0)] > most[~near & (most > 0)]).all()
