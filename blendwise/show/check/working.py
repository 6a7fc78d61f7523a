"""``check --working``: every fact with unit, way of reckoning and source, so that a pencil can follow it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.check.result import Fact
from blendwise.quantity import Units
from blendwise.show import words
from blendwise.show.blocks import Block, Entry, Rows, Section
from blendwise.show.numbers import grams
from blendwise.show.text import joined, quoted, sentence

KINDS = {
    "base oil": "Base oils",
    "colourant": "Colourants",
    "batch": "The batch",
    "additive": "Additives",
    "embed": "Embeds",
    "portion": "Portions",
    "scent": "Scents",
    "dose": "Doses: one scent in one portion",
    "pair": "Two scents in one portion",
    "edge": "Two portions that touch",
}
THEMES = {
    "plan": "as planned",
    "lye": "lye and superfat",
    "additives": "additives",
    "embeds": "embeds",
    "named": "named oils, summed",
    "places": "where it lies",
    "making": "fats, salt, jug and pot",
    "dose": "scent",
    "bar": "the finished bar",
    "constituents": "constituents",
    "law": "what papers answer of the law",
    "scent": "the oil",
    "evidence": "what is known",
    "browning": "browning",
    "colour": "colour",
    "clock": "the clock",
    "heat": "warmth",
    "pairs": "side by side",
}
HOW = (
    "The way of reckoning stands behind the first value of its kind, after an equals sign. Values are shown "
    "rounded and reckoned whole. A range is what is certain; what would close it stands beside it."
)


def working_blocks(facts: Sequence[Fact], units: Units) -> Iterator[Block]:
    """Every fact the judge read, by kind and by what it speaks of."""
    if not facts:
        return
    yield Section(words.WORKING)
    yield Rows((), (), (HOW,))
    told: set[tuple[str, str]] = set()
    kind = ""
    for held in _by_subject(facts):
        if held[0].grain != kind:
            kind = held[0].grain
            yield Section(KINDS.get(kind, kind))
        yield Entry("", _headline(held[0]), tuple(_lines(held, told, units)))


def _by_subject(facts: Sequence[Fact]) -> list[list[Fact]]:
    subjects: dict[tuple[str, str, str], list[Fact]] = {}
    for fact in facts:
        subjects.setdefault((fact.grain, fact.subject, fact.theme), []).append(fact)
    return list(subjects.values())


def _headline(fact: Fact) -> str:
    theme = THEMES.get(fact.theme, fact.theme)
    return f"{fact.grain} {quoted(fact.subject)}{f', {theme}' if theme else ''}"


def _lines(held: Sequence[Fact], told: set[tuple[str, str]], units: Units) -> Iterator[tuple[str, str]]:
    """A line a fact, the way of reckoning where it was not told before, and the source once."""
    first = (held[0].grain, held[0].theme) not in told
    for fact in held:
        how = f" = {fact.formula}" if fact.formula and (fact.grain, fact.measure) not in told else ""
        told.add((fact.grain, fact.measure))
        yield fact.measure, sentence(words.joined_with(f"{_value(fact, units)}{how}", fact.evidence))
    told.add((held[0].grain, held[0].theme))
    if first and held[0].source:
        yield words.SOURCE, sentence(held[0].source)


def _value(fact: Fact, units: Units) -> str:
    """As far as it is known; masses to what a scale shows."""
    if fact.unit == "g" and isinstance(fact.low, float) and fact.low == fact.high:
        return grams(fact.low, units)
    text = words.span(fact.low, fact.high, fact.unit, units)
    if (fact.least, fact.most) != (None, None):
        text = f"{text}, likely {words.span(fact.least, fact.most, fact.unit, units)}"
    missing = joined([f"{each.subject} {each.fact}" for each in fact.missing])
    return f"{text} (missing: {missing})" if missing else text
