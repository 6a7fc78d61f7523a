"""Cases proposed from a rule's own bounds come out as they should, on shipped rules and on makers' own."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.answers.rules.sentences.alike import rule_of
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.compile import Rule, compile_rule
from blendwise.judge.rulebook.proposals import proposed
from blendwise.judge.rulebook.rows import read_row
from blendwise.judge.rulebook.selftest import Case, run
from blendwise.records.kinds.rule import RuleRecord, load_rule_files
from tests.sentences.score import FILES, meant, sentences

RULES = Path(__file__).parents[2] / "rules"
SHIPPED = [
    compile_rule(entry, vocabulary()) for entry in load_rule_files(RULES) if isinstance(entry, RuleRecord)
]
SAID = [
    rule
    for file in FILES
    for entry in sentences(file)
    if "means" in entry and (rule := rule_of(meant(entry))) is not None
]


def outcome(rule: Rule, row: dict[str, object]) -> str:
    """What a rule says of a row as typed."""
    cells = read_row(rule, row, vocabulary(), ("hits", 0))
    return run(Case(rule, "x", "hit", ("broken",), cells, vocabulary())).outcome


@pytest.mark.parametrize("rules", [SHIPPED, SAID], ids=["shipped", "said"])
def test_what_is_proposed_comes_out_so(rules: list[Rule]) -> None:
    """A proposed hit is found broken, a proposed miss is held; most rules get both."""
    found = [(rule, proposed(rule, vocabulary())) for rule in rules]
    for rule, each in found:
        assert each.hit is None or "broken" == outcome(rule, each.hit)
        assert each.miss is None or "holds" == outcome(rule, each.miss)
    both = sum(each.hit is not None and each.miss is not None for _, each in found)
    assert both >= 0.94 * len(rules)


def test_a_miss_stands_exactly_at_the_limit() -> None:
    """Where a bound includes its limit, the miss is the limit and the hit a step past it."""
    record = RuleRecord.model_validate(
        {"rule": "r", "looks at": "batch", "must": {"superfat": "at least 5 %"}, "else": "caution"}
    )
    found = proposed(compile_rule(record, vocabulary()), vocabulary())
    assert ({"superfat": "limit - 0.1 %"}, {"superfat": "limit"}) == (found.hit, found.miss)
