"""What the rules say of the scent in a bar: everything that they would not say of the same bar unscented."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from blendwise.answers.pair_plan import BAR, Cup, situation
from blendwise.answers.pair_question import Question
from blendwise.facts.situation import Situation
from blendwise.facts.tables import table, tables
from blendwise.judge.compile import Rule
from blendwise.judge.finding import LEVELS, Finding
from blendwise.judge.findings import judge

WITHOUT_SCENT = ("batch", "portion")
"""The grains whose rules can speak of an unscented bar of one portion."""


def findings_of(s: Situation, unscented: Situation, rules: Sequence[Rule]) -> list[Finding]:
    """Findings on the scent in ``s``: those that ``unscented`` has too are about the batter and left out."""
    spoken = {_key(f) for f in judge(rules, {grain: table(unscented, grain) for grain in WITHOUT_SCENT})}
    return [finding for finding in judge(rules, tables(s)) if _key(finding) not in spoken]


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.rule, finding.measure, finding.value, finding.low, finding.high, finding.status


def unscented_bar(question: Question) -> Situation:
    """The same bar without any scent."""
    return situation(question, [Cup(BAR, colour=question.colour, scents={})])


def one_each(findings: Iterable[Finding]) -> list[Finding]:
    """One finding a rule: the first of those that are broken, else of those that are undecided."""
    kept: dict[str, Finding] = {}
    for finding in findings:
        first = kept.setdefault(finding.rule, finding)
        if first.status == "undecided" and finding.status == "broken":
            kept[finding.rule] = finding
    return list(kept.values())


def heaviest(findings: Iterable[Finding], status: str = "") -> int:
    """Index into LEVELS of the heaviest finding (of a status), −1 where there is none."""
    return max((LEVELS.index(f.level) for f in findings if status in ("", f.status)), default=-1)
