"""Side by side, and together: what each oil does alone at the load, and the blend in one portion."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date, timedelta
from itertools import combinations
from typing import Final

import numpy as np

from blendwise.answers.answer import Range
from blendwise.answers.check.label import contents_table, label_of
from blendwise.answers.pair.plan import Cup, load_on_oils, situation
from blendwise.answers.pair.question import Question
from blendwise.answers.pair.result import OPEN, Noted, Shared, Side, Together, Words
from blendwise.facts.columns import Column, Floats
from blendwise.facts.measures.clock import stays
from blendwise.facts.measures.colour import finite_load
from blendwise.facts.papers import certified
from blendwise.facts.pour.minutes import base_of, hands_of, jobs_of
from blendwise.facts.registry import REGISTRY
from blendwise.facts.scales import BANDS, EVIDENCE, NOTED
from blendwise.facts.situation.appearance import appearance, cured_lab
from blendwise.facts.situation.dried import dried_mass
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Finding
from blendwise.records.kinds.scent import Scent
from blendwise.science import browning, clock, flash, labels, restrictions
from blendwise.science.browning import own_cast_of
from blendwise.science.colour_words import colour_words
from blendwise.science.limits import constituents_in_bar

HIDES_A_TINT: Final = BANDS.index("beige")
"""Band from which a brown hides what an oil tints by its own colour: judgement."""
BY_LOOKS: Final = ("acceleration", "ricing", "after six weeks")
"""Facts that an own look gives as well as the entry."""
FIGURE_PORTIONS = 3
"""Portions that a pour is tried with; two to five are usual (common practice), the number is ours."""


def ends(column: Column, row: int = 0) -> Range:
    """Both ends of a number at one row, None where open."""
    low, high = float(column.low[row]), float(column.high[row])
    return Range(_bounded(low), _bounded(high))


def words_of(column: Column, row: int = 0) -> Words:
    """Both ends of a word at one row, None where open."""
    assert column.scale is not None
    found = ends(column, row)
    low, high = (None if end is None else column.scale[int(end)] for end in (found.low, found.high))
    return Words(low, high)


def column(s: Situation, name: str) -> Column:
    """A measure's column of numbers or words."""
    found = s.home(name)
    assert isinstance(found, Column)
    return found


def sides(question: Question, s: Situation) -> tuple[Side, ...]:
    """Each oil in a portion of its own, at the load of the whole blend or at the most its papers allow."""
    load = load_on_oils(s)
    loads = [min(load, most_load(s, i) or load) for i in range(len(question.oils))]
    cups = [Cup(name, scents={name: own}) for name, own in zip(question.oils, loads, strict=True)]
    alone = situation(question, cups)
    return tuple(
        _side(alone, s, i, question, loads[i] if loads[i] < load else None) for i in range(len(loads))
    )


def _side(alone: Situation, s: Situation, i: int, question: Question, allowed: float | None) -> Side:
    record = s.scent_records[i]
    limit, traits = record.limit_in_bar, s.traits[i]
    point = record.flash_point
    evidence = column(s, "evidence")
    return Side(
        name=record.name,
        share=question.shares[i],
        grams=float(s.x[i].sum()),
        kind=record.kind,
        note=record.scent_note,
        bands=words_of(column(alone, "browning band"), i),
        browning_by=alone.traits[i].browner.evidence,
        acceleration=traits.speed_word,
        acceleration_by=traits.speed.evidence if traits.speed_word else "",
        thickening=ends(column(alone, "thickening"), i),
        ricing=s.ricing[i][0],
        after_six_weeks=traits.strength,
        volatility=words_of(column(s, "volatility"), i).low,
        flash_point=OPEN if point is None else Range(point.low, _bounded(point.high)),
        flammable=None if point is None else int(flash.ghs_category(point.low)),
        limit=limit.most.low if limit else None,
        certificate=(limit.certificate or "") if limit else "",
        dated=limit.dated if limit else None,
        evidence=EVIDENCE[int(evidence.low[i])] if evidence.known[i] else None,
        lot=record.lot,
        on_hand=record.on_hand.value if record.on_hand else None,
        price=record.price.text if record.price else None,
        browners=dict(_browners(record)),
        not_known=tuple(_untold(s, i)),
        tints=dict(_tints(alone, i)),
        colour_seen=alone.traits[i].seen_browning,
        after_six_weeks_by=traits.strength_evidence if traits.strength else "",
        left=_left(record, traits.strength_evidence),
        alone_at=allowed,
    )


def _left(record: Scent, told_by: str) -> Range:
    """The share of the smell that is left, where a share was told and no look has outranked it."""
    said = record.six_weeks
    if said is None or said.left is None or told_by != (said.evidence or record.evidence or ""):
        return OPEN
    return Range(said.left.low, said.left.high)


def _tints(alone: Situation, i: int) -> Iterator[tuple[str, str]]:
    """Hues that an oil brings besides browns: by its constituents, and by its own colour in a white cup."""
    for family in ("yellow", "pink"):
        cast = column(alone, f"{family} cast")
        if cast.low[i] > 0 and cast.scale is not None:
            yield cast.scale[int(cast.low[i])], cast.evidence.get(i, "")
    own, brown = alone.scent_records[i].own_cast, column(alone, "browning band").low[i]
    if own and brown < HIDES_A_TINT and own_cast_of(own) not in ("", "none"):
        yield own_cast_of(own), f"by its own colour, {own}"


def _untold(s: Situation, i: int) -> Iterator[str]:
    """Facts that a maker wants of every oil, and neither its record nor an own look gives."""
    record = s.scent_records[i]
    for name, measure in REGISTRY.items():
        seen = name in BY_LOOKS and column(s, name).known[i]
        if measure.use.fact and not seen and not measure.use.told_by(record):
            yield measure.use.fact


def _bounded(value: float) -> float | None:
    return value if np.isfinite(value) else None


def _browners(record: Scent) -> Iterator[tuple[str, float | None]]:
    if record.vanillin is not None:
        yield "vanillin", record.vanillin.value
    if record.ethyl_vanillin is not None:
        yield "ethyl vanillin", record.ethyl_vanillin.value
    yield from ((name, None if part is None else part.value) for name, part in record.browns_by.items())


def together(question: Question, s: Situation, findings: Sequence[Finding]) -> Together:
    """The blend in one portion at the asked load."""
    base = base_of(s)
    at = clock.first_scenting(jobs_of(s, FIGURE_PORTIONS).usual, FIGURE_PORTIONS, hands_of(s))
    thickening = ends(column(s, "thickening"))
    in_bar, used = float(column(s, "scent in bar").low[0]), float(column(s, "limit used").low[0])
    most = in_bar / used if used > 0 else None
    label = label_of(s)
    due = frozenset(line.name for line in label.due)
    days = browning.judgement_days(bool(question.stabilised))
    judge_from, judge_by = (question.today + timedelta(days=float(day)) for day in days)
    quick = column(s, "thickening")
    soonest, latest = stays(base.low, at, quick.high), stays(base.high, at, quick.low)
    return Together(
        scent_in_bar=in_bar,
        limit_used=used,
        most_in_bar=most if most is None or most < 1 else None,
        most_on_oils=most_load(s),
        tightest=_tightest(s),
        uncertified=tuple(r.name for r in s.scent_records if not certified(r, s.today)),
        shared=_shared(s, due),
        label_names=tuple(line.name for line in label.due),
        label_unknown=label.not_known,
        noted=tuple(_noted(s)),
        pair_colour=_pair_colour(findings),
        bands=words_of(column(s, "browning band")),
        load_of_browners=ends(column(s, "browning load")),
        planned_colour=colour_words(appearance(s).planned)[0],
        cured_colours=_cured(s),
        judge_from=judge_from,
        judge_by=judge_by,
        unscented=Range(base.low, base.high),
        unscented_from=base.source,
        thickening=thickening,
        scented_at=at,
        minutes=Range(None if thickening.high is None else float(soonest[0]), float(latest[0])),
        stabilised={name: float(s.x[s.scents.index(name)].sum()) for name in question.stabilised},
    )


def most_load(s: Situation, of: int | None = None) -> float | None:
    """The load on oils at which the sum rule is used up, of the blend or of one oil alone (its row).

    None where certificates never stop it.
    """
    form = s.fraction("limit used")
    along = s.x / s.scenting.load
    if of is not None:
        along = np.where(np.arange(len(along))[:, None] == of, along.sum(axis=0), 0.0)
    per_load = float(((form.a[0] - form.d[0]) * along).sum())
    return float(form.d0[0] - form.a0[0]) / per_load if per_load > 0 else None


def _tightest(s: Situation) -> str | None:
    uses = s.fraction("limit used").a[0][:, 0] * s.x.sum(axis=1)
    return s.scents[int(np.argmax(uses))] if uses.max(initial=0.0) > 0 else None


def _cured(s: Situation) -> Words:
    load = column(s, "browning load")
    low, high = (colour_words(cured_lab(s, finite_load(end)))[0] for end in (load.low, load.high))
    return Words(low, high if np.isfinite(load.high[0]) else None)


def _noted(s: Situation) -> Iterator[Noted]:
    said = column(s, "noted together")
    for row, (i, j) in enumerate(combinations(range(len(s.scents)), 2)):
        yield Noted(s.scents[i], s.scents[j], NOTED[int(said.low[row])])  # type: ignore[arg-type]


def _pair_colour(findings: Sequence[Finding]) -> tuple[tuple[str, str], ...]:
    met = [f for f in findings if f.looks_at == "pair" and f.measure == "together"]
    return tuple(dict.fromkeys((f.subject[0], f.subject[1]) for f in met))


def _shared(s: Situation, due: Collection[str]) -> tuple[Shared, ...]:
    """Constituents that several oils bring; ``due``: the names due on the label of the bar."""
    names, table = contents_table(list(s.scent_records))
    bar = dried_mass(s)
    shares = constituents_in_bar(s.x.sum(axis=1), table, bar)
    in_bar = {name: float(share) for name, share in zip(names, shares, strict=True)}
    members, maxima = _maxima(names, s.today)
    return tuple(
        Shared(
            name,
            tuple(oil for oil, part in zip(s.scents, table[:, k], strict=True) if part > 0),
            in_bar[name],
            any(entry.name in due for entry in labels.label_names_for(name)),
            float(maxima[members[k]].min()) if members[k].any() else None,
        )
        for k, name in enumerate(names)
        if (table[:, k] > 0).sum() > 1
    )


def _maxima(names: tuple[str, ...], day: date) -> tuple[np.ndarray, Floats]:
    rows, members, most = restrictions.maxima_for(names, day=day)
    return np.asarray(members, dtype=bool).reshape(len(names), len(rows)), np.asarray(most, dtype=float)


__all__ = ["BANDS", "FIGURE_PORTIONS", "column", "ends", "sides", "together", "words_of"]
