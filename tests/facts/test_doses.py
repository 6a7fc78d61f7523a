"""Doses: what the plan writes, and how what it leaves open is spread."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.facts.situation.worked_out import Situation
from blendwise.records import RecordError
from tests.facts.small import book, column, grams, value, worked

BASE = """\
plan: doses
recipe:
  oils: {olive: 1000 g}
  lye: {concentration: 31 %, superfat: 5 %}
portions:
  - {name: light, share: 50 %}
  - {name: mid, share: 30 %}
  - {name: dark, share: 20 %}
"""
SCENTS = "scents: {blend: {tonka: 1, lime: 3}, load: 4 % of batch oils}\n"
SAME_DOSE = SCENTS.replace("load:", "dosing: same dose in each scented portion, load:")


def dosed(more: str = "", scents: str = SCENTS) -> Situation:
    """The plan with its scents (10 g of tonka, 30 g of lime) and what else is written."""
    return worked(BASE + scents + more)


def row(s: Situation, scent: str) -> list[float]:
    """Grams of one scent, portion by portion."""
    return [float(g) for g in s.x[s.scents.index(scent)]]


def test_a_blend_left_open_is_spread_by_oils() -> None:
    """Nothing written: every portion gets the load, in the blend's parts."""
    s = dosed()
    assert row(s, "tonka") == pytest.approx([5, 3, 2])
    assert row(s, "lime") == pytest.approx([15, 9, 6])
    assert ("tonka", "lime") in [note.details.get("scents") for note in s.scenting.assumptions]


def test_never_moves_it_all_elsewhere() -> None:
    """What never allows a portion goes to the others, by their oils, total unchanged."""
    s = dosed("never: [{scent: tonka, in: light}]\n")
    assert row(s, "tonka") == pytest.approx([0, 6, 4])
    assert row(s, "lime") == pytest.approx([15, 9, 6])


def test_only_keeps_it_there() -> None:
    """What only keeps to one portion goes there whole."""
    assert row(dosed("only: [{scent: tonka, in: [dark]}]\n"), "tonka") == pytest.approx([0, 0, 10])


def test_a_portion_without_scent_gets_none() -> None:
    """`scented: no` keeps everything out."""
    s = worked(
        (BASE + SCENTS).replace("{name: light, share: 50 %}", "{name: light, share: 50 %, scented: no}")
    )
    assert row(s, "tonka") == pytest.approx([0, 6, 4])
    assert row(s, "lime") == pytest.approx([0, 18, 12])


@pytest.mark.parametrize(
    ("words", "share"),
    [
        ("all of it", 1),
        ("half of it", 1 / 2),
        ("a third of it", 1 / 3),
        ("a quarter of it", 1 / 4),
        ("none", 0),
    ],
)
def test_words_are_shares_of_the_total(words: str, share: float) -> None:
    """All, half, a third, a quarter, none of the oil's total; the rest is spread over the others."""
    s = dosed(f"doses: {{dark: {{tonka: {words}}}}}\n")
    left = 10 * (1 - share)
    assert row(s, "tonka") == pytest.approx([left * 5 / 8, left * 3 / 8, 10 * share])


@pytest.mark.parametrize(
    ("dose", "weighs"),
    [
        ("3.5 g", 3.5),
        ("0.1 oz", 2.8349523125),
        ("3 % of portion oils", 6.0),
        ("1 % of batch oils", 10.0),
        ("1 oz ppo of portion oils", 12.5),
    ],
)
def test_a_dose_in_any_unit(dose: str, weighs: float) -> None:
    """Grams, ounces and rates on every basis come to grams in a portion with 200 g of oils."""
    s = dosed(f"doses: {{dark: {{lime: {dose}}}}}\n")
    assert grams(s, "lime", "dark") == pytest.approx(weighs)
    assert sum(row(s, "lime")) == pytest.approx(30)


def test_a_dose_on_batter_holds_itself() -> None:
    """2 % of portion batter is 2 % of batter and scent together, if it is the only scent."""
    s = worked(BASE + SCENTS.replace("tonka: 1, ", "") + "doses: {dark: {lime: 2 % of portion batter}}\n")
    assert column(s, "scent of portion batter").low[2] == pytest.approx(0.02)


def test_a_load_on_batter_holds_itself() -> None:
    """4 % of batch batter is 4 % of batter and scent together."""
    s = dosed(scents=SCENTS.replace("of batch oils", "of batch batter"))
    total = float(s.x.sum())
    assert total / (value(s, "batter mass") + total) == pytest.approx(0.04)


def test_the_same_dose_fills_each_scented_portion() -> None:
    """Same dose: what one oil leaves open the others fill, and no portion gets more than the load."""
    s = dosed("never: [{scent: tonka, in: light}]\n", SAME_DOSE)
    assert row(s, "tonka") == pytest.approx([0, 3, 2])
    assert row(s, "lime") == pytest.approx([20, 9, 6])


def test_what_finds_no_place_is_said() -> None:
    """An oil kept out of every portion is not poured, and the plan is told so."""
    s = dosed("never: [{scent: tonka, in: [light, mid, dark]}]\n")
    assert row(s, "tonka") == [0, 0, 0]
    (left,) = [note.details for note in s.scenting.assumptions if note.kind == "no portion for it"]
    assert {"scent": "tonka", "grams": pytest.approx(10)} == left


def test_written_doses_may_fall_short_of_the_blend() -> None:
    """Doses written for every portion stand, and the blend's total is seen to be missed."""
    s = dosed("doses: {light: {tonka: 1 g}, mid: {tonka: 1 g}, dark: {tonka: 3 g}}\n")
    assert row(s, "tonka") == pytest.approx([1, 1, 3])
    assert column(s, "blend total met").low == pytest.approx([0.5, 1.0])


def test_a_variation_changes_its_own_doses_only() -> None:
    """A version within the batch: its doses on top of the plan's."""
    more = "doses: {dark: {tonka: all of it}}\nvariations: {soft: {doses: {dark: {lime: none}}}}\n"
    s = worked(BASE + SCENTS + more, variation="soft")
    assert row(s, "tonka") == pytest.approx([0, 0, 10])
    assert row(s, "lime") == pytest.approx([30 * 5 / 8, 30 * 3 / 8, 0])


def test_a_variation_that_is_not_there_is_refused() -> None:
    """The plan's own versions are named."""
    with pytest.raises(RecordError, match=r'no variation "loud".*none'):
        worked(BASE + SCENTS, variation="loud")


def test_no_load_anywhere_is_refused() -> None:
    """A blend without a load, and no usual one: nobody has said how much scent."""
    with pytest.raises(RecordError, match="does not say how much scent"):
        worked(BASE + SCENTS.replace(", load: 4 % of batch oils", ""))


def test_the_usual_load_and_dosing_step_in() -> None:
    """usual.yaml's load and way of dosing count where the plan says nothing."""
    usual = book(usual="load: 3 % of batch oils\ndosing: same dose in each scented portion\n")
    text = BASE + SCENTS.replace(", load: 4 % of batch oils", "") + "never: [{scent: lime, in: light}]\n"
    assert worked(text, usual).x.sum(axis=0) == pytest.approx(np.array([15, 9, 6]))


def test_oils_weighed_together_are_one_weighing() -> None:
    """Steps of the scale count the premix, not each oil in it (0.1 g a step)."""
    s = dosed("weigh together: [[tonka, lime]]\n")
    apart = dosed()
    assert column(s, "steps of the scale").low.reshape(2, 3)[0] == pytest.approx([200, 120, 80])
    assert column(apart, "steps of the scale").low.reshape(2, 3)[0] == pytest.approx([50, 30, 20])
