"""What was noted at the pot is the ratio of that cup's oils, shared among them; a bare cup speaks of none."""

from __future__ import annotations

import math

import pytest

from blendwise.beliefs.learning.learn import Shelf, learn
from blendwise.beliefs.lessons import Learned
from blendwise.records.notes.notebook import Seen
from tests.beliefs.makers import shelf_of
from tests.beliefs.test_learn import SCALES, batch, oil

CONTROL, QUICK = 20.0, 6.0
USUAL = 12.0  # g in 300 g of oils: the 4 % at which the shelf's words are said


def factor(learned: Learned, shelf: Shelf, name: str) -> float:
    """How many times faster than unscented batter an oil is now believed to be, at 4 % of oils."""
    return math.exp(learned.speed.mean if learned.speed else math.log(shelf.traits[name].speed.low))


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return shelf_of([oil("a"), oil("b"), oil("c")], SCALES)


def quick_cups(count: int, shelf: Shelf) -> dict[str, Learned]:
    """So many batches of a quick cup of a and b, a plain one and one of c, all with their minutes."""
    cups = {"x": {"a": USUAL / 2, "b": USUAL / 2}, "y": {"c": USUAL}, "plain": {}}
    seen = {
        "x": Seen(minutes=(QUICK, QUICK)),
        "y": Seen(minutes=(17, 17)),
        "plain": Seen(minutes=(CONTROL, CONTROL)),
    }
    return dict(learn([batch(n, cups, seen, 0) for n in range(1, count + 1)], shelf).oils)


def test_the_ratio_of_a_cup_is_shared_among_its_oils(shelf: Shelf) -> None:
    """Twelve times over the same: half of each oil together make the cup's ratio, neither alone all of it."""
    after = quick_cups(12, shelf)
    a, b = (factor(after[name], shelf, name) for name in ("a", "b"))
    assert a == pytest.approx(b)
    assert 1 + 0.5 * (a - 1) + 0.5 * (b - 1) == pytest.approx(CONTROL / QUICK, rel=0.12)


def test_the_oils_of_another_cup_of_that_batch_are_left_alone(shelf: Shelf) -> None:
    """c was in a cup that took its usual time: it is not believed quicker for what a and b did beside it."""
    before = shelf.traits["c"].speed.low
    after = quick_cups(3, shelf)
    assert factor(after["c"], shelf, "c") <= before * 1.05
    assert factor(after["a"], shelf, "a") > shelf.traits["a"].speed.low * 1.3


def test_a_cup_noted_before_it_was_scented_changes_no_scent(shelf: Shelf) -> None:
    """Minutes of a cup without scent, however few, speak of the batter."""
    for minutes in (3.0, 60.0):
        bare = batch(1, {"x": {}, "y": {"a": USUAL}}, {"x": Seen(minutes=(minutes, minutes))}, 0)
        assert all(each.speed is None for each in learn([bare], shelf).oils.values())
