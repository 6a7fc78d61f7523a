"""The law of a core: what is told as "these cannot all be" forbids alone, and without any one of it can be.

That it can be is shown by grams, which the rules and the plan's own lines are asked of one by one, as
`check` asks them; that it cannot, by splits of every kind of which each breaks something in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

import numpy as np

from blendwise.answers.assign.compute import assign_situation
from blendwise.answers.assign.ways_out import key_of
from blendwise.api import Book
from blendwise.assignment.problem.of_plan import compile_problem
from blendwise.assignment.problem.problem import Problem, Source
from blendwise.assignment.program.free_split import Freeform
from blendwise.assignment.program.solver import Engine
from blendwise.assignment.search.solve import with_bottles
from blendwise.facts.columns import Floats
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.place import RecordError
from tests.levers.doors import ON
from tests.levers.no_split import narrow_plan
from tests.strangers.books import a_book

TRIED: Final = 60
SECONDS: Final = 4.0
HOLDS: Final = 1e-5
"""Part of all scent to which a line of the plan is met."""
Key = tuple[str, str, str]


def plans(folder: Path, seeds: Sequence[int]) -> Iterator[Path]:
    """Narrow plans and those of generated books by turns, in grams and in ounces."""
    for seed in seeds:
        yield narrow_plan(folder / f"narrow {seed}", seed)
        yield from a_book(folder / f"book {seed}", 7000 + seed, 1, looks=False).plans


def faults(file: Path, seed: int) -> tuple[int, list[str]]:
    """How many members the core of a plan has (0: something fits, or no rules clash), and what is wrong."""
    book = Book(file.parents[1])
    try:
        s = book.situation(file, ON)
    except RecordError:
        return 0, []
    told = assign_situation(s, book.rulebook, seconds=SECONDS, explain=False)
    if told.status != "nothing fits" or told.conflicts_kind != "proved":
        return 0, []
    core = [(each.kind, each.name, each.subject) for each in told.conflicts]
    problem = with_bottles(compile_problem(s, book.rulebook.rules))
    form = Freeform(problem, Engine())
    members = [source for source in form.sources if key_of(source) in core]
    wrong = [f"not among what was compiled: {k}" for k in core if k not in map(key_of, members)]
    if form.possible(members):
        wrong.append("it does not forbid alone")
    for x in _anyhow(problem, np.random.default_rng(seed)):
        if not any(_broken(s, book.rulebook, problem, x, source) for source in members):
            wrong.append(f"it is met by {np.round(x, 3).tolist()}")
            break
    for gone in members:
        rest = [each for each in members if each != gone]
        met = form.witness(rest)
        if met is None:
            wrong.append(f"forbids without {key_of(gone)} too")
            continue
        wrong += [
            f"without {key_of(gone)}: {key_of(each)} is broken by its own witness {np.round(met, 3).tolist()}"
            for each in rest
            if _broken(s, book.rulebook, problem, met, each)
        ]
    return len(members), wrong


def _anyhow(problem: Problem, rng: np.random.Generator) -> Iterator[Floats]:
    """Splits that hold the oils' totals (or the cups' doses), spread, piled up and in between."""
    whole = problem.blend * problem.grams
    for turn in range(TRIED):
        parts = rng.dirichlet(np.full(problem.shape[1], (0.1, 1.0, 5.0)[turn % 3]), problem.shape[0])
        if problem.dosing == "same total":
            yield whole[:, None] * parts
            continue
        assert problem.dose is not None
        mixed = rng.dirichlet(np.full(problem.shape[0], (0.1, 1.0, 5.0)[turn % 3]), problem.shape[1]).T
        scented = (rng.random(problem.shape[1]) < 0.7) | problem.musts
        yield np.where(scented & ~problem.closed, mixed * problem.dose, 0.0)


def _broken(s: Situation, rulebook: Rulebook, problem: Problem, x: Floats, source: Source) -> bool:
    """Whether doses (scents placed, portions) break what a rule, or a line of the plan, says."""
    kind, name, subject = key_of(source)
    if kind == "rule":
        full = np.where(s.scenting.blend[:, None] > 0, 0.0, s.x)
        full[[s.scents.index(each) for each in problem.scents]] = np.where(x > HOLDS * problem.grams, x, 0.0)
        found = judge([rulebook.by_name[name]], tables(s.with_doses(full)))
        return any(each.subject_text == subject and each.status == "broken" for each in found)
    room = HOLDS * problem.grams
    at = [
        (i, p)
        for i, n in enumerate(problem.scents)
        for p, c in enumerate(problem.portions)
        if subject == f"{n} in {c}"
    ]
    match name:
        case "total":
            i = problem.scents.index(subject)
            weighed = problem.step  # a total is whole steps of the scale, so one of them off at most
            return bool(abs(x[i].sum() - problem.blend[i] * problem.grams) > room + weighed)
        case "somewhere":
            return bool(x[problem.scents.index(subject)].sum() <= 0)
        case "on hand":
            assert s.scent_records
            have = next(r.on_hand for r in s.scent_records if r.name == subject)
            return have is not None and bool(x[problem.scents.index(subject)].sum() > have.value + room)
        case "dose":
            p = problem.portions.index(subject)
            assert problem.dose is not None
            dose = x[:, p].sum()
            off = abs(dose - problem.dose[p])
            return bool((off if problem.musts[p] else min(off, dose)) > room)
        case "unscented":
            return bool(x[:, problem.portions.index(subject)].sum() > room)
        case "never" | "only":
            return bool(x[at[0]] > room)
        case "doses":
            assert problem.fixed is not None
            return bool(abs(x[at[0]] - problem.fixed[at[0]]) > room)
    raise AssertionError(f"no reading of the line {source}")
