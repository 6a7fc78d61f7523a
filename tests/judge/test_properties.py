"""Laws of the judge over random facts and random rules."""

from __future__ import annotations

from typing import Any

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from blendwise.facts.columns import Column, Missing, Table
from blendwise.judge.conditions import logic
from blendwise.judge.findings.evaluate import Facts, evaluate
from blendwise.judge.findings.findings import judge
from tests.few import few
from tests.judge.words import BANDS, INF, rule, table, table_of

ROWS = 8
NUMBERS = ("planned lightness", "minutes left", "minutes needed", "superfat")
UNIT = {"planned lightness": "", "minutes left": " min", "minutes needed": " min", "superfat": " %"}
SIZE = {"superfat": 0.01}

bounds = st.sampled_from(["at least", "at most", "above", "below"])
lines: st.SearchStrategy[tuple[str, Any]] = st.one_of(
    st.builds(lambda m, r, n: (m, f"{r} {n}{UNIT[m]}"), st.sampled_from(NUMBERS), bounds, st.integers(0, 5)),
    st.builds(
        lambda r, f: ("minutes left", f"{r} {f} × minutes needed"), bounds, st.sampled_from([0.5, 1, 2])
    ),
    st.builds(lambda r, w: ("browning band", f"{r} {w}"), bounds, st.sampled_from(BANDS)),
    st.builds(
        lambda w: ("browning band", {"none of": w}), st.lists(st.sampled_from(BANDS), min_size=1, max_size=3)
    ),
    st.builds(lambda r: ("browning band", f"{r} planned band"), bounds),
    st.builds(lambda w: ("tags", w), st.lists(st.sampled_from(["amine", "mint"]), min_size=1, max_size=2)),
    st.builds(lambda w: ("for skin", w), st.sampled_from(["yes", "no"])),
)
alls = st.lists(lines, min_size=1, max_size=3).map(dict)
conditions = st.one_of(
    alls, st.builds(lambda a, b: {**a, "any of": b}, alls, st.lists(alls, min_size=1, max_size=2))
)
knowing = st.builds(lambda a, m: {m: "unknown", **a}, conditions, st.sampled_from([*NUMBERS, "tags"]))

spans = st.tuples(st.integers(0, 5), st.integers(0, 3), st.booleans()).map(
    lambda s: (float(s[0]), INF if s[2] and s[1] == 3 else float(s[0] + s[1]))
)


@st.composite
def cells(draw: st.DrawFn) -> dict[str, list[Any]]:
    """Columns for every measure that the random rules speak of."""

    def rows(cell: st.SearchStrategy[Any]) -> list[Any]:
        return draw(st.lists(cell, min_size=ROWS, max_size=ROWS))

    found: dict[str, list[Any]] = {}
    for name in NUMBERS:
        size = SIZE.get(name, 1.0)
        found[name] = [(low * size, high * size) for low, high in rows(spans)]
    for name in ("browning band", "planned band"):
        found[name] = [(low, min(high, 5.0)) for low, high in rows(spans)]
    found["tags"] = rows(st.lists(st.sampled_from(["amine", "mint", "citrus"]), unique=True))
    found["for skin"] = rows(st.sampled_from(["yes", "no"]))
    return found


def as_table(found: dict[str, list[Any]]) -> Table:
    return table_of(found)


@few(80)
@given(cells(), conditions | knowing, conditions, st.data())
def test_forgetting_never_mends(facts: dict[str, Any], when: Any, must: Any, data: st.DataObject) -> None:
    """To replace a known fact by an unknown one never turns broken into holds, nor holds into broken.

    Where ``when`` asks only of what is written, it never falls silent either.
    """
    asked = rule(when=when, must=must)
    before = evaluate(asked, Facts(as_table(facts))).outcomes
    name = data.draw(st.sampled_from(sorted(facts)))
    row = data.draw(st.integers(0, ROWS - 1))
    forgotten = {**facts, name: [None if i == row else cell for i, cell in enumerate(facts[name])]}
    after = evaluate(asked, Facts(as_table(forgotten))).outcomes
    allowed = {
        logic.BROKEN: {logic.BROKEN, logic.UNDECIDED},
        logic.UNDECIDED: {logic.UNDECIDED},
        logic.HOLDS: {logic.HOLDS, logic.UNDECIDED},
        logic.NOT_ASKED: {logic.NOT_ASKED, logic.UNDECIDED, logic.HOLDS},
    }
    if any(said == "unknown" for said in when.values()):  # such a rule wakes up when something is forgotten
        allowed[logic.NOT_ASKED].add(logic.BROKEN)
    assert after[row] in allowed[int(before[row])]
    others = np.arange(ROWS) != row
    assert before[others].tolist() == after[others].tolist()


@few(40)
@given(cells(), conditions, conditions, st.data())
def test_only_missing_facts_that_matter_are_named(
    facts: dict[str, Any], when: Any, must: Any, data: st.DataObject
) -> None:
    """Writing down facts that an undecided finding does not name leaves it undecided."""
    blank = data.draw(st.lists(st.sampled_from(sorted(facts)), min_size=1, max_size=4, unique=True))
    open_ = {**facts, **{name: [None] * ROWS for name in blank}}
    asked = rule(when=when, must=must)
    for finding in judge([asked], {"portion": as_table(open_)}):
        if finding.status != "undecided":
            continue
        row = ord(finding.subject[0]) - ord("a")
        named = {missing.fact for missing in finding.missing}
        told = {name: facts[name] if name not in named else open_[name] for name in facts}
        outcome = evaluate(asked, Facts(as_table(told))).outcomes[row]
        assert named
        assert outcome == logic.UNDECIDED


@few(40)
@given(cells(), conditions, conditions)
def test_a_row_is_judged_alone(facts: dict[str, Any], when: Any, must: Any) -> None:
    """What a rule says of a row does not depend on the other rows."""
    asked = rule(when=when, must=must)
    together = evaluate(asked, Facts(as_table(facts))).outcomes.tolist()
    alone = [
        evaluate(asked, Facts(as_table({name: [values[i]] for name, values in facts.items()}))).outcomes[0]
        for i in range(ROWS)
    ]
    assert alone == together


def test_column_helper_marks_what_is_missing() -> None:
    """The tables of these tests name their own gaps, so that findings can be held against them."""
    found = table(room=[20, None]).column("room")
    assert isinstance(found, Column)
    assert found.missing == {1: (Missing("row 1", "room"),)}
