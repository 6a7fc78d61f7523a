"""What a lever may not make worse, and that its tables speak of what there is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blendwise.answers.levers import costs
from blendwise.answers.levers.ways.table import WAYS
from blendwise.answers.levers.weighing import severities, worse_than
from blendwise.facts.tables import vocabulary
from blendwise.judge.findings.finding import Finding, Level

USED = Finding(
    rule="over-the-limit",
    level="stop",
    status="broken",
    looks_at="batch",
    subject=("own",),
    measure="limit used",
    value=1.1,
    relation="at most",
    limit=1.0,
    unit="%",
    because="",
    try_="",
    basis="",
)
MARGIN = replace(USED, rule="lye-heavy", measure="superfat", value=-0.01, relation="at least", limit=0.0)


@pytest.mark.parametrize(("was", "value"), [(USED, 5.0), (MARGIN, -0.2)])
def test_a_stop_that_stands_may_not_grow(was: Finding, value: float) -> None:
    """Further beyond its limit is worse, though it was a stop before; nearer, or as far, is not."""
    before, after = severities([was]), severities([replace(was, value=value)])
    assert frozenset({was.rule}) == worse_than(before, after)
    assert not worse_than(after, before)
    assert not worse_than(before, before)


@pytest.mark.parametrize("level", ["caution", "conflict"])
def test_what_is_no_stop_may_move_within_its_level(level: Level) -> None:
    """A conflict that stands is no worse for a figure; a higher level is."""
    was = replace(USED, level=level)
    assert not worse_than(severities([was]), severities([replace(was, value=5.0)]))
    assert worse_than(severities([was]), severities([USED]))


def test_the_tables_name_only_measures_and_ways_that_there_are() -> None:
    """A measure misspelt would get no lever, and nobody would notice."""
    known = {word.name for word in vocabulary().values()}
    assert set(costs.TRIED) | costs.PAPERS | costs.CUPS | costs.ONLY_ASKED <= known
    assert {way for ways in (*costs.TRIED.values(), *costs.USUALLY.values()) for way in ways} <= set(WAYS)
    assert set(costs.COST) == set(WAYS)
    assert set(costs.GRADE) | costs.IN_GRAMS <= set(WAYS)
