"""A change tried on the plan as it is written: doses spread as ``check`` spreads them, rules judged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from typing import Any

from blendwise.answers.check.compute import moved_from, unasked
from blendwise.answers.check.result import CheckResult
from blendwise.answers.levers.case import Case, Way
from blendwise.answers.levers.costs import COST, TRIED, USUALLY
from blendwise.answers.levers.result import Mended
from blendwise.answers.levers.trial import NOTHING, Judgement, edited
from blendwise.answers.levers.weighing import (
    Key,
    Severities,
    before,
    counts,
    is_news,
    is_there,
    severities,
    worse_than,
)
from blendwise.facts.situation.doses import respread
from blendwise.facts.situation.worked_out import Situation, taken_over, versions_of, work_out
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.findings.acceptance import apply_acceptances
from blendwise.judge.findings.finding import UNREAD_RULE, Finding
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of
from blendwise.records.kinds.plan import Plan
from blendwise.records.place import RecordError


class AsWritten:
    """The plan of a situation, with what its check found; ``mended``: what an earlier change mended.

    ``ways``: those that may be tried.
    """

    beyond = NOTHING

    def __init__(
        self,
        s: Situation,
        rulebook: Rulebook,
        check: CheckResult,
        mended: frozenset[Key] = frozenset(),
        ways: frozenset[str] = frozenset(COST),
    ) -> None:
        assert s.plan.doc is not None
        self.ways = ways
        self.s, self.rulebook, self.check, self.mended = s, rulebook, check, mended
        self.doc, self.lye_stop = s.plan.doc, check.lye_stop
        self.rules = [rule for rule in rulebook.rules if rule.level != "hint"]

    def names(self, case: Case) -> Sequence[str]:
        """The ways that the table names for the measure."""
        known = TRIED.get(case.first.measure, USUALLY.get(case.first.looks_at, ()))
        return [name for name in known if name in self.ways]

    def case_of(self, found: Sequence[Finding]) -> Case:
        """The findings against the plan, or the version of it that they speak of."""
        return Case(self._situation(self.s.plan, found[0].version or self.s.variation), tuple(found))

    def cases_of(self, news: Sequence[Finding]) -> Sequence[Case]:
        """A case a rule that speaks; that nothing is worse is asked of all of them anyway."""
        rules = dict.fromkeys(each.rule for each in news)
        return [self.case_of([each for each in news if each.rule == rule]) for rule in rules]

    def after(self, plan: Plan, case: Case) -> AsWritten:
        """The same check of a changed plan: what the first change mended may not come back."""
        mended = self.mended | {(each.rule, each.subject) for each in case.found}
        return AsWritten(
            self._situation(plan, self.s.variation), self.rulebook, self.check, mended, self.ways
        )

    def passes(self, case: Case, way: Way, value: Any, rules: Set[str]) -> bool:
        """Whether the findings are mended and these rules say nothing worse of the changed plan."""
        s = self._changed(case, way, value)
        if s is None:
            return False
        asked = [rule for rule in self.rules if rule.name in rules]
        found = self._accepted(judge(asked, tables(s, {rule.looks_at for rule in asked})), s)
        return not _left(case, found) and not worse_than(self._before(case.s.variation), severities(found))

    def judged(self, case: Case, way: Way, value: Any) -> Judgement:
        """By every rule from caution up, its versions too; what it makes worse, where it makes it so."""
        doc = edited(way, self.doc, value)
        if doc is None:
            return Judgement()
        try:
            changed = self._situation(plan_of(doc, self.s.book), self.s.variation)
            if way.doses is not None:
                changed = taken_over(self.s, changed)
            found = dict(self._poured(changed))
        except (RecordError, ValueError):
            return Judgement()
        was = {each: self._before(each) for each in found}
        worse = frozenset(rule for each in found for rule in worse_than(was[each], severities(found[each])))
        left = _left(case, found[case.s.variation])
        if worse or left:
            news = [each for v in found for each in found[v] if is_news(each, was[v])]
            return Judgement(worse=worse, news=news, left=left)
        together = [each for findings in found.values() for each in findings]
        sound = not any(each.level in ("conflict", "stop") and each.stands for each in together)
        return Judgement(doc.text, stands=True, mends=tuple(self._gone(found)), sound=sound)

    def _gone(self, found: Mapping[str | None, Sequence[Finding]]) -> list[Mended]:
        """What is told of the plan and its versions and is not found in that version any more."""
        there = {
            (self._named(version), each.rule, each.subject)
            for version, findings in found.items()
            for each in findings
            if is_there(each)
        }
        return [
            Mended.by(each)
            for each in self.check.findings
            if counts(each) and (each.version, each.rule, each.subject) not in there
        ]

    def _named(self, version: str | None) -> str:
        """A version as findings name it: "" for the one that the check is of."""
        return "" if version == self.s.variation else version or ""

    def _situation(self, plan: Plan, version: str | None) -> Situation:
        s = self.s
        if plan is s.plan and version == s.variation:
            return s
        return work_out(plan, s.book, s.today, version, s.believing)

    def _before(self, variation: str | None) -> Severities:
        return before(self.check.findings, self._named(variation), self.mended, self.rulebook.rungs)

    def _changed(self, case: Case, way: Way, value: Any) -> Situation | None:
        """The plan worked out with a change; doses are changed in place, all else is read from its text."""
        if way.doses is not None:
            written = case.s.scenting.written.copy()
            for cell, grams in way.doses(value).items():
                written[cell] = grams
            return case.s.with_doses(respread(case.s.scenting, written, case.s.split))
        doc = edited(way, self.doc, value)
        try:
            return None if doc is None else self._situation(plan_of(doc, self.s.book), case.s.variation)
        except (RecordError, ValueError):
            return None

    def _accepted(self, found: list[Finding], s: Situation) -> Sequence[Finding]:
        return apply_acceptances(found, s.plan.accept, self.rulebook.by_name, vocabulary()).findings

    def _poured(self, changed: Situation) -> Iterator[tuple[str | None, Sequence[Finding]]]:
        """The plan and its versions with what is found of each; of a version is asked what may differ."""
        whole = self._whole(changed)
        yield changed.variation, whole
        for version in versions_of(changed) if changed.variation is None else ():
            moved = moved_from(changed, version, self.rules)
            names = {rule.name for rule in moved}
            same = [each for each in whole if each.rule not in names or each.measure == UNREAD_RULE]
            yield version.variation, [*same, *self._accepted(judge(moved, tables(version)), version)]

    def _whole(self, s: Situation) -> Sequence[Finding]:
        return self._accepted([*unasked(s, self.rulebook), *judge(self.rules, tables(s))], s)


def _left(case: Case, found: Sequence[Finding]) -> list[Finding]:
    """Those of the findings to be mended that are still there, or have become a question."""
    mine = {(each.rule, each.subject) for each in case.found}
    return [each for each in found if is_there(each) and (each.rule, each.subject) in mine]
