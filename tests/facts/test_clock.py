"""The clock of a pour, worked by hand.

Jobs take ½ min to split, 1 min to colour, 1 min to scent and 1 min to pour a portion (judgement); a column
pour takes 8 minutes for two portions and 20 for eight (common practice).
"""

from __future__ import annotations

from dataclasses import replace

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


def test_layers_have_their_own_deadlines() -> None:
    """A sequential pour: each layer is scented in its turn and must be fluid until it is poured."""
    s = poured(("pour: column", "pour: flat layers"))
    minutes = value(s, "pour minutes")
    starts = [6 + k * minutes for k in range(4)]
    assert values(s, "scented at") == pytest.approx(starts)
    assert values(s, "minutes needed") == pytest.approx([2, 2, 2, 2])


def test_how_thick_the_layer_below_is_by_hand() -> None:
    """A layer's thickness is its age over the batter's time, q times as quick once scented; at most 1."""
    s = poured(("pour: column", "pour: flat layers"), ("stays fluid: 25 min", "stays fluid: 25 to 200 min"))
    minutes = value(s, "pour minutes")
    q = values(s, "thickening")
    now = [6 + k * minutes + 1 for k in range(4)]
    below = [(6 + (k - 1) * minutes + (now[k] - 6 - (k - 1) * minutes) * q[k - 1]) / 200 for k in range(1, 4)]
    assert [False, True, True, True] == asked(s, "layer below")
    assert list(column(s, "layer below").low[1:]) == pytest.approx(below)
    assert value(s, "thickness that carries") == 0.6
    assert [False] * 4 == asked(poured(), "layer below")


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
