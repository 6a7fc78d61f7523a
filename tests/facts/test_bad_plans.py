"""Plans that cannot be worked out are refused with file, line and remedy, several at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.records import Fault, RecordError
from tests.facts.small import bent, book, value, worked

Change = tuple[str, str]
OILS = "{olive: 450 g, coconut: 250 g, shea: 100 g, sunflower: 200 g}"
CUBES = "process:", "embeds: [{what: cubes, mass: 5 g, scents: {lime: 9 g}}]\nprocess:"


def faults(*changes: Change, usual: str = "hands: 1\n") -> tuple[Fault, ...]:
    """What is said against the morning plan, bent so."""
    with pytest.raises(RecordError) as caught:
        worked(bent(*changes), book(usual=usual))
    return caught.value.faults


@pytest.mark.parametrize(
    ("change", "line", "said"),
    [
        (("share: 35 %", "share: 0 %"), 9, "is nothing"),
        (("share: 35 %", "share: 0 parts"), 9, "is nothing"),
        (("share: 35 %", "share: 60 %"), 9, "110 %"),
        (("share: 35 %", "share: 3000 g"), 9, "already take"),
        (("gel: avoid", "cure loss: 40 %"), 6, "more water than there is"),
        (("concentration: 31 %", "concentration: 55 %"), 5, "at most 50 %, not 55 %"),
        (("concentration: 31 %, superfat: 5 %", "NaOH: 200 g, water: 100 g"), 5, "not 66.67 %"),
        (("concentration: 31 %", "water to lye: 0.5"), 5, "not 66.67 %"),
        (("concentration: 31 %", "water of oils: 5 %"), 5, "at most 50 %"),
        (("concentration: 31 %", "concentration: 0 %"), 5, "cannot be nothing"),
        (("concentration: 31 %, ", ""), 5, "water is not stated"),
        ((", superfat: 5 %", ""), 5, "neither a superfat nor a mass"),
        (("superfat: 5 %", "superfat: 100 %"), 5, "no plausible figure for a superfat"),
        (("superfat: 5 %", "superfat: 5 %, purity: 0 %"), 5, "a purity of lye cannot be nothing"),
        (("stays fluid: 25 min", "stays fluid: 0 min"), 6, "no time"),
        (("stays fluid: 25 min", "stays fluid: -5 min"), 6, "negative"),
        (("olive: 450 g", "olive: -450 g"), 4, "negative"),
        (("olive: 450 g", "olive: 450000 kg"), 4, "absurd"),
        (("load: 4 %", "load: 400 %"), 15, "more than 100 %"),
        (("mixed in: {sunflower: 4 g}", "mixed in: {sunflower: -4 g}"), 10, "negative"),
        (("lye: {", "held back: {olive: {milk: 900 g}}\n  lye: {"), 5, "but the recipe has 450 g"),
        (CUBES, 6, 'more scent in "cubes" (9 g) than it weighs'),
        (("black: 0.6 % of portion oils", "clay: 1 tsp"), 12, "nobody has weighed a teaspoon"),
    ],
)
def test_what_cannot_be_is_refused_at_its_line(change: Change, line: int, said: str) -> None:
    """One thing wrong: one fault, in the plan, at its line, with what to write instead."""
    (fault,) = faults(change)
    assert (Path("plan.yaml"), line) == (fault.place.file, fault.place.line)
    assert said in fault.message
    assert fault.remedy


def test_several_faults_are_told_together() -> None:
    """Lye, minutes and an embed, each wrong, are told in one go, in the order of their lines."""
    found = faults(("concentration: 31 %", "concentration: 55 %"), ("25 min", "0 min"), CUBES)
    assert [5, 6, 7] == [fault.place.line for fault in found]
    assert all(fault.remedy for fault in found)


def test_faults_of_the_split_are_told_together() -> None:
    """A cure loss beyond the water and a spoon nobody weighed."""
    found = faults(("gel: avoid", "cure loss: 40 %"), ("black: 0.6 % of portion oils", "clay: 1 tsp"))
    assert [6, 12] == [fault.place.line for fault in found]


def test_a_pot_with_nothing_in_it_is_refused() -> None:
    """Oils that are all held back leave no pot to weigh from."""
    held = "{olive: {milk: 450 g}, coconut: {milk: 250 g}, shea: {milk: 100 g}, sunflower: {milk: 200 g}}"
    (fault,) = faults(("lye: {", f"held back: {held}\n  lye: {{"))
    assert "the pot is empty" in fault.message


def test_embeds_that_fill_the_mould_are_refused() -> None:
    """Embeds leave room for batter, or the mould cannot be filled."""
    shares = "{olive: 50 %, coconut: 50 %}\n  amount: {inside: 5 x 5 x 5 cm}"
    (fault,) = faults((OILS, shares), ("process:", "embeds: [{what: cubes, mass: 500 g}]\nprocess:"))
    assert "no room for batter" in fault.message


def test_lye_in_grams_does_not_fill_a_mould() -> None:
    """How much oil a mass of lye is for is not known, so that the mould cannot be filled by it."""
    shares = "{olive: 50 %, coconut: 50 %}\n  amount: {inside: 20 x 8 x 6 cm}"
    (fault,) = faults((OILS, shares), ("concentration: 31 %, superfat: 5 %", "NaOH: 100 g, water: 200 g"))
    assert "for how much oil" in fault.message


@pytest.mark.parametrize(
    "usual",
    ["pot loss: 100 %", "cup loss: 100 %", "scale step: 0 g", "lye scale step: 0 g", "stays fluid: 0 min"],
)
def test_usual_ways_that_cannot_be(usual: str) -> None:
    """Losses that leave nothing, steps and minutes of nothing, refused where they stand."""
    (fault,) = faults(usual=usual + "\n")
    assert (Path("text"), 1) == (fault.place.file, fault.place.line)
    assert fault.remedy


def test_a_usual_cure_loss_is_bounded_by_the_water() -> None:
    """The usual figure is for usual batter: where there is less water, no more than that leaves."""
    dry = bent(("concentration: 31 %", "concentration: 50 %"))
    s = worked(dry, book(usual="cure loss: 15 %\n"))
    water, soap = value(s, "water"), value(s, "oils mass") + value(s, "sodium hydroxide") + value(s, "water")
    assert value(s, "cure loss") == pytest.approx(water / soap)
    assert value(s, "water left") == pytest.approx(0, abs=1e-12)


def test_constituents_over_the_whole_oil_are_refused() -> None:
    """A sheet whose least contents come to more than the oil cannot be right."""
    with pytest.raises(RecordError, match="more than the whole oil"):
        book(scents="lime:\n  allergen sheet: {limonene: 60 %, citral: 50 %}\n")
    with pytest.raises(RecordError, match="more than the whole oil"):
        book(scents="lime:\n  vanillin: 60 %\n  browns by: {coumarin: 50 %}\n")
