"""An independent judge of assignments, and every weighable answer of a small problem.

Written from the problem's definition alone: nothing here comes from the solver's own models.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from blendwise.assignment.problem.problem import Alternative, EitherOr, Problem, Row
from blendwise.facts.columns import Bools, Floats

HOLDS = 3e-9
WEIGHT = {"hint": 0.1, "caution": 1.0, "conflict": 10.0, "stop": 100.0}
BANDS = {
    "fewest cautions": (0.0, False),
    "lightest cautions": (0.02, False),
    "true to blend": (0.05, True),
    "few weighings": (0.0, False),
    "even scent": (0.05, True),
    "quick oils in little batter": (0.0, False),
    "only where it browns": (0.02, True),
    "wide margin": (0.02, False),
}


@dataclass
class Answers:
    """Many answers to one division: ``doses`` (answers, premixes, portions) and ``grams`` (answers,
    scents, portions)."""

    groups: tuple[tuple[int, ...], ...]
    doses: Floats
    grams: Floats


def steps_of(problem: Problem) -> list[int]:
    """Whole steps of each scent in *same total*: floors, then the largest remainders, first come first
    served."""
    exact = [share * round(problem.total / problem.step) for share in problem.blend]
    steps = [int(value + 1e-9) for value in exact]
    order = sorted(range(len(exact)), key=lambda s: (-(round(exact[s] - steps[s], 9)), s))
    for s in order[: round(problem.total / problem.step) - sum(steps)]:
        steps[s] += 1
    return steps


def partitions(oils: list[int]) -> Iterator[list[tuple[int, ...]]]:
    """All set partitions."""
    if not oils:
        yield []
        return
    first, rest = oils[0], oils[1:]
    for size in range(len(rest) + 1):
        for others in combinations(rest, size):
            left = [oil for oil in rest if oil not in others]
            for tail in partitions(left):
                yield [(first, *others), *tail]


def compositions(total: int, cells: int, least: int) -> list[tuple[int, ...]]:
    """Ways to put ``total`` steps into cells, each empty or at least ``least``."""
    if cells == 1:
        return [(total,)] if total == 0 or total >= least else []
    found = []
    for first in [0, *range(least, total + 1)]:
        found += [(first, *tail) for tail in compositions(total - first, cells - 1, least)]
    return found


def every_answer(problem: Problem, free: bool = False) -> Iterator[Answers]:
    """Every weighable answer that keeps the totals, premix by premix."""
    oils = len(problem.scents)
    for groups in partitions(list(range(oils))):
        if (free and len(groups) < oils) or (not free and len(groups) > problem.premixes):
            continue
        same_total = problem.dosing == "same total"
        units = _same_total(problem, groups) if same_total else _same_dose(problem, groups)
        if not free:
            units = units[((units > 0).sum(axis=1) <= problem.per_portion).all(axis=1)]
        if len(units):
            doses = units * problem.step
            yield Answers(tuple(groups), doses, np.einsum("js,ajp->asp", _shares(problem, groups), doses))


def _least(problem: Problem) -> int:
    return problem.min_steps if problem.step_stated else 1


def _same_total(problem: Problem, groups: list[tuple[int, ...]]) -> Floats:
    steps, portions = steps_of(problem), len(problem.portions)
    if problem.step_stated and min(steps) < problem.min_steps:
        return np.zeros((0, len(groups), portions))
    ways = [compositions(sum(steps[s] for s in group), portions, _least(problem)) for group in groups]
    return np.array(list(product(*ways)), dtype=float).reshape(-1, len(groups), portions)


def _same_dose(problem: Problem, groups: list[tuple[int, ...]]) -> Floats:
    assert problem.dose is not None
    menus = []
    for p, dose in enumerate(problem.dose):
        must = _open(problem, p) if problem.must_scent is None else problem.must_scent[p]
        closed = problem.unscented is not None and problem.unscented[p]
        full = compositions(int(dose / problem.step + 0.5), len(groups), _least(problem))
        menus.append([] if closed else full)
        if closed or not must:
            menus[-1] = [*menus[-1], (0,) * len(groups)]
    units = np.array(list(product(*menus)), dtype=float).reshape(-1, len(problem.portions), len(groups))
    units = units.transpose(0, 2, 1)
    least = _least(problem)
    need = [least / min(problem.blend[s] / sum(problem.blend[o] for o in g) for s in g) for g in groups]
    return np.asarray(units[(units.sum(axis=2) >= np.ceil(np.array(need) - 1e-7)).all(axis=1)])


def _open(problem: Problem, portion: int) -> bool:
    """Whether any scent may go into the portion."""
    shut = np.zeros(len(problem.scents), dtype=np.bool_)
    if problem.empty is not None:
        shut |= problem.empty[:, portion]
    if problem.fixed is not None:
        shut |= problem.fixed[:, portion] == 0
    return not shut.all()


def _shares(problem: Problem, groups: list[tuple[int, ...]]) -> Floats:
    amounts = np.array(steps_of(problem), float) if problem.dosing == "same total" else problem.blend
    shares = np.zeros((len(groups), len(problem.scents)))
    for j, group in enumerate(groups):
        for s in group:
            shares[j, s] = amounts[s] / sum(amounts[o] for o in group)
    return shares


def row_value(row: Row, grams: Floats) -> Floats:
    """How far (answers,) each answer is over the row, as a share of its scale."""
    strict = 1e-6 if row.strict else 0.0
    return np.asarray(((grams * row.a).sum(axis=(1, 2)) + row.a0) / row.scale + strict)


def alternative_holds(alternative: Alternative, grams: Floats) -> Bools:
    """Where (answers,) an alternative holds."""
    holds = np.ones(len(grams), dtype=np.bool_)
    for row in alternative.rows:
        holds &= row_value(row, grams) <= HOLDS
    for s, p in alternative.empty:
        holds &= grams[:, s, p] == 0
    for p in alternative.unscented:
        holds &= grams[:, :, p].sum(axis=1) == 0
    return holds


def late_portions(problem: Problem, grams: Floats) -> Floats:
    """Number (answers,) of portions which no slot left to them bears."""
    slots = problem.slots
    if slots is None:
        return np.zeros(len(grams))
    pace = 1.0 + (slots.pace * grams).sum(axis=1)
    caps = slots.caps * (1.0 + HOLDS)
    if slots.order is not None:
        return np.asarray((pace[:, list(slots.order)] > caps).sum(axis=1).astype(float))
    late = np.zeros(len(grams))
    for a, factors in enumerate(np.sort(pace, axis=1)):
        kept = 0
        for cap in caps:
            kept += kept < len(factors) and factors[kept] <= cap
        late[a] = len(factors) - kept
    return late


def sound(problem: Problem, grams: Floats) -> Bools:
    """Which answers (answers,) keep every hard item."""
    holds = np.ones(len(grams), dtype=np.bool_)
    for row in problem.rows:
        if row.level in ("stop", "conflict"):
            holds &= row_value(row, grams) <= HOLDS
    for either in problem.either:
        if either.level in ("stop", "conflict"):
            holds &= np.any([alternative_holds(a, grams) for a in either.alternatives], axis=0)
    if problem.slots is not None and problem.slots.level in ("stop", "conflict"):
        holds &= late_portions(problem, grams) == 0
    return holds & _cells(problem, grams)


def _cells(problem: Problem, grams: Floats) -> Bools:
    holds = np.ones(len(grams), dtype=np.bool_)
    steps = np.array(steps_of(problem), float) * problem.step
    for s, p in np.ndindex(grams.shape[1:]):
        dose = grams[:, s, p]
        if problem.lower is not None and not np.isnan(problem.lower[s, p]):
            holds &= dose >= problem.lower[s, p] - 1e-6
        if problem.upper is not None and not np.isnan(problem.upper[s, p]):
            holds &= dose <= problem.upper[s, p] + 1e-6
        if problem.fixed is not None and not np.isnan(problem.fixed[s, p]):
            off = abs(steps[s] - problem.blend[s] * problem.total) if problem.dosing == "same total" else 0.0
            room = problem.step / 2 + off + 1e-6 if problem.fixed[s, p] > 0 else 0.0
            holds &= np.abs(dose - problem.fixed[s, p]) <= room
        closed = problem.unscented is not None and problem.unscented[p]
        if closed or (problem.empty is not None and problem.empty[s, p]):
            holds &= dose == 0
    if problem.must_scent is not None and problem.dosing == "same total":
        for p in np.flatnonzero(problem.must_scent & ~problem.closed):
            holds &= grams[:, :, p].sum(axis=1) > 0
    return holds


def values(problem: Problem, answers: Answers) -> dict[str, Floats]:
    """Every measure of every answer (answers,)."""
    grams, doses = answers.grams, answers.doses
    per_portion = grams.sum(axis=1)
    blend = problem.blend
    target = problem.dose
    if problem.dosing == "same total":
        blend = np.array(steps_of(problem)) / sum(steps_of(problem))
        oils = np.where(problem.closed, 0.0, problem.portion_oils)
        target = oils / oils.sum() * sum(steps_of(problem)) * problem.step
    else:
        assert target is not None
        target = np.where(problem.closed, 0.0, np.floor(target / problem.step + 0.5) * problem.step)
    off = np.abs(grams - blend[None, :, None] * per_portion[:, None, :]).sum(axis=(1, 2)) / 2
    weighings = np.zeros(len(doses))
    for j, group in enumerate(answers.groups):
        given = (doses[:, j] > 0).sum(axis=1)
        weighings += given if len(group) == 1 else len(group) + np.where(given > 1, given, 0)
    brown = np.zeros(len(doses))
    if problem.browning is not None and problem.light is not None:
        brown = grams[:, problem.browning][:, :, problem.light].sum(axis=(1, 2))
    quick = np.zeros(len(doses)) if problem.haste is None else ((grams > 0) * problem.haste).sum(axis=(1, 2))
    return {
        "fewest cautions": _cautions(problem, answers),
        "lightest cautions": _excess(problem, grams),
        "true to blend": off,
        "few weighings": weighings,
        "even scent": np.maximum(target - per_portion, 0).sum(axis=1),
        "quick oils in little batter": quick,
        "only where it browns": brown,
        "wide margin": -_margin(problem, grams),
    }


def _cautions(problem: Problem, answers: Answers) -> Floats:
    grams, count = answers.grams, np.zeros(len(answers.grams))
    items: list[Row | EitherOr] = [*problem.rows, *problem.either]
    for item in items:
        weight = WEIGHT[item.level] if item.weight is None else item.weight
        if item.level in ("hint", "caution"):
            count += weight * ~_holds(item, grams)
        if item.uncertain is not None:
            count += weight * (grams[:, item.uncertain] > 0).any(axis=1)
    if problem.slots is not None and problem.slots.level in ("hint", "caution"):
        count += WEIGHT[problem.slots.level] * late_portions(problem, grams)
    if not problem.step_stated:
        small = (answers.doses > 0) & (answers.doses < problem.min_steps * problem.step - 1e-9)
        count += small.sum(axis=(1, 2))
        if problem.dosing == "same total":
            parts = [s for group in answers.groups if len(group) > 1 for s in group]
            count += sum(steps_of(problem)[s] < problem.min_steps for s in parts)
    return count


def _holds(item: Row | EitherOr, grams: Floats) -> Bools:
    if isinstance(item, Row):
        return row_value(item, grams) <= HOLDS
    return np.asarray(np.any([alternative_holds(a, grams) for a in item.alternatives], axis=0))


def _excess(problem: Problem, grams: Floats) -> Floats:
    total = np.zeros(len(grams))
    for row in problem.rows:
        if row.level in ("hint", "caution"):
            weight = WEIGHT[row.level] if row.weight is None else row.weight
            total += weight * np.maximum(row_value(row, grams), 0.0)
    return total


def _margin(problem: Problem, grams: Floats) -> Floats:
    least = np.ones(len(grams))
    for row in problem.rows:
        some = row.a[:, ~problem.closed]
        moves = np.ptp(some, axis=1) if problem.dosing == "same total" else np.abs(some).max(axis=1)
        if row.level in ("stop", "conflict") and (moves / row.scale > 1e-9).any():
            least = np.minimum(least, -row_value(row, grams))
    return least


def best(problem: Problem, measures: list[str], free: bool = False) -> dict[str, float] | None:
    """The best value of each measure in turn, within the bands of those before; None where nothing is
    possible."""
    tables = []
    for answers in every_answer(problem, free):
        kept = sound(problem, answers.grams)
        if kept.any():
            some = Answers(answers.groups, answers.doses[kept], answers.grams[kept])
            tables.append(values(problem, some))
    if not tables:
        return None
    table = {measure: np.concatenate([t[measure] for t in tables]) for measure in measures}
    total = problem.total if problem.dosing == "same total" else float(_dose_total(problem))
    found, alive = {}, np.ones(len(next(iter(table.values()))), dtype=np.bool_)
    for measure in measures:
        found[measure] = float(table[measure][alive].min())
        share, of_total = BANDS[measure]
        room = share * (total if of_total else 1.0)
        if measure == "true to blend":  # far off the blend anyway: a third of it smells no different
            room = max(room, found[measure] / 3)
        alive &= table[measure] <= found[measure] + room + 1e-7
    return found


def _dose_total(problem: Problem) -> float:
    assert problem.dose is not None
    doses = np.where(problem.closed, 0.0, problem.dose)
    return float((np.floor(doses / problem.step + 0.5) * problem.step).sum())
