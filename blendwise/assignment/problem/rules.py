"""Rules and plan lines become rows, either-ors, closed cells and a clock.

Each rule is asked at every row that could be (every scent in every portion, every pair, every edge).
What no dose changes is settled at once; what is linear becomes a row; what hangs on a ``when`` that
speaks of doses becomes an either-or.  The rest (marked *afterwards*) is left to the judge, which looks
at every answer anyway.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from blendwise.assignment.problem.clock_rows import FLUID, clock_of
from blendwise.assignment.problem.half_spaces import Half, halves, is_constant, measure_of, restricted
from blendwise.assignment.problem.problem import (
    LEVEL_WEIGHT,
    Alternative,
    EitherOr,
    Row,
    Slots,
    Source,
)
from blendwise.assignment.problem.sources import name_of, row_of, source_of
from blendwise.facts.columns import Bools, Column, Subject
from blendwise.facts.forms import End
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import Rows, rows_of, table
from blendwise.judge.conditions.comparator import FALSE, TRUE, UNKNOWN, Truths
from blendwise.judge.conditions.conditions import Atom, Condition
from blendwise.judge.findings.evaluate import Facts, truth
from blendwise.judge.findings.finding import Level
from blendwise.judge.rulebook.compile import Rule

SOLVERS_OWN = frozenset({"steps of the scale", "blend total met", "poured"})  # built into every answer


@dataclass
class Compiled:
    """What has been gathered so far, over all scents of the plan."""

    rows: list[Row] = field(default_factory=list)
    either: list[EitherOr] = field(default_factory=list)
    slots: Slots | None = None
    afterwards: dict[str, None] = field(default_factory=dict)


class Compiler:
    """One plan's rules on the way to a problem."""

    def __init__(self, s: Situation) -> None:
        self.s = s
        placed = np.flatnonzero(s.scenting.blend > 0)
        # By name, so that the order in which the blend is written decides nothing.
        self.kept = np.array(sorted(placed, key=lambda k: s.scents[int(k)]), dtype=np.int64)
        self.fixed = np.where(s.scenting.blend[:, None] > 0, 0.0, s.x)
        self.found = Compiled()
        self.end: End = "middle"
        self.leaves_open = False
        self._rows: dict[str, tuple[Rows, Facts]] = {}

    def grain(self, name: str) -> tuple[Rows, Facts]:
        """All rows of a grain that could be, and their facts."""
        if name not in self._rows:
            self._rows[name] = rows_of(self.s, name, every=True), Facts(table(self.s, name, every=True))
        return self._rows[name]

    def _over_placed(self, half: Half) -> Half:
        return restricted(half, self.kept, self.fixed)

    def take(self, rule: Rule) -> None:
        """Compile one rule at all its rows.  Hints do not steer; some laws are the solver's own.

        A paper that is missing forbids no dose: without it the rules on doses hold the oil to less.
        """
        steers = rule.level != "hint" and rule.kind_of_stop != "paper"
        if not steers or not SOLVERS_OWN.isdisjoint(rule.must.measures):
            return
        if FLUID in rule.must.measures:
            if self._never_asked(rule):
                return
            clock = clock_of(rule, self.s, self.kept, self.fixed)
            self.found.rows += clock.rows
            self.found.slots = self.found.slots or clock.slots
            return
        self.leaves_open = rule.leaves_open(self.s.believing.careful)
        for end, level in self._ends(rule):
            self.end = end
            for when, must in rule.readings:
                self._reading(replace(rule, level=level), when, must)

    def _never_asked(self, rule: Rule) -> bool:
        """Whether a fact that no dose changes (the pour's family) says that the rule is not asked."""
        _, facts = self.grain(rule.looks_at)
        return any(bool((truth(a, facts) == FALSE).all()) for a in rule.when.atoms if is_constant(a))

    def _ends(self, rule: Rule) -> list[tuple[End, Level]]:
        """At which ends of judgement's doubt the rule is compiled, and how heavy it is there.

        A locked rule, or one asked with care, holds at the harsh end; another binds at the kind end, and
        past the middle it weighs as a caution.
        """
        if not self._is_doubted(rule):
            return [("middle", rule.level)]
        if not rule.leaves_open(self.s.believing.careful):
            return [("harsh", rule.level)]
        soft: tuple[End, Level] = ("middle", "caution")
        return [soft] if rule.level == "caution" else [("kind", rule.level), soft]

    def _is_doubted(self, rule: Rule) -> bool:
        _, facts = self.grain(rule.looks_at)
        known = (m for m in rule.measures if measure_of(m).form in ("constant", "fraction", "inverted"))
        columns = (facts.column(measure) for measure in known)
        return any(isinstance(column, Column) and column.widened for column in columns)

    def _reading(self, rule: Rule, when: Condition, must: Condition) -> None:
        rows, facts = self.grain(rule.looks_at)
        if not len(rows) or not len(self.kept):
            return
        asked = _asked(when, must, facts)
        settled = {id(a): self._settled(a, facts, demand=True) for a in must if is_constant(a)}
        settled |= {id(a): self._settled(a, facts, demand=False) for a in when if is_constant(a)}
        for row in np.flatnonzero(asked):
            self._row(rule, when, must, rows, int(row), settled)

    def _settled(self, atom: Atom, facts: Facts, *, demand: bool) -> Truths:
        """What no dose changes, at this end of judgement's doubt (``demand``: a line of ``must``)."""
        middle = truth(atom, facts)
        if self.end == "middle":
            return middle
        within = (truth(atom, facts, outer=True) == UNKNOWN) & (middle != UNKNOWN)
        return np.where(within, np.int8(TRUE if demand == (self.end == "kind") else FALSE), middle)

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
            if not any(id(a) in settled and settled[id(a)][row] == FALSE for a in when.atoms):
                self.found.afterwards[rule.name] = None
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
            negated = self._negation(atom, rows, row)
            if negated is None:  # whether it is asked cannot be said in the doses: left for afterwards
                return None
            ways += negated
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

    def _negation(self, atom: Atom, rows: Rows, row: int) -> list[Alternative] | None:
        if atom.measure == "scented" and rows.portion is not None:
            return [Alternative(unscented=(int(rows.portion[row]),))]
        ways = self._halves(atom, rows, row, negated=True)
        return None if ways is None else [self._alternative(way) for way in ways]

    def _halves(self, atom: Atom, rows: Rows, row: int, *, negated: bool = False) -> list[list[Half]] | None:
        return halves(atom, rows, row, self.s, negated=negated, end=self.end, leaves_open=self.leaves_open)

    def _alternative(self, way: Sequence[Half]) -> Alternative:
        return Alternative(tuple(row_of(self._over_placed(half), "", ("",), "conflict") for half in way))

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
        subject = self.grain(rule.looks_at)[1].table.subjects[row]
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
            found = self._halves(atom, rows, row)
            if found is None:
                self.found.afterwards[rule.name] = None
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
            Row(name_of(rule, subject), source, empty, -1.0, level=rule.level, uncertain=cells[self.kept])
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
            self.found.either.append(EitherOr(name_of(rule, subject), source, ways, level, weight))

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
        name = name_of(rule, subject)
        level, weight = _softened(rule, unsure)
        hopeless = all(any(half.is_hopeless for half in way) for way in ways)
        if hopeless and not escapes and cells is None:
            return  # no split changes it: the judge tells of it, the solver need not
        lines = [
            tuple(row_of(self._over_placed(half), name, source, level, weight) for half in way)
            for way in ways
        ]
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


def _softened(rule: Rule, unsure: bool) -> tuple[Level, float | None]:
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
