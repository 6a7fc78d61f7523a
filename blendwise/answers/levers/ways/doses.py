"""Ways with the doses: elsewhere, less, out; in whole steps of the scale, rounded to the safe side."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product
from typing import Any, Final

import numpy as np

from blendwise.answers.levers.case import Case, Grams, Way, mass_text, names, own_step, whole_steps
from blendwise.answers.levers.costs import LEAST_DOSE, OF_AN_OIL
from blendwise.answers.levers.result import Details
from blendwise.answers.plan_text import edits
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.reading.document import Document
from blendwise.records.writing.edit import remove_field

CUTS: Final = 256
MOST_SCENTS: Final = 3
MOST_VALUES: Final = 9

Cells = Sequence[tuple[int, int]]


def with_doses(doc: Document, s: Situation, grams: Grams) -> Document:
    """The plan (or the version that is looked at) with these doses: (scent, portion) → g."""
    path = ("doses",) if s.variation is None else ("variations", s.variation, "doses")
    cells = {(*path, s.portions[p], s.scents[i]): mass_text(mass, s) for (i, p), mass in grams.items()}
    return edits.set_all(doc, cells)


def dose_way(
    name: str,
    s: Situation,
    values: Sequence[Any],
    grams: Callable[[Any], Grams],
    details: Callable[[Any], Details],
    **more: Any,
) -> Way:
    """A way that changes doses alone."""
    return Way(
        name, values, lambda doc, value: with_doses(doc, s, grams(value)), details, doses=grams, **more
    )


def _open(s: Situation, i: int, closed: Sequence[int]) -> bool:
    """Whether a scent is spread by itself over portions that are not closed to it."""
    free = s.scenting.allowed[i] & np.isnan(s.scenting.written[i])
    return bool(s.scenting.blend[i] > 0 and any(free[p] for p in range(len(free)) if p not in closed))


def groups_of(case: Case) -> list[tuple[tuple[int, ...], Cells]]:
    """Which oils might go elsewhere, and out of which portions: a group a choice, at most a few."""
    s = case.s
    if case.first.looks_at == "dose":
        return [(tuple(dict.fromkeys(i for i, _ in case.cells)), case.cells)]
    if case.first.looks_at == "pair":
        others = [(s.scents.index(each.subject[1]), s.portions.index(each.subject[2])) for each in case.found]
        return [(tuple(dict.fromkeys(i for i, _ in cells)), cells) for cells in (case.cells, others)]
    where = case.portions
    single = [((i,), [(i, p) for p in where if s.x[i, p] > 0]) for i in case.scents[:MOST_SCENTS]]
    return [(scents, cells) for scents, cells in single if cells]


def _told(s: Situation, cells: Cells) -> dict[str, str | float]:
    return {
        "scent": names(s.scents, dict.fromkeys(i for i, _ in cells)),
        "portion": names(s.portions, dict.fromkeys(p for _, p in cells)),
    }


def spread(case: Case) -> Iterator[Way]:
    """An oil out of the portions spoken of; what it held goes to the others."""
    s = case.s
    for scents, cells in groups_of(case):
        if all(_elsewhere(s, i, [p for j, p in cells if j == i]) for i in scents):
            yield _spread(s, cells)


def _spread(s: Situation, cells: Cells) -> Way:
    told = _told(s, cells) | {"same dose": "" if s.scenting.same_total else "yes"}
    return dose_way("spread", s, (None,), lambda _: _less(s, cells, CUTS), lambda _: told)


def _elsewhere(s: Situation, i: int, closed: Sequence[int]) -> bool:
    """Whether what an oil holds in some portions has somewhere else to go, or need not."""
    held = any(s.x[i, p] > 0 for p in range(len(s.portions)) if p not in closed)
    return not s.scenting.same_total or held or _open(s, i, closed)


def dose_out(case: Case) -> Iterator[Way]:
    """The maker's own dose that the plan itself forbids, taken out."""
    s, cells = case.s, case.cells
    if cells:
        told = _told(s, cells)
        yield dose_way("dose out", s, (None,), lambda _: dict.fromkeys(cells, 0.0), lambda _: told)


def dose_open(case: Case) -> Iterator[Way]:
    """The maker's own doses of an oil left open, so that they are found: those spoken of, or all of it."""
    s = case.s
    own = _owned(s)
    some = [[cell for cell in own if cell in case.cells], [cell for cell in own if cell[0] in case.scents]]
    for cells in some if some[0] != some[1] else some[1:]:
        if cells:
            yield _opened(s, cells, "dose open")


def doses_open(case: Case) -> Iterator[Way]:
    """All of the maker's own doses left open, where they are of more than one oil."""
    own = _owned(case.s)
    if len({i for i, _ in own}) > 1:
        yield _opened(case.s, own, "doses open")


def _owned(s: Situation) -> Cells:
    return [(i, p) for p, i in product(range(len(s.portions)), range(len(s.scents))) if _own(s, i, p)]


def _own(s: Situation, i: int, p: int) -> bool:
    return s.scents[i] in s.plan.doses.get(s.portions[p], {}) and bool(s.scenting.blend[i] > 0)


def _opened(s: Situation, cells: Cells, name: str) -> Way:
    def edit(doc: Document, _: None) -> Document:
        for i, p in cells:
            gone: tuple[str, ...] = ("doses", s.portions[p], s.scents[i])
            while len(gone) > 1 and len(_at(doc, gone[:-1])) == 1:
                gone = gone[:-1]
            doc = remove_field(doc, gone)
        return doc

    return Way(name, (None,), edit, lambda _: _told(s, cells))


def _at(doc: Document, path: Sequence[str]) -> dict[str, Any]:
    found = doc.root.plain
    for step in path:
        found = found[step]
    return dict(found)


def move(case: Case) -> Iterator[Way]:
    """An oil out of the portions spoken of and all of it into one other, the largest first."""
    s = case.s
    for scents, cells in groups_of(case):
        if len(scents) == 1:
            i, leaves = scents[0], [p for _, p in cells]
            takers = [p for p in range(len(s.portions)) if p not in leaves and s.scenting.allowed[i, p]]
            takers.sort(key=lambda p: -float(s.split.oils[p]))
            if takers:
                yield _move(s, i, leaves, takers[:MOST_VALUES])


def _move(s: Situation, i: int, leaves: Sequence[int], takers: Sequence[int]) -> Way:
    moved = float(s.x[i, list(leaves)].sum())

    def then(q: int) -> float:
        return whole_steps(float(s.x[i, q]) + moved, own_step(s))

    return dose_way(
        "move",
        s,
        tuple(takers),
        lambda q: {**{(i, p): 0.0 for p in leaves}, (i, q): then(q)},
        lambda q: {
            "scent": s.scents[i],
            "portion": names(s.portions, leaves),
            "to": s.portions[q],
            "grams": then(q),
        },
    )


def less_here(case: Case) -> Iterator[Way]:
    """Less in the portions spoken of, of the oils spoken of or of all in them; in steps of the scale.

    What is not open to spread by itself goes to the oil's other portions by their size.
    """
    s = case.s
    if not case.alone:
        return
    whole = case.first.looks_at == "portion"
    choices = [list(cells) for _, cells in groups_of(case)] if not whole or len(case.scents) > 1 else []
    if whole:
        choices.insert(0, [(i, p) for p in case.portions for i in range(len(s.scents)) if s.x[i, p] > 0])
    yield from (_less_way(s, cells) for cells in choices if cells)


def _less_way(s: Situation, cells: Cells) -> Way:
    return dose_way(
        "less here",
        s,
        range(1, _last_cut(s, cells)),
        lambda k: _less(s, cells, k),
        lambda k: _less_told(s, cells, k),
        ordered=True,
        cut=lambda k: max(_bare(s, cells, 1 - k / CUTS), _lost(s, _less(s, cells, k))),
    )


def _last_cut(s: Situation, cells: Cells) -> int:
    """The first cut at which nothing is left of one of the doses: to put none there is another way."""
    least = min(float(s.x[cell]) for cell in cells)
    return max(1, int(CUTS * (1 - own_step(s) / least))) if least > 0 else 1


def _less(s: Situation, cells: Cells, k: int) -> Grams:
    """The doses at a cut of ``k`` parts of ``CUTS``, and what the oils' other portions take over."""
    step = own_step(s)
    new = {cell: whole_steps(float(s.x[cell]) * (1 - k / CUTS), step) for cell in cells}
    if not s.scenting.same_total:
        return new
    for i in dict.fromkeys(i for i, _ in cells):
        here = [p for j, p in cells if j == i]
        others = [p for p in range(len(s.portions)) if p not in here and s.x[i, p] > 0]
        if others and not _open(s, i, here):
            left = float(sum(s.x[i, p] - new[i, p] for p in here))
            oils = s.split.oils[others]
            more = left * oils / oils.sum()
            new |= {
                (i, p): whole_steps(float(s.x[i, p] + add), step) for p, add in zip(others, more, strict=True)
            }
    return new


def _less_told(s: Situation, cells: Cells, k: int) -> Details:
    new, told = _less(s, cells, k), _told(s, cells)
    if len(cells) == 1:
        return told | {"grams": new[cells[0]], "instead of": float(s.x[cells[0]])}
    share = sum(new[cell] for cell in cells) / float(sum(s.x[cell] for cell in cells))
    return told | {"share": share, "taken up": "yes" if _taken_up(s, cells) else ""}


def _taken_up(s: Situation, cells: Cells) -> bool:
    """Whether other portions take over what these hold less, of every oil."""
    here = {i: [p for j, p in cells if j == i] for i, _ in cells}
    return s.scenting.same_total and all(_elsewhere(s, i, closed) for i, closed in here.items())


def _lost(s: Situation, new: Grams) -> float:
    """The part of all the scent that goes, or of the oil that loses most, which counts `OF_AN_OIL`."""
    after = s.x.copy()
    for cell, grams in new.items():
        after[cell] = grams
    oils = 1 - after.sum(axis=1) / np.maximum(s.x.sum(axis=1), np.finfo(float).tiny)
    return float(max(1 - after.sum() / s.x.sum(), OF_AN_OIL * oils.max(initial=0.0)))


def _bare(s: Situation, cells: Cells, share: float) -> float:
    """1 where a portion would fall below 2 % of its oils that stood above it, else 0."""
    after = s.x.copy()
    for cell in cells:
        after[cell] *= share
    dose, before = (x.sum(axis=0) / s.split.oils for x in (after, s.x))
    return float(((dose < LEAST_DOSE) & (before >= LEAST_DOSE)).any())
