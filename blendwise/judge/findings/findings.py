"""From verdicts to findings: which measure is named, with what value, and which facts are missing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from blendwise.facts.columns import AnyColumn, Column, Missing, SetColumn, Table
from blendwise.judge.conditions import logic
from blendwise.judge.conditions.comparator import FALSE, UNKNOWN
from blendwise.judge.conditions.conditions import Atom, Limit
from blendwise.judge.findings.evaluate import Facts, Reading, Truth, Verdict, ends_of, evaluate
from blendwise.judge.findings.finding import LEVELS, Finding, Status, Where
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.kinds.rule import Protects

Value = float | str | None
STATUS: Final[dict[int, Status]] = {
    logic.TIGHT: "tight",
    logic.UNDECIDED: "undecided",
    logic.BROKEN: "broken",
}


def judge(rules: Sequence[Rule], tables: Mapping[str, Table]) -> list[Finding]:
    """Every rule asked of the table of its grain; what is broken, undecided or tight, worst level first.

    ``tables``: grain → table; a rule on a grain without a table, or without a row, is not asked.  Sorted by
    level (stop first; what is tight is a caution at most), then the rule's place in the book, then the row.
    """
    facts = {grain: Facts(table) for grain, table in tables.items() if len(table)}
    ranked = sorted(rules, key=lambda rule: (-LEVELS.index(rule.level), rule.order))
    found = [
        finding
        for rule in ranked
        if rule.looks_at in facts
        for finding in findings_of(evaluate(rule, facts[rule.looks_at]), facts[rule.looks_at])
    ]
    return sorted(found, key=lambda finding: -LEVELS.index(finding.level))


def findings_of(verdict: Verdict, facts: Facts) -> Iterator[Finding]:
    """One finding for each row where the rule is broken, undecided or tight."""
    for row in (verdict.outcomes >= logic.TIGHT).nonzero()[0]:
        finding = _finding(verdict, int(row), facts)
        doubted = verdict.reading(int(row)).outer is not None
        yield _with_doubt(finding, verdict, int(row), facts) if doubted else finding


def _atoms(verdict: Verdict, row: int, facts: Facts) -> list[Atom]:
    """The lines on which the outcome hangs, the first of them named in the finding."""
    reading, outcome = verdict.reading(row), verdict.outcomes[row]
    if reading.middle[row] == logic.BROKEN:
        return _broken_atoms(reading, row, facts)
    return _open_atoms(reading, row, outer=outcome != logic.UNDECIDED)


def _with_doubt(finding: Finding, verdict: Verdict, row: int, facts: Facts) -> Finding:
    """The finding with the ends of what judgement doubts, and what would bring them nearer."""
    reading, named = verdict.reading(row), _atoms(verdict, row, facts)[0]
    middle = logic.OUTCOMES[int(reading.middle[row])]
    column = facts.column(named.measure)
    least, most = _ends(column, named, row)
    limits = _limit_ends(named, row, facts)
    atoms = _open_atoms(reading, row, outer=True)
    columns = (facts.column(measure) for atom in atoms for measure in atom.measures)
    narrowing = (c.narrowed_by.get(row, ()) for c in columns if isinstance(c, Column))
    return replace(
        finding,
        least=least,
        most=most,
        limit_least=limits[0],
        limit_most=limits[1],
        middle="" if middle == finding.status else middle,
        settled_by=tuple(dict.fromkeys(fact for facts_of_row in narrowing for fact in facts_of_row)),
    )


def _ends(column: AnyColumn, atom: Atom, row: int) -> tuple[Value, Value]:
    """The outer ends of a value, None where they are its own."""
    if not isinstance(column, Column) or not column.widened:
        return None, None
    least, most = (float(end[row]) for end in column.outer)
    if (least, most) == (float(column.low[row]), float(column.high[row])):
        return None, None
    return _spoken(column, least, atom), _spoken(column, most, atom)


def _limit_ends(atom: Atom, row: int, facts: Facts) -> tuple[Value, Value]:
    """The outer ends of a limit that is another measure, None where they are its own."""
    limit = atom.limits[0] if atom.limits else None
    if limit is None or not limit.measure:
        return None, None
    least, most = ends_at(limit, row, facts, outer=True)
    if (least, most) == ends_at(limit, row, facts):
        return None, None
    column = facts.numbers(atom.measure)
    return _spoken(column, least, atom), _spoken(column, most, atom)


def _finding(verdict: Verdict, row: int, facts: Facts) -> Finding:
    outcome, atoms = verdict.outcomes[row], _atoms(verdict, row, facts)
    rule, named, subject = verdict.rule, atoms[0], facts.table.subjects[row]
    column = facts.column(named.measure)
    value, low, high = _value(column, named, row)
    limits = [_limit(named, i, row, facts) for i in range(len(named.limits))]
    return Finding(
        rule=rule.name,
        level=rule.level if outcome != logic.TIGHT or rule.level == "hint" else "caution",
        status=STATUS[int(outcome)],
        looks_at=rule.looks_at,
        subject=subject.names,
        measure=named.measure,
        value=value,
        relation=named.relation,
        limit=limits[0] if limits else None,
        unit=named.word.unit,
        because=rule.record.because,
        try_=rule.record.try_.replace("{subject}", str(subject)),
        says=rule.record.says,
        basis=rule.record.basis,
        low=low,
        high=high,
        missing=missing_facts(verdict, row, facts) if outcome == logic.UNDECIDED else (),
        evidence=column.evidence.get(row, ""),
        where=Where(subject.place, rule.place.spot),
        limit_measure=named.limits[0].measure if named.limits else "",
        limit_factor=named.limits[0].factor if named.limits else 1.0,
        limit_high=limits[1] if len(limits) > 1 else None,
        words=named.words,
        also=_others(verdict, row, atoms),
        kind_of_stop=rule.kind_of_stop if outcome != logic.TIGHT else None,
        protects=_guarded(rule, named),
        open=bool(outcome == logic.UNDECIDED and verdict.open),
    )


def _guarded(rule: Rule, named: Atom) -> Protects | None:
    """What the rule protects; a stop on a fact of the lye protects the lye, whoever wrote it."""
    of_lye = rule.level == "stop" and named.word.theme == "lye"
    return rule.record.protects or ("lye" if of_lye else None)


def _others(verdict: Verdict, row: int, atoms: Sequence[Atom]) -> tuple[str, ...]:
    """The other measures on which the same ``must`` hangs, beside the first of ``atoms``."""
    reading, named = verdict.reading(row), atoms[0]
    if reading.middle[row] != logic.BROKEN:
        outer = verdict.outcomes[row] != logic.UNDECIDED
        atoms = _open_atoms(reading, row, outer=outer, demand=True)
    return tuple(dict.fromkeys(atom.measure for atom in atoms if atom.measure != named.measure))


def _broken_atoms(reading: Reading, row: int, facts: Facts) -> list[Atom]:
    """The lines of ``must`` that are false, furthest past its limit first.

    Of an ``any of`` that failed, only the branch nearest to holding counts: mending that one is enough.
    """
    must = reading.must
    false = [atom for atom, line in zip(must.condition.atoms, must.lines, strict=False) if line[row] == FALSE]
    if must.branches and all(branch[row] == FALSE for branch in must.branches):
        branches = _false_branches(must, len(must.condition.atoms), row)
        false += min(branches, key=lambda atoms: max(excess(atom, row, facts) for atom in atoms))
    return sorted(false, key=lambda atom: -excess(atom, row, facts))


def _false_branches(must: Truth, start: int, row: int) -> Iterator[list[Atom]]:
    for branch in must.condition.branches:
        lines = must.lines[start : start + len(branch)]
        yield [atom for atom, line in zip(branch, lines, strict=True) if line[row] == FALSE]
        start += len(branch)


def excess(atom: Atom, row: int, facts: Facts) -> float:
    """How far past its limit a false bound stands, as a share of it (1 where there is no measuring)."""
    if not atom.is_bound:
        return 1.0
    column = facts.numbers(atom.measure)
    low, high = float(column.low[row]), float(column.high[row])
    size = float(len(atom.word.scale) - 1) if atom.word.scale else 0.0
    gaps = []
    for limit, side in zip(atom.limits, _sides(atom), strict=True):
        limit_low, limit_high = ends_at(limit, row, facts)
        gap = limit_low - high if side == "least" else low - limit_high
        gaps.append(gap / (size or abs(limit_high) or abs(limit_low) or 1.0))
    return max(gaps)


def ends_at(limit: Limit, row: int, facts: Facts, *, outer: bool = False) -> tuple[float, float]:
    """The interval of a limit at one row (``outer``: with judgement's doubt)."""
    low, high = (
        end[row] if isinstance(end, np.ndarray) else end for end in ends_of(limit, facts, outer=outer)
    )
    return float(low), float(high)


def _sides(atom: Atom) -> tuple[str, ...]:
    if atom.relation == "between":
        return ("least", "most")
    return ("least",) if atom.relation in ("at least", "above") else ("most",)


def _open_atoms(reading: Reading, row: int, *, outer: bool = False, demand: bool = False) -> list[Atom]:
    """The lines that could still change the answer: those of ``must`` first (``demand``: those alone).

    ``outer``: within judgement's doubt.
    """
    when, must = reading.outer if outer and reading.outer else (reading.when, reading.must)
    return [atom for truth in ((must,) if demand else (must, when)) for atom in _deciding(truth, row)]


def _deciding(truth: Truth, row: int) -> Iterator[Atom]:
    """The unknown lines on which an unknown condition hangs.

    A condition that is settled hangs on nothing; nor does a branch which is already false.  All others
    matter: every unknown line of an all-of with no false line could make it false.
    """
    if truth.whole[row] != UNKNOWN:
        return
    condition, start = truth.condition, len(truth.condition.atoms)
    yield from _unknown(condition.atoms, truth.lines[:start], row)
    if max((branch[row] for branch in truth.branches), default=FALSE) != UNKNOWN:
        return
    for branch, whole in zip(condition.branches, truth.branches, strict=True):
        if whole[row] == UNKNOWN:
            yield from _unknown(branch, truth.lines[start : start + len(branch)], row)
        start += len(branch)


def _unknown(atoms: Sequence[Atom], lines: Sequence[np.ndarray], row: int) -> Iterator[Atom]:
    return (atom for atom, line in zip(atoms, lines, strict=False) if line[row] == UNKNOWN)


def missing_facts(verdict: Verdict, row: int, facts: Facts) -> tuple[Missing, ...]:
    """The base facts that could still change an undecided answer, each once, in the rule's order."""
    undecided = [reading for reading in verdict.readings if reading.outcomes[row] == logic.UNDECIDED]
    atoms = (atom for reading in undecided for atom in _open_atoms(reading, row))
    columns = (facts.column(measure) for atom in atoms for measure in atom.measures)
    gaps = (column.missing.get(row, ()) for column in columns if _is_open(column, row))
    return tuple(dict.fromkeys(missing for gap in gaps for missing in gap))


def _is_open(column: AnyColumn, row: int) -> bool:
    """Whether anything of a fact is not known at a row."""
    some = isinstance(column, SetColumn) and column.maybe is not None and bool(column.maybe[row].any())
    return some or not column.known[row]


def _value(column: AnyColumn, atom: Atom, row: int) -> tuple[Value, Value, Value]:
    """(value, low, high): the value where it is known, else the ends of its interval that are known."""
    if isinstance(column, SetColumn):
        words = [word for word, has in zip(column.words, column.has[row], strict=True) if has]
        return (", ".join(words) if words or not _is_open(column, row) else None), None, None
    low, high = _spoken(column, column.low[row], atom), _spoken(column, column.high[row], atom)
    return (low, None, None) if column.low[row] == column.high[row] else (None, low, high)


def _spoken(column: Column, number: float, atom: Atom) -> Value:
    """A number as it is, a word by its index; None for an open end."""
    scale = column.scale or atom.word.scale
    if scale is None:
        return float(number) if np.isfinite(number) else None
    return scale[int(number)] if 0 <= number < len(scale) else None


def _limit(atom: Atom, index: int, row: int, facts: Facts) -> Value:
    """The limit at one row, in the measure's unit or as its word; None where it is not known."""
    limit = atom.limits[index]
    column = facts.numbers(atom.measure)
    if not limit.measure:
        return _spoken(column, limit.value, atom)
    low, high = ends_at(limit, row, facts)
    return _spoken(column, low, atom) if low == high else None


def waiting(findings: Sequence[Finding]) -> dict[Missing, list[str]]:
    """Missing fact → the rules that wait on it, in the order of the findings."""
    rules: dict[Missing, dict[str, None]] = {}
    for finding in findings:
        for missing in finding.missing:
            rules.setdefault(missing, {})[finding.rule] = None
    return {missing: list(names) for missing, names in rules.items()}
