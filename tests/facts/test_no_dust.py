"""What rounding of sums leaves over is no dose: a cup holds an oil or it does not, at any size."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from blendwise.answers.plan_text.scaling import scaled, with_own_recipe
from blendwise.facts.situation import doses
from blendwise.facts.situation.worked_out import work_out
from blendwise.records.book import plan_of
from tests.strangers.books import a_book
from tests.strangers.scaling import situation

LEAST = 1e-9
"""Grams that no scale of the trade weighs."""


def smallest(folder: Path) -> float:
    """The smallest dose in a generated plan and its versions, at twice its size."""
    found = []
    for plan in a_book(folder, 54, plans=2, looks=False).plans:
        s = situation(plan)
        assert s is not None
        larger = plan_of(scaled(s, with_own_recipe(s), Fraction(2)), s.book)
        for version in (None, *s.plan.variations):
            x = work_out(larger, s.book, s.today, version).x
            found.append(float(x[x > 0].min()))
    return min(found)


def test_no_dose_is_dust(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The sums of this plan leave some over, which is no dose."""
    assert smallest(tmp_path / "as it is") > LEAST
    monkeypatch.setattr(doses, "DUST", 0.0)
    assert smallest(tmp_path / "with what is left over") < LEAST
