"""Which portion takes which oil: the split that was found, judged again, or what stands in the way."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from blendwise.answers.assign.beside import beside
from blendwise.answers.assign.costs import cost_of, pot_scented, waits_on
from blendwise.answers.assign.portions import poured, pours_of, premixes_of
from blendwise.answers.assign.reasons import bare_cups, conflict_of, off_blend, tights
from blendwise.answers.assign.result import (
    AssignResult,
    AssignStatus,
    ConflictKind,
    Pour,
)
from blendwise.answers.assign.ways_out import ways_out
from blendwise.answers.assign.why_none import cells_asked, whys
from blendwise.answers.assign.writing import plan_with_split
from blendwise.answers.check.compute import assumptions, check_situation, relative
from blendwise.answers.check.drawn import drawn
from blendwise.answers.check.result import CheckResult
from blendwise.answers.check.versions import with_levers, with_versions
from blendwise.assignment.explain.prices import prices
from blendwise.assignment.problem.kinds import SETTLED, how_it_compiles
from blendwise.assignment.problem.of_plan import compile_problem
from blendwise.assignment.problem.problem import GOALS, Goal, Problem
from blendwise.assignment.result import Result
from blendwise.assignment.search.scented import Placed, place
from blendwise.assignment.search.solve import Ask
from blendwise.facts.assumed import Assumed, assumed
from blendwise.facts.measures.dose import scale_step
from blendwise.facts.situation.doses import SPREAD
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.facts.tables import tables
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of
from blendwise.records.place import Fault, RecordError
from blendwise.records.place import Place as Place_
from blendwise.records.reading.document import text_document

BESIDE_SECONDS = 5.0  # for each answer that stands beside the best
PRICE_SECONDS = 2.0  # for telling what tight rules cost
ROUGH, FEW = 0.03, 2  # gap of the goals, and how often it is searched on, where only a way out is tried
WAYS_SECONDS = 20.0  # for the ways out together
TRY_SECONDS = 3.0  # for each change that is tried
STATUS: dict[str, AssignStatus] = {
    "optimal": "proven",
    "feasible": "best found",
    "infeasible": "nothing fits",
    "not solved": "not decided",
}
OBSTACLE: dict[str, ConflictKind] = {
    "": "",
    "rules": "proved",
    "premixes": "only with premixes",
    "steps": "only with steps",
}


def assign_situation(
    s: Situation,
    rulebook: Rulebook,
    *,
    free: bool = False,
    seconds: float = 20.0,
    prefer: Sequence[Goal] = (),
    premixes: int | None = None,
    explain: bool = True,
    every: bool = False,
    rough: bool = False,
    why: Sequence[str] = (),
) -> AssignResult:
    """Solve, round to the scale, judge again, explain.

    ``every``: with all the levers that are found; ``rough``: a split that holds will do;
    ``why``: cups ("blue") and oils in cups ("lime in blue") of which it is asked why they take none.
    """
    asked = cells_asked(s, why)
    known = _without_search(s, rulebook)
    if known is not None:
        return mended(known, s, rulebook, every) if explain else known
    begun = time.monotonic()
    ask = Ask(free, seconds=seconds, runner_up=explain, explain=explain)
    ask = replace(ask, gap=ROUGH, rechecks=FEW) if rough else ask
    problem = compile_problem(s, rulebook.rules, prefer=prefer, premixes=premixes)
    placed = place(problem, ask)
    problem, result = placed.problem, placed.result
    found = replace(
        _told(s, rulebook, problem, result),
        bare=tuple(bare_cups(placed, s.book.folder, rulebook)),
        off_blend=tuple(off_blend(placed, s.book.folder, rulebook)),
        conflicts=tuple(conflict_of(source, s.book.folder, rulebook) for source in result.conflict),
        conflicts_kind=OBSTACLE[result.obstacle],
        assumptions=tuple(_assumptions(s, result)),
    )
    if explain:
        found = _explained(s, rulebook, placed, ask, asked, found)
        found = mended(found, s, rulebook, every, min(seconds, WAYS_SECONDS))
    return replace(found, seconds=time.monotonic() - begun)


def _explained(
    s: Situation,
    rulebook: Rulebook,
    placed: Placed,
    ask: Ask,
    asked: Sequence[tuple[str, str]],
    found: AssignResult,
) -> AssignResult:
    """With what stops each cup, what stands beside the split, and why a cup that was asked for takes none."""
    if not found.portions:
        return found
    problem, result = placed.problem, placed.result
    costs = () if result.looked else prices(problem, result, ask, PRICE_SECONDS)  # told of what is proven
    still = replace(ask, seconds=min(ask.seconds, BESIDE_SECONDS), rechecks=1)
    return replace(
        found,
        tight=tuple(tights(s, problem, result, costs, rulebook)),
        beside=tuple(beside(s, placed, still, rulebook)),
        why=tuple(whys(s, placed, asked, still, rulebook)),
    )


def _without_search(s: Situation, rulebook: Rulebook) -> AssignResult | None:
    """The answer where there is nothing to search: the lye burns, no oil is to be placed, or one harms."""
    lye = lye_first(s, rulebook)
    if lye is None and (not (s.scenting.blend > 0).any() or s.scenting.total <= 0):
        return _unscented(s, rulebook)
    return lye or _harm_first(s, rulebook)


def _harm_first(s: Situation, rulebook: Rulebook) -> AssignResult | None:
    """The answer where an oil of the plan harms wherever it goes (not for skin, banned); None else."""
    harms = [rule for rule in rulebook.rules if rule.kind_of_stop == "harm"]
    rules = [rule for rule in harms if how_it_compiles(rule) == SETTLED]
    if not any(each.level == "stop" and each.status == "broken" for each in judge(rules, tables(s))):
        return None
    return replace(_lye_first(s, check_situation(s, rulebook)), status="harm first")


def mended(
    found: AssignResult,
    s: Situation,
    rulebook: Rulebook,
    every: bool = False,
    seconds: float = WAYS_SECONDS,
) -> AssignResult:
    """With what would mend it: where no split fits the ways out, else what the split's check asks for."""

    def again(changed: Situation, free: bool) -> AssignResult:
        return assign_situation(changed, rulebook, free=free, seconds=TRY_SECONDS, explain=False, rough=True)

    if found.status == "nothing fits":
        return replace(found, levers=ways_out(s, rulebook, found, again, seconds, every=every))
    if found.check is None or s.plan.doc is None:
        return found
    return replace(found, check=with_levers(found.check, as_placed(s, found), rulebook, every))


def as_placed(s: Situation, found: AssignResult | None) -> Situation:
    """The plan with the split that was found written into it, so that a change of it can be written too."""
    if found is None or not found.plan_text or s.plan.doc is None:
        return s
    plan = plan_of(text_document(found.plan_text, s.plan.doc.file), s.book)
    return work_out(plan, s.book, s.today, s.variation, s.believing)


def _told(s: Situation, rulebook: Rulebook, problem: Problem, result: Result) -> AssignResult:
    """The split that was found, judged again, with what goes with it."""
    best = result.best
    settled = None if best is None else poured(s, problem, best)
    text = "" if best is None else plan_with_split(s, problem, best)
    check = None if settled is None else _judged(settled, text, rulebook)
    if check is not None and check.lye_stop:
        return _lye_first(s, check)
    if check is not None and any(
        each.status == "broken" and not each.version for each in check.stops("harm")
    ):
        return replace(_lye_first(s, check), status="harm first")
    return replace(
        _blank(s, "best looked at" if result.looked and best else STATUS[result.status]),
        looked=result.looked,
        premixes=premixes_of(problem, best),
        portions=() if settled is None else pours_of(settled, problem, best),
        runner_up=_runner_up(s, problem, result),
        runner_up_costs=_costs(result),
        waits_on=waits_on(check),
        check=check,
        plan_text=text,
        cost=None if settled is None else cost_of(settled),
        pot=None if settled is None or best is None else pot_scented(settled, len(best.premixes)),
    )


def _judged(settled: Situation, text: str, rulebook: Rulebook) -> CheckResult:
    """What `check` will say of the written plan, its versions included, whose doses stand on these."""
    check = replace(check_situation(settled, rulebook), drawn=drawn(settled))
    if not text or not settled.plan.variations or settled.plan.doc is None:
        return check
    plan = plan_of(text_document(text, settled.plan.doc.file), settled.book)
    return with_versions(check, replace(settled, plan=plan), rulebook)


def _blank(s: Situation, status: AssignStatus) -> AssignResult:
    """The answer as every way of ending begins it."""
    return AssignResult(
        plan=s.plan.plan,
        file=_file(s),
        status=status,
        scale_step=scale_step(s),
        scale_step_stated=s.book.usual.scale_step is not None,
        units=s.book.usual.units,
    )


def _file(s: Situation) -> str:
    return relative(str(s.plan.place.file), s.book.folder) if s.plan.place else ""


def goals(words: Sequence[str]) -> tuple[Goal, ...]:
    """Goals by their names; RecordError names the allowed ones."""
    strange = [word for word in words if word not in GOALS]
    if strange:
        allowed = ", ".join(GOALS)
        raise RecordError(
            [Fault(Place_(Path("--prefer"), 1, 1), f'"{strange[0]}" is no goal.', f"They are: {allowed}.")]
        )
    return tuple(goal for word in words for goal in GOALS if goal == word)


def lye_first(s: Situation, rulebook: Rulebook) -> AssignResult | None:
    """The answer where the lye burns however the oils are divided; None where it does not."""
    rules = [rule for rule in rulebook.rules if rule.level == "stop" and _of_lye(rule)]
    found = judge(rules, tables(s))
    if not any(each.protects == "lye" and each.level == "stop" for each in found):
        return None
    return _lye_first(s, check_situation(s, rulebook))


def _of_lye(rule: Rule) -> bool:
    """Whether no split changes what it says: it protects the lye, or asks for facts of the lye alone."""
    return rule.record.protects == "lye" or all(atom.word.theme == "lye" for atom in (*rule.when, *rule.must))


def _lye_first(s: Situation, check: CheckResult) -> AssignResult:
    """No split, no grams: what the rulebook says."""
    return replace(_blank(s, "lye first"), assumptions=tuple(assumptions(s)), check=check)


def with_scale(found: AssignResult, s: Situation) -> AssignResult:
    """The answer for a plan that was scaled first, which says to what."""
    to = assumed("scaled", oils=s.pot.oils_total)
    return replace(found, assumptions=(to, *found.assumptions))


def _unscented(s: Situation, rulebook: Rulebook) -> AssignResult:
    """Nothing to place: the plan is judged, and written where that is asked, as it stands."""
    return replace(
        _blank(s, "proven"),
        portions=tuple(Pour(name, {}, {}, 0.0) for name in s.portions),
        assumptions=(Assumed("nothing to place"), *assumptions(s)),
        check=with_versions(check_situation(s, rulebook), s, rulebook),
        plan_text=s.plan.doc.text if s.plan.doc else "",
    )


def _runner_up(s: Situation, problem: Problem, result: Result) -> tuple[Pour, ...]:
    other = result.runner_up
    return () if other is None else pours_of(poured(s, problem, other), problem, other)


def _costs(result: Result) -> str:
    """What the runner-up gains and costs beside the best, goal by goal."""
    if result.best is None or result.runner_up is None:
        return ""
    told = []
    for goal in result.goals:
        mine, theirs = result.best.values[goal.measure], result.runner_up.values[goal.measure]
        if abs(theirs - mine) > 1e-6:
            told.append(f"{goal.measure}: {theirs:.3g} instead of {mine:.3g}")
    return "; ".join(told)


def _assumptions(s: Situation, result: Result) -> Iterator[Assumed]:
    if result.reason:
        yield assumed("reason", said=result.reason)
    if result.status == "feasible":
        yield assumed("stopped early", gap=result.gap)
    yield from (each for each in assumptions(s) if each.kind != SPREAD)
