"""What the rulebook says of a plan."""

from __future__ import annotations

import datetime
import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from blendwise.answers.beliefs_told import said
from blendwise.answers.check.label import label_of
from blendwise.answers.check.result import CheckResult, Fact, PortionGrams, UnusedAcceptance
from blendwise.facts.columns import Table
from blendwise.facts.measures.heat import USUAL_ROOM
from blendwise.facts.situation.impossible import most_cure_loss
from blendwise.facts.situation.timeline import split_temperature, timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.findings.acceptance import Accepted, apply_acceptances
from blendwise.judge.findings.finding import Finding, Where
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.kinds.plan import Accept
from blendwise.records.place import Spot


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
        working=_facts(s, found) if working else (),
        units=s.book.usual.units,
        label=label_of(s),
    )


def _facts(s: Situation, found: dict[str, Table]) -> tuple[Fact, ...]:
    from blendwise.answers.check.working import facts_of

    return tuple(facts_of(s, found))


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
    here = os.getcwd()  # a hundred paths are shown in an answer: as texts they cost a tenth
    whole, book = os.path.join(here, file), os.path.join(here, folder).removesuffix("/.")
    for base in (book, os.path.dirname(book)):
        within = base.rstrip(os.sep) + os.sep
        if whole.startswith(within):
            return whole.removeprefix(within).replace(os.sep, "/")
    path = Path(file)
    return f"{path.parent.name}/{path.name}" if path.parent.name else path.name


def at_book(place: Spot | None, folder: Path) -> Spot | None:
    """A place with its file as it is shown."""
    return None if place is None else Spot(relative(place.file, folder), place.line, place.column)


def at_home(finding: Finding, folder: Path) -> Finding:
    """The finding with its places as they are shown."""
    return replace(
        finding,
        where=Where(at_book(finding.where.plan, folder), at_book(finding.where.rule, folder)),
    )


def _unused(accept: Accept, why: str, folder: Path) -> UnusedAcceptance:
    place = accept.place.spot if accept.place else None
    return UnusedAcceptance(accept.rule, accept.for_, why, at_book(place, folder))


def assumptions(s: Situation) -> Iterator[str]:
    """What was taken for granted because nobody wrote it down, said once each."""
    if "for_" not in s.plan.model_fields_set:
        yield "The plan does not say what it is for: it is judged as soap for sale."
    yield from (f"{_sentence(note)}" for note in s.scenting.assumptions)
    yield from said(s)
    if not s.pot.purity_stated:
        yield "The purity of the sodium hydroxide is not stated: it counts as 100 %."
    if s.book.usual.scale_step is None and s.scents:
        yield "The step of the scent scale is not stated: 1 g is assumed."
    if s.book.usual.lye_scale_step is None:
        yield "The step of the lye scale is not stated: 1 g is assumed."
    line = timeline(s)
    if line is None:
        yield "The plan names no pour: nothing is said of the clock, and any two portions may touch."
    else:
        low, high = line.base
        yield (
            f"Unscented batter is taken as fluid for {_minutes(low, high)} from emulsion, by "
            f"{line.base_from}. {len(s.portions)} portions take about {line.minutes:.3g} minutes to pour, "
            f"after {line.first:.3g} minutes of splitting and colouring."
        )
    yield from _warmth(s)
    all_of_it = ", all the water there is" if s.cure_loss == most_cure_loss(s.pot, s.split) else ""
    yield (
        f"A finished bar is taken to have lost {100 * s.cure_loss:.3g} % of oils, lye and water as water"
        f"{all_of_it}."
    )


def _warmth(s: Situation) -> Iterator[str]:
    """Temperatures that nobody has written down."""
    if s.home("room temperature").missing:
        yield f"The temperature of the room is not stated: {USUAL_ROOM:g} °C is assumed."
    process, usual = s.plan.process, s.book.usual
    if not ((process and process.batter_at_split) or usual.batter_at_split):
        yield f"The batter's temperature at the split is not stated: {split_temperature(s):g} °C is assumed."


def _minutes(low: float, high: float) -> str:
    return f"{low:.3g} minutes" if low == high else f"{low:.3g} to {high:.3g} minutes (the low end is used)"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")


def today_or(day: datetime.date | None) -> datetime.date:
    """The day asked for, else today."""
    return day or datetime.date.today()


__all__ = ["check_situation", "grams_of", "judge_situation", "relative", "today_or"]
