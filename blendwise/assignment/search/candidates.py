"""Which divisions to try: all of them where they can be listed, else the promising ones.

With too many oils to list every division, oils are put together that behave alike (in the rows they move)
or that want to go to the same portions (in the continuous free split), and single oils are then moved.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from blendwise.assignment.problem.ready import Frame, Group, Groups
from blendwise.assignment.program.division import build
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.divisions import count, divisions
from blendwise.facts.columns import Floats

MOST_DIVISIONS = 5000
MOST_SEEDS = 400


@dataclass(frozen=True)
class Candidates:
    """``divisions`` to try and whether they are all there are."""

    divisions: Sequence[Groups]
    complete: bool


def candidates(frame: Frame, free: bool, engine: Engine, seconds: float) -> Candidates:
    """The divisions of a problem that keep to the maker's own mixes; ``seconds`` of clock to find them."""
    mixes = frame.problem.together
    if mixes and not free:
        kept = [groups for groups in every_division(frame) if set(mixes) <= set(groups)]
        return Candidates(kept, True)
    oils, most = frame.shape[0], frame.problem.premixes
    if free:
        alone = (s for s in range(oils) if not any(s in mix for mix in mixes))
        return Candidates([tuple(sorted((*mixes, *((s,) for s in alone))))], True)
    numbers = range(1, min(oils, most) + 1)
    if count(oils, most) <= MOST_DIVISIONS:
        return Candidates(every_division(frame), True)
    found = dict.fromkeys(
        groups
        for profile in (_behaviour(frame), _wishes(frame, engine, seconds))
        for k in numbers
        for groups in _around(_clusters(profile, k))
    )
    allowed = [groups for groups in found if all(frame.possible(group) for group in groups)]
    return Candidates(allowed[:MOST_SEEDS], False)


def every_division(frame: Frame) -> list[Groups]:
    """All divisions whose premixes each find room, those into the fewest premixes first."""
    oils = frame.shape[0]
    numbers = range(1, min(oils, frame.problem.premixes) + 1)
    return [groups for k in numbers for groups in divisions(oils, k, frame.possible)]


def _behaviour(frame: Frame) -> Floats:
    """What a gram of each oil (oils, rows) does to the rows, each row by its own largest."""
    table = frame.coefs.max(axis=2).T if len(frame.limits) else np.zeros((frame.shape[0], 1))
    if frame.problem.slots is not None:
        table = np.column_stack([table, frame.problem.slots.pace.max(axis=1)])
    return np.asarray(table / np.maximum(np.abs(table).max(axis=0), 1e-12))


def _wishes(frame: Frame, engine: Engine, seconds: float) -> Floats:
    """Where each oil would go (oils, portions) as shares of its total, each into whichever portion it
    likes."""
    loose = Frame(frame.problem, steps=False)
    model = build(loose, tuple((s,) for s in range(frame.shape[0])), ("even scent",), None)
    if model is None:
        return _behaviour(frame)
    outcome = model.minimise(engine, "even scent", {}, relaxed=True, seconds=seconds)
    if outcome.values is None:
        return _behaviour(frame)
    doses = model.doses(outcome.values)
    return np.asarray(doses / np.maximum(doses.sum(axis=1, keepdims=True), 1e-12))


def _clusters(profile: Floats, number: int) -> Groups:
    """Oils merged, the two nearest groups first (mean distance), until ``number`` groups are left."""
    groups: list[Group] = [(s,) for s in range(len(profile))]
    distance = np.abs(profile[:, None, :] - profile[None, :, :]).sum(axis=2)
    while len(groups) > number:
        pairs = [(i, j) for i in range(len(groups)) for j in range(i + 1, len(groups))]
        i, j = min(pairs, key=lambda ij: float(distance[np.ix_(groups[ij[0]], groups[ij[1]])].mean()))
        groups = [g for k, g in enumerate(groups) if k not in (i, j)] + [tuple(sorted(groups[i] + groups[j]))]
    return tuple(sorted(groups))


def _around(groups: Groups) -> Iterator[Groups]:
    """The division itself, then every one in which a single oil has moved to another group."""
    yield groups
    for i, group in enumerate(groups):
        for oil in group if len(group) > 1 else ():
            for j in range(len(groups)):
                if j != i:
                    yield tuple(sorted(_moved(groups, oil, i, j)))


def _moved(groups: Groups, oil: int, origin: int, target: int) -> Iterator[Group]:
    for k, group in enumerate(groups):
        if k == origin:
            yield tuple(s for s in group if s != oil)
        else:
            yield tuple(sorted((*group, oil))) if k == target else group
