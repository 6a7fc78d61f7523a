"""Looks at a test cup: stronger than a supplier's word, weaker than a batch's, and the lot's own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blendwise.beliefs.learning.learn import learn
from blendwise.beliefs.lessons import Belief, Grains, Lessons
from blendwise.beliefs.traits import ricing_of
from blendwise.records.kinds.scent import RicingWord
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import Seen
from tests.beliefs.makers import shelf_of
from tests.beliefs.test_learn import SCALES, batch, oil, traits

CUPS = {"control": {}, "cup 1": {"a": 12.0}}
SHELF = shelf_of([oil("a")], SCALES)
TRAITS = ("speed", "browning", "remains")


def as_cup(made: Batch) -> Batch:
    """The same looks, at a test cup."""
    return replace(made, looks=tuple(replace(look, test_cup=True) for look in made.looks))


def looked(number: int = 1, lot: str = "L-1", cup: str = "cup 1", control: bool = True) -> list[Batch]:
    """A batch at the pot (with its control) and another at week six."""
    pot = {cup: Seen(minutes=(6, 6))} | ({"control": Seen(minutes=(24, 24))} if control else {})
    later = {cup: Seen(colour="tan", strength="strong")}
    return [batch(number, CUPS, pot, 0, lot), batch(number + 1, CUPS, later, 6, lot)]


def belief(lessons: Lessons, trait: str) -> Belief:
    """What is believed of the oil."""
    found = getattr(lessons.oils["a"], trait)
    assert isinstance(found, Belief)
    return found


@pytest.mark.parametrize("trait", TRAITS)
def test_a_cup_is_weaker_than_a_batch(trait: str) -> None:
    """The same looks at a cup leave the belief wider than at a batch, and both narrower than before."""
    as_batches, as_cups = (
        belief(learn(made, SHELF), trait) for made in (looked(), [as_cup(each) for each in looked()])
    )
    assert as_batches.sd < as_cups.sd < as_cups.prior_sd


def test_a_cup_is_stronger_than_a_suppliers_word() -> None:
    """Measured four times as fast, an oil called slight is believed nearer to the cup than to the word."""
    found = belief(learn([as_cup(each) for each in looked()], SHELF), "speed")
    measured = 1.3862943611198906  # log 4
    assert abs(found.mean - measured) < abs(found.mean - found.prior_mean)


def test_minutes_without_those_of_the_control_say_little() -> None:
    """A cup's own minutes hang on its batter, its size and the day: the control makes them a measure."""
    alone, beside = (
        belief(learn([as_cup(each) for each in looked(control=control)], SHELF), "speed")
        for control in (False, True)
    )
    assert beside.sd < alone.sd


@pytest.mark.parametrize(("kinds", "word"), [("cc", "own cup"), ("bc", "own batch"), ("bb", "own batch")])
def test_it_is_told_as_what_it_is(kinds: str, word: str) -> None:
    """Cups alone are told as the maker's own cup; a cup beside a batch takes nothing from the batch."""
    made = [each for number, kind in enumerate(kinds) for each in _of(kind, 1 + 2 * number)]
    lessons = learn(made, SHELF)
    for trait in TRAITS:
        assert belief(lessons, trait).evidence == word
    now = traits(SHELF, lessons.oils["a"], "a")
    assert (now.speed.evidence, now.browner.evidence, now.strength_evidence) == (word, word, word)


def _of(kind: str, number: int) -> list[Batch]:
    return [as_cup(each) if kind == "c" else each for each in looked(number)]


def test_lots_side_by_side_are_told_apart() -> None:
    """Two lots in one row of cups: each cup speaks of its own bottle."""
    doses = {"control": {}, "cup 1": {"a": 12.0}, "cup 2": {"a": 12.0}}
    seen = {"control": Seen(minutes=(24, 24)), "cup 1": Seen(minutes=(6, 6)), "cup 2": Seen(minutes=(23, 23))}
    made = batch(1, doses, seen, 0, "L-1")
    frozen = made.poured_as[None]
    apart = {
        name: replace(each, lots={"a": "L-2"} if name == "cup 2" else {})
        for name, each in frozen.portions.items()
    }
    for shelf_lot, other in (("L-1", "L-2"), ("L-2", "L-1")):
        both = as_cup(replace(made, poured_as={None: replace(frozen, portions=apart)}))
        here = shelf_of([oil("a", lot=shelf_lot)], SCALES)
        there = shelf_of([oil("a", lot=other)], SCALES)
        quick, slow = belief(learn([both], here), "speed"), belief(learn([both], there), "speed")
        assert (quick.mean > slow.mean) == (shelf_lot == "L-1")


def test_a_cup_that_was_only_set_out_says_nothing() -> None:
    """Until somebody looks it is no look, no cup and no lot that was used."""
    waiting = as_cup(batch(1, CUPS, {}, 0, "L-9"))
    lessons = learn([waiting], SHELF)
    assert (lessons.oils, lessons.batches, lessons.cups, lessons.looks, lessons.last_lots) == (
        {},
        0,
        0,
        0,
        {},
    )


@pytest.mark.parametrize(
    ("seen", "lot", "word"),
    [
        ({"cup 1": "none"}, "L-1", "none"),
        ({"cup 1": "bad"}, "L-1", "bad"),
        ({"cup 1": "none"}, "L-2", None),
        ({"cup 2": "none"}, "L-1", "none"),
        ({"cup 2": "bad"}, "L-1", None),
        ({"cup 1": "none", "cup 2": "bad"}, "L-1", "none"),
    ],
)
def test_grains_are_told_of_the_oil_they_can_be_told_of(
    seen: dict[str, RicingWord], lot: str, word: RicingWord | None
) -> None:
    """Alone in a cup an oil is told to rice or not; beside another it is cleared, never blamed."""
    doses = {"control": {}, "cup 1": {"a": 12.0}, "cup 2": {"a": 6.0, "b": 6.0}}
    shelf = shelf_of([oil("a"), oil("b")], SCALES)
    made = as_cup(batch(1, doses, {name: Seen(ricing=each) for name, each in seen.items()}, 0, lot))
    found = learn([made], shelf).grains.get("a")
    assert found == (None if word is None else Grains(word, "own cup"))


@pytest.mark.parametrize(
    ("said", "evidence", "seen", "told"),
    [
        (None, None, "none", ("none", "own cup")),
        ("bad", "hearsay", "none", ("none", "own cup")),
        ("none", "supplier", "bad", ("bad", "own cup")),
        ("bad", "own cup", "none", ("bad", "own cup")),
        ("none", "own cup", "bad", ("bad", "own cup")),
        ("none", "own batch", "bad", ("none", "own batch")),
    ],
)
def test_the_better_word_on_grains_counts(
    said: str | None, evidence: str | None, seen: RicingWord, told: tuple[str, str]
) -> None:
    """A cup outranks a supplier and hearsay, a batch outranks it; of equals the worse counts."""
    assert ricing_of(oil("a", ricing=said, evidence=evidence), Grains(seen, "own cup")) == told
