"""Where no split fits: the levers, each tried by compiling the changed plan and placing its oils anew.

What has to be mended is the irreducible core of what cannot all be: mending any one of its parts will do.
A change is screened on that core alone, then on all rules together, and judged by the split that it gives.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import replace
from typing import Any, Final

from blendwise.answers.assign.result import AssignResult, Conflict
from blendwise.answers.check.compute import check_situation
from blendwise.answers.check.result import CheckResult
from blendwise.answers.levers.case import Case, Way
from blendwise.answers.levers.costs import OF_AN_OIL, OF_THE_SPLIT, SPLITS_OWN, TRIED, USUALLY, WEIGHED
from blendwise.answers.levers.result import Lever, Mended
from blendwise.answers.levers.search import Search
from blendwise.answers.levers.trial import Judgement, edited
from blendwise.answers.levers.weighing import Purse, Severities, is_there, severities, worse_than
from blendwise.assignment.problem.of_plan import compile_problem
from blendwise.assignment.problem.problem import Source
from blendwise.assignment.program.free_split import Freeform
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.solve import with_bottles
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.facts.tables import table
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of
from blendwise.records.kinds.plan import Plan
from blendwise.records.place import RecordError

Assign = Callable[[Situation, bool], AssignResult]
"""A situation placed anew, its oils each by itself or not, without reasons."""
SHOWN: Final = 3
TOLD: Final = 8
"""Ways out of the short answer, and of the whole."""
SHORT: Final = (200, 28)
WHOLE: Final = (320, 36)
"""Plans screened and placed anew for them."""
LESS: Final = frozenset({"leave out", "other oil", "less of one", "less of all"})
"""Ways whose own sentence says of what less is in the bar, and whose cost counts it."""
ALL: Final = "all rules together"
"""What a change is screened on after the core that it is to mend."""
NO_SPLIT: Final = "no split"
"""The name under which it is told where not rules but premixes or the scale's steps stand in the way."""


def ways_out(
    s: Situation, rulebook: Rulebook, found: AssignResult, assign: Assign, seconds: float, *, every: bool
) -> tuple[Lever, ...]:
    """What would make it fit: sound ones first, then by cost; in a few seconds, or fewer.

    Seconds of this process, so that a busy machine tells the same.
    """
    if s.plan.doc is None or found.status != "nothing fits":
        return ()
    until = time.process_time() + seconds
    trial = AsSplit(s, rulebook, found, assign, until)
    purse = Purse(*(WHOLE if every else SHORT))
    told = Search(trial, purse).of(trial.cases, TOLD if every else SHOWN)
    return tuple(sorted(told, key=lambda lever: (not lever.sound, lever.cost)))


class AsSplit:
    """A plan that has no split, and whether a changed one has.

    ``was``: the stops and conflicts that stand as its doses are spread evenly: no split may bring others.
    ``asked``: the core that is to be mended; ``meant``: grams of each oil.  They are the first plan's, where
    one change was made already.
    """

    lye_stop = False
    beyond = frozenset({ALL})

    def __init__(
        self,
        s: Situation,
        rulebook: Rulebook,
        found: AssignResult,
        assign: Assign,
        until: float,
        first: AsSplit | None = None,
    ) -> None:
        assert s.plan.doc is not None
        self.s, self.rulebook, self.doc = s, rulebook, s.plan.doc
        self.found, self.assign, self.until = found, assign, until
        self.cases = list(self._cases(found))
        self.core = {(each.kind, each.name, each.subject) for each in found.conflicts}
        self.was: Severities = heavy(check_situation(s, rulebook).findings) if first is None else first.was
        self.asked: list[Finding] = (
            [f for case in self.cases for f in case.found] if first is None else first.asked
        )
        self.meant: Mapping[str, float] = _meant(s) if first is None else first.meant
        self.second = first is not None
        self.tried: dict[int, list[int]] = {}

    def names(self, case: Case) -> Sequence[str]:
        """The ways that the table names, but for those that every split has tried already."""
        first = case.first
        if self.second and first.rule == NO_SPLIT:
            return WEIGHED
        known = OF_THE_SPLIT.get(first.measure) or TRIED.get(first.measure) or USUALLY[first.looks_at]
        fixed = ("order",) if not self.s.plan.order else ()
        return [name for name in known if name not in SPLITS_OWN and name not in fixed]

    def case_of(self, found: Sequence[Finding]) -> Case:
        """What one rule or line has in the core."""
        return Case(self.s, tuple(found))

    def cases_of(self, news: Sequence[Finding]) -> Sequence[Case]:
        """All that a first change left in the way: mending any of it will do."""
        rules = dict.fromkeys(each.rule for each in news)
        return [self.case_of([each for each in news if each.rule == rule]) for rule in rules]

    def after(self, plan: Plan, case: Case) -> AsSplit:
        """The same question of the changed plan."""
        s = self._worked_out(plan)
        return AsSplit(s, self.rulebook, self.assign(s, False), self.assign, self.until, self)

    def passes(self, case: Case, way: Way, value: Any, rules: Set[str]) -> bool:
        """Whether the core can all be then; past the first screening, whether everything can."""
        if time.process_time() > self.until or way.values.index(value) < self._from(way):
            return False
        s = self._changed(way, value)
        if s is None or not self.core:
            return s is not None
        return possible(s, self.rulebook.rules, None if ALL in rules else self.core)

    def _from(self, way: Way) -> int:
        """The place of the value that is tried next: further on by more, the more that were in vain."""
        tried = self.tried.get(id(way), ())
        return 0 if not tried else tried[-1] + 2 ** (len(tried) - 1)

    def judged(self, case: Case, way: Way, value: Any) -> Judgement:
        """The changed plan with its split, as the rulebook judges it; else what then stands in the way."""
        self.tried.setdefault(id(way), []).append(way.values.index(value))
        s = self._changed(way, value)
        if s is None or time.process_time() > self.until:
            return Judgement()
        found = self.assign(s, way.name == "apart")
        if found.check is None:
            rules = frozenset(each.name for each in found.conflicts if each.kind == "rule")
            news = [each for case in self._cases(found) for each in case.found]
            return Judgement(worse=rules or frozenset({found.conflicts_kind}), news=news)
        worse = worse_than(self.was, heavy(found.check.findings))
        if worse:
            return Judgement(worse=worse)
        text = found.plan_text if way.book is None else ""
        there = {(each.rule, each.subject) for each in found.check.findings if is_there(each)}
        gone = [f for f in self.asked if (f.rule, f.subject) not in there]
        mends = tuple(dict.fromkeys(Mended.by(each) for each in gone))
        thin = {} if way.name in LESS else self._thin(found.check)
        return Judgement(text, stands=True, mends=mends, sound=found.check.sound, thin=thin)

    def _thin(self, check: CheckResult) -> dict[str, float]:
        """What the bar holds of an oil, as a share of what is meant, where it is as good as none."""
        held = {name: sum(row.scents.get(name, 0.0) for row in check.grams) for name in self.meant}
        kept = {name: grams / self.meant[name] for name, grams in held.items()}
        return {name: share for name, share in kept.items() if share < OF_AN_OIL}

    def _changed(self, way: Way, value: Any) -> Situation | None:
        doc = edited(way, self.doc, value)
        try:
            if doc is None:
                return None
            s = self._worked_out(plan_of(doc, self.s.book))
            return s if way.book is None else replace(s, book=way.book(s.book, value))
        except (RecordError, ValueError):
            return None

    def _worked_out(self, plan: Plan) -> Situation:
        s = self.s
        return work_out(plan, s.book, s.today, s.variation, s.believing)

    def _cases(self, found: AssignResult) -> Iterator[Case]:
        """A case a rule or line of the core; where there is none, one that stands for the whole."""
        held: dict[str, list[Finding]] = {}
        for each in found.conflicts:
            held.setdefault(each.name, []).append(self._finding(each))
        if not held:
            held[NO_SPLIT] = [_said(NO_SPLIT, "batch", (self.s.plan.plan,), found.conflicts_kind)]
        yield from (Case(self.s, tuple(each)) for each in held.values())
        yield from (Case(self.s, each[:1]) for each in map(tuple, held.values()) if len(each) > 1)

    def _finding(self, held: Conflict) -> Finding:
        """What stands in the core, as a finding of the rule (or of the line) on its subject."""
        rule = self.rulebook.by_name.get(held.name) if held.kind == "rule" else None
        if rule is None:
            cells = {f"{i} in {p}": (i, p) for i in self.s.scents for p in self.s.portions}
            names: tuple[str, ...] = cells.get(held.subject, (held.subject,))
            looks_at = "dose" if len(names) > 1 else "scent" if held.subject in self.s.scents else "portion"
            return _said(held.name, looks_at, names, held.name)
        subjects = {str(each): each.names for each in table(self.s, rule.looks_at, every=True).subjects}
        names = subjects.get(held.subject, (held.subject,))
        return _said(rule.name, rule.looks_at, names, next(iter(rule.must)).measure)


def _meant(s: Situation) -> dict[str, float]:
    parts = zip(s.scents, s.scenting.blend * s.scenting.total, strict=True)
    return {name: float(grams) for name, grams in parts if grams > 0}


def possible(s: Situation, rules: Sequence[Rule], core: Set[tuple[str, str, str]] | None = None) -> bool:
    """Whether all that must hold can, each oil going anywhere in any amount; ``core``: of these alone."""
    names = None if core is None else {name for _, name, _ in core}
    asked = [rule for rule in rules if names is None or rule.name in names]
    try:
        problem = with_bottles(compile_problem(s, asked))
    except ValueError:
        return False
    form = Freeform(problem, Engine())
    return form.possible([each for each in form.sources if core is None or key_of(each) in core])


def key_of(source: Source) -> tuple[str, str, str]:
    """What a constraint comes from, whatever line it stands on: kind, name, subject."""
    kind, name, *rest = source
    if kind in ("rule", "plan"):
        return str(kind), str(name), str(rest[0])
    return "plan", str(kind), " in ".join(str(part) for part in (name, *rest))


def heavy(findings: Sequence[Finding]) -> Severities:
    """The stops and conflicts among the findings."""
    return severities([each for each in findings if each.level in ("stop", "conflict")])


def _said(rule: str, looks_at: str, names: tuple[str, ...], measure: str) -> Finding:
    return Finding(
        rule=rule,
        level="conflict",
        status="broken",
        looks_at=looks_at,
        subject=names,
        measure=measure,
        value=None,
        relation="",
        limit=None,
        unit="",
        because="",
        try_="",
        basis="",
    )
