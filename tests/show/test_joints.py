"""Where one sentence leads on to the next, and where a number comes back as it was typed."""

from __future__ import annotations

import pytest

from blendwise.answers.levers.result import Lever
from blendwise.answers.plan_text.edits import mass
from blendwise.quantity import Units
from blendwise.quantity.show import ShownIn
from blendwise.show.check.levers import said as told
from blendwise.show.text import sentence

OUNCES = ShownIn(mass="oz", temperature="F", rates="ppo")


@pytest.mark.parametrize("text", ["Check it:", "Press it out, or", "Done.", "Why?", ""])
def test_what_closes_itself_or_leads_on_takes_no_full_stop(text: str) -> None:
    """A colon before a command, an "or" before the next step."""
    assert text == sentence(text)
    assert "Press it out." == sentence("Press it out")


@pytest.mark.parametrize("typed", [0.3, 0.23, 0.45, 0.05, 1.115, 12.5])
def test_ounces_come_back_from_a_note_as_typed(typed: float) -> None:
    """A note keeps a thousandth of a gram; the next plan does not say 0.300005 oz."""
    noted = round(typed * 28.349523125, 3)
    assert f"{typed:g} oz" == mass(noted, OUNCES)


@pytest.mark.parametrize(
    ("units", "said"), [(OUNCES, "0.5 oz ppo of batch oils"), (ShownIn(), "3.12 % of batch oils")]
)
def test_a_lower_load_is_told_in_the_units_of_the_book(units: Units, said: str) -> None:
    """As `check` tells it: a maker who thinks in ounces a pound reads ounces a pound."""
    details = {"load": 0.03125, "instead of": 0.05}
    assert said in told(Lever("too-much", "", "less of all", "less of all", details, 14.0), units)
