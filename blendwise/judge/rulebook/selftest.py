"""Rules prove themselves: each of their hits must be found broken, each of their misses must stay silent.

Hits and misses are rows of facts typed beside the rule (see ``rows``).  One more row is made for every
rule with a limit: the first row that serves, moved to exactly the limit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from blendwise.facts.columns import AnyColumn, Column, SetColumn, Subject, Table, Vocabulary, Word
from blendwise.judge.conditions import logic
from blendwise.judge.conditions.comparator import FALSE, TRUE, Truths
from blendwise.judge.conditions.conditions import INCLUSIVE, Atom, Condition
from blendwise.judge.conditions.limits import ConditionError
from blendwise.judge.findings.evaluate import Facts, evaluate, truth, truth_of
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.rows import Cell, Row, limit_at, read_row

SILENT: Final = ("not asked", "holds")


@dataclass(frozen=True)
class Case:
    """One row that a rule is asked of.

    ``kind`` is hit, miss or at the limit; ``expected`` are the outcomes allowed; ``row``: measure → value.
    """

    rule: Rule
    name: str
    kind: str
    expected: tuple[str, ...]
    row: Mapping[str, Cell]
    vocabulary: Vocabulary = field(repr=False)


@dataclass(frozen=True)
class Result:
    """What became of a case; ``why`` is empty where it passed."""

    case: Case
    outcome: str
    why: str = ""

    @property
    def passed(self) -> bool:
        return not self.why


def cases(rules: Iterable[Rule], vocabulary: Vocabulary) -> list[Case]:
    """Every case of every rule, named ``rule/hit-1``, ``rule/miss-2``, ``rule/at-the-limit``.

    ConditionError (with its path in the entry) where a row cannot be read.
    """
    return [case for rule in rules for case in cases_of(rule, vocabulary)]


def cases_of(rule: Rule, vocabulary: Vocabulary) -> list[Case]:
    """The cases of one rule, as ``cases``."""
    found = []
    for kind, expected, raws in (
        ("hit", ("broken",), rule.record.hits),
        ("miss", SILENT, rule.record.misses),
    ):
        part = "hits" if kind == "hit" else "misses"
        for index, raw in enumerate(raws):
            row = read_row(rule, raw, vocabulary, (part, index))
            found.append(Case(rule, f"{rule.name}/{kind}-{index + 1}", kind, expected, row, vocabulary))
    return found + [case for case in [_at_the_limit(rule, found)] if case is not None]


def run(case: Case) -> Result:
    """Ask the case's rule of its row."""
    outcome = logic.OUTCOMES[int(evaluate(case.rule, _facts(case)).outcomes[0])]
    if outcome in case.expected:
        return Result(case, outcome)
    wanted = "silent" if case.expected == SILENT else case.expected[0]
    unwritten = sorted(case.rule.measures - case.row.keys())
    hint = f" The row does not give: {', '.join(unwritten)}." if unwritten and outcome == "undecided" else ""
    return Result(case, outcome, f'"{case.name}" comes out {outcome}, not {wanted}.{hint}')


def _facts(case: Case) -> Facts:
    return Facts(one_row(case.rule.looks_at, case.row, case.vocabulary))


def one_row(grain: str, row: Mapping[str, Cell], vocabulary: Vocabulary) -> Table:
    """A table of one subject whose facts are those of a row; what the row does not give is not known."""
    subject = Subject(grain, ("one", "other", "third"))
    return Table(grain, [subject], lambda name: _column(vocabulary[name], row.get(name)))


def _column(word: Word, cell: Cell) -> AnyColumn:
    if word.kind == "set":
        words = tuple(sorted(cell)) if isinstance(cell, frozenset) else ()
        return SetColumn(words, np.ones((1, len(words)), dtype=bool), np.array([cell is not None]))
    low, high = (-np.inf, np.inf) if cell is None else (cell, cell)
    return Column(np.array([low], dtype=float), np.array([high], dtype=float), word.scale)


def _at_the_limit(rule: Rule, found: Sequence[Case]) -> Case | None:
    """A row with every bound of ``must`` at exactly its limit, and what the rule should then say."""
    for case in found:
        row = _moved(rule.must, dict(case.row))
        if row is None:
            continue
        trial = Case(rule, f"{rule.name}/at-the-limit", "at the limit", (), row, case.vocabulary)
        outcome = _stipulated(rule, _facts(trial), row)
        if outcome in ("holds", "broken"):
            return Case(rule, trial.name, trial.kind, (outcome,), row, case.vocabulary)
    return None


def _moved(must: Condition, row: Row) -> Row | None:
    bounds = [atom for atom in must if atom.is_bound]
    for atom in sorted(bounds, key=lambda atom: len(atom.limit_measures)):
        try:
            row[atom.measure] = limit_at(atom.limits[0], row)
        except ConditionError:
            return None
    return row if bounds else None


def _stipulated(rule: Rule, facts: Facts, row: Row) -> str:
    """The outcome where a bound at its limit is *taken* to hold if it includes its limit, else not to."""

    def settled(atom: Atom) -> Truths:
        if not atom.is_bound or limit_at(atom.limits[0], row) != row[atom.measure]:
            return truth(atom, facts)
        return np.array([TRUE if atom.relation in INCLUSIVE else FALSE], dtype=np.int8)

    (when, must), *turned = rule.readings
    premise = truth_of(when, [truth(atom, facts) for atom in when], 1).whole
    outcomes = logic.outcome(premise, truth_of(must, [settled(atom) for atom in must], 1).whole)
    if turned:
        outcomes = logic.worse(outcomes, evaluate(rule, facts).readings[1].outcomes)
    return logic.OUTCOMES[int(outcomes[0])]
