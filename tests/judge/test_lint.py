"""The linter: a good rule passes, each kind of bad one is told with its own lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.layers import read_layers
from blendwise.judge.rulebook.lint import Complaint, lint
from blendwise.judge.rulebook.sayings import unfilled
from blendwise.records.kinds.rule import load_rule_files, rules_in
from blendwise.records.reading.document import text_document
from tests.judge.words import VOCABULARY

RULES = Path(__file__).resolve().parents[2] / "rules"
GOOD = """\
- rule: light-stays-light
  looks at: portion
  when: {planned lightness: at least 70}
  must: {browning band: at most planned band}
  else: conflict
  because: A light portion shows it.
  try: Leave it unscented.
  basis: common practice
  hits: [{planned lightness: 88, planned band: ivory, browning band: limit + 1}]
  misses: [{planned lightness: 88, planned band: ivory, browning band: limit}]
"""
EXPLAINED = "else: hint, because: It shows., try: Move it., basis: common practice"


def complaints(text: str) -> list[Complaint]:
    return lint(rules_in(text_document(text, Path("rules/mine/own.yaml"))), VOCABULARY)


def said(body: str, name: str = "late") -> list[str]:
    return [
        c.fault.message for c in complaints(f"- {{rule: {name}, looks at: portion, {body}, {EXPLAINED}}}\n")
    ]


def test_a_good_rule_passes() -> None:
    """Nothing is said of a rule that is explained, proved and to the point."""
    assert [] == complaints(GOOD)


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("because", "It has no reason."),
        ("try", "It has no remedy."),
        ("basis", "It has no basis."),
        ("hits", "It has no hits."),
        ("misses", "It has no misses."),
    ],
)
def test_a_missing_part_is_asked_for(line: str, what: str) -> None:
    """Of a stop, reason, remedy, basis, hits and misses are each asked for, beside the entry's own lines."""
    stop = GOOD.replace("else: conflict", "else: stop")
    text = "".join(row for row in stop.splitlines(keepends=True) if f"  {line}:" not in row)
    (found,) = complaints(text)
    assert what in found.fault.message
    assert found.lines == text.removeprefix("- ").rstrip()


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ("must: {rom: at least 20 °C}", '"rom" is not a measure'),
        ("must: {room: at least 20 g}", "is a mass"),
        ("must: {contrast: at least 20}", "belongs to an edge"),
        ("must: {room: between 30 and 20 °C}", "runs backwards"),
        ("must: {planned lightness: at most 170}", "is always at most 170"),
        ("must: {planned lightness: above 100}", "can never be above 100"),
        ("when: {portion mass: at least 0 g}, must: {room: at least 20 °C}", "is always at least 0 g"),
        ("when: {browning band: at least ivory}, must: {room: at least 20 °C}", "is always at least ivory"),
        ("when: {room: known}, must: {room: at least 20 °C}", "would fall silent"),
        ("when: {minutes needed: known}, must: {minutes left: at least minutes needed}", "would fall silent"),
        ("when: {any of: [{room: known}, {tags: a}]}, must: {room: at least 20 °C}", "would fall silent"),
        ("when: {room: at least 25 °C}, must: {room: at least 20 °C}", "follows from `when`"),
        ("must: {room: at least 20 °C}, hits: [{room: limit}]", '"late/hit-1" comes out holds, not broken'),
        ("must: {room: at least 20 °C}, misses: [{room: limit - 1 °C}]", "comes out broken, not silent"),
        ("must: {room: at least 20 °C}, hits: [{rom: limit}]", '"rom" is not a measure'),
        ("must: {room: at least 20 °C}, hits: [{room: 9 °C, superfat: 5 %}]", 'gives "superfat"'),
    ],
)
def test_each_kind_of_slip(body: str, what: str) -> None:
    """What cannot be read, says nothing, never fires, falls silent or proves the contrary is told."""
    assert [what] == [what for message in said(body) if what in message]


def test_two_that_can_never_both_hold() -> None:
    """Two rules without a common value are a contradiction where one is asked wherever the other is."""
    least = f"- {{rule: least, looks at: portion, must: {{room: at least 25 °C}}, {EXPLAINED}}}\n"
    asked = "when: {tags: a}, must: {room: at most 20 °C}"
    most = f"- {{rule: most, looks at: portion, {asked}, {EXPLAINED}}}\n"
    found = [c for c in complaints(least + most) if "never both hold" in c.fault.message]
    assert [2] == [c.fault.place.line for c in found]
    assert '"least" (rules/mine/own.yaml:1:3)' in found[0].fault.message


@pytest.mark.parametrize(
    "other",
    [
        "must: {room: at most 25 °C}",  # 25 °C suits both
        "when: {for skin: is no}, must: {room: at most 20 °C}",  # asked of other portions
        "must: {minutes left: at most 5 min}",  # another measure
    ],
)
def test_what_may_both_hold_is_no_contradiction(other: str) -> None:
    """A common value, or rules that merely happen to meet on some plans, are nothing to complain of."""
    asked = "when: {for skin: is yes}, must: {room: at least 25 °C}"
    first = f"- {{rule: least, looks at: portion, {asked}, {EXPLAINED}}}\n"
    second = f"- {{rule: other, looks at: portion, {other}, {EXPLAINED}}}\n"
    assert [] == [c for c in complaints(first + second) if "never both" in c.fault.message]


def test_a_branch_that_never_holds() -> None:
    """A branch of ``any of`` that contradicts the lines above it is told; one that suits them, not."""
    branches = "[{room: at most 10 °C}, {room: at most 30 °C}]"
    text = f"when: {{room: at least 20 °C, any of: {branches}}}, must: {{tags: a}}"
    assert ["when"] == [m.split("`")[1].split(":")[0] for m in said(text) if "this branch never holds" in m]


def test_a_thousand_rules_are_looked_over() -> None:
    """A rulebook of a thousand rules, each with a slip, is told of each slip."""
    rows = (
        f"- {{rule: r{i}, looks at: portion, when: {{planned lightness: at least {1 + i % 90}}}, "
        f"must: {{scent load: at most {1 + i % 7} %}}, else: stop, because: x, try: y, "
        "hits: [{planned lightness: 99, scent load: limit + 1 %}], "
        "misses: [{planned lightness: 99, scent load: limit}]}\n"
        for i in range(1000)
    )
    found = complaints("".join(rows))
    assert ["It has no basis."] * 1000 == [c.fault.message.partition(": ")[2] for c in found]
    assert [f"rule: r{i}," for i in range(1000)] == [c.lines[1:].split(" looks")[0] for c in found]


@pytest.mark.parametrize(
    ("body", "what", "span"),
    [
        ("must: {planned lightness: above 100}", "never be above 100", "It runs from 0 L* to 100 L*."),
        ("must: {base notes: at most 100 %}", "is always at most 100 %", "It runs from 0 % to 100 %."),
        ("must: {portion superfat: at most 100 %}", "is always at most 100 %", "It is at most 100 %."),
        ("must: {dose: at least 0 % of portion oils}", "is always", "It runs from 0 % upwards."),
        ("must: {minutes fluid: at least 0 min}", "is always", "It runs from 0 min upwards."),
    ],
)
def test_the_ends_of_the_shipped_measures(body: str, what: str, span: str) -> None:
    """A bound that a shipped measure can never or always meet is told, with where the measure runs."""
    grain = "dose" if "dose" in body else "batch" if "base" in body else "portion"
    text = f"- {{rule: late, looks at: {grain}, {body}, {EXPLAINED}}}\n"
    found = lint(rules_in(text_document(text, Path("rules/mine/own.yaml"))), vocabulary())
    assert [span] == [c.fault.remedy for c in found if what in c.fault.message]


@pytest.mark.parametrize(
    ("says", "message"),
    [
        ("{portion} would turn {value}, you plan {limit}", ""),
        ("{oil} is too dark", 'Nothing fills "{oil}"'),
        ("{portion is too dark", "A bracket in `says`"),
    ],
)
def test_places_in_a_sentence_can_be_filled(says: str, message: str) -> None:
    """A place that this grain has no name for, and a bracket left open, are wrong."""
    found = [each.fault.message for each in complaints(GOOD + f'  says: "{says}"\n')]
    assert len(found) == (1 if message else 0)
    assert all(message in each for each in found)


def test_every_starter_rule_has_words_that_can_be_filled() -> None:
    """No rule of the package is without ``says``, and nothing in any of them stays open."""
    entries = load_rule_files(RULES)
    rules = read_layers(entries, vocabulary())[0].rules
    assert len(rules) > 90
    assert [rule.name for rule in rules if not rule.record.says] == []
    assert [(rule.name, wrong) for rule in rules for wrong in unfilled(rule)] == []
