"""Cases that a rule's own bounds suggest: one that it must find broken, one on which it is silent.

What is proposed has been asked of the rule: a row that does not come out as it should is not proposed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from blendwise.facts.columns import Vocabulary, Word
from blendwise.judge.conditions.conditions import Atom, Limit
from blendwise.judge.conditions.limits import ConditionError
from blendwise.judge.conditions.ranges import possible
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.rows import read_row
from blendwise.judge.rulebook.selftest import SILENT, Case, run
from blendwise.records.reading.fields import NOT_KNOWN

Row = dict[str, Any]
STEP: Final = {"FRACTION": "0.1 %", "TEMPERATURE": "1 °C", "TIME": "1 min", "MASS": "1 g", "VOLUME": "1 mL"}
"""Dimension → a step past a limit, as a maker writes it."""
SOME: Final = {
    "FRACTION": "10 %",
    "TEMPERATURE": "35 °C",
    "TIME": "10 min",
    "MASS": "100 g",
    "VOLUME": "100 mL",
}
UNITS: Final = {
    "FRACTION": (100.0, "%"),
    "TEMPERATURE": (1.0, "°C"),
    "TIME": (1.0, "min"),
    "MASS": (1.0, "g"),
}
ANOTHER: Final = "another"


@dataclass(frozen=True, slots=True)
class Proposed:
    """Rows as a maker would type them: what must be found broken, and what not; either may be missing."""

    hit: Row | None
    miss: Row | None


def proposed(rule: Rule, vocabulary: Vocabulary) -> Proposed:
    """A hit and a miss at the limit; None where the rule's lines give none that comes out so."""
    hits = (row for row in _rows(rule, broken=True) if _comes_out(rule, row, ("broken",), vocabulary))
    misses = (row for row in _rows(rule, broken=False) if _comes_out(rule, row, ("holds",), vocabulary))
    return Proposed(next(hits, None), next(misses, None))


def _comes_out(rule: Rule, row: Row, expected: tuple[str, ...], vocabulary: Vocabulary) -> bool:
    try:
        cells = read_row(rule, row, vocabulary, ("hits", 0))
    except ConditionError:
        return False
    return run(Case(rule, "proposed", "hit", expected, cells, vocabulary)).outcome in (expected or SILENT)


def _rows(rule: Rule, *, broken: bool) -> Iterator[Row]:
    """Rows that may serve: each line of ``must`` in turn the one that is broken, each branch taken once."""
    for premise in _premises(rule):
        for wrong in tuple(rule.must.atoms) if broken else (None,):
            row = dict(_limits_of(rule))
            for atom in (*premise, *rule.must):
                demanded = atom in rule.must.atoms
                said = _against(wrong) if wrong is atom else _for(atom, at_limit=demanded)
                if said != [ANOTHER] or demanded or atom.measure not in row:
                    row[atom.measure] = said
            yield {measure: said for measure, said in row.items() if said is not None}


def _premises(rule: Rule) -> Iterator[tuple[Atom, ...]]:
    """``when`` with each of its branches; the lines above them alone where there are none."""
    for branch in rule.when.branches or ((),):
        yield (*rule.when.atoms, *branch)


def _limits_of(rule: Rule) -> Iterator[tuple[str, Any]]:
    """Some value for every measure that a limit is taken from."""
    for condition in (rule.when, rule.must):
        for atom in condition:
            for measure in atom.limit_measures:
                yield measure, _some(atom.word)


def _some(word: Word) -> str:
    if word.scale:
        return word.scale[len(word.scale) // 2]
    basis = f" {word.basis}" if word.basis else ""
    return f"{SOME[word.dimension]}{basis}" if word.dimension in SOME else "5"


def _for(atom: Atom, *, at_limit: bool) -> Any:
    """What makes a line hold: the limit itself in ``must``, a step within it in ``when``."""
    match atom.relation:
        case "unknown":
            return NOT_KNOWN
        case "known":
            return _some(atom.word)
        case "is" | "one of" if atom.words:
            return atom.words[0]
        case "none of" | "is not" if atom.word.kind == "set":
            return [ANOTHER]
        case "none of" | "is not":
            return _other_word(atom)
        case "is":
            return atom.limits[0].text
    if at_limit:
        strict = {"below": -1, "above": 1}.get(atom.relation, 0)
        return _past(atom, strict) if strict else "upper limit" if atom.relation == "between" else "limit"
    return _within(atom)


def _within(atom: Atom) -> str | None:
    """A value on the right side of a bound of ``when``, in figures."""
    limit = atom.limits[-1]
    if limit.measure:
        return None
    word = atom.word
    sign = {"above": 1.0, "below": -1.0}.get(atom.relation, 0.0)
    if word.scale:
        return word.scale[int(limit.value + sign)]
    factor, unit = UNITS.get(word.dimension, (1.0, ""))
    basis = f" {word.basis}" if word.basis else ""
    return f"{limit.value * factor + sign:.6g} {unit}{basis}".strip()


def _against(atom: Atom) -> Any:
    """What breaks a line: a step past its limit, a word that is not meant."""
    match atom.relation:
        case "at most" | "below":
            return _past(atom, 1) if atom.relation == "at most" else "limit"
        case "at least" | "above":
            return _past(atom, -1) if atom.relation == "at least" else "limit"
        case "between":
            return f"upper {_past(atom, 1)}"
        case "one of" | "is" if atom.word.kind == "set":
            return [ANOTHER]
        case "none of" | "is not" if atom.words:
            return atom.words[0]
        case "is not":
            return atom.limits[0].text
        case "one of" | "is":
            return _other_word(atom)
    return NOT_KNOWN


def _past(atom: Atom, sign: int) -> str:
    word = atom.word
    step = "1" if word.scale else STEP.get(word.dimension, "1")
    basis = f" {word.basis}" if word.basis else ""
    return f"limit {'+' if sign > 0 else '-'} {step}{basis}"


def _other_word(atom: Atom) -> str | None:
    """A word of the scale on the other side of what a line names."""
    word = atom.word
    if word.scale is None:
        return None if not atom.limits else f"{_other_number(word, atom.limits[0]):.6g}"
    named = {*atom.words, *(word.scale[int(limit.value)] for limit in atom.limits if not limit.measure)}
    wanted = (each for each in word.scale if each not in named)
    return next(wanted, None)


def _other_number(word: Word, limit: Limit) -> float:
    low = possible(word).low
    return limit.value + 1 if low > limit.value - 1 else limit.value - 1


def lacking(rule: Rule) -> tuple[str, ...]:
    """Of hits and misses, those that a rule does not give."""
    return tuple(part for part in ("hits", "misses") if not getattr(rule.record, part))
