"""Plain check judges every version of a plan; the version is named, and counts."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

from blendwise.api import Book
from blendwise.records.as_of import AsOf

BASE = Path(__file__).parents[1] / "danger" / "bases" / "metric"
LOUD = "variations: {loud: {doses: {chalk: {meadow-rain: 30 % of portion oils}}}}\n"


def book(tmp_path: Path, text: str) -> Book:
    """The base book with one plan that has a version."""
    shutil.copytree(BASE, tmp_path / "book")
    plan = tmp_path / "book" / "plans" / "loaf-sale.yaml"
    plan.write_text(plan.read_text("utf-8") + text, "utf-8")
    return Book(tmp_path / "book")


def test_a_version_over_a_limit_is_no_sound_plan(tmp_path: Path) -> None:
    """The plan as written keeps its limits, its version does not; the finding says which."""
    day = AsOf(date(2026, 11, 28))
    result = book(tmp_path, LOUD).check("loaf-sale", on=day)
    stops = [f for f in result.findings if f.level == "stop" and f.status == "broken"]
    assert stops
    assert {f.version for f in stops} == {"loud"}
    assert not result.sound
    assert stops[0].subject_text.endswith("(version loud)")
    assert result.to_json()["findings"][0]["version"] == "loud"


def test_a_version_like_the_plan_adds_nothing(tmp_path: Path) -> None:
    """What the plan as written shows already is not told twice."""
    day = AsOf(date(2026, 11, 28))
    same = book(tmp_path, "variations: {same: {doses: {}}}\n").check("loaf-sale", on=day)
    assert all(not finding.version for finding in same.findings)
    assert same.sound
