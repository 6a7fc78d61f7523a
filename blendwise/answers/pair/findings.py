"""What the rules say of the scent in a bar: everything that they would not say of the same bar unscented."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from blendwise.answers.pair.plan import BAR, Cup, situation
from blendwise.answers.pair.pours import without_pours
from blendwise.answers.pair.question import Question
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import table, tables
from blendwise.judge.findings.finding import Finding
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule

WITHOUT_SCENT = ("batch", "portion")
"""The grains whose rules can speak of an unscented bar of one portion."""


class Hearing:
    """A question before the rules that can be asked without a pour."""

    def __init__(self, question: Question, rules: Sequence[Rule]) -> None:
        self.question = question
        self.rules = without_pours(rules)

    @cached_property
    def of_batter(self) -> tuple[Finding, ...]:
        """What the rules say of the bar without scent: it is about the batter, and said of no oil."""
        unscented = unscented_bar(self.question)
        return tuple(judge(self.rules, {grain: table(unscented, grain) for grain in WITHOUT_SCENT}))

    @cached_property
    def _spoken(self) -> frozenset[tuple[object, ...]]:
        return frozenset(map(_key, self.of_batter))

    def of(self, s: Situation, rules: Sequence[Rule] | None = None) -> list[Finding]:
        """Findings on the scent in a bar, by all rules or by some of them."""
        found = judge(self.rules if rules is None else rules, tables(s))
        return [finding for finding in found if _key(finding) not in self._spoken]


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.rule, finding.measure, finding.value, finding.low, finding.high, finding.status


def unscented_bar(question: Question) -> Situation:
    """The same bar without any scent."""
    return situation(question, [Cup(BAR, colour=question.colour, scents={})])
