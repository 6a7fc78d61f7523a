"""What looks teach: oils told apart only over batches, lots apart, the unknown closed by looks alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from blendwise.beliefs.believe import believed, strength_word
from blendwise.beliefs.changes import Change
from blendwise.beliefs.learning.evidence import HexLook, band_row, strength_row
from blendwise.beliefs.learning.hexes import rows_of
from blendwise.beliefs.learning.learn import Shelf, learn
from blendwise.beliefs.learning.regression import AT_LEAST, AT_MOST, TWO_SIDED
from blendwise.beliefs.lessons import Learned
from blendwise.beliefs.traits import Traits, speed_word
from blendwise.records import Scent
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow, Poured, PouredPortion, Seen
from blendwise.science.browning import browned_lab
from blendwise.science.colour import hex_from_lab
from blendwise.science.mixing import Paint, ks_from_reflectance, linear_from_hex
from tests.beliefs.makers import BATTER_TO_OILS, USUAL_DOSE, make_scent, scales, shelf_of

SCALES = scales()


def oil(name: str, **fields: object) -> Scent:
    """An oil with ordinary statements by the supplier, changed by fields."""
    said = {
        "acceleration": {"is": "slight", "at": "4 % of oils", "evidence": "supplier"},
        "browns to": {"band": "cream", "at": "4 % of oils", "evidence": "supplier"},
        "after six weeks": "fair",
        "evidence": "supplier",
        **fields,
    }
    return make_scent(name, **{key: value for key, value in said.items() if value is not None})


def batch(
    number: int, cups: dict[str, dict[str, float]], seen: dict[str, Seen], week: int = 6, lot: str = "L-1"
) -> Batch:
    """A batch of portions of 300 g of oils with doses in g, looked at on one day."""
    poured = Poured(
        rules="r", doses=cups, portions={name: PouredPortion(300.0, 430.0, stays_fluid=20.0) for name in cups}
    )
    lots = {name: lot for cup in cups.values() for name in cup}
    day = f"2026-03-{1 + 7 * week:02d}" if week < 4 else f"2026-04-{7 * week - 30:02d}"
    look = "at the pot" if week == 0 else f"week {week}"
    row = NoteRow(f"n{number}", "", "p", look, day, f"B{number}", portions=seen, lots=lots, frozen=poured)
    return Batch(f"B{number}", "p", "2026-03-01", (row,), {None: poured})


def traits(shelf: Shelf, learned: Learned | None, name: str, careful: bool = False) -> Traits:
    """The traits of an oil once its looks count."""
    return believed(
        shelf.traits[name], shelf.scents[name], learned, SCALES, USUAL_DOSE, BATTER_TO_OILS, careful
    )


def test_two_oils_of_one_cup_share_the_blame_and_a_look_moves_only_what_was_in_the_cup() -> None:
    """One quick cup of two oils blames both alike; cups of one oil settle that oil and move no other."""
    shelf = shelf_of([oil("a"), oil("b")], SCALES)
    both = {"x": {"a": 6.0, "b": 6.0}, "plain": {}}
    quick = {"x": Seen(minutes=(6, 6)), "plain": Seen(minutes=(20, 20))}
    once = learn([batch(1, both, quick, 0)], shelf).oils
    assert once["a"].speed is not None
    assert once["b"].speed is not None
    assert once["a"].speed.mean == pytest.approx(once["b"].speed.mean)
    alone = {"x": {"a": 12.0}, "plain": {}}
    calm = {"x": Seen(minutes=(20, 20)), "plain": Seen(minutes=(20, 20))}
    batches = [batch(1, both, quick, 0), *(batch(n, alone, calm, 0) for n in (2, 3, 4))]
    told = learn(batches, shelf).oils
    assert told["a"].speed is not None
    assert told["b"].speed is not None
    assert told["a"].speed.mean < once["a"].speed.mean
    before, after = once["b"].speed, told["b"].speed
    assert (before.mean, before.sd) == pytest.approx((after.mean, after.sd))


def test_a_batch_that_is_quick_as_a_whole_blames_no_oil() -> None:
    """Where the unscented cup thickens as fast as the scented one, the batter was quick and not the oil."""
    shelf = shelf_of([oil("a")], SCALES)
    cups = {"x": {"a": 12.0}, "plain": {}, "other": {}}
    fast = {name: Seen(minutes=(8, 8)) for name in cups}
    belief = learn([batch(1, cups, fast, 0)], shelf).oils["a"].speed
    assert belief is not None
    assert abs(belief.mean - belief.prior_mean) < 0.1


def test_still_fluid_says_only_not_quicker() -> None:
    """ "Still fluid at" long after the prior's time pulls the belief down, early it says next to nothing."""
    shelf = shelf_of(
        [oil("a", acceleration={"is": "fast", "at": "4 % of oils", "evidence": "hearsay"})], SCALES
    )
    cups = {"x": {"a": 12.0}}
    early = learn([batch(1, cups, {"x": Seen(fluid_at=0.5)}, 0)], shelf).oils["a"].speed
    late = learn([batch(n, cups, {"x": Seen(fluid_at=18)}, 0) for n in range(3)], shelf).oils["a"].speed
    assert early is not None
    assert late is not None
    assert abs(early.mean - early.prior_mean) < 0.02
    assert late.mean < late.prior_mean - 0.5
    assert () == tuple(each for each in late.told if each.side == TWO_SIDED)


def test_another_lot_counts_less() -> None:
    """What an older lot showed moves the belief in the new bottle, but not as surely as its own looks."""
    shelf = shelf_of([oil("a")], SCALES)
    cups, tan = {"x": {"a": 12.0}}, {"x": Seen(colour="tan")}
    same = learn([batch(n, cups, tan) for n in range(3)], shelf).oils["a"].browning
    older = learn([batch(n, cups, tan, lot="L-0") for n in range(3)], shelf).oils["a"].browning
    assert same is not None
    assert older is not None
    assert older.prior_mean < older.mean < same.mean
    assert same.sd < older.sd


def test_an_unknown_oil_stays_unknown_until_looks_speak() -> None:
    """A look that says little leaves it open; clear looks close it, with own batches as the evidence."""
    silent = oil("a", acceleration=None, **{"browns to": None, "after six weeks": None})
    shelf = shelf_of([silent], SCALES)
    cups = {"x": {"a": 12.0}, "plain": {}}
    vague = learn([batch(1, cups, {"x": Seen(fluid_at=2)}, 0)], shelf).oils["a"]
    assert not traits(shelf, vague, "a").speed.known
    clear = {"x": Seen(minutes=(7, 7)), "plain": Seen(minutes=(20, 20))}
    both = [
        batch(1, cups, clear, 0),
        batch(2, cups, clear, 0),
        batch(3, cups, {"x": Seen(colour="brown", strength="gone")}),
    ]
    found = traits(shelf, learn(both, shelf).oils["a"], "a")
    assert (True, "own batch", "moderate") == (found.speed.known, found.speed.evidence, found.speed_word)
    assert (True, ()) == (found.browner.known, found.missing_browner)
    assert found.speed.low == found.speed.high


def test_careful_takes_both_ends() -> None:
    """With --careful a belief is its interval of 80 %, with or without looks; the centre lies inside."""
    shelf = shelf_of([oil("a")], SCALES)
    tan = [batch(n, {"x": {"a": 12.0}}, {"x": Seen(colour="tan", strength="fair")}) for n in range(2)]
    for learned in (None, learn(tan, shelf).oils["a"]):
        plain, wide = traits(shelf, learned, "a"), traits(shelf, learned, "a", careful=True)
        assert wide.browner.low < plain.browner.low < wide.browner.high
        assert wide.speed.low < plain.speed.low < wide.speed.high
        assert wide.strength in ("faint", "gone", "fair")


def test_without_looks_nothing_changes() -> None:
    """No note, no change: the catalogue's own traits come back."""
    shelf = shelf_of([oil("a")], SCALES)
    assert shelf.traits["a"] == traits(shelf, None, "a")
    assert {} == learn([], shelf).oils


def test_an_early_colour_is_only_a_floor() -> None:
    """Before the fourth week a dark band says "at least"; a pale one says nothing; later each is a value."""
    assert band_row(SCALES, "ivory", settled=False) is None
    assert band_row(SCALES, "tan", settled=False) == pytest.approx((math.log(0.0008), AT_LEAST, 0.35))
    value, side, sd = band_row(SCALES, "tan", settled=True) or (0.0, 0, 0.0)
    assert TWO_SIDED == side
    assert math.exp(value) == pytest.approx(math.sqrt(0.0008 * 0.002))
    assert sd == pytest.approx(math.hypot(0.35, math.log(0.002 / 0.0008) / math.sqrt(12)))
    assert (AT_MOST, AT_LEAST) == (
        (band_row(SCALES, "ivory", True) or (0, 9, 0))[1],
        (band_row(SCALES, "chocolate", True) or (0, 9, 0))[1],
    )


def test_words_of_strength_reach_half_way() -> None:
    """Strong and gone are one-sided, fair and faint reach half way to their neighbours."""
    assert ((0.85 + 0.55) / 2, AT_LEAST, 0.15) == pytest.approx(strength_row(SCALES, "strong"))
    assert ((0.03 + 0.2) / 2, AT_MOST, 0.15) == pytest.approx(strength_row(SCALES, "gone"))
    assert TWO_SIDED == strength_row(SCALES, "fair")[1]


@pytest.mark.parametrize(
    ("factor", "word"),
    [(0.8, "thins"), (1.0, "none"), (1.2, "slight"), (1.5, "moderate"), (5.0, "fast"), (9.0, "fast")],
)
def test_factors_and_words(factor: float, word: str) -> None:
    """A factor is told by the word in whose range it lies; none says that it seizes, only a minute does."""
    assert word == speed_word(SCALES, factor)
    assert "seizes" == speed_word(SCALES, factor, at_once=True)


@pytest.mark.parametrize(("left", "word"), [(1.2, "strong"), (0.5, "fair"), (0.2, "faint"), (-0.3, "gone")])
def test_fractions_and_words(left: float, word: str) -> None:
    """A fraction left is told by the nearest word."""
    assert word == strength_word(SCALES, left)


def browned(planned: str, covering: float, load: float) -> str:
    """The hex code of a portion of a planned colour at a load."""
    absorb = ks_from_reflectance(linear_from_hex(planned)) * covering
    return hex_from_lab(browned_lab(Paint(absorb, np.array(covering)), np.array(load)))


@pytest.mark.parametrize("planned", ["#f4efe1", "#a9b08a", "#90a7cb"])
@pytest.mark.parametrize("load", [0.0005, 0.0015, 0.003])
def test_a_hex_code_gives_its_browning_back(planned: str, load: float) -> None:
    """The colour that the laws give at a load is read back as that load, within its own width."""
    look = HexLook(0, "x", browned(planned, 2.0, load), planned, 2.0, True, {("a", ""): 0.03}, "n")
    (row,) = rows_of([look])
    assert abs(row.value - math.log(load)) < 2 * row.sd


def test_a_hex_code_that_hides_its_browning_says_nothing() -> None:
    """On black, and where no browning explains the colour, nothing is said."""
    hidden = HexLook(0, "x", browned("#1c1b1a", 5.0, 0.001), "#1c1b1a", 5.0, True, {("a", ""): 0.03}, "n")
    strange = replace(hidden, planned="#f4efe1", covering=1.0, seen="#3a6ea8")
    assert all(row.side != TWO_SIDED for row in rows_of([hidden]))
    assert [] == list(rows_of([strange]))
    assert [] == list(rows_of([]))


def test_a_look_at_one_portion_never_moves_an_oil_that_was_not_in_it() -> None:
    """Over random books of looks: one more look leaves every oil that its portion did not hold as it was."""
    rng = np.random.default_rng(11)
    names = ["a", "b", "c", "d"]
    shelf = shelf_of([oil(name) for name in names], SCALES)
    for _ in range(6):
        cups = {
            f"cup {n}": {
                name: float(g) for name, g in zip(names, rng.integers(0, 3, 4) * 4.0, strict=True) if g
            }
            for n in range(3)
        }
        bands = ["cream", "beige", "tan", "brown"]
        seen = {cup: Seen(colour=str(rng.choice(bands))) for cup in cups}
        before = [batch(1, cups, {cup: seen[cup] for cup in list(cups)[:2]}), batch(2, cups, seen)]
        after = [batch(1, cups, seen), batch(2, cups, seen)]
        held = cups["cup 2"]
        one, other = learn(before, shelf).oils, learn(after, shelf).oils
        for name in set(one) & set(other) - set(held):
            assert one[name].browning == other[name].browning


def test_another_lot_closes_no_unknown() -> None:
    """Vanillin blank: looks at lot A leave a bottle of lot B open; at its own lot, or two that agree, not."""
    blank = {"browns to": None, "acceleration": None, "after six weeks": None}
    looks = {"x": Seen(colour="tan")}
    for lots, bottle, closed in [
        (("A", "A", "A"), "B", False),
        (("A", "A", "A"), "A", True),
        (("A", "A", "A"), None, False),
        (("A", "C", "A"), "B", True),
    ]:
        shelf = shelf_of([oil("a", lot=bottle, **blank)], SCALES)
        batches = [batch(n, {"x": {"a": 12.0}}, looks, lot=lot) for n, lot in enumerate(lots, 1)]
        found = traits(shelf, learn(batches, shelf).oils["a"], "a")
        assert found.browner.known == closed, (lots, bottle)
        assert found.seen_browning == closed
        assert ("vanillin" in found.missing_browner) != closed


def test_what_another_lot_showed_ranks_lower_and_is_wider() -> None:
    """With the colour stated for this bottle, looks at another lot count, a rank lower, with more doubt."""
    looks = {"x": Seen(colour="brown")}
    found = {}
    for bottle in ("A", "B"):
        shelf = shelf_of([oil("a", lot=bottle)], SCALES)
        batches = [batch(n, {"x": {"a": 12.0}}, looks, lot="A") for n in (1, 2)]
        learned = learn(batches, shelf).oils["a"]
        assert learned.browning is not None
        found[bottle] = (traits(shelf, learned, "a").browner.evidence, learned.browning.sd)
    assert ("own batch", "own batch of another lot") == (found["A"][0], found["B"][0])
    assert found["B"][1] > found["A"][1]


def test_a_look_that_is_set_aside_moves_nothing() -> None:
    """A look whose note says that it teaches nothing leaves every oil as the other looks have it."""
    shelf = shelf_of([oil("a")], SCALES)
    first, wrong = (
        batch(n, {"x": {"a": 12.0}}, {"x": Seen(colour=c)}) for n, c in ((1, "beige"), (2, "brown"))
    )
    aside = replace(wrong, looks=tuple(replace(look, teaches=False) for look in wrong.looks))
    alone, both, without = (
        learn(each, shelf).oils["a"] for each in ([first], [first, wrong], [first, aside])
    )
    assert alone.browning == without.browning
    assert both.browning != without.browning


@pytest.mark.parametrize(
    ("was", "now", "told", "beyond"),
    [
        ("slight", "moderate", ("none", "slight", "moderate", "fast"), ("moderate", "fast")),
        ("fast", "slight", ("none", "slight", "fast", "seizes"), ("none", "slight")),
        (None, "slight", ("none", "fast"), ("none", "fast")),
    ],
)
def test_who_speaks_for_a_new_word(
    was: str | None, now: str, told: tuple[str, ...], beyond: tuple[str, ...]
) -> None:
    """Batches on the new word's side of the old one; all of them where there was none."""
    change = Change("lime", "acceleration", was, now, 0, told, 4, 4, None, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    assert beyond == change.beyond
    assert len(beyond) == change.supporting
