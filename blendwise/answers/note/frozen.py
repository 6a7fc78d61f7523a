"""What the first note of a batch keeps of its day: doses, masses, colours, minutes, and what was expected."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from blendwise.answers.check.compute import judge_situation
from blendwise.beliefs.believe import strength_word
from blendwise.beliefs.learning.priors import word_value
from blendwise.facts.columns import Column
from blendwise.facts.pour.minutes import base_of, rulebook_minutes
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.situation.timeline import timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.quantity import Dimension, format_number, in_units
from blendwise.science.colour import hex_from_lab

LEAST_GRAMS: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Day:
    """The frozen day, as plain text by field; see ``records.note.Frozen``."""

    rules: str
    doses: Mapping[str, Mapping[str, str]]
    portions: Mapping[str, Mapping[str, str]]
    predictions: Mapping[str, Mapping[str, str]]
    flagged: Mapping[str, Sequence[str]]
    plan_text: str
    pour: Mapping[str, str]


def freeze(s: Situation, rulebook: Rulebook) -> Day:
    """Everything that the first note keeps, at the situation's doses."""
    return Day(
        rulebook.fingerprint,
        {p: dict(_doses(s, i)) for i, p in enumerate(s.portions)},
        {p: dict(_masses(s, i)) for i, p in enumerate(s.portions)},
        {p: dict(_expected(s, i)) for i, p in enumerate(s.portions)},
        flagged(s, rulebook),
        s.plan.doc.text if s.plan.doc else "",
        dict(_pour(s)),
    )


def _pour(s: Situation) -> Iterator[tuple[str, str]]:
    """The style, and the minutes that the time it took can be held against (of a layer, there are none)."""
    if s.pour is not None:
        yield "pour", s.pour.name
        if s.pour.family == "interleaved":
            yield "pour minutes", f"{_minutes(rulebook_minutes(s, s.pour))} min"


def _doses(s: Situation, p: int) -> Iterator[tuple[str, str]]:
    for i, scent in enumerate(s.scents):
        if s.x[i, p] > LEAST_GRAMS:
            yield scent, _mass(float(s.x[i, p]), s)


def _mass(value: float, s: Situation) -> str:
    """A mass as the book weighs: to the milligram, or to a hundred-thousandth of an ounce."""
    number, unit = in_units(value, Dimension.MASS, s.book.usual.units)
    return f"{format_number(round(number, 3 if unit == 'g' else 5), 9)} {unit}"


def _masses(s: Situation, p: int) -> Iterator[tuple[str, str]]:
    plain = appearance(s).plain
    yield "oils", _mass(float(s.split.oils[p]), s)
    yield "batter", _mass(float(s.split.batter[p]), s)
    yield "planned colour", hex_from_lab(appearance(s).planned[p])
    yield "covering", format_number(round(float(np.broadcast_to(plain.scatter, len(s.portions))[p]), 3), 6)
    yield "may become", s.plan.portions[p].may_become or "ivory"
    line = timeline(s)
    base = base_of(s)
    at = 0.0 if line is None else float(line.scented_at[p])
    yield "stays fluid", f"{_minutes(max((base.low + base.high) / 2 - at, 1.0))} min"
    if line is not None and line.asks[p]:
        yield "needed", f"{_minutes(float(line.needed_until[p] - line.scented_at[p]))} min"


def _minutes(value: float) -> str:
    return format_number(round(value, 1), 6)


def _expected(s: Situation, p: int) -> Iterator[tuple[str, str]]:
    """The words of what is expected of a portion; nothing where it is not known."""
    yield from _worded(s, "browning band", p)
    yield from _fluid(s, p)
    here = [(i, float(s.x[i, p])) for i in range(len(s.scents)) if s.x[i, p] > LEAST_GRAMS]
    if here and all(s.traits[i].strength for i, _ in here):
        total = sum(grams for _, grams in here)
        left = sum(g * word_value(s.scales, s.traits[i].strength or "") for i, g in here) / total
        yield "after six weeks", strength_word(s.scales, left)
    ricing = [s.ricing[i][0] for i, _ in here]
    words = ("none", "slight", "bad")
    known = [word for word in ricing if word is not None]
    if here and (len(known) == len(here) or "bad" in known):
        yield "ricing", max(known, key=words.index)


def _worded(s: Situation, name: str, p: int) -> Iterator[tuple[str, str]]:
    column = s.home(name)
    assert isinstance(column, Column)
    assert column.scale is not None
    if not (np.isfinite(column.low[p]) and np.isfinite(column.high[p])):
        return
    low, high = column.scale[int(column.low[p])], column.scale[int(column.high[p])]
    yield name, low if low == high else f"{low} to {high}"


def _fluid(s: Situation, p: int) -> Iterator[tuple[str, str]]:
    if timeline(s) is None:
        return
    column = s.home("minutes fluid")
    assert isinstance(column, Column)
    low, high = float(column.low[p]), float(column.high[p])
    if np.isfinite(low) and np.isfinite(high):
        ends = (_minutes(low), _minutes(high))
        yield "minutes fluid", f"{ends[0]} min" if ends[0] == ends[1] else f"{ends[0]} to {ends[1]} min"


def flagged(s: Situation, rulebook: Rulebook) -> dict[str, list[str]]:
    """Rules that spoke against the plan, accepted or not, each with the portions that it spoke of."""
    found: dict[str, list[str]] = {}
    for finding in judge_situation(s, rulebook).findings:
        if finding.status == "undecided" or finding.hidden:
            continue
        held = found.setdefault(finding.rule, [])
        held.extend(name for name in portions_of(finding, s) if name not in held)
    return found


def portions_of(finding: Finding, s: Situation) -> list[str]:
    """The portions that a finding speaks of: all of them where it speaks of the batch."""
    match finding.looks_at:
        case "batch":
            return list(s.portions)
        case "scent":
            i = s.scents.index(finding.subject[0]) if finding.subject[0] in s.scents else -1
            return [p for n, p in enumerate(s.portions) if i >= 0 and s.x[i, n] > LEAST_GRAMS]
    return [name for name in finding.subject if name in s.portions]
