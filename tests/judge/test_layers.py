"""Layers of rules: the maker changes the starter's only by a verb, and loosens nothing that is locked."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.judge.rulebook.layers import Rulebook, changed, layered
from blendwise.records.kinds.rule import RuleEntry, load_rule_files, rules_in
from blendwise.records.layer.layer import read_own_layer
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document
from tests.judge.words import VOCABULARY

STARTER = """\
- {rule: thin, looks at: edge, must: {contrast: at least 10}, else: caution, because: It shows.}
- {rule: load, looks at: portion, must: {scent load: at most 6 %}, else: conflict, protects: limits}
- rule: small
  looks at: portion
  when: {minutes left: at most 20 min}
  must:
    portion mass: at least 60 g
    room: between 10 and 30 °C
    any of: [{tags: none of a or b}, {for skin: "yes"}]
  else: stop
- {rule: dark, looks at: portion, must: {browning band: at most tan}, else: hint}
- {rule: time, looks at: portion, must: {minutes left: at least 1.2 × minutes needed}, else: stop}
"""


def entries(text: str, layer: str = "rules/mine") -> list[RuleEntry]:
    return rules_in(text_document(text, Path(f"{layer}/own.yaml")))


def book(mine: str) -> Rulebook:
    return layered([*entries(mine), *entries(STARTER, "rules")], VOCABULARY)


def refused(mine: str) -> str:
    with pytest.raises(RecordError) as caught:
        book(mine)
    return str(caught.value)


def test_the_starter_alone_has_no_changes() -> None:
    """Without a maker's layer the rules are the starter's, in their order, and nothing differs."""
    plain = layered(entries(STARTER, "rules"), VOCABULARY)
    assert ["thin", "load", "small", "dark", "time"] == [rule.name for rule in plain.rules]
    assert () == changed(plain)
    assert [0, 1, 2, 3, 4] == [rule.order for rule in plain.rules]


def test_a_rule_of_ones_own_is_added_and_listed() -> None:
    """A new name is a new rule after the starter's."""
    found = book("- {rule: warm, looks at: portion, must: {room: at least 18 °C}, else: hint}")
    assert ["warm", ("new", "warm")] == [found.rules[-1].name, (found.changes[0].verb, found.changes[0].rule)]


def test_a_bare_second_use_of_a_name_names_both_places() -> None:
    """The same name twice is an error that shows where both stand."""
    said = refused("- {rule: dark, looks at: portion, must: {browning band: at most cream}, else: hint}")
    assert "rules/mine/own.yaml:1:3" in said
    assert "already used at rules/own.yaml:11:3" in said


def test_one_number_is_adjusted() -> None:
    """``adjust`` changes one number and keeps the rest; what it was stands in the changes."""
    found = book("- {adjust: thin, to: {contrast: at least 8}, because: I like it soft.}")
    assert "contrast: at least 8" == str(next(iter(found.by_name["thin"].must)))
    change = changed(found)[0]
    assert ("contrast: at least 10", "contrast: at least 8", "I like it soft.") == (
        change.was,
        change.now,
        change.because,
    )


def test_a_level_and_a_number_can_both_be_adjusted() -> None:
    """Level and number are two changes of one rule."""
    found = book("- {adjust: thin, to: {contrast: at least 8}}\n- {adjust: thin, to: conflict}")
    assert ("conflict", 8.0) == (
        found.by_name["thin"].level,
        next(iter(found.by_name["thin"].must)).limits[0].value,
    )


def test_a_number_in_when_can_be_adjusted() -> None:
    """Where ``must`` does not speak of the measure, ``when`` is meant; a stop may be asked more often."""
    found = book("- {adjust: small, to: {minutes left: at most 25 min}}")
    assert 25.0 == next(iter(found.by_name["small"].when)).limits[0].value


def test_a_whole_body_is_replaced() -> None:
    """``replace`` puts a new body in the place of the old one."""
    found = book("- {replace: dark, looks at: portion, must: {browning band: at most cream}, else: caution}")
    assert ["thin", "load", "small", "dark", "time"] == [rule.name for rule in found.rules]
    assert ("caution", "replace") == (found.by_name["dark"].level, changed(found)[0].verb)


def test_a_rule_is_switched_off_with_a_reason() -> None:
    """``off`` takes the rule out and keeps the reason for the foot of every advice."""
    found = book("- {off: dark, because: My bars are brown.}")
    assert "dark" not in found.by_name
    assert ["My bars are brown."] == [change.because for change in found.off]
    assert '"because" is missing' in refused("- {off: dark}")


@pytest.mark.parametrize(
    ("mine", "what"),
    [
        ("- {off: small, because: x}", "switched off"),
        ("- {off: load, because: x}", "switched off"),
        ("- {replace: small, looks at: portion, must: {room: known}, else: stop}", "replaced"),
        ("- {adjust: small, to: conflict}", "lowered"),
        ("- {adjust: load, to: caution}", "lowered"),
        ("- {adjust: load, to: {scent load: at most 6.1 %}}", "looser"),
        ("- {adjust: small, to: {portion mass: at least 59 g}}", "looser"),
        ("- {adjust: small, to: {minutes left: at most 19 min}}", "looser"),
        ("- {adjust: small, to: {room: between 11 and 31 °C}}", "looser"),
        ("- {adjust: small, to: {tags: none of a}}", "looser"),
        ("- {adjust: time, to: {minutes left: at least 1.1 × minutes needed}}", "looser"),
        ("- {adjust: time, to: {minutes left: at least 60 min}}", "looser"),
    ],
)
def test_nothing_locked_is_loosened(mine: str, what: str) -> None:
    """A stop, or a rule that protects something, is not switched off, replaced, lowered or loosened."""
    said = refused(mine)
    assert what in said
    assert "rules/mine/own.yaml:1" in said


@pytest.mark.parametrize(
    "mine",
    [
        "- {adjust: load, to: {scent load: at most 5.9 %}}",
        "- {adjust: load, to: stop}",
        "- {adjust: small, to: {portion mass: at least 61 g}}",
        "- {adjust: small, to: {minutes left: at most 21 min}}",
        "- {adjust: small, to: {room: between 11 and 29 °C}}",
        "- {adjust: small, to: {tags: none of a or b or c}}",
        "- {adjust: time, to: {minutes left: at least 1.3 × minutes needed}}",
    ],
)
def test_stricter_is_welcome(mine: str) -> None:
    """A stricter number or level is taken for locked rules too."""
    assert ["adjust"] == [change.verb for change in book(mine).changes]


@pytest.mark.parametrize(
    ("mine", "says"),
    [
        (
            "- {adjust: thinn, to: {contrast: at least 8}}",
            'There is no rule "thinn". The rulebook has "thin"',
        ),
        ("- {adjust: thin, to: {contrast: at most 8}}", 'The rule says "contrast: at least 10"'),
        ("- {adjust: thin, to: {one lightness: at most 8}}", 'does not speak of "one lightness"'),
        ("- {adjust: thin, to: {contrast: at least 8 g}}", "is a mass"),
        ("- {adjust: thin, to: quiet}", "to a level or to one number"),
        (
            "- {off: dark, because: x}\n- {adjust: dark, to: caution}",
            "switched off at rules/mine/own.yaml:1:3",
        ),
        (
            "- {adjust: dark, to: caution}\n- {adjust: dark, to: stop}",
            "in the same way at rules/mine/own.yaml:1:3",
        ),
        ("- {rule: x, off: dark, because: x}", "two verbs, `rule` and `off`"),
        ("- {because: x}", "does not say what it does"),
        ("rule: dark", "is a list of entries"),
    ],
)
def test_slips_in_the_verbs(mine: str, says: str) -> None:
    """A change that cannot be made says why, at its place."""
    assert says in refused(mine)


def test_the_fingerprint_follows_the_rules() -> None:
    """Two rulebooks have one fingerprint exactly where they demand the same."""
    soft = "- {adjust: thin, to: {contrast: at least 8}}"
    assert book(soft).fingerprint == book(soft + "\n").fingerprint
    assert book(soft).fingerprint != layered(entries(STARTER, "rules"), VOCABULARY).fingerprint


def test_the_folder_tells_the_layer(tmp_path: Path) -> None:
    """A folder's files are the starter's; those under a book's ``rules/mine/`` the maker's, however deep."""
    (tmp_path / "rules" / "mine" / "deeper").mkdir(parents=True)
    (tmp_path / "rules" / "z.yaml").write_text(STARTER)
    (tmp_path / "rules" / "pours.yaml").write_text("not: rules")
    (tmp_path / "rules" / "mine" / "deeper" / "a.YML").write_text("- {off: dark, because: x}\n")
    found = load_rule_files(tmp_path / "rules")
    own = list(read_own_layer(tmp_path).rules)
    assert ([False] * 5, [True]) == ([e.is_mine for e in found], [e.is_mine for e in own])
    assert "dark" not in layered([*own, *found], VOCABULARY).by_name
