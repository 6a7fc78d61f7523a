"""What the rulebook says of a plan."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from blendwise.answers.check.after_cure import blend_after_cure
from blendwise.answers.check.free_lye import reworks
from blendwise.answers.check.in_time import in_time
from blendwise.answers.check.label import label_of
from blendwise.answers.check.odd import odd_of_plan
from blendwise.answers.check.result import (
    Aside,
    CheckResult,
    Fact,
    PortionGrams,
    UnknownAdditive,
    UnusedAcceptance,
)
from blendwise.answers.looks_counted import looks_counted
from blendwise.answers.small_amounts import small_amounts
from blendwise.facts.assumed import Assumed, assumed
from blendwise.facts.columns import Table
from blendwise.facts.pour.temperatures import USUAL_ROOM, split_temperature
from blendwise.facts.situation.additions.additives import unknown
from blendwise.facts.situation.impossible import most_cure_loss
from blendwise.facts.situation.timeline import timeline
from blendwise.facts.situation.worked_out import Situation, only_doses_differ
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.findings.acceptance import Accepted, apply_acceptances
from blendwise.judge.findings.finding import UNREAD_RULE, Finding, Where
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.kinds.plan import Accept
from blendwise.records.place import Spot
from blendwise.science.substance_names import nearest


def check_situation(s: Situation, rulebook: Rulebook, *, working: bool = False) -> CheckResult:
    """Judge a situation by the rulebook, its acceptances applied."""
    found = tables(s)
    accepted = judge_situation(s, rulebook, found)
    folder = s.book.folder
    result = CheckResult(
        plan=s.plan.plan,
        file=relative(str(s.plan.place.file), folder) if s.plan.place else "",
        purpose=s.purpose,
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
        aside=(*asides(rulebook, folder), *(odd_at_home(each, folder) for each in odd_of_plan(s))),
        unknown_additives=tuple(unknown_additives(s)),
        rework=tuple(reworks(s)),
        in_time=tuple(in_time(s)),
        after_cure=blend_after_cure(s),
    )
    return without_masses(result) if result.lye_stop else result


def unknown_additives(s: Situation) -> Iterator[UnknownAdditive]:
    """The additives that nobody has described, each with the nearest that somebody has."""
    for each in unknown(s.pot.added):
        near = nearest(each.name)
        yield UnknownAdditive(each.name, near.name if near else "")


MASSES = ("g",)


def without_masses(result: CheckResult) -> CheckResult:
    """Past a lye stop: no split, and no fact in grams, for they would be weighed."""
    told = tuple(fact for fact in result.working if fact.unit not in MASSES)
    return replace(result, grams=(), working=told)


def asides(rulebook: Rulebook, folder: Path, every: bool = False) -> Iterator[Aside]:
    """What does not count of the book's own rules, as far as every check says so (or ``every`` one)."""
    for each in rulebook.asides:
        if each.told or every:
            where = at_book(each.place.spot, folder)
            yield Aside(
                each.why, each.what, each.name, each.level, each.stop, each.message, each.remedy, where
            )


def unasked(s: Situation, rulebook: Rulebook) -> Iterator[Finding]:
    """A stop for every rule of the maker's that may be one and cannot be read: nobody could ask it."""
    for each in rulebook.asides:
        if each.stop:
            yield Finding(
                rule=each.name or each.place.file.name,
                level="stop",
                status="undecided",
                looks_at="batch",
                subject=(s.plan.plan,),
                measure=UNREAD_RULE,
                value=None,
                relation="known",
                limit=None,
                unit="",
                because=each.message,
                try_=each.remedy,
                basis="",
                where=Where(None, each.place.spot),
            )


def _facts(s: Situation, found: dict[str, Table]) -> tuple[Fact, ...]:
    from blendwise.answers.check.working import facts_of

    return tuple(facts_of(s, found))


def judge_situation(
    s: Situation,
    rulebook: Rulebook,
    found: dict[str, Table] | None = None,
    moved: Sequence[Rule] | None = None,
) -> Accepted:
    """Findings of all rules (or of those ``moved``), acceptances applied (places absolute)."""
    rules = rulebook.rules if moved is None else moved
    findings = [*unasked(s, rulebook), *judge(rules, found or tables(s))]
    return apply_acceptances(findings, s.plan.accept, rulebook.by_name, vocabulary())


def moved_from(s: Situation, version: Situation, rules: Sequence[Rule]) -> tuple[Rule, ...]:
    """The rules of which a version may hear something new: another measure, or another row of the table."""
    if not only_doses_differ(s, version):
        return tuple(rules)
    before, after, words = tables(s), tables(version), vocabulary()
    alike = np.array_equal(s.presence, version.presence)
    poured = np.array_equal(s.presence.any(axis=1), version.presence.any(axis=1))  # rows of other oils sleep
    kept = {grain for grain in before if alike or before[grain].subjects == after[grain].subjects}
    same = kept if poured else kept - {"scent"}
    return tuple(
        rule
        for rule in rules
        if rule.looks_at not in same or any(words[name].form != "constant" for name in rule.measures)
    )


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


def odd_at_home(aside: Aside, folder: Path) -> Aside:
    """An odd figure with its place as it is shown."""
    return replace(aside, where=at_book(aside.where, folder))


def at_home(finding: Finding, folder: Path) -> Finding:
    """The finding with its places as they are shown."""
    return replace(
        finding,
        where=Where(at_book(finding.where.plan, folder), at_book(finding.where.rule, folder)),
    )


def _unused(accept: Accept, why: str, folder: Path) -> UnusedAcceptance:
    place = accept.place.spot if accept.place else None
    return UnusedAcceptance(accept.rule, accept.for_, why, at_book(place, folder))


def assumptions(s: Situation) -> Iterator[Assumed]:
    """What was taken for granted because nobody wrote it down, once each."""
    if s.plan.for_ is None:
        yield assumed("usual purpose", purpose=s.purpose) if s.book.usual.for_ else Assumed("for sale")
    yield from s.scenting.assumptions
    yield from looks_counted(s.believing, s.scent_records, s.scales)
    if not s.pot.purity_stated:
        yield Assumed("purity")
    if s.book.usual.scale_step is None and s.scents:
        yield Assumed("scent scale")
    if s.book.usual.lye_scale_step is None:
        yield Assumed("lye scale")
    for group in s.premixes:
        if len(group) > 1 and group not in s.mixes:
            yield assumed("no mix", scents=tuple(s.scents[i] for i in group))
    for small in small_amounts(s):
        yield assumed(
            "small amount",
            what=small.what,
            into=small.into,
            grams=small.grams,
            step=small.step,
            error=small.error,
        )
    yield _clock(s)
    yield from _warmth(s)
    all_of_it = s.cure_loss == most_cure_loss(s.pot, s.split)
    yield assumed("cure loss", loss=s.cure_loss, all_of_it=all_of_it)


def _clock(s: Situation) -> Assumed:
    line = timeline(s)
    if line is None:
        return Assumed("no pour")
    low, high = line.base
    return assumed(
        "clock",
        low=low,
        high=high,
        by=line.base_from,
        portions=float(len(s.portions)),
        minutes=line.minutes,
        first=line.first,
    )


def _warmth(s: Situation) -> Iterator[Assumed]:
    """Temperatures that nobody has written down."""
    if s.home("room temperature").missing:
        yield assumed("room", temperature=USUAL_ROOM)
    process, usual = s.plan.process, s.book.usual
    if not ((process and process.batter_at_split) or usual.batter_at_split):
        yield assumed("batter at split", temperature=split_temperature(s))
