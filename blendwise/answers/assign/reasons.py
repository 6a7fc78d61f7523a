"""Why no more goes where it goes, and what cannot all be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from blendwise.answers.assign.portions import poured, premix_names
from blendwise.answers.assign.result import Bare, Conflict, OffBlend, Tight
from blendwise.answers.check.compute import at_book
from blendwise.assignment.explain.prices import Price
from blendwise.assignment.problem.problem import Problem, Source
from blendwise.assignment.result import Answer, MoreStops, Result
from blendwise.assignment.search.scented import MEANT, TRUE, Placed
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.place import Spot


def tights(
    s: Situation, problem: Problem, result: Result, costs: Sequence[Price], rulebook: Rulebook
) -> Iterator[Tight]:
    """What stops each portion that holds a premix from taking more of it, where the judge says so too.

    ``costs``: what solving without a rule would bring.
    """
    if result.best is None:
        return
    gains = {price.source: price for price in costs}
    names = premix_names(problem, result.best)
    for stop in result.stops:
        conflict = conflict_of(stop.source, s.book.folder, rulebook)
        if stop.takes <= 0 or not _breaks(s, problem, result.best, stop, rulebook):
            continue
        price = gains.get(stop.source)
        yield Tight(
            portion=problem.portions[stop.portion],
            rule=conflict.name,
            subject=conflict.subject,
            gain=None if price is None else price.value - price.without,
            gain_in="" if price is None else price.measure,
            where=conflict.where,
            premix=names[stop.premix],
            takes=stop.takes,
            at=stop.at,
            wants=conflict.wants,
            kind=conflict.kind,
        )


def _breaks(s: Situation, problem: Problem, best: Answer, stop: MoreStops, rulebook: Rulebook) -> bool:
    """Whether the rule is broken (or past its middle) where the dose alone grows a step beyond ``at``."""
    kind, name, subject, *_ = (*stop.source, "", "")
    if kind != "rule":
        return True
    premix = best.premixes[stop.premix]
    grown = stop.at + problem.step - stop.takes
    settled = poured(s, problem, best)
    x = settled.x.copy()
    for i, part in zip(premix.scents, premix.grams, strict=True):
        x[s.scents.index(problem.scents[i]), stop.portion] += grown * part / premix.total
    found = judge([rulebook.by_name[str(name)]], tables(settled.with_doses(x)))
    return any(each.subject_text == subject and "broken" in (each.status, each.middle) for each in found)


def bare_cups(placed: Placed, folder: Path, rulebook: Rulebook) -> Iterator[Bare]:
    """The cups that stay bare, each with the irreducible core that keeps scent out of it."""
    for each in placed.unmet:
        if each.wish == MEANT:
            because = tuple(conflict_of(source, folder, rulebook) for source in each.because)
            yield Bare(each.name, because, each.obstacle)


def off_blend(placed: Placed, folder: Path, rulebook: Rulebook) -> Iterator[OffBlend]:
    """The oils that cannot hold their part of the bar, each with the irreducible core that forbids it."""
    best, problem = placed.result.best, placed.problem
    for each in placed.unmet:
        if each.wish == TRUE and best is not None:
            s = problem.scents.index(each.name)
            share = float(best.grams[s].sum() / best.grams.sum())
            because = tuple(conflict_of(source, folder, rulebook) for source in each.because)
            yield OffBlend(each.name, share, float(problem.blend[s]), because)


def conflict_of(source: Source, folder: Path, rulebook: Rulebook) -> Conflict:
    """A constraint's source as something a maker can find: a rule or a line of the plan."""
    kind, name, *rest = source
    if kind == "rule":
        subject, place, rule_place = rest
        rule = rulebook.by_name.get(str(name))
        wants = "" if rule is None else ", ".join(map(str, rule.must))
        return Conflict("rule", str(name), str(subject), _spot(place or rule_place, folder), wants)
    if kind == "plan":
        subject, place = rest
        return Conflict("plan", str(name), str(subject), _spot(place, folder))
    return Conflict("plan", str(kind), " in ".join(str(part) for part in (name, *rest)))


def _spot(place: object, folder: Path) -> Spot | None:
    return at_book(place, folder) if isinstance(place, Spot) else None
