"""Many blends before the judge: the heaviest rule against each, and the greatest load that it bears."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from blendwise.answers.pair.findings import Hearing
from blendwise.answers.pair.pours import without_pours
from blendwise.answers.pair.region import PLANS_OWN
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blends import GRAINS, Blends, NotForManyError
from blendwise.assignment.problem.clock_rows import FLUID, NEEDED
from blendwise.assignment.problem.half_spaces import UPPER, bounds_of, is_constant
from blendwise.assignment.problem.problem import HARD
from blendwise.assignment.problem.rules import SOLVERS_OWN
from blendwise.facts.columns import Bools, Column, Floats
from blendwise.facts.registry import REGISTRY
from blendwise.judge.conditions.comparator import TRUE
from blendwise.judge.conditions.conditions import Atom, Limit
from blendwise.judge.conditions.logic import BROKEN, TIGHT, UNDECIDED
from blendwise.judge.findings.evaluate import Facts, Verdict, evaluate, truth, truth_of
from blendwise.judge.findings.finding import LEVELS
from blendwise.judge.rulebook.compile import Rule

NONE: Final = -1
Codes = NDArray[np.int8]
Places = NDArray[np.int16]


@dataclass(frozen=True, eq=False)
class Verdicts:
    """A row a blend; −1 for none.

    ``broken``, ``undecided``: index into LEVELS of the heaviest; ``rule``: place of the rule that weighs
    most, broken before undecided; ``cautions``: how many rules caution.
    """

    broken: Codes
    undecided: Codes
    rule: Places
    cautions: Codes


@dataclass(frozen=True, eq=False)
class Asked:
    """One rule asked of all blends: ``outcomes`` (rows,) the worst of each blend's oils or pairs."""

    place: int
    rule: Rule
    outcomes: Codes
    verdict: Verdict
    facts: Facts


class Bench:
    """A shelf and the rules that can tell its blends apart; ``not_asked``: rules left to a pair by itself."""

    def __init__(self, shelf: Shelf, rules: Sequence[Rule], hearing: Hearing | None = None) -> None:
        self.shelf = shelf
        known = rules if shelf.question.pour else without_pours(rules)
        asked = [rule for rule in known if rule.level != "hint" and rule.looks_at in GRAINS]
        self.rules = sorted(asked, key=lambda rule: (-LEVELS.index(rule.level), rule.order))
        self.hearing = hearing or Hearing(shelf.question, rules)
        self.not_asked: set[str] = set()

    @cached_property
    def _by_batter(self) -> dict[str, int]:
        """Rule → the outcome that the unscented bar has: what the batter breaks is said of no oil."""
        found: dict[str, int] = {}
        for finding in self.hearing.of_batter:
            outcome = {"broken": BROKEN, "undecided": UNDECIDED}.get(finding.status, TIGHT)
            found[finding.rule] = max(outcome, found.get(finding.rule, 0))
        return found

    @cached_property
    def of_browning(self) -> frozenset[str]:
        """Rules that hold what a bar browns to against what it is planned to become."""
        return frozenset(
            rule.name for rule in self.rules if {"browning band", "planned band"} <= rule.must.measures
        )

    def judge(self, blends: Blends, aside: frozenset[str] = frozenset()) -> Verdicts:
        """Every rule asked of every blend, but those set ``aside``."""
        return self.verdicts((a for a in self.asked(blends) if a.rule.name not in aside), len(blends))

    def verdicts(self, asked: Iterable[Asked], count: int) -> Verdicts:
        """What rules that were asked of so many blends come to."""
        broken, waits = np.full(count, NONE, np.int8), np.full(count, NONE, np.int8)
        by_broken, by_waits = np.full(count, NONE, np.int16), np.full(count, NONE, np.int16)
        cautions = np.zeros(count, np.int8)
        for each in asked:
            level = np.int8(LEVELS.index(each.rule.level))
            for code, levels, rules in ((BROKEN, broken, by_broken), (UNDECIDED, waits, by_waits)):
                fresh = (each.outcomes == code) & (levels < level)
                levels[fresh], rules[fresh] = level, each.place
            cautions += (each.outcomes == BROKEN) & (each.rule.level == "caution")
        rule = np.where(broken >= waits, by_broken, by_waits).astype(np.int16)
        return Verdicts(broken, waits, rule, cautions)

    def asked(self, blends: Blends) -> Iterator[Asked]:
        """Every rule asked of every blend, the heaviest rules first."""
        facts = {grain: Facts(made) for grain, made in blends.tables().items()}
        for place, rule in enumerate(self.rules):
            if not len(facts[rule.looks_at]):
                continue
            try:
                verdict = evaluate(rule, facts[rule.looks_at])
            except NotForManyError:
                self.not_asked.add(rule.name)
                continue
            worst = verdict.outcomes.reshape(len(blends), -1).max(axis=1)
            usual = self._by_batter.get(rule.name)
            own = worst if usual is None else np.where(worst == usual, np.int8(0), worst)
            yield Asked(place, rule, own, verdict, facts[rule.looks_at])

    def most(self, blends: Blends, aside: frozenset[str] = frozenset()) -> tuple[Floats, Places]:
        """(greatest load under all stops and conflicts, place of the rule that stops it), in closed form.

        ∞ and −1 where none does; rules set ``aside`` are not asked.
        """
        most, stop = np.full(len(blends), np.inf), np.full(len(blends), NONE, np.int16)
        facts = {grain: Facts(made) for grain, made in blends.tables().items()}
        left_out = PLANS_OWN | SOLVERS_OWN
        for place, rule in enumerate(self.rules):
            if (
                rule.name in aside
                or rule.level not in HARD
                or not left_out.isdisjoint(rule.must.measures)
                or rule.must.branches
            ):
                continue
            try:
                cap = _cap(rule, blends, facts[rule.looks_at])
            except NotForManyError:
                continue
            lower = cap < most
            most[lower], stop[lower] = cap[lower], place
        return most, stop


def _cap(rule: Rule, blends: Blends, facts: Facts) -> Floats:
    """The greatest load of every blend under one rule; ∞ where the rule sets none."""
    found = np.full(len(blends), np.inf)
    if not len(facts):
        return found
    for when, must in rule.readings:
        if not all(map(is_constant, when)):
            return np.full(len(blends), np.inf)
        applies = truth_of(when, [truth(atom, facts) for atom in when], len(facts)).whole == TRUE
        applies &= _asked(when.measures | must.measures, facts)
        for atom in must.atoms:
            caps = np.where(applies, _caps(rule, atom, blends, facts), np.inf)
            found = np.minimum(found, caps.reshape(len(blends), -1).min(axis=1))
    return found


def _asked(measures: frozenset[str], facts: Facts) -> Bools:
    """Rows at which every constant that is spoken of exists."""
    asked = np.ones(len(facts), dtype=bool)
    for name in measures:
        if REGISTRY.get(name) is None or REGISTRY[name].word.form == "constant":
            there = facts.column(name).asked
            if there is not None:
                asked &= there
    return asked


def _caps(rule: Rule, atom: Atom, blends: Blends, facts: Facts) -> Floats:
    """The greatest load of every row under one line of a rule."""
    shelf, harsh = blends.shelf, not rule.leaves_open(blends.shelf.base.believing.careful)
    if atom.measure == FLUID:
        return _clock_caps(atom, blends, harsh)
    if is_constant(atom):
        moves = rule.looks_at in ("scent", "dose", "pair")
        return np.where(truth(atom, facts) == TRUE, np.inf, 0.0) if moves else np.full(len(facts), np.inf)
    caps = np.full(len(facts), np.inf)
    for relation, limit in bounds_of(atom) or ():
        value = _limit(limit, facts)
        if value is None or relation not in UPPER or atom.measure not in REGISTRY:
            continue
        measure, relation, value = _inverted(atom.measure, relation, value, shelf)
        if relation in UPPER and np.isfinite(value):
            along = shelf.terms(measure).along(
                blends.index, blends.shares, shelf.oils, value, upper=True, harsh=harsh
            )
            spread = np.repeat(along, len(facts) // len(blends)) if along.ndim == 1 else along.ravel()
            caps = np.minimum(caps, spread)
    return caps


def _limit(limit: Limit, facts: Facts) -> float | None:
    """A limit that is the same for all blends; None for any other."""
    if not limit.measure:
        return limit.value
    if REGISTRY[limit.measure].word.form != "constant":
        return None
    column = facts.column(limit.measure)
    assert isinstance(column, Column)
    same = bool((column.low == column.low[0]).all() and column.known.all())
    return float(column.low[0]) * limit.factor if same else None


def _inverted(measure: str, relation: str, limit: float, shelf: Shelf) -> tuple[str, str, float]:
    """A bound on a monotone function as one on its fraction."""
    known = REGISTRY[measure]
    if known.cap is None:
        return measure, relation, limit
    bound = known.cap(shelf.bars[0], relation, np.array([limit]))
    return known.reads[0], bound.relation, float(bound.limit[0])


def _clock_caps(atom: Atom, blends: Blends, harsh: bool) -> Floats:
    """``minutes fluid: at least [k ×] minutes needed``: a bound on how many times faster it thickens.

    At the kind end of judgement's doubt, as the judge: what it settles is broken, what it does not is tight;
    at the harsh end where it is asked with care.
    """
    line, limit = blends.shelf.clock, atom.limits[0]
    if line is None or not line.wants_fluid or limit.measure != NEEDED or atom.relation != "at least":
        return np.full(len(blends), np.inf)
    quickest = float(line.harsh.bears().min() if harsh else line.kind.bears().max()) / limit.factor
    thickening = "most thickening" if harsh else "least thickening"
    return blends.shelf.terms(thickening).along(
        blends.index, blends.shares, blends.shelf.oils, quickest, upper=True
    )
