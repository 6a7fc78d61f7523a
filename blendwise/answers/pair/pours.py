"""Which pours the blend leaves time for: each style of the rulebook, its portions scented alike."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from blendwise.answers.answer import Range
from blendwise.answers.heaviest import CAUTION, heaviest, one_each
from blendwise.answers.pair.plan import Cup, situation
from blendwise.answers.pair.question import Question
from blendwise.answers.pair.result import OPEN, PourFit, PourWord
from blendwise.answers.pair.sides import FIGURE_PORTIONS
from blendwise.answers.pair.stacked import joined
from blendwise.facts.columns import Column, Subject, Table
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.timeline import Timeline, timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import table
from blendwise.judge.findings.finding import Finding
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.kinds.pour import PourStyle

LOOKED_AT: Final = ("batch", "portion", "scent", "dose")


def pour_rules(rules: Sequence[Rule]) -> list[Rule]:
    """The rules by which a pour is judged; hints are left to the plan."""
    return [
        r for r in rules if r.level != "hint" and r.looks_at in LOOKED_AT and any(map(_of_pour, r.measures))
    ]


def without_pours(rules: Sequence[Rule]) -> list[Rule]:
    """The rules that can be asked before a pour is chosen."""
    return [rule for rule in rules if not any(map(_of_pour, rule.measures))]


def _of_pour(measure: str) -> bool:
    """Whether a pour decides a measure, or the measure of one side that a word speaks of."""
    return measure in REGISTRY and REGISTRY[measure].use.of_pour


def pours(question: Question, rules: Sequence[Rule]) -> Iterator[PourFit]:
    """Every style with three portions scented alike, in the order of the rulebook, all judged at once."""
    bars = {count: _bar(question, count) for count in {_portions(s) for s in question.book.pours.values()}}
    asked = pour_rules(rules)
    steady = steady_of(asked)
    made = {
        style.name: _in_style(bars[_portions(style)], style, steady) for style in question.book.pours.values()
    }
    found: dict[str, list[Finding]] = {name: [] for name in made}
    for finding in judge(asked, {grain: _stacked(grain, made) for grain in LOOKED_AT}):
        found[finding.subject[-1]].append(finding)
    for name, s in made.items():
        yield _fit(name, s, one_each(found[name]))


def _stacked(grain: str, made: Mapping[str, Situation]) -> Table:
    """One table of all styles, so that a rule is asked once; the style is the last of a subject's names."""
    parts = {name: table(s, grain) for name, s in made.items()}
    subjects = [
        Subject(grain, (*subject.names, name)) for name, part in parts.items() for subject in part.subjects
    ]
    careful = any(part.careful for part in parts.values())
    return Table(
        grain, subjects, lambda word: joined([part.column(word) for part in parts.values()]), careful
    )


def poured(question: Question, style: PourStyle) -> Situation:
    """The blend in a pour: one portion where the style has but one, else three equal ones, all alike."""
    return _in_style(_bar(question, _portions(style)), style)


def _portions(style: PourStyle) -> int:
    """How many cups the blend is asked in: of a pour that is thick on purpose, its top alone."""
    return 1 if style.touching == "none" or style.family == "thick" else FIGURE_PORTIONS


def _bar(question: Question, count: int) -> Situation:
    names = [f"portion {k + 1}" for k in range(count)]
    return situation(
        question, [Cup(n, colour=question.colour, may_become=question.may_become) for n in names]
    )


def steady_of(rules: Sequence[Rule]) -> frozenset[str]:
    """Measures that rules on pours read and no pour moves."""
    return frozenset(m for rule in rules for m in rule.measures if m in REGISTRY and not _of_pour(m))


def _in_style(bar: Situation, style: PourStyle, steady: Collection[str] = ()) -> Situation:
    """The bar in a pour; columns that no pour moves are worked out once, for all of its styles."""
    plan = bar.plan.model_copy(update={"pour": style.name})
    kept = {name: bar.home(name) for name in steady}
    return replace(bar, plan=plan, kept=kept, kept_fractions=bar.kept_fractions)


def findings_in(s: Situation, asked: Sequence[Rule]) -> list[Finding]:
    """One finding a rule on the clock and the batter of a pour."""
    return one_each(judge(asked, {grain: table(s, grain) for grain in LOOKED_AT}))


def _fit(name: str, s: Situation, found: Sequence[Finding]) -> PourFit:
    line = timeline(s)
    assert line is not None
    found = [finding for finding in found if not finding.hidden]
    rules = tuple(dict.fromkeys(finding.rule for finding in found))
    alone = None if not line.wants_fluid else float(line.base[0] - line.needed_until.max())
    return PourFit(name, _word(found), line.minutes, _spare(s, line), alone, len(s.portions), rules)


def _word(found: Sequence[Finding]) -> PourWord:
    if heaviest(found, "broken") > CAUTION:
        return "no time"
    if heaviest(found, "undecided") > CAUTION:
        return "not known"
    # a caution that only waits on a fact is told as the question that it is, not as a lack of time
    return "with care" if any(finding.stands for finding in found) else "time enough"


def _spare(s: Situation, line: Timeline) -> Range:
    """Minutes to spare of the worst portion; none are told of a thick pour."""
    spare = s.home("minutes to spare")
    assert isinstance(spare, Column)
    if not line.wants_fluid:
        return OPEN
    worst, best = (float(end[line.asks].min()) for end in (spare.low, spare.high))
    return Range(worst if np.isfinite(worst) else None, best)
