"""Rules prove themselves on rows of facts written beside them."""

from __future__ import annotations

from typing import Any

import pytest

from blendwise.judge.conditions.limits import ConditionError
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import layered
from blendwise.judge.rulebook.selftest import cases, run
from blendwise.records.kinds.rule import rules_in
from blendwise.records.reading.document import text_document
from tests.judge.words import VOCABULARY, rule


def outcomes(asked: Rule) -> dict[str, tuple[str, bool]]:
    return {
        r.case.name.partition("/")[2]: (r.outcome, r.passed) for r in map(run, cases([asked], VOCABULARY))
    }


def row(asked: Rule, index: int = 0) -> dict[str, Any]:
    return dict(cases([asked], VOCABULARY)[index].row)


def test_the_browning_rule_of_the_design() -> None:
    """Hits one band past the planned one, misses at it and on a dark portion; one case more at the limit."""
    asked = rule(
        when={"planned lightness": "at least 70"},
        must={"browning band": "at most planned band"},
        hits=[{"planned lightness": "88", "planned band": "ivory", "browning band": "limit + 1"}],
        misses=[
            {"planned lightness": "88", "planned band": "ivory", "browning band": "limit"},
            {"planned lightness": "40", "planned band": "ivory", "browning band": "limit + 3"},
        ],
    )
    assert outcomes(asked) == {
        "hit-1": ("broken", True),
        "miss-1": ("holds", True),
        "miss-2": ("not asked", True),
        "at-the-limit": ("holds", True),
    }


@pytest.mark.parametrize(
    ("says", "text", "value"),
    [
        ({"scent load": "at most 4 %"}, "limit", 0.04),
        ({"scent load": "at most 4 %"}, "limit + 0.5 %", 0.045),
        ({"scent load": "at most 4 %"}, "limit - 0.5 % of portion oils", 0.035),
        ({"portion mass": "at least 60 g"}, "limit - 1 oz", 31.650476875),
        ({"room": "at least 20 °C"}, "limit - 9 °F", 15.0),
        ({"planned lightness": "above 70"}, "limit + 1", 71.0),
        ({"browning band": "at most cream"}, "limit + 2", 3.0),
        ({"minutes left": "between 10 and 20 min"}, "lower limit - 1 min", 9.0),
        ({"minutes left": "between 10 and 20 min"}, "upper limit", 20.0),
    ],
)
def test_rows_lean_on_the_limit(says: dict[str, str], text: str, value: float) -> None:
    """``limit`` is the rule's own number, moved by a distance in any unit of its kind or by words."""
    ((measure, _),) = says.items()
    assert row(rule(must=says, hits=[{measure: text}]))[measure] == pytest.approx(value, rel=1e-12)


def test_a_limit_taken_from_another_measure() -> None:
    """The limit is then the row's own value of that measure, times the factor, whatever the order typed."""
    says = {"minutes left": "at least 1.2 × minutes needed"}
    found = row(rule(must=says, hits=[{"minutes left": "limit - 1 min", "minutes needed": "10 min"}]))
    assert {"minutes needed": 10.0, "minutes left": 11.0} == found


def test_an_adjusted_number_does_not_break_the_rows() -> None:
    """Rows that lean on the limit follow it when the maker adjusts it."""
    text = (
        "- {rule: thin, looks at: edge, must: {contrast: at least 10}, else: hint,\n"
        "   hits: [{contrast: limit - 1}], misses: [{contrast: limit}]}\n"
        "- {adjust: thin, to: {contrast: at least 3}}\n"
    )
    book = layered(rules_in(text_document(text)), VOCABULARY)
    assert [(2.0, True), (3.0, True), (3.0, True)] == [
        (r.case.row["contrast"], r.passed) for r in map(run, cases(book.rules, VOCABULARY))
    ]


@pytest.mark.parametrize(
    ("relation", "outcome"),
    [("at least", "holds"), ("at most", "holds"), ("above", "broken"), ("below", "broken")],
)
def test_the_row_at_the_limit_is_always_made(relation: str, outcome: str) -> None:
    """At exactly the limit, at least and at most hold and above and below do not."""
    asked = rule(must={"room": f"{relation} 20 °C"}, hits=[{"room": "5 °C" if "a" in relation else "30 °C"}])
    assert (outcome, True) == outcomes(asked)["at-the-limit"]


def test_a_hit_that_does_not_hit_says_what_it_is() -> None:
    """A row that comes out otherwise fails with its name and outcome."""
    asked = rule(must={"room": "at least 20 °C"}, hits=[{"room": "limit"}], misses=[{"superfat": "5 %"}])
    hit, miss, _ = (run(case) for case in cases([asked], VOCABULARY))
    assert hit.why == '"a-rule/hit-1" comes out holds, not broken.'
    assert miss.why == '"a-rule/miss-1" comes out undecided, not silent. The row does not give: room.'


def test_facts_that_are_not_known_can_be_written() -> None:
    """``not known`` in a row is not known, as is a fact that is not there."""
    asked = rule(must={"room": "at least 20 °C"}, misses=[{"room": "not known"}])
    assert ("undecided", False) == outcomes(asked)["miss-1"]


def test_pairs_prove_both_orders() -> None:
    """A row of a pair is a hit whichever scent is written as ``one``."""
    asked = rule(
        looks_at="pair",
        when={"one tags": "amine"},
        must={"other tags": "none of aldehyde"},
        hits=[{"one tags": "aldehyde", "other tags": ["amine", "musk"]}],
        misses=[{"one tags": "amine", "other tags": "amine"}],
    )
    assert {"hit-1": ("broken", True), "miss-1": ("holds", True)} == outcomes(asked)


@pytest.mark.parametrize(
    ("says", "cells", "why"),
    [
        ({"room": "at least 20 °C"}, {"superfat": "limit"}, 'sets no limit on "superfat"'),
        ({"scent load": "at most 4 %"}, {"scent load": "limit + 1"}, "has no unit"),
        ({"planned lightness": "at most 4"}, {"planned lightness": "limit + 1 %"}, "not a distance"),
        ({"browning band": "at most brown"}, {"browning band": "limit + 2"}, "outside the words"),
        ({"browning band": "at most brown"}, {"browning band": "limit + 0.5"}, "not a distance"),
        ({"minutes left": "between 1 and 2 min"}, {"minutes left": "limit"}, "two limits"),
        (
            {"minutes left": "at least minutes needed"},
            {"minutes left": "limit"},
            'does not give "minutes needed"',
        ),
        ({"room": "at least 20 °C"}, {"rom": "20 °C"}, "not a measure"),
        ({"room": "at least 20 °C"}, {"room": ["20 °C"]}, "one value"),
    ],
)
def test_rows_that_cannot_be_read(says: dict[str, str], cells: dict[str, Any], why: str) -> None:
    """A row that cannot be read says why, with its place in the entry."""
    with pytest.raises(ConditionError, match=why) as caught:
        cases([rule(must=says, hits=[cells])], VOCABULARY)
    assert ("hits", 0, next(iter(cells))) == caught.value.path
