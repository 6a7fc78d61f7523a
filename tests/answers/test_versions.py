"""Plain check judges every version of a plan; the version is named, and counts."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from blendwise.answers.check import versions
from blendwise.answers.check.compute import check_situation
from blendwise.api import Book
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.records import RecordError
from blendwise.records.as_of import AsOf
from tests.strangers.books import a_book

BASE = Path(__file__).parents[1] / "danger" / "bases" / "metric"
DEMO = Path(__file__).parents[2] / "demo_catalog"
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


@pytest.mark.parametrize("seed", [0, 2, 4, 6, 7, 8])
def test_what_is_not_asked_again_would_say_nothing_new(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    """Every version of generated plans and of the demo's, worked out from nothing and asked every rule."""
    made = Book(DEMO if not seed else a_book(tmp_path / "made", seed, plans=6, looks=False).folder)
    day, asked = AsOf(date(2026, 11, 28)), 0
    for path in made.files.plan_paths():
        try:
            s = made.situation(path.stem, day)
            plain = check_situation(s, made.rulebook)
            quick = versions.with_versions(plain, s, made.rulebook)
        except RecordError:
            continue
        asked += len(s.plan.variations)
        with monkeypatch.context() as patch:
            patch.setattr(versions, "versions_of", lambda s: list(map(from_nothing(s), s.plan.variations)))
            patch.setattr(versions, "moved_from", lambda *_: made.rulebook.rules)
            assert versions.with_versions(plain, s, made.rulebook) == quick
    assert asked


def from_nothing(s: Situation) -> Callable[[str], Situation]:
    """How a version of a plan is worked out where nothing is taken over."""
    return lambda name: work_out(s.plan, s.book, s.today, name, s.believing)


def test_an_oil_that_only_a_version_pours_is_asked_there(tmp_path: Path) -> None:
    """Not for skin, and poured nowhere in the plan as written: the version that pours it is stopped."""
    kept = "doses: {chalk: {meadow-rain: 0 g}, lake: {meadow-rain: 0 g}}\n"
    made = book(tmp_path, f"{kept}variations: {{rainy: {{doses: {{lake: {{meadow-rain: 3 g}}}}}}}}\n")
    shelf = made.folder / "scents.yaml"
    first, _, rest = shelf.read_text("utf-8").partition("meadow-rain:")
    shelf.write_text(first + "meadow-rain:" + rest.replace("for skin: yes", "for skin: no", 1), "utf-8")
    result = Book(made.folder).check("loaf-sale", on=AsOf(date(2026, 11, 28)))
    told = [f.version for f in result.findings if f.measure == "for skin" and f.level == "stop"]
    assert ["rainy"] == told
