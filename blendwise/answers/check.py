"""What the rulebook says of a plan."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from blendwise.answers.believed import said
from blendwise.answers.results import CheckResult, Fact, PortionGrams, UnusedAcceptance
from blendwise.facts.columns import AnyColumn, Column, Missing, SetColumn, Table, Word
from blendwise.facts.situation import Situation
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.acceptance import Accepted, apply_acceptances
from blendwise.judge.finding import Finding
from blendwise.judge.findings import judge
from blendwise.judge.layers import Rulebook
from blendwise.records.plan import Accept

Spot = tuple[str, int]


def check_situation(s: Situation, rulebook: Rulebook, *, working: bool = False) -> CheckResult:
    """Judge a situation by the rulebook, its acceptances applied."""
    found = tables(s)
    accepted = judge_situation(s, rulebook, found)
    folder = s.book.folder
    return CheckResult(
        plan=s.plan.plan,
        file=relative(str(s.plan.place.file), folder) if s.plan.place else "",
        purpose=s.plan.for_ or "sale",
        today=s.today,
        findings=tuple(at_home(f, folder) for f in accepted.findings),
        grams=grams_of(s),
        rules=len(rulebook.rules),
        rules_off=len(rulebook.off),
        assumptions=tuple(assumptions(s)),
        unused_acceptances=tuple(_unused(u.accept, u.why, folder) for u in accepted.unused),
        working=tuple(facts_of(s, found)) if working else (),
        units=s.book.usual.units,
    )


def judge_situation(s: Situation, rulebook: Rulebook, found: dict[str, Table] | None = None) -> Accepted:
    """Findings of all rules, acceptances applied (places absolute)."""
    findings = judge(rulebook.rules, found or tables(s))
    return apply_acceptances(findings, s.plan.accept, rulebook.by_name, vocabulary())


def grams_of(s: Situation) -> tuple[PortionGrams, ...]:
    """The doses that were judged, a row a portion."""
    return tuple(
        PortionGrams(
            name,
            float(s.split.oils[p]),
            float(s.split.batter[p]),
            {scent: float(s.x[i, p]) for i, scent in enumerate(s.scents) if s.x[i, p] > 0},
        )
        for p, name in enumerate(s.portions)
    )


def relative(file: str, folder: Path) -> str:
    """A file as it is shown: relative to the book, else to its rulebook's folder, else by its name."""
    path = Path(file)
    for base in (folder.absolute(), folder.absolute().parent):
        if path.absolute().is_relative_to(base):
            return path.absolute().relative_to(base).as_posix()
    return f"{path.parent.name}/{path.name}" if path.parent.name else path.name


def _spot(place: Spot | None, folder: Path) -> Spot | None:
    return None if place is None else (relative(place[0], folder), place[1])


def at_home(finding: Finding, folder: Path) -> Finding:
    """The finding with its places as they are shown."""
    return replace(
        finding,
        plan_place=_spot(finding.plan_place, folder),
        rule_place=_spot(finding.rule_place, folder),
    )


def _unused(accept: Accept, why: str, folder: Path) -> UnusedAcceptance:
    place = (str(accept.place.file), accept.place.line) if accept.place else None
    return UnusedAcceptance(accept.rule, accept.for_, why, _spot(place, folder))


def assumptions(s: Situation) -> Iterator[str]:
    """What was taken for granted because nobody wrote it down, said once each."""
    if s.plan.for_ is None:
        yield "The plan does not say what it is for: it is judged as soap for sale."
    yield from (f"{_sentence(note)}" for note in s.scenting.assumptions)
    yield from said(s)
    if not s.pot.purity_stated:
        yield "The purity of the sodium hydroxide is not stated: it counts as 100 %."
    if s.book.usual.scale_step is None and s.scents:
        yield "The step of the scent scale is not stated: 1 g is assumed."
    if s.book.usual.lye_scale_step is None:
        yield "The step of the lye scale is not stated: 1 g is assumed."
    line = s.timeline
    if line is None:
        yield "The plan names no pour: nothing is said of the clock, and any two portions may touch."
    else:
        low, high = line.base
        yield (
            f"Unscented batter is taken as fluid for {_minutes(low, high)} from emulsion, by "
            f"{line.base_from}. {len(s.portions)} portions take about {line.minutes:.3g} minutes to pour, "
            f"after {line.first:.3g} minutes of splitting and colouring."
        )
    yield f"A finished bar is taken to have lost {100 * s.cure_loss:.3g} % of oils, lye and water as water."


def _minutes(low: float, high: float) -> str:
    return f"{low:.3g} minutes" if low == high else f"{low:.3g} to {high:.3g} minutes (the low end is used)"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")


def facts_of(s: Situation, found: dict[str, Table]) -> Iterator[Fact]:
    """Every fact at its home grain, as the judge reads it."""
    for grain, table in found.items():
        for word in vocabulary().values():
            if word.grain == grain and not _is_sided(word):
                yield from _facts(table, word)


def _is_sided(word: Word) -> bool:
    return word.name.split(" ", 1)[0] in ("one", "other", "lighter", "darker")


def _facts(table: Table, word: Word) -> Iterator[Fact]:
    column = table.column(word.name)
    for row, subject in enumerate(table.subjects):
        if column.asked is not None and not column.asked[row]:
            continue
        low, high = _ends(column, row)
        unsure: Sequence[Missing] = () if low == high and low is not None else column.missing.get(row, ())
        yield Fact(
            table.grain,
            str(subject),
            word.name,
            low,
            high,
            word.unit,
            word.formula,
            column.evidence.get(row, ""),
            tuple(unsure),
        )


def _ends(column: AnyColumn, row: int) -> tuple[float | str | None, float | str | None]:
    if isinstance(column, SetColumn):
        text = ", ".join(w for w, has in zip(column.words, column.has[row], strict=True) if has)
        return text, text
    return _end(column, float(column.low[row])), _end(column, float(column.high[row]))


def _end(column: Column, value: float) -> float | str | None:
    if not np.isfinite(value):
        return None
    return column.scale[int(value)] if column.scale else value


def today_or(day: datetime.date | None) -> datetime.date:
    """The day asked for, else today."""
    return day or datetime.date.today()


__all__ = ["check_situation", "grams_of", "judge_situation", "relative", "today_or"]
