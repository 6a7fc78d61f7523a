"""What a maker learned yesterday is one short rule today, without any Python."""

from __future__ import annotations

import datetime
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml

from blendwise.api import Book
from blendwise.judge.findings.finding import Finding
from blendwise.records.as_of import AsOf

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "demo_catalog"
BASE = (DEMO / "plans" / "harbour-morning.yaml").read_text(encoding="utf-8")
TODAY = datetime.date(2026, 11, 25)


class TextLoader(yaml.SafeLoader):
    """Every scalar stays the text that was typed (``is`` and ``no`` are words here)."""


TextLoader.yaml_implicit_resolvers = {}
CASES: list[dict[str, Any]] = yaml.load((HERE / "cases.yaml").read_text(encoding="utf-8"), Loader=TextLoader)


def changed(changes: list[list[str]]) -> str:
    """The sound plan with some of its text replaced; every change must meet something."""
    text = BASE
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def found(case: dict[str, Any], plan: str, folder: Path, today: datetime.date) -> set[str]:
    """Subjects at which the maker's one rule speaks against the plan, in a book of its own.

    Broken, or broken at the middle of judgement and not settled within its doubt (*tight*, and shown).
    """
    book = folder / "book"
    shutil.copytree(DEMO, book)
    (book / "rules" / "mine").mkdir(parents=True)
    rule = yaml.safe_dump([case["rule"]], allow_unicode=True, default_style='"')
    (book / "rules" / "mine" / "learned.yaml").write_text(rule, encoding="utf-8")
    (book / "plans" / "tried.yaml").write_text(plan, encoding="utf-8")
    result = Book(book).check("tried", on=AsOf(today, as_written=True))
    return {f.subject_text for f in result.findings if f.rule == "mine" and speaks(f)}


def speaks(finding: Finding) -> bool:
    """Whether a finding is shown without being asked for, and stands against the plan."""
    return finding.status == "broken" or (finding.status == "tight" and finding.middle == "broken")


def test_there_are_twenty() -> None:
    """Twenty notes are kept, each different from the others."""
    assert len({case["note"] for case in CASES}) == 20


@pytest.mark.parametrize("case", CASES, ids=[case["note"][:48] for case in CASES])
def test_the_rule_fires_on_the_right_plan(case: dict[str, Any], tmp_path: Path) -> None:
    """The note's rule finds its subject on the plan that the note warns of."""
    assert case["at"] in found(case, changed(case["fires"]), tmp_path, TODAY)


@pytest.mark.parametrize("case", CASES, ids=[case["note"][:48] for case in CASES])
def test_the_rule_is_silent_on_the_near_miss(case: dict[str, Any], tmp_path: Path) -> None:
    """On a plan that differs by a word or a number the same rule says nothing of that subject."""
    today = datetime.date.fromisoformat(case.get("near_today", TODAY.isoformat()))
    assert case["at"] not in found(case, changed(case["near"]), tmp_path, today)
