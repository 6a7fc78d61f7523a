"""Own rules that name what the book does not have: an error of the linter, told by check where a stop."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.guards import faults_of_guards
from blendwise.judge.rulebook.standing import standing
from blendwise.records.book import load_book
from tests.cli.conftest import Run, run

__all__ = ["run"]
ROOT = Path(__file__).resolve().parents[2]

DEAD = [
    ("dose", "when: {scent: lavendr}, must: {dose: at most 1 %}", 'The shelf has "lavender".'),
    ("pair", "when: {one scent: lavendr}, must: {noted together: at least unsaid}", '"lavender"'),
    ("dose", "when: {tags: [citruss, wood]}, must: {dose: at most 1 %}", '"citrus"'),
    ("batch", "when: {oils: coconutt}, must: {superfat: at least 3 %}", '"coconut"'),
    ("portion", "when: {colourants: charcol}, must: {portion superfat: at least 3 %}", '"charcoal"'),
    ("edge", "when: {lighter colourant kinds: micca}, must: {contrast: at least 3}", '"mica"'),
    ("batch", "when: {pour: colum}, must: {superfat: at least 3 %}", '"column"'),
    ("batch", "when: {any of: [{pour: colum}, {purpose: sale}]}, must: {superfat: at least 3 %}", '"column"'),
]


def book(tmp_path: Path, grain: str, body: str, level: str) -> Path:
    for name in ("scents", "colourants", "oils", "usual"):
        (tmp_path / f"{name}.yaml").write_bytes((ROOT / "demo_catalog" / f"{name}.yaml").read_bytes())
    (tmp_path / "rules" / "mine").mkdir(parents=True)
    (tmp_path / "rules" / "mine" / "a.yaml").write_text(
        f"- {{rule: g, looks at: {grain}, {body}, else: {level}}}\n", "utf-8"
    )
    return tmp_path


@pytest.mark.parametrize(("grain", "body", "nearest"), DEAD)
def test_a_name_that_the_book_does_not_have(
    run: Run, tmp_path: Path, grain: str, body: str, nearest: str
) -> None:
    """Lint names it with the nearest; check says so in a line, for a stop, and its verdict is its own."""
    folder = book(tmp_path, grain, body, "stop")
    linted = run("rules", "lint", "--book", str(folder))
    assert FINDINGS == linted.code
    assert nearest in " ".join(linted.out.split())
    plan = ROOT / "demo_catalog" / "plans" / "harbour-morning.yaml"
    said = " ".join(run("check", str(plan), "--book", str(folder)).out.split())
    assert 'your stop "g" can never be asked' in said
    assert nearest in said


@pytest.mark.parametrize(
    "body",
    [
        "when: {dose: below 0 %}, must: {dose: at most 1 %}",
        "when: {dose: at most 1 %}, must: {dose: at most 2 %}",
        "must: {dose: at least 0 %}",
    ],
)
def test_a_stop_that_no_plan_can_break(tmp_path: Path, body: str) -> None:
    asides = standing(load_book(book(tmp_path, "dose", body, "stop")), vocabulary()).asides
    assert ["never asked"] == [aside.why for aside in asides]


@pytest.mark.parametrize(
    ("grain", "body"),
    [
        ("dose", "when: {scent: lavender}, must: {dose: at most 1 %}"),
        ("dose", "when: {tags: spice}, must: {dose: at most 1 %}"),
        ("batch", "when: {portions: at least 1}, must: {superfat: at least 3 %}"),
        ("batch", "when: {additives: honey}, must: {superfat: at least 3 %}"),
    ],
)
def test_a_stop_that_can_be_asked_is_not_told(tmp_path: Path, grain: str, body: str) -> None:
    """Names of the book, tags of the package's rules, lines that are always so, additives to come."""
    folder = book(tmp_path, grain, body, "stop")
    assert () == standing(load_book(folder), vocabulary()).asides


def test_a_lighter_rule_is_the_linter_s_alone(run: Run, tmp_path: Path) -> None:
    folder = book(tmp_path, "dose", "when: {scent: lavendr}, must: {dose: at most 1 %}", "caution")
    assert () == standing(load_book(folder), vocabulary()).asides
    assert FINDINGS == run("rules", "lint", "--book", str(folder)).code
    assert CLEAN == run("rules", "list", "--book", str(folder)).code


def test_the_package_s_rules_may_name_what_a_book_does_not_have(tmp_path: Path) -> None:
    """A shelf of one oil without tags: none of the shipped rules is told."""
    (tmp_path / "scents.yaml").write_text("lime: {kind: essential oil}\n", "utf-8")
    files = load_book(tmp_path)
    rules = standing(files, vocabulary()).rules
    assert [] == [*faults_of_guards(rules, files, list(rules))]
