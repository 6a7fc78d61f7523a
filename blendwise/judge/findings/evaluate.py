"""A rule asked of every row of a table at once.

No loop over rows: each line of a condition becomes an array of truths, and the truths become outcomes.
"""

from __future__ import annotations

import operator
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from blendwise.facts.columns import AnyColumn, Bools, Column, Floats, SetColumn, Table
from blendwise.judge.conditions import logic
from blendwise.judge.conditions.comparator import (
    FALSE,
    TRUE,
    Truths,
    among,
    compare,
    contains,
    in_all,
    is_known,
    negate,
)
from blendwise.judge.conditions.conditions import Atom, Condition, Limit
from blendwise.judge.rulebook.compile import Rule


@dataclass
class Facts:
    """A table's columns, each looked over once: right length, and no not-a-number where it is asked."""

    table: Table
    _columns: dict[str, AnyColumn] = field(default_factory=dict)
    _doubted: set[str] = field(default_factory=set)

    def __len__(self) -> int:
        return len(self.table)

    def column(self, measure: str) -> AnyColumn:
        column = self._columns.get(measure)
        if column is None:
            column = _looked_over(measure, self.table.column(measure), len(self.table))
            self._columns[measure] = column
            if isinstance(column, Column) and column.widened:
                self._doubted.add(measure)
        return column

    def doubts(self, read: Atom | frozenset[str]) -> bool:
        """Whether judgement doubts any value of the columns, read before, of a line or of these measures."""
        if not self._doubted:
            return False
        return not self._doubted.isdisjoint(read.measures if isinstance(read, Atom) else read)

    def numbers(self, measure: str) -> Column:
        """The column of a number, word or flag (TypeError for a set)."""
        column = self.column(measure)
        if not isinstance(column, Column):
            raise TypeError(f"{measure!r} is a set of words, not a number")
        return column


def _looked_over(measure: str, column: AnyColumn, rows: int) -> AnyColumn:
    if len(column) != rows:
        raise ValueError(f"{measure!r} has {len(column)} rows where the table has {rows}")
    if isinstance(column, Column):
        good = column.low <= column.high  # False too where one of them is not a number
        if column.widened:
            least, most = column.outer
            good &= (least <= column.low) & (column.high <= most)
        bad = ~good if column.asked is None else ~good & column.asked
        if np.count_nonzero(bad):
            raise ValueError(f"{measure!r} is not an interval in row {int(np.argmax(bad))}")
    return column


def truth(atom: Atom, facts: Facts, *, outer: bool = False) -> Truths:
    """Three-valued truth of one line of a condition, shape (rows,).

    ``outer``: within judgement's doubt, not at its middle; whether a fact is *known* is not asked so.
    """
    column = facts.column(atom.measure)
    if isinstance(column, SetColumn):
        return _of_set(atom, column)
    if outer and atom.is_bound and (found := _of_worlds(atom, column, facts)) is not None:
        return found
    low, high = column.outer if outer else (column.low, column.high)
    match atom.relation:
        case "known":
            return is_known(column.low, column.high)
        case "unknown":
            return negate(is_known(column.low, column.high))
        case "between":
            first, last = (ends_of(limit, facts, outer=outer) for limit in atom.limits)
            least = compare("at least", low, high, *first)
            return np.minimum(least, compare("at most", low, high, *last))
        case "one of" | "none of":
            found = among(low, high, _members(atom.word.scale or (), atom))
            return found if atom.relation == "one of" else negate(found)
        case relation:
            return compare(relation, low, high, *ends_of(atom.limits[0], facts, outer=outer))  # type: ignore[arg-type]


def _of_worlds(atom: Atom, column: Column, facts: Facts) -> Truths | None:
    """A bound against a measure of the same doubtful figures, asked at every corner; None for any other."""
    worlds = column.worlds
    if worlds is None or not atom.limit_measures:
        return None
    relations = ("at least", "at most") if atom.relation == "between" else (atom.relation,)
    each = []
    for relation, limit in zip(relations, atom.limits, strict=True):
        end = _limit_worlds(limit, facts)
        if end is None or end.shape != worlds.shape:
            return None
        each.append(compare(relation, worlds, worlds, end, end))  # type: ignore[arg-type]
    return in_all(np.minimum.reduce(each))


def _limit_worlds(limit: Limit, facts: Facts) -> Floats | None:
    worlds = facts.numbers(limit.measure).worlds if limit.measure else None
    return None if worlds is None else worlds * limit.factor


def _of_set(atom: Atom, column: SetColumn) -> Truths:
    if atom.relation in ("known", "unknown"):
        known = np.asarray(column.known).view(np.int8) * np.int8(TRUE)
        return known if atom.relation == "known" else negate(known)
    members = _members(column.words, atom)
    complete: Bools = column.known
    if column.maybe is not None:
        complete = np.asarray(complete & ~np.any(column.maybe[:, members], axis=1))
    found = contains(column.has, complete, members)
    return found if atom.relation in ("is", "one of") else negate(found)


def _members(words: Sequence[str], atom: Atom) -> Bools:
    """Which of some words a line of a condition names."""
    return np.array([word in atom.words for word in words], dtype=bool)


def ends_of(limit: Limit, facts: Facts, *, outer: bool = False) -> tuple[Floats | float, Floats | float]:
    """The interval of a limit: one number twice, or another column times the factor (above zero)."""
    if not limit.measure:
        return limit.value, limit.value
    column = facts.numbers(limit.measure)
    low, high = column.outer if outer else (column.low, column.high)
    if limit.factor == 1.0:
        return low, high
    return low * limit.factor, high * limit.factor


@dataclass(frozen=True, slots=True)
class Truth:
    """A condition's truth, with that of each of its lines (in the order of ``tuple(condition)``)."""

    condition: Condition
    lines: tuple[Truths, ...]
    branches: tuple[Truths, ...]
    whole: Truths


def truth_of(condition: Condition, lines: Sequence[Truths], rows: int) -> Truth:
    """Put the truths of a condition's lines together: all of its atoms, and any of its branches."""
    first = len(condition.atoms)
    branches: list[Truths] = []
    start = first
    for branch in condition.branches:
        branches.append(logic.all_of(lines[start : start + len(branch)], rows))
        start += len(branch)
    parts = list(lines[:first])
    if branches:
        parts.append(logic.any_of(branches, rows))
    return Truth(condition, tuple(lines), tuple(branches), logic.all_of(parts, rows))


@dataclass(frozen=True, slots=True)
class Reading:
    """One order of asking a rule: the truths of both conditions, and the outcomes.

    ``when``, ``must``, ``middle``: with judgement at its middle; ``outer``: the two conditions within its
    doubt, None where nothing that is read is doubted.  ``outcomes``: what comes of both.
    """

    when: Truth
    must: Truth
    middle: Truths
    outcomes: Truths
    outer: tuple[Truth, Truth] | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a rule says of every row: ``outcomes`` as in ``logic`` (0 not asked … 4 broken).

    ``open``: what is undecided is an open question, and stands against nothing (``Rule.leaves_open``).
    """

    rule: Rule
    readings: tuple[Reading, ...]
    outcomes: Truths
    open: bool

    def reading(self, row: int) -> Reading:
        """The order of asking that gave the row its outcome (the first of the worst, where both did)."""
        same = (r for r in self.readings if r.outcomes[row] == self.outcomes[row])
        return max(same, key=lambda reading: int(reading.middle[row]))


def evaluate(rule: Rule, facts: Facts) -> Verdict:
    """Ask one rule of all rows of its table, in both orders where it tells ``one`` from ``other``."""
    is_open = rule.leaves_open(facts.table.careful)
    readings = tuple(_read(when, must, facts, not is_open) for when, must in rule.readings)
    outcomes = readings[0].outcomes
    for reading in readings[1:]:
        outcomes = logic.worse(outcomes, reading.outcomes)
    return Verdict(rule, readings, outcomes, is_open)


def _read(when: Condition, must: Condition, facts: Facts, harsh: bool) -> Reading:
    """One order of asking; what a rule demands is worked out only where its premise may hold in some row."""
    rows = len(facts)
    premises = _premise(when, facts)
    if premises is None:
        nothing = np.zeros(rows, dtype=np.int8)
        return Reading(Truth(when, (), (), nothing), Truth(must, (), (), nothing), nothing, nothing)
    premise, outer_premise = premises
    demand = truth_of(must, [truth(atom, facts) for atom in must], rows)
    measures = when.measures | must.measures
    asked = _asked(measures, facts)
    middle = logic.outcome(premise.whole, demand.whole, asked)
    if not facts.doubts(measures):
        return Reading(premise, demand, middle, middle)
    outer = outer_premise, _within(demand, facts)
    within = logic.outcome(outer[0].whole, outer[1].whole, asked)
    return Reading(premise, demand, middle, logic.doubted(middle, within, harsh=harsh), outer)


def _premise(when: Condition, facts: Facts) -> tuple[Truth, Truth] | None:
    """A premise with judgement at its middle and within its doubt; None where it may hold in no row.

    One line that is false leaves the others unread, and what they read is never worked out.
    """
    rows = len(facts)
    lines, outer = [], []
    may_hold: Truths | None = None
    for number, atom in enumerate(when):
        line = truth(atom, facts)
        within = _line_within(atom, line, facts)
        lines.append(line)
        outer.append(within)
        if number < len(when.atoms):
            at_best = line if within is line else np.maximum(line, within)
            may_hold = at_best if may_hold is None else np.minimum(may_hold, at_best)
            if not np.count_nonzero(may_hold):
                return None
    premise = truth_of(when, lines, rows)
    beyond = premise if all(map(operator.is_, outer, lines)) else truth_of(when, outer, rows)
    asked = _asked(when.measures, facts)
    held = _may_hold(premise, asked) or (beyond is not premise and _may_hold(beyond, asked))
    return (premise, beyond) if held else None


def _may_hold(premise: Truth, asked: Bools | None) -> bool:
    """Whether a premise is true or unknown in some row that is asked."""
    if asked is None:
        return bool(np.count_nonzero(premise.whole))
    return bool(np.count_nonzero((premise.whole > FALSE) & asked))


def _within(central: Truth, facts: Facts) -> Truth:
    """The truth within judgement's doubt; a line is asked again only where what it reads is doubted."""
    lines = [
        _line_within(atom, line, facts) for atom, line in zip(central.condition, central.lines, strict=True)
    ]
    if all(map(operator.is_, lines, central.lines)):
        return central
    return truth_of(central.condition, lines, len(facts))


def _line_within(atom: Atom, line: Truths, facts: Facts) -> Truths:
    return truth(atom, facts, outer=True) if facts.doubts(atom) else line


def _asked(measures: frozenset[str], facts: Facts) -> Bools | None:
    """Rows where everything that is spoken of exists; None where that is everywhere.

    0/0, an unscented portion or a missing second scent in any column that is read: the rule is not asked.
    """
    asked: Bools | None = None
    for measure in measures:
        there = facts.column(measure).asked
        if there is not None:
            asked = there if asked is None else asked & there
    return asked
