"""Doubt on both sides: what the judge calls broken binds the solver, what it calls tight only weighs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from blendwise.assignment.problem.problem import EitherOr, Row
from blendwise.assignment.problem.rules import Compiler
from blendwise.facts.columns import Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import column_of
from blendwise.facts.registry import REGISTRY, Measure
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.as_of import AsOf
from tests.assignment.test_both_sides import BOOK, TODAY, broken_row, compiled, holds, random_doses

PLANS = ("greenhouse-morning", "harbour-morning", "market-day", "three-whites")
DOUBTED = ("browning load", "scent rate", "thickening")
NEARER = (Missing("the plan", "a look"),)


def widened(measure: Measure, down: float, up: float) -> Measure:
    """The measure with coefficients that judgement doubts by these factors."""
    make = measure.fraction
    assert make is not None

    def doubted(s: Situation) -> AffineFraction:
        form = make(s)
        return replace(form, a_least=form.a * down, a_most=form.a_high * up)

    def compute(s: Situation) -> Column:
        return column_of(s.fraction(measure.word.name), s, None, lambda _: {0: NEARER})

    return replace(measure, fraction=doubted, compute=compute)


def undoubted(measure: Measure) -> Measure:
    """The measure without what judgement doubts of it by itself."""
    make = measure.fraction
    assert make is not None

    def sure(s: Situation) -> AffineFraction:
        return replace(make(s), a_least=None, a_most=None)

    def compute(s: Situation) -> Column:
        return column_of(s.fraction(measure.word.name), s, None, lambda _: {})

    return replace(measure, fraction=sure, compute=compute)


@pytest.fixture
def doubt(monkeypatch: pytest.MonkeyPatch) -> Callable[[float, float], None]:
    """Let judgement doubt three fractions of the doses."""

    def widen(down: float, up: float) -> None:
        for name in DOUBTED:
            monkeypatch.setitem(REGISTRY, name, widened(REGISTRY[name], down, up))

    return widen


def asked(s: Situation) -> Iterator[tuple[Rule, Compiler]]:
    """The rules that bound a doubted fraction and compile to constraints."""
    for rule in BOOK.rulebook.rules:
        if rule.must.measures & {*DOUBTED, "browning band"}:
            compiler = compiled(rule, s)
            if compiler is not None:
                yield rule, compiler


def passed(compiler: Compiler, x: Any, soft: bool, rule: Rule) -> set[str]:
    """Subjects at which the hard, or the soft, constraints of a rule are broken."""
    found = set()
    items: list[Row | EitherOr] = [*compiler.found.rows, *compiler.found.either]
    for item in items:
        if item.weight is not None or (item.level != rule.level) != soft:
            continue
        if isinstance(item, Row):
            bad = item.uncertain is None and broken_row(item, x)
        else:
            bad = not any(holds(way, x) for way in item.alternatives)
        if bad:
            found.add(str(item.source[2]))
    return found


def test_broken_binds_and_tight_weighs(doubt: Callable[[float, float], None]) -> None:
    """Broken for the judge is past a hard row; tight with a middle that breaks is past a soft one only."""
    doubt(0.3, 2.5)
    rng = np.random.default_rng(915)
    seen = {"broken": 0, "tight": 0}
    for s in (BOOK.situation(name, AsOf(TODAY)) for name in PLANS):
        for rule, compiler in asked(s):
            for _ in range(80):
                _compare(rule, compiler, s.with_doses(doses(s, rng)), seen)
    assert seen["broken"] > 20
    assert seen["tight"] > 20


def doses(s: Situation, rng: np.random.Generator) -> Floats:
    """Random doses from a trace up, so that all bands of a load are met."""
    size = 10 ** rng.uniform(-1.5, 0.2, (1, s.shape[1]))
    return random_doses(s, rng) * np.where(s.scenting.blend[:, None] > 0, size, 1.0)


def _compare(rule: Rule, compiler: Compiler, s: Situation, seen: dict[str, int]) -> None:
    x = s.x[compiler.kept]
    found = judge([rule], tables(s))
    hard = passed(compiler, x, False, rule)
    broken = {f.subject_text for f in found if f.status == "broken"}
    tight = {f.subject_text for f in found if f.status == "tight" and not f.hidden}
    if rule.level == "caution" and not rule.is_locked:  # tight and broken weigh alike
        assert broken | tight == hard, rule.name
        return
    assert broken == hard, rule.name
    if not rule.is_locked:
        assert broken | tight == passed(compiler, x, True, rule), rule.name
    seen["broken"] += len(broken)
    seen["tight"] += len(tight)


def test_with_care_the_harsh_end_binds(doubt: Callable[[float, float], None]) -> None:
    """``--careful``: hard rows stand where the judge no longer calls it settled in favour."""
    doubt(0.6, 1.7)
    s = BOOK.situation("greenhouse-morning", AsOf(TODAY, careful=True))
    rng = np.random.default_rng(916)
    met = 0
    for rule, compiler in asked(s):
        for _ in range(25):
            x = random_doses(s, rng)
            found = judge([rule], tables(s.with_doses(x)))
            wrong = {f.subject_text for f in found if f.status != "accepted"}
            assert wrong == passed(compiler, x[compiler.kept], False, rule), rule.name
            met += len(wrong)
    assert met > 0


def test_no_doubt_compiles_to_the_same(
    doubt: Callable[[float, float], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ends that are the middle's own give the same hard rows, number by number."""
    plain = BOOK.situation("greenhouse-morning", AsOf(TODAY))
    monkeypatch.setitem(REGISTRY, "browning load", undoubted(REGISTRY["browning load"]))
    before = {rule.name: compiler.found for rule, compiler in asked(plain)}
    doubt(1.0, 1.0)
    s = BOOK.situation("greenhouse-morning", AsOf(TODAY))
    for rule, compiler in asked(s):
        hard = [row for row in compiler.found.rows if row.level == rule.level]
        assert len(hard) == len(before[rule.name].rows)
        for one, other in zip(hard, before[rule.name].rows, strict=True):
            assert (one.name, one.a0, one.level) == (other.name, other.a0, other.level)
            np.testing.assert_array_equal(one.a, other.a)


def test_ignorance_stays_where_it_was_at_the_kind_end() -> None:
    """An amount that nobody wrote down is not helped by the doubt of another."""
    a, high = np.array([[[2.0], [3.0]]]), np.array([[[2.0], [np.inf]]])
    form = fraction(a, a_high=high, doubt=(a * 0.5, high * 2))
    assert form.at("kind", upper=True).ravel().tolist() == [1.0, np.inf]
    assert form.at("middle", upper=True).ravel().tolist() == [2.0, np.inf]
    assert form.at("harsh", upper=True).ravel().tolist() == [4.0, np.inf]
    assert form.at("kind", upper=False).ravel().tolist() == [4.0, 3.0]
