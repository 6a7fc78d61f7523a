"""Doubt beside ignorance: what judgement cannot settle is *tight*, neither broken nor not known."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.facts.columns import Column, Missing, Table
from blendwise.judge.conditions import logic
from blendwise.judge.findings.evaluate import Facts, evaluate
from blendwise.judge.findings.findings import judge
from tests.few import few
from tests.judge.test_properties import ROWS, cells, conditions, knowing
from tests.judge.words import UNKNOWN, rule, table, table_of

NEARER = (Missing("the recipe", "minutes"),)
Doubts = dict[str, list[tuple[float, float]]]


def doubted(plain: Table, doubts: Doubts, careful: bool = False) -> Table:
    """The table with its numbers and words widened: by row, how far down and how far up."""

    def column(name: str) -> Any:
        found = plain.column(name)
        if name not in doubts:
            return found
        assert isinstance(found, Column)
        down, up = (np.array(side) for side in zip(*doubts[name], strict=True))
        return replace(
            found,
            least=found.low - down,
            most=found.high + up,
            narrowed_by=dict.fromkeys(range(len(down)), NEARER),
        )

    return Table(plain.grain, plain.subjects, column, careful)


def minutes(least: float, middle: float, most: float, careful: bool = False) -> Table:
    """One row: minutes left with two ends, ten minutes needed."""
    plain = table(minutes_left=[middle], minutes_needed=[10])
    return doubted(plain, {"minutes left": [(middle - least, most - middle)]}, careful)


IN_TIME = {"minutes left": "at least minutes needed"}


@pytest.mark.parametrize(
    ("ends", "status", "level", "hidden"),
    [
        ((12, 14, 20), None, "", False),
        ((4, 6, 9), "broken", "conflict", False),
        ((6, 8, 14), "tight", "caution", False),
        ((8, 12, 14), "tight", "caution", True),
        ((10, 12, 14), None, "", False),
    ],
)
def test_settled_within_its_ends_or_tight(
    ends: tuple[float, float, float], status: str | None, level: str, hidden: bool
) -> None:
    """Ten minutes are needed: what both ends agree on is settled; else it is tight, a caution at most."""
    found = judge([rule(must=IN_TIME)], {"portion": minutes(*ends)})
    if status is None:
        assert found == []
        return
    (finding,) = found
    assert (finding.status, finding.level, finding.hidden) == (status, level, hidden)
    assert (finding.value, finding.least, finding.most) == (ends[1], ends[0], ends[2])


def test_tight_says_what_would_settle_it_and_lacks_nothing() -> None:
    """What would narrow the doubt is named, and nothing is said to be missing."""
    (finding,) = judge([rule(must=IN_TIME)], {"portion": minutes(6, 8, 14)})
    assert finding.settled_by == NEARER
    assert finding.missing == ()
    assert finding.middle == "broken"


def test_a_hint_stays_a_hint() -> None:
    """Tight is a caution at most: it does not raise a hint."""
    (finding,) = judge([rule(must=IN_TIME, else_="hint")], {"portion": minutes(6, 8, 14)})
    assert finding.level == "hint"


def test_a_locked_rule_takes_the_outer_ends() -> None:
    """What may never be loosened holds only where it holds at both ends."""
    locked = rule(must=IN_TIME, else_="stop")
    for ends in ((6, 8, 14), (8, 12, 14)):
        (finding,) = judge([locked], {"portion": minutes(*ends)})
        assert (finding.status, finding.level) == ("broken", "stop")
    assert judge([locked], {"portion": minutes(10, 12, 14)}) == []


def test_asked_with_care_tight_counts_as_broken() -> None:
    """``--careful``: what judgement cannot settle counts at the rule's own level."""
    (finding,) = judge([rule(must=IN_TIME)], {"portion": minutes(8, 12, 14, careful=True)})
    assert (finding.status, finding.level) == ("broken", "conflict")


def test_ignorance_stays_ignorance() -> None:
    """A fact that nobody wrote down is undecided, doubted or not, and counts as before."""
    plain = table(minutes_left=[UNKNOWN], minutes_needed=[10])
    for each in (plain, doubted(plain, {"minutes left": [(0.0, 0.0)]})):
        (finding,) = judge([rule(must=IN_TIME)], {"portion": each})
        assert (finding.status, finding.level) == ("undecided", "conflict")


def test_known_reads_the_middle() -> None:
    """A figure with two ends is known."""
    asked = rule(must={"minutes left": "known"})
    assert evaluate(asked, Facts(minutes(6, 8, 14))).outcomes.tolist() == [logic.HOLDS]


def test_a_column_whose_ends_lie_inside_its_middle_is_refused() -> None:
    """``least`` above ``low`` is a mistake in a measure, and told as one."""
    with pytest.raises(ValueError, match="not an interval"):
        evaluate(rule(must=IN_TIME), Facts(minutes(9, 8, 14)))


doubts = st.fixed_dictionaries(
    {
        name: st.lists(
            st.tuples(st.sampled_from([0.0, 1.0, 2.0]), st.sampled_from([0.0, 1.0, 3.0])),
            min_size=ROWS,
            max_size=ROWS,
        )
        for name in ("planned lightness", "minutes left", "minutes needed")
    }
)


@few(80)
@given(cells(), conditions | knowing, conditions)
def test_no_doubt_changes_nothing(facts: dict[str, Any], when: Any, must: Any) -> None:
    """Ends that are the middle's own give the outcomes of a column without ends, locked or not."""
    plain = table_of(facts)
    none = {name: [(0.0, 0.0)] * ROWS for name in facts if name not in ("tags", "for skin")}
    for level in ("conflict", "stop"):
        asked = rule(when=when, must=must, else_=level)
        before = evaluate(asked, Facts(plain)).outcomes
        assert evaluate(asked, Facts(doubted(plain, none))).outcomes.tolist() == before.tolist()


@few(80)
@given(cells(), conditions | knowing, conditions, doubts)
def test_doubt_moves_only_to_tight(facts: dict[str, Any], when: Any, must: Any, wide: Doubts) -> None:
    """Within doubt an outcome stays or becomes tight; what is undecided stays undecided.

    So to narrow a range never turns broken into holds, nor holds into broken, but through tight.
    """
    asked = rule(when=when, must=must)
    plain = table_of(facts)
    before = evaluate(asked, Facts(plain)).outcomes
    narrow = {name: [(down / 2, up / 2) for down, up in rows] for name, rows in wide.items()}
    half, whole = (evaluate(asked, Facts(doubted(plain, each))).outcomes for each in (narrow, wide))
    stays = {logic.HOLDS, logic.NOT_ASKED}
    for middle, near, far in zip(before.tolist(), half.tolist(), whole.tolist(), strict=True):
        if middle == logic.UNDECIDED:
            assert (near, far) == (middle, middle)
        for one, other in ((middle, near), (near, far), (middle, far)):
            assert one == other or other == logic.TIGHT or {one, other} <= stays
        assert not (near == logic.TIGHT and far != logic.TIGHT)


@few(40)
@given(cells(), conditions, conditions, doubts)
def test_a_locked_rule_is_never_milder(facts: dict[str, Any], when: Any, must: Any, wide: Doubts) -> None:
    """For a locked rule, and with care, doubt only ever makes worse."""
    plain = table_of(facts)
    before = evaluate(rule(when=when, must=must), Facts(plain)).outcomes
    locked = evaluate(rule(when=when, must=must, else_="stop"), Facts(doubted(plain, wide))).outcomes
    careful = evaluate(rule(when=when, must=must), Facts(doubted(plain, wide, careful=True))).outcomes
    assert locked.tolist() == careful.tolist()
    assert not (locked == logic.TIGHT).any()
    assert (locked >= before).all()
