"""What makers say holds for judge and solver alike, and rules that can never both hold are told in pairs."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.answers.rules.sentences.alike import rule_of
from blendwise.answers.rules.sentences.draft import Draft
from blendwise.answers.rules.sentences.reading import read_sentence
from blendwise.assignment.problem.kinds import how_it_compiles
from blendwise.assignment.problem.problem import EitherOr, Row
from blendwise.facts.tables import tables
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.contradictions import contradictions
from blendwise.records.as_of import AsOf
from tests.assignment.test_both_sides import BOOK, PLANS, TODAY, broken_subjects, compiled, random_doses
from tests.sentences.score import FILES, book, draft_of, sentences

SHAPED = (
    "lavender between 0.5 and 1.5 % of portion oils",
    "cedar at least a fifth of any blend with lavender in it",
    "no citral in white",
    "nothing but cedar in white",
    "white gets only lavender",
    "no lavender when the room is above 15 °C",
    "cedar only when the batter is below 30 °C",
    "lavender at most 1 % of portion oils except in white",
    "lavender at most 1 % of portion oils unless for home",
    "no fragrance oil in a column unless the batter is below 30 °C",
    "lavender and cedar at most 1 % of portion oils in white or dark",
    "at least 0.2 and at most 0.6 oz ppo of lavender, of the cup's oils",
)


def rule(said: str) -> Rule:
    """The rule that a sentence says in the demo's book."""
    draft = read_sentence(said, book())
    assert isinstance(draft, Draft), said
    found = rule_of(draft, said)
    assert found is not None
    return found


def said_by_makers() -> list[Rule]:
    """Every rule that is meant by a sentence on the demo's shelf, and the newer shapes."""
    entries = [
        entry for file in FILES for entry in sentences(file) if "means" in entry and "book" not in entry
    ]
    drafts = [draft_of({**entry["means"], "else": "conflict"}) for entry in entries]
    return [found for draft in drafts if (found := rule_of(draft)) is not None] + [
        rule(said) for said in SHAPED
    ]


def test_judge_and_solver_agree_on_what_makers_say() -> None:
    """At random doses each sentence's rule is broken where its constraints are, on every plan of the demo."""
    rng, bound = np.random.default_rng(23), 0
    situations = [BOOK.situation(name, AsOf(TODAY)) for name in PLANS]
    for each in said_by_makers():
        assert how_it_compiles(each)
        compared = 0
        for s in situations:
            compiler = compiled(each, s)
            if compiler is None:
                continue
            x = random_doses(s, rng)
            found = judge([each], tables(s.with_doses(x)))
            judged = {f.subject_text for f in found if f.status == "broken"}
            items: list[Row | EitherOr] = [*compiler.found.rows, *compiler.found.either]
            settled = judged - {str(item.source[2]) for item in items}
            assert judged - settled == broken_subjects(each, compiler, x[compiler.kept]), each.record
            compared += 1
        bound += compared > 0
    assert bound >= 50


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("lime only with litsea", "never lime with litsea"),
        ("lime only in white", "lime never in white"),
        ("lime only in white", "lime only in dark"),
        ("lime only in outer portions", "lime never in outer portions"),
        ("lime only in June", "no lime in summer"),
        ("superfat at least 8 %", "superfat between 4 and 6 %"),
        ("lime at most 1 % of portion oils", "lime at least 2 % of portion oils"),
        ("at most one cup with lime", "at least two cups with lime"),
        ("no lime in a column", "lime only in a column"),
    ],
)
def test_rules_that_can_never_both_hold_are_told_in_pairs(one: str, other: str) -> None:
    """Whichever is taught later is told with the earlier, and no other pair is."""
    pair = [rule(one), rule(other)]
    for rules in (pair, pair[::-1]):
        assert [(rules[1].name, rules[0].name)] == [(a.name, b.name) for a, b, _ in contradictions(rules)]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("lime only with litsea or cedar", "never lime with litsea"),
        ("lime only in white", "litsea never in white"),
        ("lime only in outer portions", "lime only in top"),
        ("lime at most 2 % of portion oils", "lime at least 2 % of portion oils"),
    ],
)
def test_rules_that_can_both_hold_are_let_be(one: str, other: str) -> None:
    """Where some plan keeps both, nothing is told."""
    assert [] == list(contradictions([rule(one), rule(other)]))
