"""The last two questions: a bigger mould, and what the label must say (numbers 37 and 38)."""

from __future__ import annotations

import json
from typing import Any

import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS
from tests.questions.conftest import Ask, plan


def split(ask: Ask, *args: str) -> dict[str, Any]:
    """The document of an assignment."""
    answer = ask("assign", *args, "--json")
    assert answer.code in (CLEAN, FINDINGS), answer.errors
    document: dict[str, Any] = json.loads(answer.text)
    return document


@pytest.mark.parametrize(
    ("size", "factor"),
    [
        (("--bars", "20"), 2.0),
        (("--oils", "2027.94 g"), 2.0),
        (("--mould", "25 x 18 x 6.5 cm"), 2.0),
        (("--bars", "5"), 0.5),
    ],
)
def test_37_can_i_scale_it_to_a_bigger_mould(ask: Ask, size: tuple[str, str], factor: float) -> None:
    """Oils, batter and scent of every portion go by the one factor, to the step of the scale."""
    once, scaled = (split(ask, plan("harbour-morning"), *more) for more in ((), size))
    for before, after in zip(once["check"]["grams"], scaled["check"]["grams"], strict=True):
        assert after["oils"] == pytest.approx(factor * before["oils"], rel=1e-3)
        assert after["batter"] == pytest.approx(factor * before["batter"], rel=1e-3)
    scent = [sum(portion["grams"] for portion in document["portions"]) for document in (once, scaled)]
    assert scent[1] == pytest.approx(factor * scent[0], abs=len(once["portions"]) * once["scale_step"])


def test_37_heat_and_hands_do_not_scale(ask: Ask) -> None:
    """What does not go by mass is said: heat held, minutes needed; the sums are shown where to find."""
    answer = ask("why", "can I scale it to a bigger mould", plan("lilac-feathers"), "--more")
    assert CLEAN == answer.code
    assert "Scale by mass and never by spoon" in answer.text
    assert "Likely: more heat held. Your plan: oils mass (above 1500 g)" in answer.text
    assert "Likely: too few hands. Your plan: minutes fluid (at most 1.2 × minutes needed)" in answer.text


def test_38_what_must_the_label_say(ask: Ask) -> None:
    """Names above the threshold with their share and what they come from, since when, and by which rule."""
    assert "Linalool" in ask("check", plan("harbour-morning")).between("On the label:", "Write down")
    answer = ask("check", plan("harbour-morning"), "--more")
    names = answer.between("Names for the label:", "Names above")
    assert "Linalool" in names
    assert "% of the bar, from" in names
    assert "due" in names
    footing = answer.between("Names above 0.01 % of the finished bar", "Assumed")
    assert "Regulation (EC) No 1223/2009, Annex III" in footing
    assert "not a safety assessment" in footing


def test_38_a_draft_of_the_label(ask: Ask) -> None:
    """Both customs, the names due there, and what only an assessor can say."""
    answer = ask("label", plan("harbour-morning"))
    assert "Cocos Nucifera Oil" in answer.between("Ingredients, as put in", "Ingredients, as saponified")
    assert "Sodium Cocoate" in answer.between("Ingredients, as saponified", "Weight and batch")
    assert "Linalool" in answer.between("Where it is sold", "A draft to take")
    assert "Only an assessor can say" in answer.text


def test_38_names_that_nobody_knows_are_said_to_be_unknown(ask: Ask) -> None:
    """Where a sheet is missing the list is not complete, and that is a caution, never silence."""
    answer = ask("check", plan("milk-and-toffee"))
    assert "not all names for the label are known" in answer.text
    assert "ask for the allergen sheets of all oils" in answer.text
    assert "not known of benzoin" in answer.text
