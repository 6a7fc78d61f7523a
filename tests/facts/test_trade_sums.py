"""The trade's own tables, through whole plans.

Every figure here is *derived*: arithmetic from a stated lye concentration, lye of 14 % of the oils and a
cure loss of 12 % (common practice), rounded to the digits that stand in the tables.
"""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.facts.situation.worked_out import Situation
from tests.facts.small import book, value, values, worked

FLAT = """\
plan: flat
recipe:
  oils: {{olive: 1000 g}}
  lye: {{NaOH: 140 g, water: {water} g}}
process: {{cure loss: 12 %}}
portions: [{{name: all, share: 100 %}}]
scents: {{blend: {{lime: 1}}, load: "{load}"}}
"""
NO_CURE = FLAT.replace("process: {{cure loss: 12 %}}\n", "")


def flat(load: str = "4 % of batch oils", lye: float = 0.33) -> Situation:
    """1000 g of oils, 140 g of lye at a concentration, one portion, one scent."""
    return worked(FLAT.format(load=load, water=140 * (1 - lye) / lye))


@pytest.mark.parametrize(
    ("on_oils", "on_batter", "in_bar"),
    [(2, 1.39, 1.62), (3, 2.06, 2.41), (4, 2.73, 3.19), (5, 3.39, 3.95), (6, 4.04, 4.70), (6.25, 4.20, 4.89)],
)
def test_one_dose_on_three_bases(on_oils: float, on_batter: float, in_bar: float) -> None:
    """Per cent of oils, of wet batter and of the bar dried to 6 % water are one dose at 33 % lye (derived).

    By hand: 4 % is 40 g in 1000 + 140 + 40 g of solids, and those are 94 % of the bar: 40 ÷ 1255.3 = 3.19 %.
    """
    s = flat(f"{on_oils} % of batch oils")
    assert on_oils / 100 == pytest.approx(value(s, "scent rate"))
    assert on_batter == pytest.approx(100 * value(s, "scent of portion batter"), abs=0.006)
    assert in_bar == pytest.approx(100 * value(s, "scent in bar"), abs=0.006)


@pytest.mark.parametrize(
    ("typed", "per_cent"),
    [("0.3 oz ppo", 1.9), ("0.5 oz ppo", 3.1), ("0.7 oz ppo", 4.4), ("0.8 oz ppo", 5.0), ("1 oz ppo", 6.25),
     ("31 g per kg of oils", 3.1)],
)  # fmt: skip
def test_ounces_per_pound_are_per_cents_of_oils(typed: str, per_cent: float) -> None:
    """An ounce per pound of oils is 6.25 % of oils, and so on down (derived: sixteen ounces a pound)."""
    assert per_cent == pytest.approx(100 * value(flat(typed), "scent rate"), abs=0.05)


def test_a_limit_read_on_the_wrong_basis() -> None:
    """A limit in the bar taken as per cent of oils errs to the safe side, by about 0.80; of batter, not."""
    s = flat("3.42 % of batch oils")
    assert value(s, "share in bar") / 0.0342 == pytest.approx(0.80, abs=0.01)
    assert value(flat("3.42 % of batch batter"), "limit used") > 1 > value(s, "limit used")


def test_the_sum_rule_on_its_worked_example() -> None:
    """40 % of an oil limited to 3.42 % with 60 % of one limited to 25 %: 7.09 % of the bar (derived)."""
    text = FLAT.format(load="6 % of batch oils", water=300).replace("{lime: 1}", "{lime: 40 %, cedar: 60 %}")
    s = worked(text)
    assert value(s, "scent in bar") / value(s, "limit used") == pytest.approx(0.0709, abs=0.00005)


@pytest.mark.parametrize(("carrier", "superfat"), [(3, 6.1), (5, 6.9), (10, 8.7), (15, 10.5), (30, 15.3)])
def test_a_carrier_raises_the_portion_s_superfat(carrier: int, superfat: float) -> None:
    """Oil mixed into 350 g of batter planned at 5 %, at 33 % lye, raises its superfat as tabled (derived)."""
    text = f"""\
plan: carrier
recipe:
  oils: {{mean: 1000 g}}
  lye: {{concentration: 33 %, superfat: 5 %}}
portions:
  - {{name: coloured, share: 350 g, mixed in: {{mean: {carrier} g}}}}
  - {{name: plain, share: the rest}}
"""
    mean = book(oils="mean: {saponification: 206.7, hardness: liquid}\n")  # takes lye of 14 % of oils
    coloured, plain = values(worked(text, mean), "portion superfat")
    assert superfat == pytest.approx(100 * coloured, abs=0.06)
    assert plain == pytest.approx(0.05)


@pytest.mark.parametrize(
    ("lye", "water_to_lye", "water_of_oils", "batter_to_oils", "in_batter"),
    [
        (25, 3.00, 42, 1.560, 26.9),
        (28, 2.57, 36, 1.500, 24.0),
        (30, 2.33, 33, 1.467, 22.3),
        (33, 2.03, 28, 1.424, 20.0),
        (36, 1.78, 25, 1.389, 17.9),
        (40, 1.50, 21, 1.350, 15.6),
        (50, 1.00, 14, 1.280, 10.9),
    ],
)
def test_water_stated_in_four_ways(
    lye: float, water_to_lye: float, water_of_oils: float, batter_to_oils: float, in_batter: float
) -> None:
    """Concentration, parts of water, per cent of oils and batter over oils say one thing (derived)."""
    s = worked(NO_CURE.format(load="4 % of batch oils", water=140 * (100 - lye) / lye))
    assert lye / 100 == pytest.approx(value(s, "lye concentration"))
    assert water_to_lye == pytest.approx(value(s, "water") / value(s, "sodium hydroxide"), abs=0.005)
    assert water_of_oils == pytest.approx(100 * value(s, "water") / value(s, "oils mass"), abs=0.5)
    assert batter_to_oils == pytest.approx(value(s, "batter mass") / value(s, "oils mass"), abs=0.0006)
    assert in_batter == pytest.approx(100 * value(s, "water in batter"), abs=0.06)


@pytest.mark.parametrize("way", ["concentration: 33 %", "water to lye: 2.0303", "water of oils: 26.09 %"])
def test_water_comes_out_the_same_whichever_way_it_is_stated(way: str) -> None:
    """The same recipe, its water typed in three ways, takes the same water (derived)."""
    text = f"""\
plan: water
recipe: {{oils: {{olive: 1000 g}}, lye: {{superfat: 5 %, {way}}}}}
portions: [{{name: all, share: 100 %}}]
"""
    assert value(worked(text), "water") == pytest.approx(261.25, abs=0.5)


def test_the_need_for_lye_by_hand() -> None:
    """Need, superfat, purity: olive 190, coconut by its lot 258 mg KOH/g, 0.7129 g NaOH a gram (derived)."""
    text = """\
plan: lye
recipe:
  oils: {olive: 700 g, coconut: 300 g}
  lye: {concentration: 30 %, superfat: 5 %, purity: 98 %}
  additives: {citric acid: 10 g}
portions: [{name: all, share: 100 %}]
"""
    s = worked(text)
    need = (700 * 0.190 + 300 * 0.258) * 39.9971 / 56.1056
    acid = 10 * 3 * 39.9971 / 192.124
    table = 3e-5  # the table of additives gives an acid's mol per kg in four figures
    assert value(s, "lye needed") == pytest.approx(need + acid, rel=table)
    assert value(s, "sodium hydroxide") == pytest.approx((need * 0.95 + acid) / 0.98, rel=table)
    assert value(s, "superfat") == pytest.approx(0.05)
    low = (700 * 0.184 + 300 * 0.248) * 39.9971 / 56.1056
    assert value(s, "superfat at the low end") == pytest.approx(1 - 0.95 * need / low, rel=1e-3)
    assert value(s, "superfat error of the lye scale") == pytest.approx(0.5 * 0.98 / need, rel=table)


def test_a_figure_for_koh_is_suspected() -> None:
    """NaOH of 1.40 times the need is told from an ordinary figure (derived: the ratio of molar masses)."""
    plan = "plan: k\nrecipe: {{oils: {{olive: 1000 g}}, lye: {{NaOH: {0} g, water: 300 g}}}}\n"
    plan += "portions: [{{name: all, share: 100 %}}]\n"
    mixed_up, right = worked(plan.format(190)), worked(plan.format(129))
    assert [1.0, 0.0] == [value(mixed_up, "lye looks like KOH"), value(right, "lye looks like KOH")]
    assert value(mixed_up, "lye to need") == pytest.approx(56.1056 / 39.9971)


LOAF = """\
plan: loaf
recipe:
  oils: {{olive: 45 %, coconut: 25 %, sunflower: 30 %}}
  amount: {{mould: loaf, inside: 25.4 x 8.9 x 6.35 cm, bars: 10}}
  lye: {{concentration: 33 %, superfat: {superfat} %}}
portions: [{{name: all, share: 100 %}}]
{scents}
"""


def test_a_loaf_is_filled_as_in_the_worked_example() -> None:
    """A loaf of 1435 mL at 33 % lye takes 1018 g of oils, and 983 g with scent at 5 % of oils (derived)."""
    scents = "scents: {blend: {lime: 1}, load: 5 % of batch oils}"
    plain = worked(LOAF.format(superfat=4.2, scents=""))
    scented = worked(LOAF.format(superfat=4.2, scents=scents))
    assert value(plain, "oils mass") == pytest.approx(1018, rel=0.005)
    assert value(scented, "oils mass") == pytest.approx(983, rel=0.005)


def test_the_maker_s_own_multiplier_outranks_density() -> None:
    """0.40 oz of oils a cubic inch is 0.692 g a mL, where the maker states it (common practice)."""
    s = worked(LOAF.format(superfat=5, scents=""), book(usual="oils per volume: 0.692\n"))
    assert value(s, "oils mass") == pytest.approx(0.692 * 25.4 * 8.9 * 6.35)


def test_losses_in_pot_and_cups_are_made_up_for() -> None:
    """With 2 % left in the pot and 1 % in the cups the mould is still full (common practice)."""
    lossy = worked(LOAF.format(superfat=5, scents=""), book(usual="pot loss: 2 %\ncup loss: 1 %\n"))
    plain = worked(LOAF.format(superfat=5, scents=""), book(usual="hands: 1\n"))
    assert value(lossy, "oils mass") * 0.98 * 0.99 == pytest.approx(value(plain, "oils mass"))


def test_embeds_leave_less_room() -> None:
    """103 g of embeds take up 100 mL of the mould (density from memory)."""
    embeds = "embeds: [{what: cubes, mass: 103 g, scents: {}}]"
    plain, full = worked(LOAF.format(superfat=5, scents="")), worked(LOAF.format(superfat=5, scents=embeds))
    volume = 25.4 * 8.9 * 6.35
    assert value(full, "oils mass") / value(plain, "oils mass") == pytest.approx(1 - 100 / volume)


def test_bars_share_the_finished_batch() -> None:
    """One of ten bars weighs a tenth of what is left after cure, scent in it (derived)."""
    s = worked(LOAF.format(superfat=5, scents="scents: {blend: {lime: 1}, load: 5 % of batch oils}"))
    oils, lye, water = (value(s, name) for name in ("oils mass", "sodium hydroxide", "water"))
    whole = (oils + lye + water) * 0.88 + 0.05 * oils
    assert value(s, "finished mass") == pytest.approx(whole)
    assert value(s, "bar mass") == pytest.approx(whole / 10)


@pytest.mark.parametrize(
    ("lye", "to_ten", "to_six"),
    [(25, 18, 21), (28, 15, 18), (30, 13, 17), (33, 10, 14), (36, 8, 12), (40, 6, 10)],
)
def test_cure_loss_and_what_water_is_left(lye: float, to_ten: float, to_six: float) -> None:
    """The tabled losses leave 10 and 6 % of water in a bar with scent at 5 % of oils (derived)."""
    water = 140 * (100 - lye) / lye
    wet = 1140 + water
    for loss, residual in ((to_ten, 0.10), (to_six, 0.06)):
        of_soap = (
            f"cure loss: {loss * (wet + 50) / wet:.4f} %"  # the table counts the scent, cure loss does not
        )
        text = FLAT.format(load="5 % of batch oils", water=water).replace("cure loss: 12 %", of_soap)
        s = worked(text)
        cured = value(s, "finished mass")
        left = value(s, "water left") * (cured - 50) / cured
        assert left == pytest.approx(residual, abs=0.006)


def test_portions_by_hand() -> None:
    """Every line of the portion arithmetic, with 2 % left in the pot (derived)."""
    text = """\
plan: hand
recipe:
  oils: {olive: 1000 g}
  lye: {NaOH: 130 g, water: 270 g}
  additives: {sugar: 10 g}
process: {cure loss: 12 %}
portions:
  - {name: white, share: 40 %, colourants: {white: 1 % of portion oils}}
  - {name: plain, share: 60 %, mixed in: {olive: 6 g}}
scents: {blend: {tonka: 1}, load: 3 % of batch oils}
doses: {white: {tonka: none}}
"""
    s = worked(text, book(usual="pot loss: 2 %\n"))
    batter, oils = 1410 * 0.98, 1000 * 0.98
    assert values(s, "portion oils") == pytest.approx([0.4 * oils, 0.6 * oils])
    assert values(s, "portion mass") == pytest.approx([0.4 * batter + 0.004 * oils, 0.6 * batter + 6])
    scent = 0.03 * oils  # all of it in the second portion: the same total as a fully scented batch
    assert s.x == pytest.approx(np.array([[0.0, scent]]))
    assert values(s, "scent rate") == pytest.approx([0.0, 0.03 / 0.6])
    load = scent * 0.08 / (0.6 * batter + 6 + scent)  # vanillin 7 % and ethyl vanillin 1 %
    assert values(s, "browning load") == pytest.approx([0.0, load])
    bar = (1130 * 0.98 + 10 * 0.98 + 0.004 * oils + 6 + scent) / 0.94  # dried to 6 % water
    assert value(s, "scent in bar") == pytest.approx(scent / bar)
    assert value(s, "limit used") == pytest.approx(scent / bar / 0.091)


def test_one_third_scented_keeps_the_total_or_the_dose() -> None:
    """5 % in a third of the batter is a local 15 % for the same total, 5 % for the same dose (derived)."""
    plan = FLAT.format(load="5 % of batch oils", water=300).replace(
        "portions: [{name: all, share: 100 %}]",
        "portions: [{name: third, share: 1 part}, {name: rest, share: 2 parts, scented: no}]",
    )
    same_dose = plan.replace('load: "5', 'dosing: same dose in each scented portion, load: "5')
    assert values(worked(plan), "scent rate") == pytest.approx([0.15, 0.0])
    assert values(worked(plan), "times the load") == pytest.approx([3.0, 0.0])
    assert values(worked(same_dose), "scent rate") == pytest.approx([0.05, 0.0])


@pytest.mark.parametrize(
    ("dose", "vanillin", "load"), [(3, 1, 0.02), (3, 10, 0.21), (5, 3, 0.10), (5, 10, 0.34), (6, 15, 0.61)]
)
def test_the_load_of_browners_in_the_portion(dose: float, vanillin: float, load: float) -> None:
    """Dose times vanillin content is the load on batter, as tabled at 33 % lye (derived)."""
    text = FLAT.format(load=f"{dose} % of batch oils", water=140 * 0.67 / 0.33)
    s = worked(text, book(scents=f"lime: {{vanillin: {vanillin} %}}\n"))
    assert load == pytest.approx(100 * value(s, "browning load"), abs=0.006)
