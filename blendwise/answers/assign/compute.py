"""Which portion takes which oil: the split that was found, judged again, or what stands in the way."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from blendwise.answers.answer import Range
from blendwise.answers.assign.costs import cost_of, pot_scented, waits_on
from blendwise.answers.assign.remedies import Remedies
from blendwise.answers.assign.result import (
    AssignResult,
    AssignStatus,
    Conflict,
    ConflictKind,
    Pour,
    Premix,
    Remedy,
    Tight,
)
from blendwise.answers.check.compute import assumptions, at_book, check_situation, relative
from blendwise.answers.check.drawn import drawn
from blendwise.answers.check.result import CheckResult
from blendwise.answers.check.versions import with_versions
from blendwise.answers.plan_text import edits as changes
from blendwise.assignment.explain.prices import Price, prices
from blendwise.assignment.problem.of_plan import compile_problem
from blendwise.assignment.problem.problem import GOALS, Goal, Problem, Source
from blendwise.assignment.result import Answer, Result
from blendwise.assignment.search.solve import Ask, solve
from blendwise.facts.assumed import Assumed, assumed
from blendwise.facts.columns import Column
from blendwise.facts.measures.dose import scale_step
from blendwise.facts.situation.doses import SPREAD
from blendwise.facts.situation.timeline import timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of
from blendwise.records.place import Fault, RecordError, Spot
from blendwise.records.place import Place as Place_
from blendwise.records.reading.document import text_document

FINER = 10.0  # a scale of tenths in place of grams, of hundredths in place of tenths
PRICE_SECONDS = 2.0  # for telling what tight rules cost
TRY_SECONDS = 3.0  # for each remedy that is tried
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
) -> AssignResult:
    """Solve, round to the scale, judge again, explain."""
    lye = lye_first(s, rulebook)
    if lye is not None:
        return lye
    if not (s.scenting.blend > 0).any() or s.scenting.total <= 0:
        return _unscented(s, rulebook)
    begun, ask = time.monotonic(), Ask(free=free, seconds=seconds, runner_up=explain, explain=explain)
    problem = compile_problem(s, rulebook.rules, prefer=prefer, premixes=premixes)
    result = solve(problem, ask)
    conflicts = tuple(conflict_of(source, s.book.folder, rulebook) for source in result.conflict)
    found = replace(
        _told(s, rulebook, problem, result),
        conflicts=conflicts,
        conflicts_kind=OBSTACLE[result.obstacle],
        assumptions=tuple(_assumptions(s, result)),
    )
    if explain:
        costs = prices(problem, result, Ask(free=free, seconds=seconds), PRICE_SECONDS)
        tight = tuple(_tights(problem, result, costs, s.book.folder, rulebook))
        remedies = _remedies(s, rulebook, conflicts, problem, result, seconds)
        found = replace(found, tight=tight, remedies=remedies)
    return replace(found, seconds=time.monotonic() - begun)


def _told(s: Situation, rulebook: Rulebook, problem: Problem, result: Result) -> AssignResult:
    """The split that was found, judged again, with what goes with it."""
    best = result.best
    settled = None if best is None else poured(s, problem, best)
    text = "" if best is None else plan_with_split(s, problem, best)
    check = None if settled is None else _judged(settled, text, rulebook)
    if check is not None and check.lye_stop:
        return _lye_first(s, check)
    return replace(
        _blank(s, STATUS[result.status]),
        premixes=_premixes(problem, best),
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


def _remedies(
    s: Situation,
    rulebook: Rulebook,
    conflicts: tuple[Conflict, ...],
    problem: Problem,
    result: Result,
    seconds: float,
) -> tuple[Remedy, ...]:
    """What would help, in a maker's order; where only premixes or steps stand in the way, that first."""
    if result.status != "infeasible" or s.plan.doc is None:
        return ()

    def again(changed: Situation) -> AssignResult:
        return assign_situation(changed, rulebook, seconds=TRY_SECONDS, explain=False)

    search = Remedies(s, rulebook, conflicts, again, seconds)
    return (*_freer(s, rulebook, problem, result), *search.found(), *search.least_change(problem))


def _freer(s: Situation, rulebook: Rulebook, problem: Problem, result: Result) -> Iterator[Remedy]:
    """Without premixes, or on a finer scale, where nothing else stands in the way."""
    if result.obstacle == "premixes":
        free = assign_situation(s, rulebook, free=True, seconds=TRY_SECONDS, explain=False)
        if free.check is not None:
            weighings = sum(len(pour.scents) for pour in free.portions)
            details, harm = {"weighings": float(weighings)}, bool(free.check.harm)
            yield Remedy("free split", details, free.check.sound, free.plan_text, harm)
    if result.obstacle == "steps":
        finer = replace(problem, step=problem.step / FINER, step_stated=True)
        if solve(finer, Ask(seconds=TRY_SECONDS, runner_up=False, explain=False)).best is not None:
            yield Remedy("finer scale", {"step": f"{finer.step:g} g"}, True)


def goals(words: Sequence[str]) -> tuple[Goal, ...]:
    """Goals by their names; RecordError names the allowed ones."""
    strange = [word for word in words if word not in GOALS]
    if strange:
        allowed = ", ".join(GOALS)
        raise RecordError(
            [Fault(Place_(Path("--prefer"), 1, 1), f'"{strange[0]}" is no goal.', f"They are: {allowed}.")]
        )
    return tuple(goal for word in words for goal in GOALS if goal == word)


def written_plan(result: AssignResult, remedy: int = 1) -> str:
    """The text of the plan with its split, or with a remedy and the split that it gives.

    RecordError where there is neither; the harm of a version alone is told and does not stop the plan's own.
    """
    if result.check is not None and any(not each.version for each in result.check.stops("harm")):
        raise _not_written(result)
    if result.plan_text:
        return result.plan_text
    if 1 <= remedy <= len(result.remedies):
        chosen = result.remedies[remedy - 1]
        if chosen.harm:
            raise _not_written(result)
        return chosen.plan
    count = len(result.remedies)
    remedies = f"There are {count} remedies to choose from." if count else "No remedy was found."
    raise RecordError(
        [Fault(Place_(Path(result.file), 1, 1), "Nothing fits, so there is no split to write.", remedies)]
    )


def _not_written(result: AssignResult) -> RecordError:
    """Grams are not written past a harm: they would be weighed."""
    stops = result.check.harm if result.check is not None else ()
    rules = ", ".join(dict.fromkeys(stop.rule for stop in stops))
    what = f"Past a stop there is no split to write{f' ({rules})' if rules else ''}."
    how = "Mend that first: `blendwise check` of this plan says what would."
    return RecordError([Fault(Place_(Path(result.file), 1, 1), what, how)])


def plan_with_split(s: Situation, problem: Problem, answer: Answer) -> str:
    """The plan's text with the found grams as its doses; "" where its text does not lend itself to that."""
    if s.plan.doc is None:
        return ""
    index = {name: i for i, name in enumerate(problem.scents)}
    grams = {p: {n: float(answer.grams[i, k]) for n, i in index.items()} for k, p in enumerate(s.portions)}
    mixes = [[problem.scents[i] for i in mix.scents] for mix in answer.premixes if len(mix.scents) > 1]
    try:
        return changes.mixed_together(changes.with_split(s.plan.doc, grams, s.book.usual.units), mixes).text
    except RecordError:
        return ""


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


def _unscented(s: Situation, rulebook: Rulebook) -> AssignResult:
    """Nothing to place: the plan is judged as it stands."""
    return replace(
        _blank(s, "proven"),
        portions=tuple(Pour(name, {}, {}, 0.0) for name in s.portions),
        assumptions=(Assumed("nothing to place"), *assumptions(s)),
        check=with_versions(check_situation(s, rulebook), s, rulebook),
    )


def poured(s: Situation, problem: Problem, answer: Answer) -> Situation:
    """The situation at an answer's doses, its premixes weighed together."""
    x = np.where(s.scenting.blend[:, None] > 0, 0.0, s.x)
    index = [s.scents.index(name) for name in problem.scents]
    x[index] = answer.grams
    groups = tuple(tuple(index[i] for i in premix.scents) for premix in answer.premixes)
    return s.with_doses(x, groups)


def premix_name(problem: Problem, premix_scents: Sequence[int], number: int) -> str:
    """One oil goes by its own name; several by a number."""
    if len(premix_scents) == 1:
        return problem.scents[premix_scents[0]]
    return f"premix {number}"


def _names(problem: Problem, answer: Answer) -> list[str]:
    names, number = [], 0
    for premix in answer.premixes:
        number += len(premix.scents) > 1
        names.append(premix_name(problem, premix.scents, number))
    return names


def _premixes(problem: Problem, answer: Answer | None) -> tuple[Premix, ...]:
    if answer is None:
        return ()
    return tuple(
        Premix(
            name,
            {problem.scents[i]: grams for i, grams in zip(premix.scents, premix.grams, strict=True)},
            max(premix.off, default=None),
        )
        for name, premix in zip(_names(problem, answer), answer.premixes, strict=True)
        if len(premix.scents) > 1
    )


def pours_of(s: Situation, problem: Problem, answer: Answer | None) -> tuple[Pour, ...]:
    """A row a portion, in the plan's order, with its place in the scenting order and its clock."""
    names = [] if answer is None else _names(problem, answer)
    outside = np.flatnonzero(s.scenting.blend == 0)
    rows = []
    for p, portion in enumerate(s.portions):
        weighed = {} if answer is None else {n: float(d[p]) for n, d in zip(names, answer.doses, strict=True)}
        weighed |= {s.scents[i]: float(s.x[i, p]) for i in outside}
        scents = {name: float(s.x[i, p]) for i, name in enumerate(s.scents) if s.x[i, p] > 0}
        held = {name: grams for name, grams in weighed.items() if grams > 0}
        rows.append(Pour(portion, held, scents, float(s.x[:, p].sum() / s.split.oils[p]), *_clock(s, p)))
    return tuple(rows)


def _clock(s: Situation, p: int) -> tuple[int | None, Range | None, float | None]:
    """Place in the scenting order (from 1), fluid until (least, most), minutes to spare."""
    line = timeline(s)
    if line is None:
        return None, None, None
    until = Range(*(float(end[p]) for end in line.fluid_until))
    spare = s.home("minutes to spare")
    assert isinstance(spare, Column)
    slack = None if not line.asks[p] else float(spare.low[p])
    return int(line.place[p]) + 1, until, slack


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


def _tights(
    problem: Problem, result: Result, costs: Sequence[Price], folder: Path, rulebook: Rulebook
) -> Iterator[Tight]:
    """What stops each portion from taking more, with what solving without it would bring."""
    assert result.best is not None or not result.stops
    gains = {price.source: price for price in costs}
    names = [] if result.best is None else _names(problem, result.best)
    for stop in result.stops:
        conflict = conflict_of(stop.source, folder, rulebook)
        price = gains.get(stop.source)
        yield Tight(
            portion=problem.portions[stop.portion],
            rule=conflict.name,
            subject=conflict.subject,
            gain=None if price is None else price.value - price.without,
            gain_in="" if price is None else price.measure,
            where=conflict.where,
            premix=names[stop.premix],
            takes=stop.takes,
            at=stop.at,
            wants=conflict.wants,
            kind=conflict.kind,
        )


def conflict_of(source: Source, folder: Path, rulebook: Rulebook) -> Conflict:
    """A constraint's source as something a maker can find: a rule or a line of the plan."""
    kind, name, *rest = source
    if kind == "rule":
        subject, place, rule_place = rest
        rule = rulebook.by_name.get(str(name))
        wants = "" if rule is None else ", ".join(map(str, rule.must))
        return Conflict("rule", str(name), str(subject), _spot(place or rule_place, folder), wants)
    if kind == "plan":
        subject, place = rest
        return Conflict("plan", str(name), str(subject), _spot(place, folder))
    return Conflict("plan", str(kind), " in ".join(str(part) for part in (name, *rest)))


def _spot(place: object, folder: Path) -> Spot | None:
    return at_book(place, folder) if isinstance(place, Spot) else None


def _assumptions(s: Situation, result: Result) -> Iterator[Assumed]:
    if result.reason:
        yield assumed("reason", said=result.reason)
    if result.status == "feasible":
        yield assumed("stopped early", gap=result.gap)
    yield from (each for each in assumptions(s) if each.kind != SPREAD)
