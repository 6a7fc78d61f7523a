"""`rules new` at the command line: shown as understood, asked back, kept on yes, byte for byte."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
import yaml

from blendwise.api import Book
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from tests.cli.conftest import Run

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
SAID = "rules/mine/said.yaml"
EIGHT = [
    "Tonka-milk and lime never again in one cup.",
    "Not more than half a per cent of tonka-milk in anything white.",
    "2 % citrus at most when the batter is over 90 °F",
    "Lime older than a year is for the diffuser.",
    "The fast ones go last",
    "The fast ones not before minute 12",
    "Clove-leaf only in the outer portions",
    "Tonka-milk and burnt-sugar together: not over 2 % of a cup's oils.",
    "No clove-leaf inside embeds.",
]
"""Eight notes of a maker (one says two things), each a sentence."""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """The demo's book, to write in."""
    shutil.copytree(DEMO, tmp_path / "book")
    return tmp_path / "book"


def taught(run: Run, own: Path, sentence: str, *more: str) -> str:
    """Teach a sentence and keep it; what the screen says."""
    ran = run("rules", "new", sentence, "--book", str(own), "--basis", "portion oils", "--yes", *more)
    assert CLEAN == ran.code, ran.out + ran.err
    return ran.out


def test_nothing_is_written_without_yes(run: Run, own: Path) -> None:
    """The rule is shown, with the way to keep it; the book stays as it is."""
    ran = run("rules", "new", "never lime with clove-leaf", "--book", str(own))
    assert CLEAN == ran.code
    assert "Understood: never lime with clove-leaf." in ran.out
    assert "add `--yes`" in ran.out
    assert not (own / SAID).exists()


def test_an_unsaid_basis_is_asked(run: Run, own: Path) -> None:
    """Per cent of nothing in particular is no rule yet, not even on yes."""
    ran = run("rules", "new", "tonka-milk at most 2 %", "--book", str(own), "--yes")
    assert FINDINGS == ran.code
    assert "Of what?" in ran.out
    assert "portion oils" in ran.out
    assert not (own / SAID).exists()


def test_what_is_not_understood_is_underlined(run: Run, own: Path) -> None:
    """The word has marks under it, and an example of the nearest shape stands below."""
    ran = run("rules", "new", "never lime with moonlight", "--book", str(own), "--yes")
    lines = ran.out.splitlines()
    at = next(i for i, line in enumerate(lines) if line.strip() == "never lime with moonlight")
    assert FINDINGS == ran.code
    assert lines[at].index("moonlight") == lines[at + 1].index("^")
    assert "^" * len("moonlight") == lines[at + 1].strip()
    assert "never lime with clove-leaf" in ran.out


def test_eight_notes_are_taught_and_count(run: Run, own: Path) -> None:
    """Each of the notes becomes a rule that the book reads, lints and asks."""
    for sentence in EIGHT:
        taught(run, own, sentence)
    rulebook = Book(own).rulebook
    mine = [rule for rule in rulebook.rules if rule.record.is_mine]
    assert len(EIGHT) == len(mine)
    assert not rulebook.asides
    assert CLEAN == run("rules", "test", "--book", str(own)).code
    document = json.loads(run("check", str(own / "plans" / "greenhouse-morning.yaml"), "--json").out)
    spoken = {finding["rule"] for finding in document["findings"]}
    assert "never-tonka-milk-with-lime" in spoken


def test_the_finding_speaks_the_maker_s_own_words(run: Run, own: Path) -> None:
    """By default no measure and no rule's name is told, but what the maker said."""
    taught(run, own, "never lime with tonka-milk")
    out = " ".join(run("check", str(own / "plans" / "greenhouse-morning.yaml")).out.split())
    assert "your rule says never lime with tonka-milk" in out


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_what_stands_in_the_file_stays_byte_for_byte(run: Run, own: Path, newline: str) -> None:
    """A second rule is added behind the first and the maker's remarks, in the file's own line ends."""
    before = newline.join(["# mine", "- rule: old   # keep", "  looks at: batch",
                           "  must: {superfat: at least 2 %}",
                           "  else: hint", "# the end"]).encode()  # fmt: skip
    (own / "rules" / "mine").mkdir(parents=True)
    (own / SAID).write_bytes(before)
    taught(run, own, "never lime with clove-leaf", "--because", "It bit.")
    after = (own / SAID).read_bytes()
    assert after.startswith(before)
    assert after.count(b"\n") == after.count(newline.encode())
    entries = yaml.safe_load(after.decode())
    assert ["old", "never-lime-with-clove-leaf"] == [entry["rule"] for entry in entries]
    assert "It bit." == entries[1]["because"]


def test_what_it_would_have_said_is_what_it_says(run: Run, own: Path) -> None:
    """The plans that are named are those that a check then speaks against."""
    sentence = "tonka-milk at most 0.5 % of portion oils in white"
    shown = json.loads(run("rules", "new", sentence, "--book", str(own), "--json").out)
    taught(run, own, sentence)
    book = Book(own)
    assert any(tried["broken"] for tried in shown["tried"])
    for tried in shown["tried"]:
        found = [f for f in book.check(tried["plan"]).findings if f.rule == shown["rule"]]
        plain = {f.subject_text for f in found if f.status == "broken" and "version" not in f.subject_text}
        assert set(tried["broken"]) == plain, tried["plan"]


def test_a_name_that_is_taken_is_refused(run: Run, own: Path) -> None:
    """A rule named as a shipped one would be no new rule."""
    ran = run(
        "rules", "new", "never lime with cedar", "--book", str(own), "--name", "pour-outruns-the-batter"
    )
    assert 2 == ran.code
    assert "Choose another name." in ran.err


def test_a_rule_that_says_the_same_and_one_that_contradicts_are_told(run: Run, own: Path) -> None:
    """Twice the same, or two that can never both hold, is said before it is kept."""
    taught(run, own, "superfat at least 5 %")
    again = run("rules", "new", "superfat never under 5 %", "--book", str(own)).out
    assert "says the same already" in " ".join(again.split())
    against = " ".join(run("rules", "new", "superfat at most 4 %", "--book", str(own)).out.split())
    assert "can never both hold" in against


def test_five_hundred_rules(run: Run, own: Path) -> None:
    """Among five hundred rules of one's own another is taught, and all are asked."""
    rules = "".join(
        f"- {{rule: r{i}, looks at: portion, must: {{portion mass: at least {1 + i % 9} g}}, else: hint}}\n"
        for i in range(500)
    )
    (own / "rules" / "mine").mkdir(parents=True)
    (own / "rules" / "mine" / "many.yaml").write_text(rules, "utf-8")
    taught(run, own, "never lime with clove-leaf")
    assert 501 == sum(rule.record.is_mine for rule in Book(own).rulebook.rules)


def test_proposed_cases_are_written_and_prove_the_rule(run: Run, own: Path) -> None:
    """`rules prove` shows a hit and a miss; on yes they stand in the rule, and the test asks them."""
    taught(run, own, "no citrus above 35 °C unless folded", "--name", "warm-citrus")
    before = (own / SAID).read_text("utf-8")
    shown = run("rules", "prove", "warm-citrus", "--book", str(own))
    assert "Hit: tags citrus; batter temperature limit + 1 °C: it speaks." in shown.out
    assert before == (own / SAID).read_text("utf-8")
    assert CLEAN == run("rules", "prove", "warm-citrus", "--book", str(own), "--yes").code
    assert (own / SAID).read_text("utf-8").startswith(before.rstrip("\n"))
    proofs = Book(own).rule("warm-citrus").rules[0].cases
    assert {("hit", "broken"), ("miss", "holds")} <= {(proof.kind, proof.outcome) for proof in proofs}
    assert CLEAN == run("rules", "test", "--book", str(own)).code


def test_own_rules_count_without_reason_and_cases_but_a_stop_does_not(run: Run, own: Path) -> None:
    """Lint asks kindly of a caution, and finds a bare stop wrong."""
    taught(run, own, "superfat at least 5 %", "--name", "fat")
    asked = run("rules", "lint", "--book", str(own))
    assert CLEAN == asked.code
    assert "No reason is given of fat" in asked.out
    taught(run, own, "Stop: superfat at least 2 %", "--name", "fat-stop")
    wrong = run("rules", "lint", "--book", str(own))
    assert FINDINGS == wrong.code
    assert '"fat-stop": It has no hits.' in " ".join(wrong.out.split())


def test_the_first_rule_of_the_readme_passes_its_own_commands(run: Run, own: Path) -> None:
    """As the README writes it, the rule is read, and test and lint find nothing wrong."""
    text = (DEMO.parent / "README.md").read_text("utf-8")
    rule = text.partition("```yaml\n- rule:")[2].partition("```")[0]
    (own / "rules" / "mine").mkdir(parents=True)
    (own / "rules" / "mine" / "learned.yaml").write_text(f"- rule:{rule}", "utf-8")
    assert [rule.partition("\n")[0].strip()] == [r.name for r in Book(own).rulebook.rules if r.record.is_mine]
    assert CLEAN == run("rules", "test", "--book", str(own)).code
    assert CLEAN == run("rules", "lint", "--book", str(own)).code


TWO = "lime never above 2 % of portion oils and never in the top layer"


def test_two_demands_in_one_sentence_are_kept_as_two_sentences_would_be(
    run: Run, own: Path, tmp_path: Path
) -> None:
    """Shown numbered, kept by one yes, and the file is that of the two sentences said by themselves."""
    shown = run("rules", "new", TWO, "--book", str(own))
    assert CLEAN == shown.code
    assert not (own / SAID).exists()
    lines = shown.out.splitlines()
    assert ["Understood as two rules."] == lines[:1]
    assert "1: lime at most 2 % of portion oils." in lines
    assert "2: lime never in top portions." in lines
    assert "add `--yes`" in shown.out
    out = " ".join(run("rules", "new", TWO, "--book", str(own), "--yes").out.split())
    names = [rule.name for rule in Book(own).rulebook.rules if rule.record.is_mine]
    assert 2 == len(names)
    assert f"Kept in {SAID} as {names[0]} and {names[1]}" in out
    shutil.copytree(DEMO, tmp_path / "other")
    for alone in json.loads(shown_json(run, own))["alone"]:
        taught(run, tmp_path / "other", alone)
    assert (own / SAID).read_bytes() == (tmp_path / "other" / SAID).read_bytes()


def shown_json(run: Run, own: Path) -> str:
    """What is published of the sentence that is two rules."""
    return run("rules", "new", TWO, "--book", str(own), "--json").out


def test_two_demands_of_which_one_is_unclear_are_not_kept(run: Run, own: Path) -> None:
    """A per cent of nothing in particular in either half keeps neither, not even on yes."""
    ran = run("rules", "new", TWO.replace(" of portion oils", ""), "--book", str(own), "--yes")
    assert FINDINGS == ran.code
    assert "Of what?" in ran.out
    assert not (own / SAID).exists()


def test_two_demands_under_one_name_are_two_names(run: Run, own: Path) -> None:
    """A name that is given is the first rule's; the second has it with a figure."""
    taught(run, own, TWO, "--name", "my-lime")
    mine = [rule.name for rule in Book(own).rulebook.rules if rule.record.is_mine]
    assert ["my-lime", "my-lime-2"] == mine
