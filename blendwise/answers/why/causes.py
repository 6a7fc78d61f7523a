"""Causes weighed against a plan: what its facts say for and against each, asked as a rule would ask.

The conditions of ``rules/symptoms.yaml`` are read by the judge's reader and evaluated on the plan's tables
in strong Kleene logic, so that a fact nobody knows speaks neither for a cause nor against it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from blendwise.answers.answer import Value
from blendwise.answers.why.result import STANDINGS, Clue, Standing
from blendwise.facts.columns import Column, Missing, SetColumn, Table, Vocabulary
from blendwise.judge.conditions.comparator import FALSE, TRUE, UNKNOWN, Truths
from blendwise.judge.conditions.conditions import Atom, Condition, swap
from blendwise.judge.conditions.reading import Reader
from blendwise.judge.findings.evaluate import Facts, truth, truth_of
from blendwise.judge.findings.findings import ends_at
from blendwise.records.kinds.symptom import Cause, Symptom, Symptoms
from blendwise.records.place import Fault, RecordError


@dataclass(frozen=True, slots=True)
class ReadCause:
    """A cause with both conditions read against the vocabulary."""

    record: Cause
    for_: Condition
    against: Condition

    @property
    def readings(self) -> tuple[tuple[Condition, Condition], ...]:
        """``(for, against)``, and turned about where it tells ``one`` from ``other``."""
        straight = (self.for_, self.against)
        turned = (swap(self.for_), swap(self.against))
        return (straight, turned) if turned != straight else (straight,)


@dataclass(frozen=True, slots=True)
class Weighed:
    """A cause in the light of a plan; ``strength`` says how far past its limits the plan stands (0 to 1)."""

    cause: Cause
    standing: Standing
    clues: tuple[Clue, ...] = ()
    missing: tuple[Missing, ...] = ()
    strength: float = 0.0


def read_causes(found: Symptoms, symptom: Symptom, vocabulary: Vocabulary) -> list[ReadCause]:
    """The causes of one symptom, read; RecordError with every fault in their conditions."""
    at = found.symptoms.index(symptom)
    causes: list[ReadCause] = []
    faults: list[Fault] = []
    for number, cause in enumerate(symptom.causes):
        reader = Reader(vocabulary, cause.looks_at)
        sides = [reader.condition(cause.for_, ("for",)), reader.condition(cause.against, ("against",))]
        causes.append(ReadCause(cause, *sides))
        for error in reader.errors:
            place = found.docs[at].key_place(found.indices[at], "causes", number, *error.path)
            faults.append(Fault(place, f'Cause "{cause.cause}": {error.message}', error.remedy))
    if faults:
        raise RecordError(faults)
    return causes


def weigh_all(
    causes: Sequence[ReadCause], tables: Mapping[str, Table] | None, within: str = ""
) -> list[Weighed]:
    """Causes in the order of likelihood: standing, then strength, then repute (the order of the file).

    ``tables``: grain → table of a plan, None where no plan is spoken of (all are then silent).
    ``within``: the name of a portion or scent that it happened in; rows that speak of others are left out.
    """
    weighed = [weigh(cause, tables, within) for cause in causes]
    return sorted(weighed, key=lambda each: (STANDINGS.index(each.standing), -each.strength))


def weigh(cause: ReadCause, tables: Mapping[str, Table] | None, within: str = "") -> Weighed:
    """One cause against a plan's tables; see ``weigh_all``."""
    if tables is None or not (tuple(cause.for_) or tuple(cause.against)):
        return Weighed(cause.record, "silent")
    facts = Facts(tables[cause.record.looks_at])
    rows = _rows(cause, facts, within)
    if not len(rows):
        return Weighed(cause.record, "absent")
    answers = [_Answer(for_, against, facts) for for_, against in cause.readings]
    asked = [(_plainest(answers, row), row) for row in rows]
    standing = min((answer.standing(row) for answer, row in asked), key=STANDINGS.index)
    told = [(answer, row) for answer, row in asked if answer.standing(row) == standing]
    found = dict.fromkeys(clue for answer, row in told for clue in answer.clues(row, standing))
    clues = sorted(found, key=lambda clue: (clue.measure, clue.asked))
    if standing == "open":
        missing = dict.fromkeys(each for answer, row in told for each in answer.missing(row))
        return Weighed(cause.record, standing, tuple(clues), tuple(missing))
    strength = max(answer.strength(row) for answer, row in told) if standing == "for" else 0.0
    return Weighed(cause.record, standing, tuple(clues), strength=strength)


def _plainest(answers: Sequence[_Answer], row: int) -> _Answer:
    """Of the orders of asking, the one in which the row says most (the first, where both say alike)."""
    return min(answers, key=lambda answer: STANDINGS.index(answer.standing(row)))


def _rows(cause: ReadCause, facts: Facts, within: str) -> list[int]:
    """The rows that can be asked: everything spoken of is there, and (with ``within``) it is about that."""
    measures = cause.for_.measures | cause.against.measures
    there = np.ones(len(facts), dtype=bool)
    for measure in measures:
        asked = facts.column(measure).asked
        there &= asked if asked is not None else True
    batchwide = facts.table.grain == "batch"
    return [
        int(row)
        for row in np.flatnonzero(there)
        if not within or batchwide or within in facts.table.subjects[row].names
    ]


class _Answer:
    """One order of asking a cause of all rows of its table."""

    def __init__(self, for_: Condition, against: Condition, facts: Facts) -> None:
        self.facts = facts
        self.sides = {"for": _asked(for_, facts), "against": _asked(against, facts)}

    def standing(self, row: int) -> Standing:
        """What the plan says in one row; a side that asks nothing says nothing."""
        pro, contra = (self._whole(side, row) for side in ("for", "against"))
        if pro == TRUE and contra != TRUE:
            return "for"
        if contra == TRUE:
            return "against"
        return "open" if pro == UNKNOWN else "silent"

    def _whole(self, side: str, row: int) -> int:
        lines, whole = self.sides[side]
        return int(whole[row]) if lines else FALSE

    def clues(self, row: int, standing: Standing) -> Iterator[Clue]:
        """The facts that decided; of the whole batch also those that do not reach what speaks for it."""
        side: Literal["for", "against"] = "against" if standing == "against" else "for"
        wanted = FALSE if standing == "silent" else TRUE
        if standing == "silent" and self.facts.table.grain != "batch":
            return
        for atom, truths in self.sides[side][0]:
            if truths[row] == wanted:
                yield _clue(atom, row, self.facts, side)

    def missing(self, row: int) -> Iterator[Missing]:
        """The facts that keep what speaks for it open."""
        for atom, truths in self.sides["for"][0]:
            if truths[row] == UNKNOWN:
                yield from self.facts.column(atom.measure).missing.get(row, ())

    def strength(self, row: int) -> float:
        """How far the lines that speak for it stand past their limits, on the whole, from 0 to 1."""
        lines = [atom for atom, truths in self.sides["for"][0] if truths[row] == TRUE]
        return sum(_past(atom, row, self.facts) for atom in lines) / len(lines) if lines else 0.0


def _asked(condition: Condition, facts: Facts) -> tuple[list[tuple[Atom, Truths]], Truths]:
    lines = [truth(atom, facts) for atom in condition]
    whole = truth_of(condition, lines, len(facts)).whole
    return list(zip(condition, lines, strict=True)), whole


def shown(measure: str, tables: Mapping[str, Table], vocabulary: Vocabulary) -> Iterator[Clue]:
    """One measure of every row of its own grain, the highest first; rows without it are left out."""
    word = vocabulary[measure]
    table = tables[word.grain]
    column = table.column(measure)
    rows = [row for row in range(len(table)) if column.asked is None or column.asked[row]]
    if isinstance(column, Column):
        high = column.high
        rows.sort(key=lambda row: -high[row])
    for row in rows:
        yield Clue(str(table.subjects[row]), measure, *_ends(column, row), word.unit)


def _clue(atom: Atom, row: int, facts: Facts, side: Literal["for", "against"]) -> Clue:
    column = facts.column(atom.measure)
    subject = str(facts.table.subjects[row])
    low, high = _ends(column, row)
    asked = str(atom).removeprefix(f"{atom.measure}: ")
    return Clue(subject, atom.measure, low, high, atom.word.unit, asked, side)


def _ends(column: Column | SetColumn, row: int) -> tuple[Value, Value]:
    """The interval of one cell: words where it has a scale, None for an open end."""
    if isinstance(column, SetColumn):
        words = [word for word, has in zip(column.words, column.has[row], strict=True) if has]
        text = ", ".join(words) or "none"
        return text, text
    return _end(column, float(column.low[row])), _end(column, float(column.high[row]))


def _end(column: Column, value: float) -> Value:
    if not np.isfinite(value):
        return None
    return column.scale[int(value)] if column.scale else value


def _past(atom: Atom, row: int, facts: Facts) -> float:
    """How far a bound that holds stands past its limit, as a share of the limit or of the scale, up to 1."""
    if not atom.is_bound or len(atom.limits) != 1:
        return 0.0
    column = facts.numbers(atom.measure)
    low, high = ends_at(atom.limits[0], row, facts)
    least = atom.relation in ("at least", "above")
    gap = float(column.low[row]) - high if least else low - float(column.high[row])
    size = float(len(atom.word.scale) - 1) if atom.word.scale else max(abs(low), abs(high))
    return min(max(gap / size, 0.0), 1.0) if size and np.isfinite(gap) else 0.0
