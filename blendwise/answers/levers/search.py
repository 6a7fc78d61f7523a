"""The levers of a plan: for each rule that is broken the least change that mends it and makes nothing worse.

A way is screened on the rules that it has to mend, values of one kind by halving; what passes is written into
the plan, worked out and judged by every rule from caution up, its versions too.  What it would break is taken
into the screening, and the way is tried on.  The cheapest that stands is the lever.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Any, Final

from blendwise.answers.check.result import CheckResult
from blendwise.answers.levers.as_written import AsWritten
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
)
from blendwise.answers.levers.result import Lever, Mended, Step
from blendwise.answers.levers.trial import Judgement, Trial, edited
from blendwise.answers.levers.ways.table import WAYS
from blendwise.answers.levers.weighing import CAUTION, Purse
from blendwise.answers.small_amounts import ways_for_dose
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import LEVELS, UNREAD_RULE, Finding
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of

TOO_LITTLE: Final = "steps of the scale"
MIXED: Final = "weigh together"
"""What mends doses too little to weigh goes with any two changes: it is none of the soap."""
GOES_WITH_ANOTHER: Final = frozenset({"gel"})
"""What changes the soap's heat as much as its warmth does: where neither is enough, both may be."""
PAPER: Final = "paper"
CUP: Final = "cup"

SHORT: Final = (160, 8)
"""Plans screened and judged for the short answer, all its levers together."""
EACH: Final = (96, 5)
"""The most of that for one rule, so that the next has some left."""
WHOLE: Final = (240, 12)
"""Plans screened and judged for each rule of the whole answer."""
SHOWN: Final = 3
MOST_PAIRS: Final = 3
MOST_BROKEN: Final = 4
MOST_TOLD: Final = 5
"""Levers of one rule in the whole answer."""


@dataclass(order=True)
class Candidate:
    """A way with a value, or before its value is known; the cheapest is looked at first.

    ``at``: the place of its value among the ordered; ``met``: how many rules it was screened on.
    """

    cost: float
    number: int
    case: Case = field(compare=False)
    way: Way = field(compare=False)
    value: Any = field(compare=False, default=None)
    at: int = field(compare=False, default=-1)
    met: int = field(compare=False, default=0)

    @property
    def step(self) -> Step:
        """What is told of it."""
        return Step(self.way.name, self.way.details(self.value))


Near = tuple[Candidate, frozenset[str], Sequence[Finding]]
"""What mends the finding, the rules that it breaks instead, and what they find."""


def levers(
    s: Situation,
    rulebook: Rulebook,
    check: CheckResult,
    *,
    every: bool = False,
    ways: frozenset[str] = frozenset(COST),
) -> tuple[Lever, ...]:
    """The best for each rule broken at stop or conflict, at most three; ``every``: all, of cautions too.

    ``ways``: those that may be tried.
    """
    if s.plan.doc is None:
        return ()
    trial = AsWritten(s, rulebook, check, ways=ways)
    told: list[Lever] = []
    whole = Purse(*SHORT)
    for group in groups(check, every):
        if not every and sum(bool(lever.plan) for lever in told) >= SHOWN:
            break
        if not any(_covers(lever, group) for lever in told):
            purse = Purse(*WHOLE) if every else whole.part(EACH)
            told += _of(trial, group, purse, every)
            whole.back(purse)
    return tuple(told) if every else _once(told, check)


def _of(trial: Trial, group: Sequence[Finding], purse: Purse, every: bool) -> list[Lever]:
    """Levers for one rule: all subjects at once, else the first of them; then papers and cups."""
    asked = [*asked_for(group), *_weighed(trial, group)]
    if asked and group[0].measure in ONLY_ASKED and not every:
        return asked
    most = MOST_TOLD if every else 1
    found = Search(trial, purse).of([trial.case_of(group)], most)
    if not found and len(group) > 1:
        found = Search(trial, purse).of([trial.case_of(group[:1])], most)
    return [*found, *(asked if every or not found else ())]


def _once(told: Sequence[Lever], check: CheckResult) -> tuple[Lever, ...]:
    """Each finding mended once: none that another mends as well, those that mend the most first."""
    heavy = {Mended.by(f) for f in check.findings if f.stands and f.level in ("conflict", "stop")}
    gone = [{*lever.mends} & heavy for lever in told]
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
    return {*map(Mended.by, group)} <= {*lever.mends}


class Search:
    """The search for what mends one thing (a case, or one of several any of which will do)."""

    def __init__(self, trial: Trial, purse: Purse, first: tuple[Candidate, ...] = ()) -> None:
        self.trial, self.purse, self.first = trial, purse, first
        self.numbers = count()
        self.kept: set[str] = set()

    def of(self, cases: Sequence[Case], most: int = 1) -> list[Lever]:
        """At most so many levers, the cheapest first; two changes together where none alone does."""
        self.kept = {case.first.rule for case in cases} | self.trial.beyond
        low = self.purse.judged // 2 if self.trial.beyond else -1
        heap = list(self._candidates(cases))
        heapq.heapify(heap)
        found: list[Lever] = []
        last: list[Lever] = []
        near: list[Near] = []
        taken: list[Way] = []
        while heap and len(found) < most:
            candidate = heapq.heappop(heap)
            if any(candidate.way is other for other in taken):
                continue
            if near and (candidate.cost >= STANDS_LAST or self.purse.judged <= low):
                found += self._pairs(near) if not found else []
                near = []
                heapq.heappush(heap, candidate)
                continue
            if not self._screened(candidate, heap):
                continue
            if not self.purse.pay("judged"):
                break
            judged = self.trial.judged(candidate.case, candidate.way, candidate.value)
            if judged.thin:
                last.append(self._lever(candidate, judged))
            elif judged.stands:
                found.append(self._lever(candidate, judged))
                taken.append(candidate.way)
            if judged.news and all(each.measure == TOO_LITTLE for each in judged.news):
                found += self._with_another(candidate, judged.worse, judged.news, self.purse)
            elif judged.news and len(judged.worse) <= MOST_BROKEN and candidate.way.name != "other oil":
                near.append((candidate, judged.worse, judged.news))
            if judged.worse:
                self._again(candidate, judged.worse, heap)
        found = found or self._pairs(near) or self._halves(cases)
        return [*found, *last][:most]

    def _again(self, candidate: Candidate, worse: frozenset[str], heap: list[Candidate]) -> None:
        """What broke something waits for its turn, screened on that; taken further where that was asked."""
        if not worse <= self.kept:
            self.kept |= worse
            heapq.heappush(heap, candidate)
        elif candidate.way.ordered:
            further = self._least(candidate, self.kept, candidate.at)
            if further is not None:
                heapq.heappush(heap, further)

    def _pairs(self, near: Sequence[Near]) -> list[Lever]:
        """Two changes together, where one that is not among the last to be thought of broke little."""
        if self.first:
            return []
        part = self.purse.part((self.purse.screened // 2, self.purse.judged // 2))
        once = [*reversed({id(each[0].way): each for each in reversed(near)}.values())][:MOST_PAIRS]
        found: list[Lever] = []
        for left, each in zip(range(len(once), 0, -1), once, strict=True):
            mine = part.part((part.screened // left, part.judged // left))
            found = found or self._with_another(*each, mine)
            part.back(mine)
        self.purse.back(part)
        return found

    def _halves(self, cases: Sequence[Case]) -> list[Lever]:
        """Two changes of which neither mends it alone, the first of them one that goes with any second."""
        for case, way in self._ways(cases) if not self.first else ():
            for value in way.values if way.name in GOES_WITH_ANOTHER else ():
                if not self.purse.pay("judged"):
                    return []
                judged = self.trial.judged(case, way, value)
                if judged.left and len(judged.worse) <= MOST_BROKEN:
                    half = Candidate(cost(way, value), next(self.numbers), case, way, value)
                    if found := self._with_another(half, judged.worse, judged.left, self.purse):
                        return found
        return []

    def _with_another(
        self, candidate: Candidate, worse: frozenset[str], left: Sequence[Finding], purse: Purse
    ) -> list[Lever]:
        """Two together: what the first breaks is mended by a second, on the plan that the first gives."""
        if candidate.way.ordered and len(worse) > 1:
            candidate, left = self._but_one(candidate, worse, left)
        doc = edited(candidate.way, self.trial.doc, candidate.value)
        assert doc is not None
        plan = plan_of(doc, candidate.case.s.book)
        second = Search(self.trial.after(plan, candidate.case), purse, (*self.first, candidate))
        return second.of(second.trial.cases_of(left))

    def _but_one(
        self, candidate: Candidate, worse: frozenset[str], left: Sequence[Finding]
    ) -> tuple[Candidate, Sequence[Finding]]:
        """The way taken further, until of all that it broke only one rule is left to be mended."""
        for rule in sorted(worse):
            further = self._least(candidate, self.kept - {rule}, candidate.at)
            if further is not None:
                judged = self.trial.judged(further.case, further.way, further.value)
                if judged.worse == {rule}:
                    return further, judged.news
        return candidate, left

    def _screened(self, candidate: Candidate, heap: list[Candidate]) -> bool:
        """Whether it is to be judged now: it holds on all rules met so far, at the value that it has.

        An ordered way whose value does not hold is taken further, and waits for its turn at that cost.
        """
        if candidate.met == len(self.kept):
            return candidate.way.ordered
        candidate.met = len(self.kept)
        further = None
        if candidate.at < 0 and candidate.way.ordered:
            further = self._least(candidate, {candidate.case.first.rule})
        elif self._passes(candidate, candidate.value, self.kept):
            return True
        elif candidate.way.ordered:
            further = self._least(candidate, self.kept, candidate.at)
        if further is not None:
            heapq.heappush(heap, further)
        return False

    def _candidates(self, cases: Sequence[Case]) -> Iterator[Candidate]:
        """Every way that the table names for what is to be mended, at the least that it can cost."""
        told: set[str] = set()
        for case, way in self._ways(cases):
            if (said := f"{way.name} {way.details(way.values[0])}") in told:
                continue
            told.add(said)
            if way.ordered:
                yield Candidate(COST[way.name], next(self.numbers), case, way)
                continue
            for value in way.values:
                yield Candidate(cost(way, value), next(self.numbers), case, way, value)

    def _ways(self, cases: Sequence[Case]) -> Iterator[tuple[Case, Way]]:
        for case in cases:
            for name in self.trial.names(case):
                third = len(self.first) > 1 and name != MIXED
                if not (third or (self.trial.lye_stop and name in IN_GRAMS)):
                    yield from ((case, way) for way in WAYS[name][1](case) if way.values)

    def _least(self, candidate: Candidate, rules: set[str], after: int = -1) -> Candidate | None:
        """The first value after ``after`` that passes, by halving; None where even the furthest does not."""
        way, values = candidate.way, candidate.way.values
        low, high = after, len(values) - 1
        for probe in (high, (low + high) // 2, (3 * low + high) // 4):
            if probe > low and self._passes(candidate, values[probe], rules):
                high = probe
                break
        else:
            return None
        while high - low > 1:
            middle = (low + high) // 2
            if self._passes(candidate, values[middle], rules):
                high = middle
            else:
                low = middle
        value = values[high]
        return Candidate(cost(way, value), candidate.number, candidate.case, way, value, high, len(rules))

    def _passes(self, candidate: Candidate, value: Any, rules: set[str]) -> bool:
        if not self.purse.pay("screened"):
            return False
        return self.trial.passes(candidate.case, candidate.way, value, rules)

    def _lever(self, candidate: Candidate, judged: Judgement) -> Lever:
        steps = [*self.first, candidate]
        first = steps[0].case
        mine = [each for each in map(Mended.by, first.found) if each in judged.mends]
        told = [each.step for each in steps]
        return Lever(
            first.first.rule,
            first.first.version,
            WAYS[told[0].way][0],
            told[0].way,
            told[0].details,
            sum(each.cost for each in steps) + STANDS_LAST * bool(judged.thin),
            tuple(dict.fromkeys((*mine, *judged.mends))),
            judged.sound,
            tuple(told[1:]),
            judged.thin,
            judged.text,
        )


def cost(way: Way, value: Any) -> float:
    """What a way costs at a value: mildest first, a cut of more than a quarter of the scent last."""
    last = STANDS_LAST if way.cut(value) > MOST_CUT else 0.0
    return COST[way.name] + GRADE.get(way.name, 0.0) * way.weight(value) + last


def _weighed(trial: Trial, group: Sequence[Finding]) -> Iterator[Lever]:
    """How the least of the doses is weighed all the same: nothing that a plan holds."""
    first = min(group, key=lambda each: each.value if isinstance(each.value, float) else 0.0)
    if first.measure == TOO_LITTLE and first.looks_at == "dose":
        s, (scent, portion) = trial.case_of(group).s, first.subject
        for each in ways_for_dose(s, s.scents.index(scent), s.portions.index(portion)):
            details = {**each.details, "error": each.error}
            yield Lever(first.rule, first.version, "weigh it together", each.way, details, 0.0)


def asked_for(group: Sequence[Finding]) -> Iterator[Lever]:
    """The paper or the test cup that would mend it."""
    first = group[0]
    about = ", ".join(dict.fromkeys(each.subject[0] for each in group))
    details = {"about": about, "measure": first.measure}
    if first.measure in PAPERS:
        yield Lever(first.rule, first.version, "a paper to ask for", PAPER, details, 0.0)
    elif first.measure in CUPS:
        yield Lever(first.rule, first.version, "a test cup", CUP, details, 0.0)
