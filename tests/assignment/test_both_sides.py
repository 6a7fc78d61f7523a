"""One law, two readers: what the judge finds at a dose is what the compiled constraints say of it."""

from __future__ import annotations

import datetime
from pathlib import Path

import numpy as np
import pytest

from blendwise.api import Book
from blendwise.assignment.problem.problem import Alternative, EitherOr, Row
from blendwise.assignment.problem.rules import SOLVERS_OWN, Compiler
from blendwise.facts.columns import Column, Floats
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.conditions.comparator import FLOOR, TOLERANCE
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule, compile_rule
from blendwise.records.as_of import AsOf
from blendwise.records.kinds.rule import RuleRecord

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
BOOK = Book(DEMO)
PLANS = [path.stem for path in BOOK.files.plan_paths()]
TODAY = datetime.date(2026, 11, 25)


def broken_row(row: Row, x: Floats) -> bool:
    """Whether a compiled bound is passed at these doses (beyond the judge's own tolerance)."""
    left = float((row.a * x).sum() + row.a0)
    slack = TOLERANCE * (abs(row.a) * x).sum() + TOLERANCE * abs(row.a0) + FLOOR
    return bool(left >= -slack if row.strict else left > slack)


def holds(way: Alternative, x: Floats) -> bool:
    """Whether one alternative of an either-or holds at these doses."""
    return (
        not any(broken_row(row, x) for row in way.rows)
        and all(x[cell] == 0 for cell in way.empty)
        and all((x[:, p] == 0).all() for p in way.unscented)
    )


def broken_subjects(rule: Rule, compiler: Compiler, x: Floats) -> set[str]:
    """Subjects at which the rule's constraints are broken."""
    found: set[str] = set()
    items: list[Row | EitherOr] = [*compiler.found.rows, *compiler.found.either]
    for item in items:
        if item.weight is not None:  # its `when` is not known: undecided for the judge, a weight here
            continue
        if isinstance(item, Row):
            if item.uncertain is not None:
                continue
            bad = broken_row(item, x)
        else:
            bad = not any(holds(way, x) for way in item.alternatives)
        if bad:
            found.add(str(item.source[2]))
    return found


def random_doses(s: Situation, rng: np.random.Generator) -> Floats:
    """Doses around the load, a third of the cells empty; scents outside the blend as the plan has them."""
    x = rng.uniform(0, 2.5, s.shape) * s.scenting.load * s.split.oils / max(1, s.shape[0])
    x[rng.random(s.shape) < 0.35] = 0.0
    return np.where(s.scenting.blend[:, None] > 0, x, s.x)


def compiled(rule: Rule, s: Situation) -> Compiler | None:
    """The rule alone, compiled; None where it is settled elsewhere or left for afterwards."""
    compiler = Compiler(s)
    if not SOLVERS_OWN.isdisjoint(rule.must.measures) or "minutes fluid" in rule.must.measures:
        return None
    compiler.take(rule)
    if compiler.found.afterwards or not (compiler.found.rows or compiler.found.either):
        return None
    return compiler


@pytest.mark.parametrize("name", PLANS)
def test_judge_and_solver_agree_on_random_doses(name: str) -> None:
    """Rule by rule and subject by subject, judge and compiled constraints call the same doses broken.

    What is broken only at the middle of judgement is tight to the judge, and weighs softly in the solver.
    """
    s = BOOK.situation(name, AsOf(TODAY))
    rng = np.random.default_rng(20260314)
    compared = 0
    for rule in BOOK.rulebook.rules:
        compiler = compiled(rule, s)
        if compiler is None:
            continue
        for _ in range(12):
            x = random_doses(s, rng)
            found = judge([rule], tables(s.with_doses(x)))
            judged = {f.subject_text for f in found if "broken" in (f.status, f.middle)}
            solver = broken_subjects(rule, compiler, x[compiler.kept])
            items: list[Row | EitherOr] = [*compiler.found.rows, *compiler.found.either]
            settled = judged - {str(item.source[2]) for item in items}
            assert judged - settled == solver, (rule.name, judged, solver)
            compared += 1
    assert compared >= 12


OWN = [
    {"looks at": "portion", "must": {"dose of [citrus, cedar]": "at most 1.5 % of portion oils"}},
    {"looks at": "portion", "must": {"dose of [browner]": "at most 1 % of portion oils"}},
    {"looks at": "portion", "must": {"share of [fixative]": "at least 20 %"}},
    {"looks at": "batch", "must": {"batch dose of [fixative]": "at most 1 % of batch oils"}},
    {"looks at": "batch", "must": {"grams of [lavender, lime]": "below 12 g"}},
    {"looks at": "portion", "must": {"linalool in portion": "at most 0.1 % of portion oils"}},
    {"looks at": "batch", "must": {"limonene in bar": "at most 0.2 %"}},
    {"looks at": "dose", "when": {"tags": "fixative"}, "must": {"place": "is outer"}},
    {"looks at": "dose", "when": {"tags": "fixative"}, "must": {"portion": {"none of": ["foam", "milk"]}}},
    {
        "looks at": "portion",
        "when": {"share of [citrus]": "above 10 %"},
        "must": {"dose of [cedar]": "at least 1 % of portion oils"},
    },
    {"looks at": "dose", "when": {"scent": "lime"}, "must": {"month": "November to February"}},
]
"""Rules of a maker on named oils, on a constituent and on places; plans that have none of it pass them by."""


def own_rules() -> list[Rule]:
    """The rules above, read."""
    records = [
        RuleRecord.model_validate({"rule": f"own-{i}", "else": "conflict", **body})
        for i, body in enumerate(OWN)
    ]
    return [compile_rule(record, vocabulary()) for record in records]


@pytest.mark.parametrize("rule", own_rules(), ids=lambda rule: rule.name)
def test_rules_on_named_things_agree_on_random_doses(rule: Rule) -> None:
    """What a maker's own rule on named oils finds at random doses is what its constraints say."""
    rng, compared = np.random.default_rng(19), 0
    for name in PLANS:
        s = BOOK.situation(name, AsOf(TODAY))
        compiler = compiled(rule, s)
        if compiler is None:
            continue
        for _ in range(8):
            x = random_doses(s, rng)
            found = judge([rule], tables(s.with_doses(x)))
            judged = {f.subject_text for f in found if f.status == "broken"}
            items: list[Row | EitherOr] = [*compiler.found.rows, *compiler.found.either]
            settled = judged - {str(item.source[2]) for item in items}
            assert judged - settled == broken_subjects(rule, compiler, x[compiler.kept]), name
            compared += 1
    assert compared >= 8 or rule.must.measures <= {"month", "portion", "place"}


def test_the_clock_is_the_same_on_both_sides() -> None:
    """A portion that the judge calls too slow for its slot passes that slot's cap, and no other does."""
    rule = BOOK.rulebook.by_name["pour-outruns-the-batter"]
    s = BOOK.situation("greenhouse-morning", AsOf(TODAY))
    compiler = Compiler(s)
    compiler.take(rule)
    slots = compiler.found.slots
    assert slots is not None
    rng = np.random.default_rng(7)
    seen = 0
    for _ in range(200):
        x = random_doses(s, rng) * 6
        q = np.sort(1 + (slots.pace * x[compiler.kept]).sum(axis=0))
        judged = judge([rule], tables(s.with_doses(x)))
        assert len([f for f in judged if f.status == "broken"]) == int((q > slots.caps * (1 + 1e-9)).sum())
        seen += len(judged)
    assert seen > 0


def test_a_violation_is_a_share_of_its_limit_whatever_is_weighed() -> None:
    """A bound with no dose below its line is as large as its limit, not as the limit times the grams."""
    s = BOOK.situation("three-whites", AsOf(TODAY))
    compiler = compiled(BOOK.rulebook.by_name["portion-far-too-quick"], s)
    assert compiler is not None
    borne = s.home("quickness the pour bears")
    assert isinstance(borne, Column)
    scales = [row.scale for row in compiler.found.rows]
    assert scales == pytest.approx([1.5 * float(borne.low[0])] * len(s.portions))


def test_with_care_what_may_be_counts_on_both_sides() -> None:
    """Where an oil may last and nobody knows, judge and solver hold it against the split only with care."""
    rule = BOOK.rulebook.by_name["faded-and-unheld"]
    met = {True: 0, False: 0}
    for careful in met:
        s = BOOK.situation("rain-jar", AsOf(TODAY, careful=careful))
        compiler = compiled(rule, s)
        assert compiler is not None
        items: list[Row | EitherOr] = [*compiler.found.rows, *compiler.found.either]
        faded = {str(item.source[2]) for item in items if item.weight is None}
        rng = np.random.default_rng(7)
        for _ in range(40):
            x = random_doses(s, rng)
            found = judge([rule], tables(s.with_doses(x)))
            judged = faded & {f.subject_text for f in found if f.stands}
            assert broken_subjects(rule, compiler, x[compiler.kept]) == judged
            met[careful] += len(judged)
    assert met[True] > met[False] > 0
