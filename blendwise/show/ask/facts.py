"""Facts of a plan as a question reads them: by subject, or in the sentence of their measure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import floor

from blendwise.answers.ask.result import AskResult
from blendwise.answers.ask.topics import topic_of
from blendwise.answers.check.result import CheckResult, Fact
from blendwise.quantity import Units
from blendwise.show.ask import words as say
from blendwise.show.blocks import Line
from blendwise.show.text import joined
from blendwise.show.words import span


def of_measure(found: CheckResult, measure: str) -> dict[str, Fact]:
    """The facts of a measure, by subject."""
    return {fact.subject: fact for fact in found.working if fact.measure == measure}


def numbers(found: CheckResult, measure: str) -> dict[str, float]:
    """What is known of a measure by subject, at the cautious end."""
    facts = of_measure(found, measure).items()
    return {name: fact.low for name, fact in facts if isinstance(fact.low, float)}


def number(found: CheckResult, measure: str) -> float | None:
    """What is known of a measure of the batch."""
    return next(iter(numbers(found, measure).values()), None)


def by_value(values: Mapping[str, str]) -> str:
    """Subjects of one value together: "cream and black brown; orange tan"."""
    held: dict[str, list[str]] = {}
    for name, value in values.items():
        held.setdefault(value, []).append(name)
    return "; ".join(f"{joined(names)} {value}" for value, names in held.items())


def by_cup(bands: Mapping[str, str]) -> str:
    """ "brown in the cups cream and orange": a cup's name is often a colour too."""
    held: dict[str, list[str]] = {}
    for cup, band in bands.items():
        held.setdefault(band, []).append(cup)
    told = [
        f"{band} in the {'cup' if len(cups) == 1 else 'cups'} {joined(cups)}" for band, cups in held.items()
    ]
    return "; ".join(told)


def facts_of(result: AskResult, found: CheckResult) -> Iterator[Line]:
    """The values of a question's measures, a line a measure; of what is named alone, where it has some."""
    of = {*result.named.portions, *result.named.oils, *result.named.colours}
    for measure in topic_of(result.question).facts:
        rows = [fact for fact in found.working if fact.measure == measure and fact.grain != "base oil"]
        own = [fact for fact in rows if of & set(fact.subject.split(" in "))]
        yield from _told(measure, own or rows, result.units)


def _told(measure: str, rows: Sequence[Fact], units: Units) -> Iterator[Line]:
    values = {fact.subject: value_of(fact, units) for fact in rows}
    if values:
        each = by_value(values)
        yield Line("", say.FACTS[measure].format(each=each, v=next(iter(values.values()))))


def value_of(fact: Fact, units: Units) -> str:
    """A value as one says it; minutes of a deadline rounded down, and its basis left to the sentence."""
    low, high = fact.low, fact.high
    if fact.measure in say.DEADLINES and isinstance(low, float) and isinstance(high, float):
        low, high = float(floor(low)), float(floor(min(high, 1e6)))
    unit = "" if fact.measure in say.ALONE else fact.unit
    return span(low, high, unit, units).replace(" of portion oils", " of its oils")
