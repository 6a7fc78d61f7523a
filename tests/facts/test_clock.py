"""The clock of a pour, worked by hand.

Jobs take ½ min to split, 1 min to colour, 1 min to scent and 1 min to pour a portion (judgement); a column
pour takes 8 minutes for two portions and 20 for eight (common practice).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Dimension, parse_amount
from tests.facts.small import asked, bent, book, column, in_table, small_book, spoken, value, values, worked

ONE_EACH = """\
doses:
  milk: {lime: none, cedar: none, tonka: none}
  sage: {lime: all of it, cedar: none, tonka: none}
  brick: {lime: none, cedar: all of it, tonka: none}
  soil: {lime: none, cedar: none, tonka: all of it}
"""


def poured(*changes: tuple[str, str]) -> Situation:
    """The morning plan with one oil in each of three portions."""
    return worked(bent(*changes) + ONE_EACH)


def test_an_interleaved_pour_by_hand() -> None:
    """Four portions, one pair of hands: slots at 6, 7, 8, 9 min, end at 18, quickest portion last."""
    s = poured()
    assert value(s, "minutes before scenting") == 4 * 1.5
    assert value(s, "pour minutes") == pytest.approx(8 + 2 / 6 * 12)
    # lime none (1 to 1.1), cedar slight (1.1 to 1.5) at 5 %, tonka moderate (1.5 to 3) at 4 %: the middles
    oils = [350, 250, 250, 150]
    lime = 1 + 0.05 * (20 / oils[1]) / 0.04
    cedar = 1 + 0.3 * (10 / oils[2]) / 0.05
    tonka = 1 + 1.25 * (10 / oils[3]) / 0.04
    assert values(s, "thickening") == pytest.approx([1, lime, cedar, tonka])
    assert values(s, "scented at") == pytest.approx([6, 7, 8, 9])
    until = [25, 7 + 18 / lime, 8 + 17 / cedar, 9 + 16 / tonka]
    assert values(s, "fluid until") == pytest.approx(until)
    assert values(s, "minutes needed") == pytest.approx([12, 11, 10, 9])
    assert values(s, "minutes fluid") == pytest.approx([19, until[1] - 7, until[2] - 8, until[3] - 9])


def test_the_maker_s_own_order_stands() -> None:
    """An order in the plan outranks the cautious one; portions it does not name follow."""
    s = poured(("pour: column", "pour: column\norder: [soil, milk]"))
    assert values(s, "scented at") == pytest.approx([7, 8, 9, 6])


def test_two_pairs_of_hands_begin_sooner() -> None:
    """One splits while the other colours; two portions are scented at a time."""
    s = worked(bent() + ONE_EACH, book(usual="hands: 2\n"))
    assert value(s, "minutes before scenting") == 0.5 + 3 * 1 + 1
    assert values(s, "scented at") == pytest.approx([4.5, 4.5, 5.5, 5.5])


def test_past_its_time_a_portion_is_thick() -> None:
    """Batter that stays fluid for five minutes is thick before the first scenting: no minutes are left."""
    s = poured(("stays fluid: 25 min", "stays fluid: 5 min"))
    assert values(s, "minutes fluid") == [0, 0, 0, 0]
    assert values(s, "fluid until") == [5, 5, 5, 5]


def test_the_recipe_s_class_steps_in() -> None:
    """Without a stated time the low end of the recipe's class counts, twice as long 10 °C cooler."""
    still = (", stays fluid: 25 min", "")
    mild, cool = (poured(still, ("33 °C", warmth)) for warmth in ("33 °C", "23 °C"))
    assert value(cool, "unscented minutes") == pytest.approx(2 * value(mild, "unscented minutes"))
    assert value(mild, "unscented minutes") == pytest.approx(8 * 2 ** ((43 - 33) / 10))  # ordinary: 8 to 15


def test_a_rulebook_s_own_minutes_count() -> None:
    """The minutes of a class are the rulebook's: twice as slow there is twice as slow here."""
    files = small_book()
    ordinary = files.scales.fluid["ordinary"]
    slower = ordinary.model_copy(
        update={"minutes": parse_amount("16 to 30 min", Dimension.TIME, ranges=True)}
    )
    scales = files.scales.model_copy(update={"fluid": {**files.scales.fluid, "ordinary": slower}})
    text = bent((", stays fluid: 25 min", ""))
    usual, own = worked(text), worked(text, replace(files, scales=scales))
    assert value(own, "unscented minutes") == pytest.approx(2 * value(usual, "unscented minutes"))


LAYERS = ("pour: column", "pour: flat layers")


def test_layers_have_their_own_deadlines() -> None:
    """Bottom first: a layer waits until the one below carries it (0.6 of 25 min), then has two minutes."""
    s = poured(LAYERS)
    assert values(s, "scented at") == pytest.approx([6, 14, 16, 18])
    assert values(s, "minutes needed") == pytest.approx([2, 2, 2, 2])


def test_a_slow_batter_is_not_waited_for_beyond_the_style() -> None:
    """Flat layers wait at most 20 minutes: with 200 fluid minutes the layer below does not carry yet."""
    s = poured(LAYERS, ("stays fluid: 25 min", "stays fluid: 200 min"))
    assert values(s, "scented at") == pytest.approx([6, 26, 46, 66])
    assert value(s, "layer below", 1) < value(s, "thickness that carries")


def test_how_thick_the_layer_below_is_by_hand() -> None:
    """A layer's thickness is its age over the batter's time, q times as quick once scented; at most 1."""
    s = poured(LAYERS)
    q, at = values(s, "thickening"), values(s, "scented at")
    below = [min(1, (at[k - 1] + (at[k] + 1 - at[k - 1]) * q[k - 1]) / 25) for k in range(1, 4)]
    assert [False, True, True, True] == asked(s, "layer below")
    assert list(column(s, "layer below").low[1:]) == pytest.approx(below)
    assert value(s, "thickness that carries") == 0.6
    assert [False] * 4 == asked(poured(), "layer below")


def test_a_scent_on_top_never_shortens_the_layers_below() -> None:
    """The quickest oil moved into the top layer: no minute of the layers below it changes."""
    scented = poured(LAYERS)
    bare = scented.with_doses(scented.x * np.array([1, 1, 1, 0]))
    assert column(scented, "thickening").low[3] > column(bare, "thickening").low[3] == 1
    for name in ("scented at", "minutes needed", "minutes fluid", "fluid until"):
        assert list(column(bare, name).low[:3]) == pytest.approx(list(column(scented, name).low[:3]))


def test_a_top_that_is_thick_on_purpose_has_no_deadline() -> None:
    """A piped top: the layers below must pour, the last portion need not; and it alone is on top."""
    s = poured(("pour: column", "pour: piped top"))
    assert asked(s, "minutes needed") == [True, True, True, False]
    assert [spoken(s, "on top", p) for p in range(4)] == ["no", "no", "no", "yes"]
    assert asked(poured(), "on top") == [False] * 4


def test_the_maker_s_own_minutes_a_cup() -> None:
    """What usual.yaml says of a job stands; the rest is as usual."""
    s = worked(bent() + ONE_EACH, book(usual="hands: 1\nminutes a cup: {split: 2 min, scent: 0.5 min}\n"))
    assert value(s, "minutes before scenting") == 4 * 3
    assert values(s, "scented at") == pytest.approx([12, 12.5, 13, 13.5])


def test_doubt_about_the_minutes_by_hand() -> None:
    """A typed 25 min is 17.5 to 35 from day to day, jobs 1½ times either way, words by their own ends."""
    s = poured()
    found = column(s, "minutes fluid")
    least, most = found.outer
    assert least[0] == pytest.approx(17.5 - 9)  # milk is unscented, its slot at 6 min may come at 9
    assert most[0] == pytest.approx(35 - 4)
    needed = column(s, "minutes needed").outer
    assert (needed[0][0], needed[1][0]) == pytest.approx((8, 20))


def test_where_fats_have_set_no_minutes_are_told() -> None:
    """At 5 °C the coconut and shea of the recipe have set: no minutes, whatever figure was typed."""
    s = poured(("batter at split: 33 °C", "batter at split: 5 °C"))
    assert asked(s, "minutes fluid") == [False] * 4
    assert asked(s, "minutes needed") == [False] * 4


def test_a_cloudy_batter_has_wider_minutes() -> None:
    """Between where the fats set and where they are clear, the cautious end is shorter, down to a half."""
    clear, cloudy = poured(), poured(("batter at split: 33 °C", "batter at split: 24 °C"))
    sets, melts = (value(cloudy, name) for name in ("setting temperature", "clear temperature"))
    assert sets < 24 < melts
    part = (melts - 24) / (melts - sets)
    assert column(clear, "unscented minutes").outer[0][0] == pytest.approx(17.5)
    assert column(cloudy, "unscented minutes").outer[0][0] == pytest.approx(17.5 * (1 - part / 2))


@pytest.mark.parametrize(("evidence", "outranks"), [("own batch", True), ("supplier", False), ("", False)])
def test_an_own_pour_outranks_the_fats_and_a_guess_does_not(evidence: str, outranks: bool) -> None:
    """`fluid at: 12 °C` by an own batch brings both points down to it; a bare guess does nothing."""
    said = f"fluid at: {{at: 12 °C, evidence: {evidence}}}" if evidence else "fluid at: 12 °C"
    s, plain = poured(("gel: avoid", f"gel: avoid, {said}")), poured()
    for name in ("setting temperature", "clear temperature"):
        assert (value(s, name) == 12) == outranks
        assert (value(s, name) == value(plain, name)) != outranks
        assert not outranks or column(s, name).outer[1][0] == 12


def test_a_scent_that_seizes_has_no_minutes() -> None:
    """Seizing is a gate: the portion that holds it has no fluid minutes, the others keep theirs."""
    found = poured()
    found.traits[0] = replace(found.traits[0], seizes="yes")
    held = found.presence[0]
    assert asked(found, "minutes fluid") == [not here for here in held]


def test_without_a_pour_the_clock_is_not_asked() -> None:
    """No pour: no minutes, and any two portions may touch."""
    s = poured(("pour: column\n", ""))
    for name in ("minutes fluid", "minutes needed", "fluid until", "scented at", "layer below"):
        assert [False] * 4 == asked(s, name)
    assert "pour" in {m.fact for m in column(s, "pour minutes").missing[0]}
    assert len(in_table(s, "edge", "planned contrast")) == 6


def test_an_oil_nobody_described_leaves_the_end_open() -> None:
    """Its portion is fluid until its scenting at least, and no longer than unscented batter."""
    s = worked(bent(("{tonka: 1, lime: 2, cedar: 1}", "{found: 1}")))
    until = column(s, "fluid until")
    assert list(until.low) == values(s, "scented at")
    assert list(until.high) == [25, 25, 25, 25]
    assert {("found", "acceleration")} == {(m.subject, m.fact) for gap in until.missing.values() for m in gap}
    assert column(s, "minutes fluid").low == pytest.approx([0, 0, 0, 0])


def test_a_figure_on_an_edge_is_on_one_side_of_it() -> None:
    """30 % of lye speaks for a slow recipe, however its grams round."""
    for oils in (252, 254, 1000, 1001.7):
        text = (
            f"plan: edge\nrecipe: {{oils: {{olive: {oils} g}}, lye: {{concentration: 30 %, superfat: 5 %}}}}"
        )
        assert spoken(worked(text + "\nportions: [{name: a, share: 100 %}]\n"), "recipe speed") == "slow"


def test_the_layer_below_carries_its_doubt() -> None:
    """What a batter, hands and scents may be stands about the layer below too, and holds the middle."""
    s = poured(LAYERS, ("stays fluid: 25 min", "stays fluid: 18 to 60 min"))
    found = column(s, "layer below")
    assert found.least is not None
    assert found.most is not None
    assert (found.least[1:] <= found.low[1:]).all()
    assert (found.most[1:] >= found.high[1:]).all()
    assert found.least[1] < found.most[1]
