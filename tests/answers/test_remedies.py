"""Where nothing fits: every remedy is a plan that can be poured; and what goes with a split that fits."""

from __future__ import annotations

import datetime
import shutil
from pathlib import Path

import pytest

from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.show.assign.blocks import assign_blocks
from blendwise.show.plain import plain

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
TODAY = datetime.date(2026, 11, 25)
BOOK = Book(DEMO)
IMPOSSIBLE = ["three-whites", "milk-and-toffee", "clove-hearth", "orchard-wall"]


@pytest.mark.parametrize("name", IMPOSSIBLE)
def test_every_remedy_passes_check_when_read_from_disk(name: str, tmp_path: Path) -> None:
    """The text of each sound remedy, written and read again, leaves nothing worse than a caution."""
    found = BOOK.assign(name, on=AsOf(TODAY))
    assert found.status == "nothing fits"
    assert found.remedies
    for number, remedy in enumerate(found.remedies):
        file = tmp_path / f"{name}-{number}.yaml"
        file.write_text(remedy.plan, encoding="utf-8")
        assert BOOK.check(file, on=AsOf(TODAY)).sound == remedy.sound, remedy.kind


def test_the_impossible_plan_becomes_workable_by_one_call(tmp_path: Path) -> None:
    """Writing the first remedy of the impossible plan gives a sound one, every remark of the plan kept."""
    book = tmp_path / "book"
    shutil.copytree(DEMO, book)
    opened = Book(book)
    new = book / "plans" / "mended.yaml"
    opened.write_split(opened.assign("three-whites", on=AsOf(TODAY)), new)
    text, old = (
        new.read_text(encoding="utf-8"),
        (book / "plans" / "three-whites.yaml").read_text(encoding="utf-8"),
    )
    assert opened.check(new, on=AsOf(TODAY)).sound
    assert text.splitlines()[0] == old.splitlines()[0]


def test_remedies_come_in_a_makers_order() -> None:
    """A portion is allowed to brown before the load is lowered, and the least change comes last."""
    kinds = [remedy.kind for remedy in BOOK.assign("three-whites", on=AsOf(TODAY)).remedies]
    assert kinds.index("let become") < kinds.index("lower load")
    least = [remedy.kind for remedy in BOOK.assign("clove-hearth", on=AsOf(TODAY)).remedies]
    assert least[-1] == "least change"


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
