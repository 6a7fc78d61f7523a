"""The levers of a plan: for each rule that is broken the least change that mends it and makes nothing worse.

A way is screened on the rules that it has to mend, values of one kind by halving; what passes is written into
the plan, worked out and judged by every rule from caution up, its versions too.  What it would break is taken
into the screening, and the way is tried on.  The cheapest that stands is the lever.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Any, Final

from blendwise.answers.check.compute import unasked
from blendwise.answers.check.result import CheckResult
from blendwise.answers.levers import batter, blend, doses, look_and_pour
from blendwise.answers.levers.case import Case, Way
from blendwise.answers.levers.costs import (
    COST,
    CUPS,
    GRADE,
    IN_GRAMS,
    MOST_CUT,
    ONLY_ASKED,
    PAPERS,
    STANDS_LAST,
    TRIED,
    USUALLY,
)
from blendwise.answers.levers.result import Kind, Lever, Mended, Step
from blendwise.answers.levers.weighing import (
    CAUTION,
    Key,
    Purse,
    Severities,
    before,
    counts,
    is_news,
    is_there,
    severities,
    worse_than,
)
from blendwise.facts.situation.doses import respread
from blendwise.facts.situation.worked_out import Situation, versions_of, work_out
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.findings.acceptance import apply_acceptances
from blendwise.judge.findings.finding import LEVELS, UNREAD_RULE, Finding
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of
from blendwise.records.kinds.plan import Plan
from blendwise.records.place import RecordError
from blendwise.records.reading.document import Document

PAPER: Final = "paper"
CUP: Final = "cup"

WAYS: Final[Mapping[str, tuple[Kind, Callable[[Case], Iterator[Way]]]]] = {
    "weigh together": ("weigh it together", look_and_pour.weigh_together),
    "held back": ("return held-back oil", batter.held_back),
    "superfat": ("more or less lye", batter.superfat),
    "order": ("another order", look_and_pour.order),
    "temperature": ("warmer or cooler", batter.temperature),
    "gel": ("warmer or cooler", batter.gel),
    "water": ("more or less water", batter.water),
    "dose out": ("put it elsewhere", doses.dose_out),
    "spread": ("put it elsewhere", doses.spread),
    "move": ("put it elsewhere", doses.move),
    "less here": ("less here", doses.less_here),
    "less colour": ("less here", look_and_pour.less_colour),
    "less additive": ("less here", batter.less_additive),
    "less mixed in": ("less here", batter.less_mixed_in),
    "other rate": ("another colour or band", look_and_pour.other_rate),
    "same dose": ("less of all", blend.same_dose),
    "less of one": ("less of all", blend.less_of_one),
    "less of all": ("less of all", blend.less_of_all),
    "embed unscented": ("the embed unscented", batter.embed_unscented),
    "band": ("another colour or band", look_and_pour.band),
    "other colour": ("another colour or band", look_and_pour.other_colour),
    "other pour": ("another pour", look_and_pour.other_pour),
    "other oil": ("another oil", blend.other_oil),
    "bare": ("leave it out", blend.bare),
    "leave out": ("leave it out", blend.leave_out),
}


SHORT: Final = (110, 6)
"""Plans screened and judged for the short answer, all its levers together."""
EACH: Final = (64, 4)
"""The most of that for one rule, so that the next has some left."""
WHOLE: Final = (240, 12)
"""Plans screened and judged for each rule of the whole answer."""
SHOWN: Final = 3
MOST_PAIRS: Final = 2
MOST_BROKEN: Final = 2
MOST_TOLD: Final = 5
"""Levers of one rule in the whole answer."""


@dataclass(order=True)
class Candidate:
    """A way with a value, or before its value is known; the cheapest is looked at first.

    ``at``: the place of its value among the ordered; ``met``: how many rules it was screened on.
    """

    cost: float
    number: int
    way: Way = field(compare=False)
    value: Any = field(compare=False, default=None)
    at: int = field(compare=False, default=-1)
    met: int = field(compare=False, default=0)


Near = tuple[Candidate, Sequence[Finding]]
"""What mends the finding, and what it breaks instead."""


def levers(s: Situation, rulebook: Rulebook, check: CheckResult, *, every: bool = False) -> tuple[Lever, ...]:
    """The best for each rule broken at stop or conflict, at most three; ``every``: all, of cautions too."""
    if s.plan.doc is None:
        return ()
    search = Search(s, rulebook, check)
    told: list[Lever] = []
    whole = Purse(*SHORT)
    for group in groups(check, every):
        if not every and sum(bool(lever.plan) for lever in told) >= SHOWN:
            break
        if not any(_covers(lever, group) for lever in told):
            purse = Purse(*WHOLE) if every else whole.part(EACH)
            told += search.of(group, purse, every)
            whole.back(purse)
    return tuple(told) if every else _once(told, check)


def _once(told: Sequence[Lever], check: CheckResult) -> tuple[Lever, ...]:
    """Each finding mended once: none that another mends as well, those that mend the most first."""
    heavy = {(f.rule, f.subject_text) for f in check.findings if f.stands and f.level in ("conflict", "stop")}
    gone = [{(each.rule, each.subject) for each in lever.mends} & heavy for lever in told]
    kept = [n for n, mine in enumerate(gone) if not any(mine and mine < other for other in gone)]
    kept.sort(key=lambda n: (not told[n].sound, -len(gone[n])))
    return tuple(told[n] for n in kept)


def groups(check: CheckResult, every: bool) -> list[tuple[Finding, ...]]:
    """Findings of one rule together, heaviest first; past a lye stop only those about the lye."""
    least = CAUTION if every else LEVELS.index("conflict")
    held: dict[tuple[str, str], list[Finding]] = {}
    for each in check.findings:
        told = each.status == "broken" and LEVELS.index(each.level) >= least and each.measure != UNREAD_RULE
        if told and (not check.lye_stop or each.protects == "lye"):
            held.setdefault((each.rule, each.version), []).append(each)
    return [tuple(found) for found in held.values()]


def _covers(lever: Lever, group: Sequence[Finding]) -> bool:
    gone = {(each.rule, each.subject) for each in lever.mends}
    return all((each.rule, each.subject_text) in gone for each in group)


class Search:
    """The search for levers of one plan."""

    def __init__(self, s: Situation, rulebook: Rulebook, check: CheckResult) -> None:
        assert s.plan.doc is not None
        self.s, self.rulebook, self.doc = s, rulebook, s.plan.doc
        self.mended: set[Key] = set()
        self.check = check
        self.rules = [rule for rule in rulebook.rules if rule.level != "hint"]
        self.numbers = count()
        self.kept: set[str] = set()
        self.first: tuple[Case, Candidate] | None = None

    def of(self, group: Sequence[Finding], purse: Purse, every: bool) -> list[Lever]:
        """Levers for one rule: all subjects at once, else the first of them; then papers and cups."""
        asked = list(_asked(group))
        if asked and group[0].measure in ONLY_ASKED and not every:
            return asked
        found = self._mending(group, purse, every)
        if not found and len(group) > 1:
            found = self._mending(group[:1], purse, every)
        return [*found, *(asked if every or not found else ())]

    def _mending(self, group: Sequence[Finding], purse: Purse, every: bool) -> list[Lever]:
        case = Case(self._situation(self.s.plan, group[0].version or self.s.variation), tuple(group))
        self.kept = {case.first.rule}
        heap = list(self._candidates(case))
        heapq.heapify(heap)
        found: list[Lever] = []
        near: list[Near] = []
        while heap and len(found) < (MOST_TOLD if every else 1):
            candidate = heapq.heappop(heap)
            if candidate.cost >= STANDS_LAST and near:
                found += self._pairs(case, near, purse) if not found else []
                near = []
                heapq.heappush(heap, candidate)
                continue
            if not self._screened(case, candidate, heap, purse):
                continue
            if not purse.pay("judged"):
                break
            lever, worse, left = self._judged(case, candidate)
            found += [lever] if lever is not None else []
            if worse:
                near += [(candidate, left)] if len(worse) <= MOST_BROKEN else []
                self.kept |= worse
                heapq.heappush(heap, candidate)
        return found or self._pairs(case, near, purse)

    def _pairs(self, case: Case, near: Sequence[Near], purse: Purse) -> list[Lever]:
        """Two changes together, where one that is not among the last to be thought of broke little."""
        if self.first is not None:
            return []
        part = purse.part((purse.screened // 2, purse.judged // 2))
        tried = (self._with_another(case, candidate, left, part) for candidate, left in near[:MOST_PAIRS])
        found = next((found for found in tried if found), [])
        purse.back(part)
        return found

    def _with_another(
        self, case: Case, candidate: Candidate, left: Sequence[Finding], purse: Purse
    ) -> list[Lever]:
        """Two together: what the first breaks is mended by a second, on the plan that the first gives."""
        doc = self._edited(candidate.way, candidate.value)
        assert doc is not None
        changed = self._situation(plan_of(doc, self.s.book), self.s.variation)
        second = Search(changed, self.rulebook, self.check)
        second.mended = {(each.rule, each.subject) for each in case.found}
        second.first = (case, candidate)
        return second._mending([each for each in left if each.rule == left[0].rule], purse, every=False)

    def _screened(self, case: Case, candidate: Candidate, heap: list[Candidate], purse: Purse) -> bool:
        """Whether it is to be judged now: it holds on all rules met so far, at the value that it has.

        An ordered way whose value does not hold is taken further, and waits for its turn at that cost.
        """
        if candidate.met == len(self.kept):
            return candidate.way.ordered
        candidate.met = len(self.kept)
        if candidate.at < 0 and candidate.way.ordered:
            further = self._least(case, candidate, purse, {case.first.rule})
        elif self._passes(case, candidate.way, candidate.value, purse, self.kept):
            return True
        else:
            ordered = candidate.way.ordered
            further = self._least(case, candidate, purse, self.kept, candidate.at) if ordered else None
        if further is not None:
            heapq.heappush(heap, further)
        return False

    def _candidates(self, case: Case) -> Iterator[Candidate]:
        """Every way that the table names for the measure, at the least that it can cost."""
        names = TRIED.get(case.first.measure, USUALLY.get(case.first.looks_at, ()))
        for name in names:
            if self.check.lye_stop and name in IN_GRAMS:
                continue
            for way in WAYS[name][1](case):
                if way.ordered and way.values:
                    yield Candidate(COST[name], next(self.numbers), way)
                elif not way.ordered:
                    for value in way.values:
                        yield Candidate(_cost(way, value), next(self.numbers), way, value)

    def _least(
        self, case: Case, candidate: Candidate, purse: Purse, rules: set[str], after: int = -1
    ) -> Candidate | None:
        """The first value after ``after`` that passes, by halving; None where even the furthest does not."""
        way, values = candidate.way, candidate.way.values
        low, high = after, len(values) - 1
        for probe in (high, (low + high) // 2, (3 * low + high) // 4):
            if probe > low and self._passes(case, way, values[probe], purse, rules):
                high = probe
                break
        else:
            return None
        while high - low > 1:
            middle = (low + high) // 2
            if self._passes(case, way, values[middle], purse, rules):
                high = middle
            else:
                low = middle
        value = values[high]
        return Candidate(_cost(way, value), candidate.number, way, value, high, len(rules))

    def _edited(self, way: Way, value: Any) -> Document | None:
        try:
            return way.edit(self.doc, value)
        except (RecordError, ValueError, KeyError):
            return None

    def _situation(self, plan: Plan, version: str | None) -> Situation:
        s = self.s
        if plan is s.plan and version == s.variation:
            return s
        return work_out(plan, s.book, s.today, version, s.believing)

    def _passes(self, case: Case, way: Way, value: Any, purse: Purse, rules: set[str]) -> bool:
        """Whether the findings are mended and these rules say nothing worse of the changed plan."""
        s = self._changed(case, way, value) if purse.pay("screened") else None
        if s is None:
            return False
        asked = [rule for rule in self.rules if rule.name in rules]
        found = self._accepted(judge(asked, tables(s)), s)
        return not _left(case, found) and not worse_than(self._before(case.s.variation), severities(found))

    def _before(self, variation: str | None) -> Severities:
        named = "" if variation == self.s.variation else variation or ""
        return before(self.check.findings, named, self.mended)

    def _changed(self, case: Case, way: Way, value: Any) -> Situation | None:
        """The plan worked out with a change; doses are changed in place, all else is read from its text."""
        if way.doses is not None:
            written = case.s.scenting.written.copy()
            for cell, grams in way.doses(value).items():
                written[cell] = grams
            return case.s.with_doses(respread(case.s.scenting, written, case.s.split))
        doc = self._edited(way, value)
        try:
            return None if doc is None else self._situation(plan_of(doc, self.s.book), case.s.variation)
        except (RecordError, ValueError):
            return None

    def _accepted(self, found: list[Finding], s: Situation) -> Sequence[Finding]:
        return apply_acceptances(found, s.plan.accept, self.rulebook.by_name, vocabulary()).findings

    def _judged(
        self, case: Case, candidate: Candidate
    ) -> tuple[Lever | None, frozenset[str], Sequence[Finding]]:
        """The lever where it stands, else the rules that it makes worse, with what they find."""
        doc = self._edited(candidate.way, candidate.value)
        assert doc is not None
        try:
            changed = self._situation(plan_of(doc, self.s.book), self.s.variation)
            poured = (changed, *(versions_of(changed) if self.s.variation is None else ()))
            found = {each.variation: self._whole(each) for each in poured}
        except (RecordError, ValueError):
            return None, frozenset(), ()
        was = {each: self._before(each) for each in found}
        worse = frozenset(rule for each in found for rule in worse_than(was[each], severities(found[each])))
        if worse or _left(case, found[case.s.variation]):
            news = [each for v in found for each in found[v] if is_news(each, was[v])]
            return None, worse, news
        together = [each for findings in found.values() for each in findings]
        return self._lever(case, candidate, together, doc.text), frozenset(), ()

    def _whole(self, s: Situation) -> Sequence[Finding]:
        return self._accepted([*unasked(s, self.rulebook), *judge(self.rules, tables(s))], s)

    def _lever(self, case: Case, candidate: Candidate, found: Sequence[Finding], text: str) -> Lever:
        there = {(each.rule, each.subject) for each in found if is_there(each)}
        mended = [
            Mended(each.rule, each.subject_text)
            for each in self.check.findings
            if counts(each) and (each.rule, each.subject) not in there
        ]
        sound = not any(each.level in ("conflict", "stop") and each.stands for each in found)
        steps = [(case, candidate)] if self.first is None else [self.first, (case, candidate)]
        first = steps[0][0]
        mine = [Mended(each.rule, each.subject_text) for each in first.found]
        told = [Step(c.way.name, c.way.details(c.value)) for _, c in steps]
        return Lever(
            first.first.rule,
            first.first.version,
            WAYS[told[0].way][0],
            told[0].way,
            told[0].details,
            sum(c.cost for _, c in steps),
            tuple(dict.fromkeys((*mine, *mended))),
            sound,
            tuple(told[1:]),
            text,
        )


def _cost(way: Way, value: Any) -> float:
    """What a way costs at a value: mildest first, a cut of more than a quarter of the scent last."""
    last = STANDS_LAST if way.cut(value) > MOST_CUT else 0.0
    return COST[way.name] + GRADE.get(way.name, 0.0) * way.weight(value) + last


def _left(case: Case, found: Sequence[Finding]) -> bool:
    """Whether one of the findings to be mended is still there, or has become a question."""
    mine = {(each.rule, each.subject) for each in case.found}
    return any((each.rule, each.subject) in mine for each in found if is_there(each))


def _asked(group: Sequence[Finding]) -> Iterator[Lever]:
    """The paper or the test cup that would mend it."""
    first = group[0]
    about = ", ".join(dict.fromkeys(each.subject[0] for each in group))
    details = {"about": about, "measure": first.measure}
    if first.measure in PAPERS:
        yield Lever(first.rule, first.version, "a paper to ask for", PAPER, details, 0.0)
    elif first.measure in CUPS:
        yield Lever(first.rule, first.version, "a test cup", CUP, details, 0.0)
