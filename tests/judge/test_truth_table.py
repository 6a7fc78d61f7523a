"""The tables of the design, cell by cell, for every kind of line that a rule can have."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
import pytest

from blendwise.judge.conditions import logic
from blendwise.judge.conditions.comparator import FALSE, TRUE, UNKNOWN
from blendwise.judge.findings.evaluate import Facts, evaluate, truth
from tests.judge.words import INF, rule, table, table_of

TABLE = {
    # when, must
    (TRUE, TRUE): logic.HOLDS,
    (TRUE, UNKNOWN): logic.UNDECIDED,
    (TRUE, FALSE): logic.BROKEN,
    (UNKNOWN, TRUE): logic.HOLDS,
    (UNKNOWN, UNKNOWN): logic.UNDECIDED,
    (UNKNOWN, FALSE): logic.UNDECIDED,
    (FALSE, TRUE): logic.NOT_ASKED,
    (FALSE, UNKNOWN): logic.NOT_ASKED,
    (FALSE, FALSE): logic.NOT_ASKED,
}


@dataclass(frozen=True)
class Kind:
    """One kind of line: what is said, and columns whose rows make it true, unknown and false in turn."""

    says: dict[str, Any]
    columns: dict[str, list[Any]]
    truths: tuple[int, ...] = (TRUE, UNKNOWN, FALSE)


KINDS = {
    "at least": Kind({"planned lightness": "at least 70"}, {"planned_lightness": [70, None, 69]}),
    "at most": Kind({"scent load": "at most 4 %"}, {"scent_load": [0.04, (0.03, INF), 0.041]}),
    "above": Kind({"room": "above 20 °C"}, {"room": [20.1, None, 20]}),
    "below": Kind({"superfat": "below 2 %"}, {"superfat": [-0.01, (0.0, 0.05), 0.02]}),
    "between": Kind({"minutes left": "between 10 and 20 min"}, {"minutes_left": [20, (5, 15), 21]}),
    "number is": Kind({"planned lightness": "is 50"}, {"planned_lightness": [50, (40, 60), 51]}),
    "number is not": Kind({"planned lightness": "is not 50"}, {"planned_lightness": [51, (40, 60), 50]}),
    "another measure": Kind(
        {"scent load": "at most load cap"}, {"scent_load": [0.04, 0.04, 0.05], "load_cap": [0.04, None, 0.04]}
    ),
    "a factor": Kind(
        {"minutes left": "at least 1.2 × minutes needed"},
        {"minutes_left": [12, None, 11.9], "minutes_needed": [10, 10, 10]},
    ),
    "a word in order": Kind({"browning band": "at most tan"}, {"browning_band": ["tan", (2, INF), "brown"]}),
    "a word to a measure": Kind(
        {"browning band": "at most planned band"},
        {"browning_band": ["cream", "cream", "beige"], "planned_band": ["cream", None, "cream"]},
    ),
    "words between": Kind(
        {"browning band": "between cream and tan"}, {"browning_band": ["beige", (2, 5), "brown"]}
    ),
    "a word is": Kind({"browning band": "is tan"}, {"browning_band": ["tan", (2, 4), "beige"]}),
    "a word is not": Kind({"browning band": "is not tan"}, {"browning_band": ["beige", None, "tan"]}),
    "one of": Kind({"browning band": ["tan", "brown"]}, {"browning_band": [(3, 4), (4, 5), "ivory"]}),
    "none of": Kind({"browning band": "none of tan or brown"}, {"browning_band": [(0, 2), (2, 3), (3, 4)]}),
    "a flag": Kind({"for skin": "is yes"}, {"for_skin": ["yes", None, "no"]}),
    "a bare flag": Kind({"for skin": "no"}, {"for_skin": ["no", None, "yes"]}),
    "a set is": Kind({"tags": "is amine"}, {"tags": [["amine", "x"], None, ["x"]]}),
    "a set is not": Kind({"tags": "is not amine"}, {"tags": [["x"], None, ["amine", "x"]]}),
    "a set, one of": Kind({"tags": "one of amine, aldehyde"}, {"tags": [["aldehyde"], None, []]}),
    "a set, none of": Kind({"tags": {"none of": ["amine", "y"]}}, {"tags": [[], None, ["y"]]}),
    "any of": Kind(
        {"any of": [{"tags": "amine", "room": "at least 20 °C"}, {"for skin": "no"}]},
        {
            "tags": [["amine"], ["amine"], ["amine"]],
            "room": [20, None, 19],
            "for_skin": ["yes", "yes", "yes"],
        },
    ),
    "all of": Kind(
        {"room": "at least 20 °C", "superfat": "at least 0 %"},
        {"room": [20, 20, 19], "superfat": [0.0, None, None]},
    ),
    "known": Kind({"room": "known"}, {"room": [20, (19, 20), None]}, (TRUE, FALSE, FALSE)),
    "known set": Kind({"tags": "known"}, {"tags": [[], ["x"], None]}, (TRUE, TRUE, FALSE)),
    "unknown": Kind({"room": "unknown"}, {"room": [None, (19, 20), 20]}, (TRUE, TRUE, FALSE)),
}
OTHER = Kind({"portion mass": "at least 60 g"}, {"portion_mass": [60, None, 59]})


def columns(when: Kind, must: Kind) -> dict[str, list[Any]]:
    """The 3 × 3 rows: every row of ``when`` with every row of ``must``."""
    cells = list(product(range(3), range(3)))
    found = {name: [values[i] for i, _ in cells] for name, values in when.columns.items()}
    return found | {name: [values[j] for _, j in cells] for name, values in must.columns.items()}


def expected(when: Kind, must: Kind) -> list[int]:
    return [TABLE[a, b] for a, b in product(when.truths, must.truths)]


@pytest.mark.parametrize("name", KINDS)
def test_each_kind_of_line(name: str) -> None:
    """Each kind of line is true, unknown and false where it should be."""
    kind = KINDS[name]
    facts = Facts(table(**kind.columns))
    asked = rule(when=kind.says, must=OTHER.says)
    read = evaluate(rule(when=kind.says, must=OTHER.says), Facts(table(**columns(kind, OTHER)))).readings[0]
    assert list(kind.truths) == read.when.whole[::3].tolist()
    if len(tuple(asked.when)) == 1:
        assert list(kind.truths) == truth(next(iter(asked.when)), facts).tolist()


@pytest.mark.parametrize("name", KINDS)
def test_table_with_the_line_in_when(name: str) -> None:
    """All nine cells of the table, with each kind of line in ``when``."""
    verdict = evaluate(
        rule(when=KINDS[name].says, must=OTHER.says), Facts(table(**columns(KINDS[name], OTHER)))
    )
    assert expected(KINDS[name], OTHER) == verdict.outcomes.tolist()


@pytest.mark.parametrize("name", [name for name in KINDS if name != "unknown"])
def test_table_with_the_line_in_must(name: str) -> None:
    """All nine cells of the table, with each kind of line in ``must``."""
    verdict = evaluate(
        rule(when=OTHER.says, must=KINDS[name].says), Facts(table(**columns(OTHER, KINDS[name])))
    )
    assert expected(OTHER, KINDS[name]) == verdict.outcomes.tolist()


@pytest.mark.parametrize("size", [1, 2, 3])
def test_strong_kleene(size: int) -> None:
    """All-of is the least and any-of the greatest of any mixture of truths."""
    rows = np.array(list(product((FALSE, UNKNOWN, TRUE), repeat=size)), dtype=np.int8).T
    assert rows.min(axis=0).tolist() == logic.all_of(list(rows), rows.shape[1]).tolist()
    assert rows.max(axis=0).tolist() == logic.any_of(list(rows), rows.shape[1]).tolist()


def test_nothing_to_ask_is_true_and_nothing_to_choose_is_false() -> None:
    """All of nothing holds, any of nothing does not."""
    assert [TRUE, TRUE] == logic.all_of([], 2).tolist()
    assert [FALSE, FALSE] == logic.any_of([], 2).tolist()


@pytest.mark.parametrize("where", ["portion mass", "room", "minutes needed"])
def test_what_does_not_exist_is_not_asked(where: str) -> None:
    """A thing that is not there, in any column read, leaves the rule not asked even where a line is false."""
    facts = {"portion mass": [60, 60], "room": [10, 10], "minutes needed": [9, 9], "minutes left": [1, 1]}
    says = {"room": "at least 20 °C", "minutes left": "at least minutes needed"}
    asked = {where: [False, True]}
    verdict = evaluate(rule(when=OTHER.says, must=says), Facts(table_of(facts, asked=asked)))
    assert [logic.NOT_ASKED, logic.BROKEN] == verdict.outcomes.tolist()


def test_not_a_number_is_refused_where_it_is_asked() -> None:
    """A fact that is not a number is a fault, never a pass; where the thing is not there, no matter."""
    nan = float("nan")
    asked = {"room": [False, True]}
    facts = Facts(table_of({"room": [(nan, nan), 19]}, asked=asked))
    assert [logic.NOT_ASKED, logic.BROKEN] == evaluate(
        rule(must={"room": "at least 20 °C"}), facts
    ).outcomes.tolist()
    with pytest.raises(ValueError, match="not an interval in row 1"):
        evaluate(rule(must={"room": "at least 20 °C"}), Facts(table(room=[20, (nan, nan)])))
