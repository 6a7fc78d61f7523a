"""A symptom's answer in blocks: safety, what to do now, the causes, what the plan shows, when to stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from blendwise.answers.why.result import (
    Clue,
    Day,
    Deferred,
    Known,
    KnownSymptom,
    LikelyCause,
    SimplerPour,
    Understood,
    WhyResult,
)
from blendwise.quantity import Units
from blendwise.quantity.prose import theirs
from blendwise.show import words
from blendwise.show.blocks import Block, Entry, Note, Rows, Section, Title
from blendwise.show.poured import poured_blocks
from blendwise.show.text import sentence
from blendwise.show.why import words as say


def why_blocks(result: WhyResult) -> list[Block]:
    """The whole answer; safety stands before everything else."""
    if result.deferred is not None:
        return deferred_blocks(result.deferred, result.asked)
    symptom = result.symptom
    assert symptom is not None
    return [
        Title(say.title(symptom.symptom, result.plan, result.within), say.verdict(result)),
        Entry(say.SAFETY, symptom.safety),
        *poured_blocks(result.past, result.units),
        *_now([theirs(step, result.units) for step in symptom.now]),
        *_pours(result.pours),
        *_causes(result, symptom),
        *_facts(result.facts, result.units),
        *_days(result.days),
        Entry(say.STOP, symptom.stop),
        *(Note(say.also(result.also_near)) for _ in result.also_near[:1]),
        Note(say.footing(symptom.basis, symptom.where)),
        Note(words.CAUTIONS),
    ]


def deferred_blocks(deferral: Deferred, asked: str) -> list[Block]:
    """A question that is left to others: whom to ask, and what can be shown instead."""
    instead = ((say.INSTEAD, sentence(deferral.instead)),) if deferral.instead else ()
    return [
        Title(say.deferred(deferral.about, asked), sentence(deferral.answer)),
        Entry(say.ASK, deferral.ask, instead),
        Note(words.CAUTIONS),
    ]


def _now(steps: Sequence[str]) -> Iterator[Block]:
    yield Section(say.NOW)
    numbered = tuple(f"{number}. {step}" for number, step in enumerate(steps, 1))
    yield Rows((), (), numbered)


def _pours(pours: Sequence[SimplerPour]) -> Iterator[Block]:
    if pours:
        yield Section(say.SIMPLER)
        yield Rows((), (), tuple(say.pour(pour) for pour in pours))


def _causes(result: WhyResult, symptom: Understood) -> Iterator[Block]:
    yield Section(say.CAUSES if result.plan else say.CAUSES_WITHOUT)
    for each in result.causes:
        yield _cause(each, result, each.basis if each.basis != symptom.basis else "")


def _cause(each: LikelyCause, result: WhyResult, basis: str) -> Entry:
    unlikely = each.standing in ("against", "absent")
    tag = say.STANDINGS[each.standing] if result.plan else ""
    details = {
        say.PLAN: say.clues(each, result.units) if result.plan else "",
        words.WHY: "" if unlikely else each.because,
        say.TELL: each.tell_apart,
        say.NEXT: "" if unlikely else each.next_time,
        words.SOURCE: basis,
    }
    told = [(name, theirs(text, result.units)) for name, text in details.items()]
    return Entry(tag, each.cause, tuple((name, sentence(text)) for name, text in told if text))


def _facts(facts: Sequence[Clue], units: Units) -> Iterator[Block]:
    if facts:
        yield Section(say.SHOWN)
        by_measure = groupby(facts, key=lambda clue: clue.measure)
        yield Rows((), (), tuple(say.shown(measure, list(rows), units) for measure, rows in by_measure))


def _days(days: Sequence[Day]) -> Iterator[Block]:
    if days:
        yield Section(say.LOOKS)
        yield Rows((), (), tuple(f"{day.look}: {day.on.isoformat()}" for day in days))


def known_blocks(known: Known) -> list[Block]:
    """Every symptom, by the moment at which it is met."""
    blocks: list[Block] = [Title(say.LIST, say.LIST_VERDICT)]
    for when, group in groupby(sorted(known.symptoms, key=_moment), lambda each: each.when):
        blocks += [Section(when), Rows((), (), tuple(say.known(each) for each in group))]
    return [*blocks, Note(say.LIST_NOTE)]


def _moment(symptom: KnownSymptom) -> int:
    return say.MOMENTS.index(symptom.when)
