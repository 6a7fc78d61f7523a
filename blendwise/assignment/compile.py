"""Rules and plan lines become rows, either-ors, closed cells and a clock.

Each rule is asked at every row that could be (every scent in every portion, every pair, every edge).
What no dose changes is settled at once; what is linear becomes a row; what hangs on a ``when`` that
speaks of doses becomes an either-or.  The rest (marked *afterwards*) is left to the judge, which looks
at every answer anyway.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from blendwise.assignment.linear import Half, halves, is_constant, restricted
from blendwise.assignment.problem import (
    DEFAULT_PREFER,
    LEVEL_WEIGHT,
    Alternative,
    EitherOr,
    Goal,
    Problem,
    Row,
    Slots,
    Source,
)
from blendwise.facts.columns import Bools, Column, Floats, Subject
from blendwise.facts.measures.clock import pace
from blendwise.facts.measures.dose import scale_step
from blendwise.facts.scales import BANDS
from blendwise.facts.situation import Situation
from blendwise.facts.tables import Rows, rows_of, table
from blendwise.facts.timeline import own_order
from blendwise.judge.comparator import FALSE, TRUE
from blendwise.judge.compile import Rule
from blendwise.judge.conditions import Atom, Condition, Limit
from blendwise.judge.evaluate import Facts, truth

SOLVERS_OWN = frozenset({"steps of the scale", "blend total met"})  # built into every answer
FLUID, NEEDED = "minutes fluid", "minutes needed"
LIGHT_FROM = 70.0  # L* from which a portion counts as light for the goal "only where it browns"
USUAL_PREMIXES = 3


@dataclass
class Compiled:
    """What has been gathered so far, over all scents of the plan."""

    rows: list[Row] = field(default_factory=list)
    either: list[EitherOr] = field(default_factory=list)
    slots: Slots | None = None
    afterwards: list[str] = field(default_factory=list)


def how_it_compiles(rule: Rule) -> str:
    """row, either-or, cap, clock, settled, or afterwards: what ``rules show`` says of a rule."""
    from blendwise.assignment.linear import bounds_of, measure_of

    forms = [measure_of(name).form for atom in rule.must for name in atom.measures]
    when_moves = any(not is_constant(atom) for atom in rule.when)
    if FLUID in rule.must.measures:
        return "clock"
    if all(form == "constant" for form in forms) and not when_moves:
        return "closed cells" if rule.looks_at in ("dose", "pair") else "settled before"
    linear = all(form in ("constant", "fraction", "inverted") for form in forms)
    if not linear or any(bounds_of(atom) is None and not is_constant(atom) for atom in rule.must):
        return "afterwards"
    if when_moves or rule.must.branches:
        return "either-or"
    return "cap" if "inverted" in forms else "row"


class Compiler:
    """One plan's rules on the way to a problem."""

    def __init__(self, s: Situation) -> None:
        self.s = s
        self.kept = np.flatnonzero(s.scenting.blend > 0)
        self.fixed = np.where(s.scenting.blend[:, None] > 0, 0.0, s.x)
        self.found = Compiled()
        self._rows: dict[str, tuple[Rows, Facts]] = {}

    def grain(self, name: str) -> tuple[Rows, Facts]:
        """All rows of a grain that could be, and their facts."""
        if name not in self._rows:
            self._rows[name] = rows_of(self.s, name, every=True), Facts(table(self.s, name, every=True))
        return self._rows[name]

    def take(self, rule: Rule) -> None:
        """Compile one rule at all its rows.  Hints inform, they do not steer; some laws are the solver's own."""
        if rule.level == "hint" or not SOLVERS_OWN.isdisjoint(rule.must.measures):
            return
        if FLUID in rule.must.measures:
            self._clock(rule)
            return
        for when, must in rule.readings:
            self._reading(rule, when, must)

    def _reading(self, rule: Rule, when: Condition, must: Condition) -> None:
        rows, facts = self.grain(rule.looks_at)
        if not len(rows) or not len(self.kept):
            return
        asked = _asked(when, must, facts)
        settled = {id(a): truth(a, facts) for a in (*when, *must) if is_constant(a)}
        for row in np.flatnonzero(asked):
            self._row(rule, when, must, rows, int(row), settled)

    def _row(
        self,
        rule: Rule,
        when: Condition,
        must: Condition,
        rows: Rows,
        row: int,
        settled: dict[int, np.ndarray],
    ) -> None:
        escapes = self._escapes(when, rows, row, settled)
        if escapes is None:
            return
        unsure = any(id(a) in settled and settled[id(a)][row] not in (FALSE, TRUE) for a in when.atoms)
        groups: list[list[Atom]] = [[atom] for atom in must.atoms]
        for atoms in groups:
            self._part(rule, [atoms], escapes, rows, row, settled, unsure)
        if must.branches:
            self._part(rule, [list(b) for b in must.branches], escapes, rows, row, settled, unsure)

    def _escapes(
        self, when: Condition, rows: Rows, row: int, settled: dict[int, np.ndarray]
    ) -> list[Alternative] | None:
        """How ``when`` may be made false by doses; None where it is false as it stands."""
        ways: list[Alternative] = []
        for atom in when.atoms:
            if id(atom) in settled:
                if settled[id(atom)][row] == FALSE:
                    return None
                continue
            ways += self._negation(atom, rows, row)
        if when.branches:
            branch_ways = [self._branch_escapes(b, rows, row, settled) for b in when.branches]
            if all(ways_of is None for ways_of in branch_ways):
                return None
            ways += _all_of([w for w in branch_ways if w is not None])
        return ways

    def _branch_escapes(
        self, branch: Sequence[Atom], rows: Rows, row: int, settled: dict[int, np.ndarray]
    ) -> list[Alternative] | None:
        return self._escapes(Condition(tuple(branch)), rows, row, settled)

    def _negation(self, atom: Atom, rows: Rows, row: int) -> list[Alternative]:
        if atom.measure == "scented" and rows.portion is not None:
            return [Alternative(unscented=(int(rows.portion[row]),))]
        ways = halves(atom, rows, row, self.s, negated=True)
        return [self._alternative(way) for way in ways or []]

    def _alternative(self, way: Sequence[Half]) -> Alternative:
        return Alternative(tuple(self._line(half, "", ("",), "conflict") for half in way))

    def _part(
        self,
        rule: Rule,
        branches: list[list[Atom]],
        escapes: list[Alternative],
        rows: Rows,
        row: int,
        settled: dict[int, np.ndarray],
        unsure: bool,
    ) -> None:
        """One thing that must hold (a line, or one branch of several), unless an escape is taken."""
        subject = _subject(self.s, rows, row)
        source = source_of(rule, subject)
        ways: list[list[Half]] = []
        open_question = False
        for branch in branches:
            way, state = self._branch(rule, branch, rows, row, settled)
            if state == "holds":
                return
            open_question |= state == "unknown"
            if way is not None:
                ways.append(way)
            elif state == "afterwards":
                return
        cells = _cells(rows, row, self.s)
        if open_question and not ways:
            self._undecided(rule, source, subject, cells)
        elif not ways:
            self._never(rule, source, subject, rows, row, escapes, unsure)
        else:
            self._must(rule, source, subject, ways, escapes, cells, unsure)

    def _branch(
        self, rule: Rule, branch: Sequence[Atom], rows: Rows, row: int, settled: dict[int, np.ndarray]
    ) -> tuple[list[Half] | None, str]:
        """The halves of a branch, and whether it holds, fails, is unknown or is left for afterwards."""
        way: list[Half] = []
        unknown = False
        for atom in branch:
            if id(atom) in settled:
                if settled[id(atom)][row] == FALSE:
                    return None, "fails"
                unknown |= settled[id(atom)][row] != TRUE
                continue
            found = halves(atom, rows, row, self.s)
            if found is None:
                self.found.afterwards.append(rule.name)
                return None, "afterwards"
            way += found[0]
        if unknown:
            return None, "unknown"
        way = [half for half in way if not half.is_free]
        return way, "row" if way else "holds"

    def _undecided(self, rule: Rule, source: Source, subject: Subject, cells: Bools | None) -> None:
        """A fact nobody knows decides: placing the oil there costs, it is not forbidden."""
        if cells is None:
            return
        empty = np.zeros((len(self.kept), self.s.shape[1]))
        self.found.rows.append(
            Row(_name(rule, subject), source, empty, -1.0, level=rule.level, uncertain=cells[self.kept])
        )

    def _never(
        self,
        rule: Rule,
        source: Source,
        subject: Subject,
        rows: Rows,
        row: int,
        escapes: list[Alternative],
        unsure: bool,
    ) -> None:
        """It cannot hold whatever the dose: the cell, or one of the pair's cells, stays empty."""
        places = self._empty_places(rows, row)
        if places is None:
            return
        ways = (*escapes, *(Alternative(empty=(place,)) for place in places))
        level, weight = _softened(rule, unsure)
        if ways:
            self.found.either.append(EitherOr(_name(rule, subject), source, ways, level, weight))

    def _empty_places(self, rows: Rows, row: int) -> list[tuple[int, int]] | None:
        """The cells of which one being empty would do (indices over the scents that are placed)."""
        if rows.grain not in ("dose", "pair"):
            return None
        assert rows.scent is not None
        assert rows.portion is not None
        scents = [int(rows.scent[row])] + ([int(rows.other[row])] if rows.other is not None else [])
        portion = int(rows.portion[row])
        index = {int(k): i for i, k in enumerate(self.kept)}
        return [(index[i], portion) for i in scents if i in index]

    def _must(
        self,
        rule: Rule,
        source: Source,
        subject: Subject,
        ways: list[list[Half]],
        escapes: list[Alternative],
        cells: Bools | None,
        unsure: bool,
    ) -> None:
        name = _name(rule, subject)
        level, weight = _softened(rule, unsure)
        hopeless = all(any(half.is_hopeless for half in way) for way in ways)
        if hopeless and not escapes and cells is None:
            return  # no split changes it: the judge tells of it, the solver need not
        lines = [tuple(self._line(half, name, source, level, weight) for half in way) for way in ways]
        empties = self._cell_escape(ways, cells)
        if len(lines) == 1 and not escapes and not empties:
            self.found.rows += lines[0]
            return
        alternatives = (*escapes, *empties, *(Alternative(line) for line in lines))
        self.found.either.append(EitherOr(name, source, alternatives, level, weight))

    def _cell_escape(self, ways: list[list[Half]], cells: Bools | None) -> list[Alternative]:
        """An empty cell is not asked; needed only where the row would not hold by itself then."""
        if cells is None or all(half.holds_without(cells) for way in ways for half in way):
            return []
        index = {int(k): i for i, k in enumerate(self.kept)}
        return [
            Alternative(empty=((index[int(i)], int(p)),))
            for i, p in zip(*np.nonzero(cells), strict=True)
            if int(i) in index
        ]

    def _line(self, half: Half, name: str, source: Source, level: str, weight: float | None = None) -> Row:
        kept = restricted(half, self.kept, self.fixed)
        return Row(
            name,
            source,
            kept.a,
            kept.a0,
            level=level,  # type: ignore[arg-type]
            scale=kept.scale,
            weight=weight,
            strict=kept.strict,
            uncertain=kept.open if kept.open.any() else None,
        )

    def _clock(self, rule: Rule) -> None:
        """``minutes fluid: at least [k ×] minutes needed``: slots of an interleaved pour, rows of a layered one."""
        line = self.s.timeline
        atom = next(a for a in rule.must if a.measure == FLUID)
        factor = _factor(atom)
        if line is None or line.family == "thick" or factor is None:
            return
        source = source_of(rule, Subject("batch", (self.s.plan.plan,)))
        low, high = pace(self.s)
        self._unknown_pace(rule, high)
        per_gram = np.where(np.isfinite(high), high, low)[:, None] / self.s.split.oils[None, :]
        extra = 1.0 + (per_gram * self.fixed).sum(axis=0)
        caps = np.maximum(line.base[0] - line.slots, 0.0) / (factor * _needed_by_slot(line))
        if line.family == "interleaved" and self.found.slots is None and np.allclose(extra, 1.0):
            order = own_order(self.s)
            self.found.slots = Slots(
                rule.name,
                source,
                per_gram[self.kept],
                np.maximum.accumulate(caps),
                None if order is None else tuple(int(p) for p in order),
                level=rule.level,
            )
            return
        for p, name in enumerate(self.s.portions):
            a = np.zeros(self.s.shape)
            a[:, p] = per_gram[:, p]
            cap = float(caps[line.place[p]])
            half = Half(a, 1.0 - cap, False, np.zeros(self.s.shape, dtype=bool), max(cap, 1.0))
            subject = Subject("portion", (name,))
            self.found.rows.append(
                self._line(half, _name(rule, subject), source_of(rule, subject), rule.level)
            )

    def _unknown_pace(self, rule: Rule, high: Floats) -> None:
        for k in np.flatnonzero(~np.isfinite(high[self.kept])):
            mask = np.zeros((len(self.kept), self.s.shape[1]), dtype=bool)
            mask[k] = True
            subject = Subject("scent", (self.s.scents[int(self.kept[k])],))
            self.found.rows.append(
                Row(
                    _name(rule, subject),
                    source_of(rule, subject),
                    np.zeros(mask.shape),
                    -1.0,
                    rule.level,
                    uncertain=mask,
                )
            )


def _needed_by_slot(line: object) -> Floats:
    from blendwise.facts.timeline import Timeline

    assert isinstance(line, Timeline)
    needed = np.empty(len(line.slots))
    needed[line.place] = line.needed_until
    return needed - line.slots


def _factor(atom: Atom) -> float | None:
    limit: Limit = atom.limits[0]
    return limit.factor if atom.relation == "at least" and limit.measure == NEEDED else None


def _softened(rule: Rule, unsure: bool) -> tuple[str, float | None]:
    """A rule whose ``when`` is not known would be undecided, not broken: it weighs, it does not bind."""
    return ("caution", LEVEL_WEIGHT[rule.level]) if unsure else (rule.level, None)


def _all_of(parts: list[list[Alternative]]) -> list[Alternative]:
    """Alternatives that take one way out of every part at once."""
    found = [Alternative()]
    for ways in parts:
        found = [
            Alternative(a.rows + b.rows, a.empty + b.empty, a.unscented + b.unscented)
            for a in found
            for b in ways
        ]
    return found


def _asked(when: Condition, must: Condition, facts: Facts) -> Bools:
    """Rows at which no constant measure of the rule is out of place."""
    asked = np.ones(len(facts.table), dtype=bool)
    for atom in (*when, *must):
        if is_constant(atom):
            for name in atom.measures:
                column = facts.column(name)
                if column.asked is not None:
                    asked &= column.asked
    return asked


def _cells(rows: Rows, row: int, s: Situation) -> Bools | None:
    """The dose cell that the row is about, as a mask over all scents; None for other grains."""
    if rows.grain != "dose":
        return None
    assert rows.scent is not None
    assert rows.portion is not None
    mask = np.zeros(s.shape, dtype=bool)
    mask[int(rows.scent[row]), int(rows.portion[row])] = True
    return mask


def _subject(s: Situation, rows: Rows, row: int) -> Subject:
    return (
        table(s, rows.grain, every=True).subjects[row]
        if rows.grain != "batch"
        else Subject("batch", (s.plan.plan,))
    )


def _name(rule: Rule, subject: Subject) -> str:
    return f"{rule.name}: {subject}"


def source_of(rule: Rule, subject: Subject) -> Source:
    """What leads back from a constraint: kind, rule, subject, plan place, rule place."""
    place = (str(rule.place.file), rule.place.line)
    return ("rule", rule.name, str(subject), subject.place, place)


def compile_problem(
    s: Situation, rules: Sequence[Rule], *, prefer: Sequence[Goal] = (), premixes: int | None = None
) -> Problem:
    """The problem of a situation under the rules (ValueError where there is no blend to place)."""
    compiler = Compiler(s)
    for rule in rules:
        compiler.take(rule)
    kept = compiler.kept
    if not len(kept):
        raise ValueError("the plan has no blend to place")
    blend = s.scenting.blend[kept]
    empty = ~s.scenting.allowed[kept]
    unscented = np.array([p.scented is False for p in s.plan.portions], dtype=bool)
    step = s.book.usual.scale_step
    wanted = tuple(prefer) or tuple(s.plan.prefer) or tuple(s.book.usual.prefer) or DEFAULT_PREFER
    return Problem(
        scents=tuple(s.scents[int(k)] for k in kept),
        portions=s.portions,
        blend=blend / blend.sum(),
        portion_oils=s.split.oils,
        total=s.scenting.total,
        dosing="same total" if s.scenting.same_total else "same dose",
        dose=s.scenting.load * s.split.oils,
        rows=tuple(compiler.found.rows),
        either=tuple(compiler.found.either),
        slots=compiler.found.slots,
        fixed=s.scenting.written[kept],
        empty=empty,
        cell_sources=dict(_cell_sources(s, kept)),
        unscented=unscented,
        step=scale_step(s),
        step_stated=step is not None,
        premixes=premixes or s.plan.premixes or USUAL_PREMIXES,
        prefer=wanted,
        browning=np.array([_browns(s, int(k)) for k in kept], dtype=bool),
        light=_light(s),
    )


def _cell_sources(s: Situation, kept: np.ndarray) -> Iterator[tuple[tuple[int, int], Source]]:
    index = {s.scents[int(k)]: i for i, k in enumerate(kept)}
    for lines, word in ((s.plan.only, "only"), (s.plan.never, "never")):
        for line in lines:
            place = (str(line.place.file), line.place.line) if line.place else None
            inside = {s.portions.index(p) for p in line.in_}
            closed = inside if word == "never" else set(range(len(s.portions))) - inside
            for p in sorted(closed):
                if line.scent in index:
                    yield (index[line.scent], p), ("plan", word, f"{line.scent} in {s.portions[p]}", place)
    for i, k in enumerate(kept):
        for p in np.flatnonzero(~np.isnan(s.scenting.written[int(k)])):
            yield (i, int(p)), ("plan", "doses", f"{s.scents[int(k)]} in {s.portions[int(p)]}", None)


def _browns(s: Situation, scent: int) -> bool:
    """Whether an oil at the load would leave the first band by itself."""
    first = next(step.up_to for step in s.scales.bands if step.up_to is not None)
    top = s.traits[scent].browner.high
    return bool(not np.isfinite(top) or top * s.scenting.load / s.pot.batter_to_oils > first.high)


def _light(s: Situation) -> Bools:
    planned = s.home("planned band")
    assert isinstance(planned, Column)
    return np.asarray((s.appearance.planned[:, 0] >= LIGHT_FROM) & (planned.low <= BANDS.index("cream")))


__all__ = ["Compiled", "Compiler", "compile_problem", "how_it_compiles", "source_of"]
