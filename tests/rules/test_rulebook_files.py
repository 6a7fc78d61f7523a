"""The files of the rulebook which are not rules: styles of pour, scales of words, symptoms."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from blendwise.records import PourStyle, Scales, read_document, validated
from blendwise.records.book import entries
from blendwise.records.kinds.pour import BATTERS
from blendwise.science.clock import CLASS_MINUTES, RECIPE_CLASSES

RULES = Path(__file__).resolve().parents[2] / "rules"
ENTRIES: list[dict[str, Any]] = read_document(RULES / "symptoms.yaml").root.plain
SYMPTOMS = [entry for entry in ENTRIES if "symptom" in entry]


@pytest.fixture(scope="module")
def scales() -> Scales:
    return validated(Scales, read_document(RULES / "scales.yaml"))


@pytest.fixture(scope="module")
def pours() -> dict[str, PourStyle]:
    return entries(PourStyle, read_document(RULES / "pours.yaml"), "pour styles")


def test_factors_adjoin(scales: Scales) -> None:
    """Each word of acceleration begins where the slower one ends, from an unscented cup on."""
    words = ("none", "slight", "moderate", "fast", "seizes")
    factors = [scales.acceleration[word].factor for word in words]  # type: ignore[index]
    assert factors[0].low == 1
    assert [slower.high for slower, _ in pairwise(factors)] == [faster.low for _, faster in pairwise(factors)]


def test_thinning_is_never_credited(scales: Scales) -> None:
    """A scent that thins counts like none at all."""
    factor = scales.acceleration["thins"].factor
    assert (factor.low, factor.high) == (1, 1)


def test_minutes_of_the_grades_follow_one_another(scales: Scales) -> None:
    """Minutes from scent contact to thick trace in a cup: 1, 4, 10, 20 (common practice of note keeping)."""
    tops = [scales.acceleration[word].minutes for word in ("seizes", "fast", "moderate", "slight")]
    assert tuple(top.high for top in tops if top is not None) == (1, 4, 10, 20)


def test_fluid_classes_are_those_of_the_science(scales: Scales) -> None:
    """The minutes of slow, ordinary and fast recipes are the same in the file and in the clock."""
    said = tuple((scales.fluid[name].minutes.low, scales.fluid[name].minutes.high) for name in RECIPE_CLASSES)
    assert said == CLASS_MINUTES


def test_longer_pours_bear_less(pours: dict[str, PourStyle]) -> None:
    """Among interleaved pours none that takes longer from the start bears a quicker scent than thin lines."""
    swirls = [pour for pour in pours.values() if pour.family == "interleaved"]
    longest = max(swirls, key=lambda pour: pour.minutes.low)
    assert (longest.name, longest.tolerates) == ("thin lines", "none")
    assert {pour.tolerates for pour in swirls if pour.minutes.low >= 8} <= {"none", "slight"}


def test_interleaved_pours_want_fluid_batter(pours: dict[str, PourStyle]) -> None:
    """Only pours that are not interleaved ask for batter of medium thickness or more."""
    fluid = BATTERS[: BATTERS.index("medium")]
    assert {pour.family for pour in pours.values() if pour.batter not in fluid} == {"sequential", "thick"}
    assert all(pour.batter in fluid for pour in pours.values() if pour.family == "interleaved")


def test_a_layer_that_carries_says_how_thick_it_is(pours: dict[str, PourStyle]) -> None:
    """Where portions are laid in order one after another, the file says what the one below must be."""
    laid = [pour for pour in pours.values() if pour.family != "interleaved" and pour.touching == "in order"]
    assert [pour.name for pour in laid if pour.minimum_thickness is None] == []


def test_every_symptom_says_safety_first_and_when_to_stop() -> None:
    """Safety stands before the advice, and each entry says when the soap is not for use or sale."""
    for symptom in SYMPTOMS:
        keys = list(symptom)
        assert keys.index("safety") < keys.index("now") < keys.index("causes") < keys.index("stop")
