"""What stands beside the best split: the answer of a goal that pulls the other way, and the scented cup."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from blendwise.answers.assign.portions import poured, pours_of, premixes_of
from blendwise.answers.assign.reasons import conflict_of
from blendwise.answers.assign.result import Beside, Conflict, GoalChange
from blendwise.answers.check.compute import judge_situation
from blendwise.assignment.explain.prices import without
from blendwise.assignment.problem.goals import BANDS, Measure, band, gap
from blendwise.assignment.problem.problem import Goal, Problem, Source
from blendwise.assignment.problem.ready import Frame
from blendwise.assignment.result import Answer, Result
from blendwise.assignment.search.evaluate import evaluate
from blendwise.assignment.search.scented import MEANT, Placed, meant
from blendwise.assignment.search.solve import Ask, solve
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.layers import Rulebook

OF_THE_SOAP: Final[tuple[Goal, ...]] = (
    "true to blend",
    "even scent",
    "quick oils in little batter",
    "only where it browns",
)
"""Goals that are smelled, seen or felt at the pot; what it takes to weigh makes no other soap."""


def changes(problem: Problem, best: Answer, other: Answer) -> tuple[GoalChange, ...]:
    """What every goal comes to in both, in the maker's order, where it differs."""
    told = (change(problem, goal, best, other) for goal in problem.prefer)
    return tuple(each for each in told if each is not None)


def change(problem: Problem, measure: Measure, best: Answer, other: Answer) -> GoalChange | None:
    """One goal in both; grams as a share of all scent."""
    whole = problem.grams if BANDS[measure].of_total else 1.0
    one, two = (worth(problem, answer)[measure] / whole for answer in (best, other))
    return None if abs(one - two) < 5e-4 else GoalChange(str(measure), one, two)


def worth(problem: Problem, answer: Answer) -> Mapping[Measure, float]:
    """What the goals come to in an answer, by the cups that are open in this problem."""
    frame = Frame(problem)
    groups = tuple(premix.scents for premix in answer.premixes)
    return evaluate(frame, groups, np.round(answer.doses / frame.unit)).values


def beside(s: Situation, placed: Placed, ask: Ask, rulebook: Rulebook) -> Iterator[Beside]:
    """The answers that stand beside the best, each with what it costs."""
    ask = replace(ask, runner_up=False, explain=False)
    if placed.result.best is None:
        return
    yield from _pulled(s, placed.problem, placed.result, ask, rulebook)
    for each in placed.unmet:
        if each.wish == MEANT:
            yield from _scented(s, placed, each.name, each.because, ask, rulebook)


def _pulled(s: Situation, problem: Problem, result: Result, ask: Ask, rulebook: Rulebook) -> Iterator[Beside]:
    """For every goal that gave way to those before it: the answer in which it comes first."""
    assert result.best is not None
    asked = [goal.measure for goal in result.goals if goal.measure in problem.prefer]
    for goal in asked[1:]:
        room = band(goal, problem.grams) + gap(goal, problem.grams, ask.gap)
        if goal not in OF_THE_SOAP or result.best.values[goal] <= room:
            continue
        first = (goal, *(each for each in problem.prefer if each != goal))
        other = _proven(replace(problem, prefer=first), ask)
        if other is None or other.values[goal] >= result.best.values[goal] - room:
            continue
        if _heavy(s, problem, other, rulebook) <= _heavy(s, problem, result.best, rulebook):
            yield _told(s, problem, result.best, other, goal=str(goal))


def _proven(problem: Problem, ask: Ask) -> Answer | None:
    """The best answer; None where the clock ran out before it was proven: what is told hangs on no clock."""
    found = solve(problem, ask)
    return found.best if found.status == "optimal" else None


def _scented(
    s: Situation, placed: Placed, portion: str, because: Sequence[Source], ask: Ask, rulebook: Rulebook
) -> Iterator[Beside]:
    """A cup that a rule keeps bare, scented all the same: best without that rule, no stop broken."""
    assert placed.result.best is not None
    asked = meant(placed, portion)
    for source in because:
        rule = rulebook.by_name.get(str(source[1])) if source[0] == "rule" else None
        if rule is None or rule.is_locked:
            continue
        freer = without(asked, source)
        other = _proven(freer, ask)
        if other is None:
            continue
        if any(level == "stop" for level, _, _ in _heavy(s, freer, other, rulebook)):
            continue
        breaks = conflict_of(source, s.book.folder, rulebook)
        yield _told(s, freer, placed.result.best, other, scents=portion, breaks=(breaks,))
        return


def _heavy(
    s: Situation, problem: Problem, answer: Answer, rulebook: Rulebook
) -> set[tuple[str, str, tuple[str, ...]]]:
    """The stops and conflicts that the judge finds broken: level, rule, subject."""
    found = judge_situation(poured(s, problem, answer), rulebook).findings
    return {
        (each.level, each.rule, each.subject)
        for each in found
        if each.status == "broken" and each.level in ("stop", "conflict")
    }


def _told(
    s: Situation,
    problem: Problem,
    best: Answer,
    other: Answer,
    *,
    goal: str = "",
    scents: str = "",
    breaks: tuple[Conflict, ...] = (),
) -> Beside:
    settled = poured(s, problem, other)
    return Beside(
        goal=goal,
        scents=scents,
        breaks=breaks,
        premixes=premixes_of(problem, other),
        portions=pours_of(settled, problem, other),
        changes=changes(problem, best, other),
    )
