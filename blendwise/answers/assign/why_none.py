"""Why a cup takes none of an oil: the least is forced, and what comes of it is the reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from blendwise.answers.assign.beside import change
from blendwise.answers.assign.portions import poured, pours_of
from blendwise.answers.assign.reasons import conflict_of
from blendwise.answers.assign.result import WhyNone
from blendwise.assignment.explain.forced import Forced, forced
from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.search.scented import Placed, opened
from blendwise.assignment.search.solve import Ask
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.place import Fault, Place, RecordError


def cells_asked(s: Situation, asked: Sequence[str]) -> list[tuple[str, str]]:
    """The (oil, cup) that each word names, oil "" where it is a cup alone; RecordError where none is."""
    known = {cup: ("", cup) for cup in s.portions}
    known |= {f"{oil} in {cup}": (oil, cup) for oil in s.scents for cup in s.portions}
    strange = [word for word in asked if word not in known]
    if strange:
        oil = f'"{s.scents[0]} in {s.portions[0]}"' if s.scents else "its oils"
        there = f"Write a cup ({', '.join(s.portions)}) or an oil in one, such as {oil}."
        raise RecordError(
            [Fault(Place(Path("--why"), 1, 1), f'"{strange[0]}" is no cup of this plan.', there)]
        )
    return [known[word] for word in dict.fromkeys(asked)]


def whys(
    s: Situation, placed: Placed, asked: Sequence[tuple[str, str]], ask: Ask, rulebook: Rulebook
) -> Iterator[WhyNone]:
    """An answer for each that was asked and takes none; and for each that takes some, that it does."""
    best, problem = placed.result.best, placed.problem
    if best is None:
        return
    for oil, cup in asked:
        p = problem.portions.index(cup)
        i = problem.scents.index(oil) if oil in problem.scents else None
        if oil and i is None:
            continue
        takes = float(best.grams[slice(None) if i is None else i, p].sum())
        told = WhyNone(cup, oil, takes)
        yield told if takes > 0 else _why(s, placed, told, ask, rulebook, p, i)


def _why(
    s: Situation, placed: Placed, told: WhyNone, ask: Ask, rulebook: Rulebook, p: int, i: int | None
) -> WhyNone:
    problem = opened(placed.problem, told.portion)
    found = forced(problem, placed.result, ask, p, i, _least(problem, p, i))
    folder = s.book.folder
    if found.result is None:
        because = tuple(conflict_of(source, folder, rulebook) for source in found.core)
        return replace(told, because=because, obstacle=found.obstacle)
    return _priced(s, placed, told, found)


def _priced(s: Situation, placed: Placed, told: WhyNone, found: Forced) -> WhyNone:
    """It could take some: with what that costs, and the split in which it does."""
    assert found.result is not None
    best, other = placed.result.best, found.result.best
    assert best is not None
    assert other is not None
    worse = None if found.worse is None else change(placed.problem, found.worse, best, other)
    pours = pours_of(poured(s, placed.problem, other), placed.problem, other)
    return replace(told, worsens=worse, portions=pours)


def _least(problem: Problem, p: int, i: int | None) -> float:
    """The least that is forced: what is smelled of a cup's scent, or can be weighed of one oil."""
    least = problem.min_steps * problem.step
    return max(least, float(problem.least[p])) if i is None and problem.least is not None else least
