"""What goes with a split that fits: the pot scented whole, its cost, what it waits on, what stops more."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.show.assign.blocks import assign_blocks
from blendwise.show.plain import plain

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
TODAY = datetime.date(2026, 11, 25)
BOOK = Book(DEMO)


def test_one_blend_for_all_may_scent_the_pot() -> None:
    """A plan whose portions share one blend is told what scenting the whole pot saves and costs."""
    found = BOOK.assign("harbour-morning", on=AsOf(TODAY))
    assert found.pot is not None
    assert found.pot.saves == len(found.portions) - 1
    assert found.pot.fluid_until <= found.pot.instead_of
    assert "scenting the whole pot" in " ".join(plain(assign_blocks(found), 80).split())


def test_the_cost_is_grams_times_price() -> None:
    """The cost of a split is the sum of its grams by each oil's price, and of a bar its share."""
    found = BOOK.assign("harbour-morning", on=AsOf(TODAY))
    assert found.cost is not None
    prices = {name: BOOK.files.scents[name].price for pour in found.portions for name in pour.scents}
    total = sum(
        grams * price.per_gram
        for pour in found.portions
        for name, grams in pour.scents.items()
        if (price := prices[name]) is not None
    )
    assert found.cost.batch == pytest.approx(total)
    assert found.cost.per_bar == pytest.approx(total / 10)


def test_a_split_that_waits_on_a_fact_is_not_called_clean() -> None:
    """An oil nobody has described leaves the split the best *if*, named by oil and fact."""
    found = BOOK.assign("market-day", on=AsOf(TODAY))
    assert ("market-find", "acceleration") in {(each.subject, each.fact) for each in found.waits_on}
    assert found.check is not None
    assert not found.check.sound


def test_what_stops_more_is_told_in_grams() -> None:
    """Each stop names the grams a portion takes and the larger grams at which its rule breaks."""
    stops = [held for held in BOOK.assign("harbour-morning", on=AsOf(TODAY)).tight if held.kind == "rule"]
    assert stops
    assert all(held.at >= held.takes for held in stops)
