"""Laws of doubt on generated pots: real plans at random doses, judged with ranges of several widths."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from blendwise.facts.columns import Column, Table
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import table
from blendwise.judge.conditions import logic
from blendwise.judge.findings.evaluate import Facts, evaluate
from blendwise.records.as_of import AsOf
from tests.assignment.test_both_sides import BOOK, PLANS, TODAY, random_doses

SITUATIONS = {name: BOOK.situation(name, AsOf(TODAY)) for name in PLANS}
GRAINS = ("batch", "portion", "scent", "dose", "edge")
FAR = 0.5
"""Doubt at its widest, as a share of a value."""


def with_doubt(s: Situation, grain: str, share: float) -> Table:
    """A table of the plan whose numbers judgement doubts by a share of themselves, words not."""
    plain = table(s, grain)

    def column(name: str) -> Any:
        found = plain.column(name)
        if not isinstance(found, Column) or found.scale is not None:
            return found
        low, high = (np.where(np.isfinite(end), end, 0.0) for end in found.outer)
        least, most = found.outer
        return replace(found, least=least - share * np.abs(low), most=most + share * np.abs(high))

    return Table(grain, plain.subjects, column)


doses = st.tuples(st.sampled_from(PLANS), st.integers(0, 10_000))


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(doses, st.floats(0.0, 1.0))
def test_narrowing_never_turns_broken_into_holds(drawn: tuple[str, int], part: float) -> None:
    """Of every rule of the rulebook, at any doses: from one width to another only by way of tight."""
    name, seed = drawn
    base = SITUATIONS[name]
    s = base.with_doses(random_doses(base, np.random.default_rng(seed)))
    for grain in GRAINS:
        wide, narrow = (Facts(with_doubt(s, grain, share)) for share in (FAR, FAR * part))
        for rule in BOOK.rulebook.rules:
            if rule.looks_at != grain or rule.is_locked:
                continue
            far, near = evaluate(rule, wide).outcomes, evaluate(rule, narrow).outcomes
            assert not ((far == logic.BROKEN) & (near != logic.BROKEN)).any(), rule.name
            assert not ((far == logic.HOLDS) & (near >= logic.TIGHT)).any(), rule.name
            assert ((far == logic.UNDECIDED) == (near == logic.UNDECIDED)).all(), rule.name


@pytest.mark.parametrize("name", PLANS)
def test_no_width_is_no_doubt(name: str) -> None:
    """Ends on the middle give, rule by rule and row by row, what no ends give."""
    s = SITUATIONS[name]
    for grain in GRAINS:
        plain, none = Facts(table(s, grain)), Facts(with_doubt(s, grain, 0.0))
        for rule in (rule for rule in BOOK.rulebook.rules if rule.looks_at == grain):
            assert evaluate(rule, none).outcomes.tolist() == evaluate(rule, plain).outcomes.tolist()
