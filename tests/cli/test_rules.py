"""``blendwise rules``: the rulebook listed, shown, tested, looked over."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from blendwise.api import Book
from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from blendwise.show.schemas import schema_of
from tests.cli.conftest import Run

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
RULE = "browning-shows-in-light"
WEAK = """- rule: no-reason
  looks at: portion
  must: {browning band: at most tan}
  else: hint
  hits: [{browning band: tan}]
"""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """The demo's book with a layer of the maker's own."""
    for name in ("scents.yaml", "colourants.yaml", "oils.yaml", "usual.yaml"):
        (tmp_path / name).symlink_to(DEMO / name)
    (tmp_path / "rules" / "mine").mkdir(parents=True)
    return tmp_path


def test_the_list_names_every_rule(run: Run) -> None:
    """Each rule that counts stands in the list and in its document."""
    ran = run("rules", "list", "--book", str(DEMO))
    document = json.loads(run("rules", "list", "--book", str(DEMO), "--json").out)
    jsonschema.validate(document, schema_of("rule-list"))
    names = [rule["rule"] for rule in document["rules"]]
    assert [rule.name for rule in Book(DEMO).rulebook.rules] == names
    assert all(f"{name}, " in ran.out for name in names)


def test_one_rule_is_shown_whole(run: Run) -> None:
    """Condition, reason, remedy, proofs, basis and place of one rule."""
    ran = run("rules", "show", RULE, "--book", str(DEMO))
    for part in ("When: planned lightness", "Must: browning band", "Why: ", "Try: ", "Proved by: "):
        assert part in ran.out
    assert "rules/browning.yaml:" in ran.out


def test_a_rule_that_is_not_there_names_the_nearest(run: Run) -> None:
    """A slip in a rule's name is met with the nearest."""
    ran = run("rules", "show", "browning-shows-in-lite", "--book", str(DEMO))
    assert NOT_ASKED == ran.code
    assert f'The rulebook has "{RULE}".' in ran.err


@pytest.mark.parametrize("what", ["test", "lint"])
def test_the_starter_rules_hold(run: Run, what: str) -> None:
    """The shipped rules pass their own cases and are written without fault."""
    ran = run("rules", what, "--book", str(DEMO), "--json")
    report = json.loads(ran.out)
    jsonschema.validate(report, schema_of("rule-report"))
    assert (CLEAN, True, []) == (ran.code, report["sound"], report["wrong"])
    assert report["asked"] > 50


@pytest.mark.parametrize(("what", "words"), [("test", "no-reason/hit-1"), ("lint", "No reason is given")])
def test_a_weak_rule_of_ones_own_is_found_out(run: Run, own: Path, what: str, words: str) -> None:
    """A hit that does not hit fails test and lint, file and line named; a missing reason is asked for."""
    (own / "rules" / "mine" / "mine.yaml").write_text(WEAK, "utf-8")
    ran = run("rules", what, "--book", str(own))
    assert FINDINGS == ran.code
    assert words in ran.out
    assert "rules/mine/mine.yaml:" in ran.out


def test_the_words_are_printed_by_topic(run: Run) -> None:
    """Each word with grain, unit and meaning under its topic, the models after them; narrowed by a topic."""
    ran = run("rules", "words", "--plain", "--more")
    document = json.loads(run("rules", "words", "--json").out)
    jsonschema.validate(document, schema_of("rule-words"))
    told = " ".join(ran.out.split())
    assert (CLEAN, []) == (ran.code, [w["word"] for w in document["words"] if f"{w['word']}: " not in told])
    assert document["of"] == len(document["words"]) > 150
    assert all(model["what"].rstrip(".") in told for model in document["models"])
    only = run("rules", "words", "flash", "--plain").out
    assert "flash point: For storing and shipping" in only
    assert "planned lightness" not in only


def test_the_words_are_a_screen_and_a_word_has_an_example_of_yours(run: Run, own: Path) -> None:
    """By default a topic is a line; of a word asked for, a line of one's own rule is shown."""
    rule = "- {rule: mine, looks at: batch, must: {superfat: at least 4 %}, else: hint}\n"
    (own / "rules" / "mine" / "mine.yaml").write_text(rule, "utf-8")
    short = run("rules", "words", "--plain", "--book", str(own)).out
    assert short.count("\n") < 110
    assert "never lime with clove-leaf" in short
    assert "dose of [NAME, …]" in " ".join(short.split())
    told = " ".join(run("rules", "words", "superfat", "--plain", "--book", str(own)).out.split())
    assert "As in: superfat: at least 4 % (mine)." in told


def test_words_of_nothing_known_say_so(run: Run) -> None:
    """A topic that nothing speaks of is answered, not refused."""
    ran = run("rules", "words", "trombone", "--plain")
    assert CLEAN == ran.code
    assert "No word and no model speaks of that." in ran.out


def test_what_is_switched_off_is_listed_and_counted(run: Run, own: Path) -> None:
    """A rule switched off stands under the changes with its reason, and is counted under every check."""
    text = "- off: few-base-notes\n  because: I like it fleeting.\n"
    (own / "rules" / "mine" / "mine.yaml").write_text(text, "utf-8")
    listed = run("rules", "list", "--book", str(own)).out
    assert "I like it fleeting." in listed
    plan = str(DEMO / "plans" / "harbour-morning.yaml")
    assert "one rule switched off" in run("check", plan, "--book", str(own)).out


def test_a_rule_that_was_right_and_is_switched_off_is_told_so(run: Run, tmp_path: Path) -> None:
    """Its record in the notes stands beside the reason it was switched off for."""
    book = tmp_path / "book"
    shutil.copytree(DEMO, book)
    (book / "rules" / "mine").mkdir(parents=True)
    off = "- off: pour-outruns-the-batter\n  because: I am quick.\n"
    (book / "rules" / "mine" / "mine.yaml").write_text(off, "utf-8")
    told = " ".join(run("rules", "changed", "--book", str(book)).out.split())
    assert "you have switched off a rule that was right 8 of 8 times" in told


def test_a_family_without_a_word_is_code_2(run: Run) -> None:
    """``blendwise rules`` alone says what is missing, in one line."""
    ran = run("rules")
    assert (NOT_ASKED, 1) == (ran.code, len(ran.err.splitlines()))
    assert "blendwise rules --help" in ran.err
