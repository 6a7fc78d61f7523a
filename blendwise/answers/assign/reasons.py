"""Why no more goes where it goes, and what cannot all be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from blendwise.answers.assign.portions import premix_names
from blendwise.answers.assign.result import Conflict, Tight
from blendwise.answers.check.compute import at_book
from blendwise.assignment.explain.prices import Price
from blendwise.assignment.problem.problem import Problem, Source
from blendwise.assignment.result import Result
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.place import Spot


def tights(
    problem: Problem, result: Result, costs: Sequence[Price], folder: Path, rulebook: Rulebook
) -> Iterator[Tight]:
    """What stops each portion from taking more, with what solving without it would bring."""
    assert result.best is not None or not result.stops
    gains = {price.source: price for price in costs}
    names = [] if result.best is None else premix_names(problem, result.best)
    for stop in result.stops:
        conflict = conflict_of(stop.source, folder, rulebook)
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
