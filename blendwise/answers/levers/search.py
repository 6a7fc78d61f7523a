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
    MOST_CUT,
    ONLY_ASKED,
    PAPERS,
    STANDS_LAST,
    TRIED,
    USUALLY,
)
from blendwise.answers.levers.result import Kind, Lever, Mended
from blendwise.facts.situation.doses import respread
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.findings.acceptance import apply_acceptances
from blendwise.judge.findings.finding import LEVELS, UNREAD_RULE, Finding
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of
from blendwise.records.kinds.plan import Plan
from blendwise.records.place import RecordError
from blendwise.records.reading.document import Document

Key = tuple[str, tuple[str, ...]]
Severities = Mapping[Key, int]
STATUS: Final = ("accepted", "tight", "undecided", "broken")
CAUTION: Final = LEVELS.index("caution")
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


@dataclass
class Purse:
    """How many plans may still be screened, and how many judged whole."""

    screened: int
    judged: int

    def pay(self, what: str) -> bool:
        """Whether there is one left; it is spent."""
        left = int(getattr(self, what))
        setattr(self, what, left - 1)
        return left > 0

    def part(self, most: tuple[int, int]) -> Purse:
        """A purse of its own, out of this one."""
        taken = Purse(min(self.screened, most[0]), min(self.judged, most[1]))
        self.screened -= taken.screened
        self.judged -= taken.judged
        return taken

    def back(self, taken: Purse) -> None:
        """What was not spent comes back."""
        self.screened += max(taken.screened, 0)
        self.judged += max(taken.judged, 0)


SHORT: Final = (90, 6)
"""Plans screened and judged for the short answer, all its levers together."""
EACH: Final = (50, 4)
"""The most of that for one rule, so that the next has some left."""
WHOLE: Final = (240, 12)
"""Plans screened and judged for each rule of the whole answer."""
SHOWN: Final = 3
MOST_TOLD: Final = 5
"""Levers of one rule in the whole answer."""
ROUNDS: Final = 3


@dataclass(order=True)
class Candidate:
    """A way with a value, or before its value is known; the cheapest is looked at first."""

    cost: float
    number: int
    way: Way = field(compare=False)
    value: Any = field(compare=False, default=None)
    at: int = field(compare=False, default=-1)
    rules: frozenset[str] = field(compare=False, default=frozenset())
    rounds: int = field(compare=False, default=0)


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
    return tuple(told)


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
        self.before = severities(check.findings)
        self.check = check
        self.rules = [rule for rule in rulebook.rules if rule.level != "hint"]
        self.numbers = count()

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
        case = Case(self._situation(self.s.plan, group[0].version or None), tuple(group))
        heap = list(self._candidates(case))
        heapq.heapify(heap)
        found: list[Lever] = []
        while heap and len(found) < (MOST_TOLD if every else 1):
            candidate = heapq.heappop(heap)
            if candidate.way.ordered and candidate.at < 0:
                heap_in(heap, self._least(case, candidate, purse))
                continue
            if not candidate.way.ordered and not self._passes(case, candidate, candidate.value, purse):
                continue
            if not purse.pay("judged"):
                break
            lever, worse = self._judged(case, candidate)
            if lever is not None:
                found.append(lever)
            elif worse:
                heap_in(heap, self._further(case, candidate, worse, purse))
        return found

    def _candidates(self, case: Case) -> Iterator[Candidate]:
        """Every way that the table names for the measure, at the least that it can cost."""
        names = TRIED.get(case.first.measure) or USUALLY.get(case.first.looks_at, ())
        for name in names:
            for way in WAYS[name][1](case):
                if way.ordered:
                    yield Candidate(COST[name], next(self.numbers), way)
                else:
                    for value in way.values:
                        yield Candidate(_cost(way, value), next(self.numbers), way, value)

    def _least(self, case: Case, candidate: Candidate, purse: Purse, after: int = -1) -> Candidate | None:
        """The first value after ``after`` that passes, by halving; None where even the furthest does not."""
        values = candidate.way.values
        low, high = after, len(values) - 1
        for probe in (high, (low + high) // 2, (3 * low + high) // 4):
            if probe > low and self._passes(case, candidate, values[probe], purse):
                high = probe
                break
        else:
            return None
        while high - low > 1:
            middle = (low + high) // 2
            if self._passes(case, candidate, values[middle], purse):
                high = middle
            else:
                low = middle
        way = candidate.way
        cost = _cost(way, values[high])
        return Candidate(cost, candidate.number, way, values[high], high, candidate.rules, candidate.rounds)

    def _further(
        self, case: Case, candidate: Candidate, worse: frozenset[str], purse: Purse
    ) -> Candidate | None:
        """The same way taken further, so that it breaks nothing else either."""
        if not candidate.way.ordered or candidate.rounds >= ROUNDS or worse <= candidate.rules:
            return None
        way, rules = candidate.way, candidate.rules | worse
        next_try = Candidate(0.0, candidate.number, way, rules=rules, rounds=candidate.rounds + 1)
        return self._least(case, next_try, purse, after=candidate.at)

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

    def _passes(self, case: Case, candidate: Candidate, value: Any, purse: Purse) -> bool:
        """Whether the rule (and what the way broke before) holds for the changed plan."""
        s = self._changed(case, candidate.way, value) if purse.pay("screened") else None
        if s is None:
            return False
        names = {case.first.rule, *candidate.rules}
        rules = [rule for rule in self.rules if rule.name in names]
        found = self._accepted(judge(rules, tables(s)), s)
        return not _left(case, found) and not worse_than(self.before, severities(found))

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

    def _judged(self, case: Case, candidate: Candidate) -> tuple[Lever | None, frozenset[str]]:
        """The lever where it stands, else the rules that it makes worse."""
        doc = self._edited(candidate.way, candidate.value)
        assert doc is not None
        try:
            plan = plan_of(doc, self.s.book)
            versions = (self.s.variation, *(plan.variations if self.s.variation is None else ()))
            found = {each: self._whole(self._situation(plan, each)) for each in versions}
        except (RecordError, ValueError):
            return None, frozenset()
        together = [each for findings in found.values() for each in findings]
        after = severities(together)
        worse = worse_than(self.before, after)
        if worse or _left(case, found[case.s.variation]):
            return None, worse
        return self._lever(case, candidate, after, together, doc.text), frozenset()

    def _whole(self, s: Situation) -> Sequence[Finding]:
        return self._accepted([*unasked(s, self.rulebook), *judge(self.rules, tables(s))], s)

    def _lever(
        self, case: Case, candidate: Candidate, after: Severities, found: Sequence[Finding], text: str
    ) -> Lever:
        way, first = candidate.way, case.first
        mended = [
            Mended(each.rule, each.subject_text)
            for each in self.check.findings
            if _counts(each) and (each.rule, each.subject) not in after
        ]
        sound = not any(each.level in ("conflict", "stop") and each.stands for each in found)
        mine = {Mended(each.rule, each.subject_text): None for each in case.found}
        return Lever(
            first.rule,
            first.version,
            WAYS[way.name][0],
            way.name,
            way.details(candidate.value),
            candidate.cost,
            tuple(dict.fromkeys((*mine, *mended))),
            sound,
            text,
        )


def heap_in(heap: list[Candidate], candidate: Candidate | None) -> None:
    """Push what there is."""
    if candidate is not None:
        heapq.heappush(heap, candidate)


def _cost(way: Way, value: Any) -> float:
    """What a way costs at a value: mildest first, a cut of more than a quarter of the scent last."""
    weight = way.values.index(value) / len(way.values)
    last = STANDS_LAST if way.cut(value) > MOST_CUT else 0.0
    return COST[way.name] + GRADE.get(way.name, 0.0) * weight + last


def _counts(finding: Finding) -> bool:
    return finding.stands and not finding.hidden and LEVELS.index(finding.level) >= CAUTION


def severities(findings: Sequence[Finding]) -> dict[Key, int]:
    """Rule and subject → how bad, by level and then by status; hints and what is hidden left out."""
    found: dict[Key, int] = {}
    for each in findings:
        if _counts(each):
            key = each.rule, each.subject
            bad = LEVELS.index(each.level) * len(STATUS) + STATUS.index(each.status)
            found[key] = max(found.get(key, 0), bad)
    return found


def worse_than(before: Severities, after: Severities) -> frozenset[str]:
    """The rules that speak of something new, or louder than before."""
    return frozenset(rule for (rule, subject), bad in after.items() if bad > before.get((rule, subject), -1))


def _left(case: Case, found: Sequence[Finding]) -> bool:
    """Whether one of the findings to be mended is still there, or has become a question."""
    mine = {(each.rule, each.subject) for each in case.found}
    there = (each for each in found if each.status != "accepted" and not each.hidden)
    return any((each.rule, each.subject) in mine for each in there)


def _asked(group: Sequence[Finding]) -> Iterator[Lever]:
    """The paper or the test cup that would mend it."""
    first = group[0]
    about = ", ".join(dict.fromkeys(each.subject[0] for each in group))
    details = {"about": about, "measure": first.measure}
    if first.measure in PAPERS:
        yield Lever(first.rule, first.version, "a paper to ask for", PAPER, details, 0.0)
    elif first.measure in CUPS:
        yield Lever(first.rule, first.version, "a test cup", CUP, details, 0.0)
