"""``rules list`` filtered, ``rules changed``, and the cases that ``rules show`` tells."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from blendwise.api import Book
from blendwise.cli.exit_codes import CLEAN, NOT_ASKED
from blendwise.show.schemas import schema_of
from tests.cli.conftest import Run

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
ALL = Book(DEMO).rules().rules
OWN = """\
- off: few-base-notes
  because: I like it fleeting.
- adjust: contrast-thin
  to: {contrast: at least 8}
- {rule: never-tiny, looks at: portion, must: {portion mass: at least 30 g}, else: hint, because: My scale.}
"""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """The demo's shelf with three entries of one's own."""
    for name in ("scents.yaml", "colourants.yaml", "oils.yaml", "usual.yaml"):
        shutil.copy(DEMO / name, tmp_path / name)
    (tmp_path / "rules" / "mine").mkdir(parents=True)
    (tmp_path / "rules" / "mine" / "own.yaml").write_text(OWN, "utf-8")
    return tmp_path


def listed(run: Run, book: Path, *args: str) -> list[dict[str, Any]]:
    """The rules of a listing's document, which keeps to its schema."""
    ran = run("rules", *args, "--book", str(book), "--json")
    assert CLEAN == ran.code, ran.err
    document = json.loads(ran.out)
    jsonschema.validate(document, schema_of("rule-list"))
    rules: list[dict[str, Any]] = document["rules"]
    return rules


@pytest.mark.parametrize(
    ("option", "key"), [("--topic", "topic"), ("--level", "level"), ("--looks-at", "looks_at")]
)
def test_each_filter_takes_its_own_and_no_others(run: Run, option: str, key: str) -> None:
    """Over all words that there are, the filtered lists make up the whole list."""
    found = 0
    for word in sorted({getattr(rule, key) for rule in ALL}):
        rules = listed(run, DEMO, "list", option, word)
        assert {word} == {rule[key] for rule in rules}
        found += len(rules)
    assert len(ALL) == found


def test_words_stand_anywhere_in_a_rule(run: Run) -> None:
    """Every word must stand somewhere in the rule: its name, its conditions, its reason, its remedy."""
    names = [rule["rule"] for rule in listed(run, DEMO, "list", "brown", "Light")]
    assert "browning-shows-in-light" in names
    assert len(names) < len(ALL)
    assert [] == listed(run, DEMO, "list", "no rule speaks of this")
    assert "One rule of" in run("rules", "list", "vanillin and its kin", "--book", str(DEMO)).out


def test_mine_and_the_starters(run: Run, own: Path) -> None:
    """One's own rules apart from the starter's."""
    assert ["never-tiny"] == [rule["rule"] for rule in listed(run, own, "list", "--whose", "mine")]
    assert len(ALL) - 1 == len(listed(run, own, "list", "--whose", "starter"))


@pytest.mark.parametrize(
    ("option", "word", "says"),
    [
        ("--topic", "discolourations", 'The nearest is "discolouration".'),
        ("--level", "stopp", "There are: caution, conflict, hint, stop."),
        ("--looks-at", "bar", "There are: additive, batch, dose, edge, pair, portion, scent."),
        ("--whose", "yours", "There are: mine, starter."),
    ],
)
def test_a_word_that_is_none_is_refused(run: Run, option: str, word: str, says: str) -> None:
    """A filter that nothing could meet says which words there are, and exits 2."""
    ran = run("rules", "list", option, word, "--book", str(DEMO))
    assert NOT_ASKED == ran.code
    assert says in ran.err


def test_changed_shows_all_that_differs(run: Run, own: Path) -> None:
    """New, adjusted and switched off, with reasons; then how the rules stand."""
    said = " ".join(run("rules", "changed", "--book", str(own)).out.split())
    for part in (
        "Three changes to",
        'Switched off: "few-base-notes"',
        "I like it fleeting.",
        "contrast: at least 10 became contrast: at least 8",
        'New: "never-tiny"',
        "contrast-thin, edge: contrast at least 8",
    ):
        assert part in said
    assert {"contrast-thin", "never-tiny"} == {rule["rule"] for rule in listed(run, own, "changed")}


def test_an_unchanged_rulebook_says_so(run: Run) -> None:
    """A book without rules of its own differs in nothing."""
    assert "Your own layer changes nothing." in run("rules", "changed", "--book", str(DEMO)).out
    assert [] == listed(run, DEMO, "changed")


def test_show_tells_the_cases_and_what_becomes_of_them(run: Run) -> None:
    """Every hit is broken, every miss silent, and what is at exactly the limit is said."""
    (rule,) = listed(run, DEMO, "show", "browning-shows-in-light")
    outcomes = [(case["kind"], case["outcome"]) for case in rule["cases"]]
    assert [
        ("hit", "broken"),
        ("miss", "holds"),
        ("miss", "not asked"),
        ("at the limit", "holds"),
    ] == outcomes
    said = " ".join(run("rules", "show", "browning-shows-in-light", "--book", str(DEMO)).out.split())
    assert "Hit: planned lightness 88; planned band ivory; browning band limit + 1: broken." in said
    assert "At exactly its limit: holds." in said


def test_a_rule_whose_cases_cannot_be_read_is_still_shown(run: Run, own: Path) -> None:
    """What is wrong with its rows is for ``rules lint`` to say."""
    text = OWN.replace("because: My scale.", "because: My scale., hits: [{portion mass: soon}]")
    (own / "rules" / "mine" / "own.yaml").write_text(text, "utf-8")
    (rule,) = listed(run, own, "show", "never-tiny")
    assert ([], 1) == (rule["cases"], rule["hits"])
