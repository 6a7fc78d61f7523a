"""The plan's text with the split that was found, or with a lever of the answer."""

from __future__ import annotations

from pathlib import Path

from blendwise.answers.assign.result import AssignResult
from blendwise.answers.levers.writing import with_lever
from blendwise.answers.plan_text import edits as changes
from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.result import Answer
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.place import Fault, Place, RecordError


def written_plan(result: AssignResult, lever: int = 0) -> str:
    """The text of the plan with its split (0), or with one of its levers (from 1) and what split that gives.

    Where nothing fits, 0 is the first lever; past a harm nothing is changed that was not asked for.
    RecordError where there is neither; the harm of a version alone is told and does not stop the plan's own.
    """
    levers = result.levers or (result.check.levers if result.check else ())
    if not lever and result.check is not None and result.check.not_to_be_made:
        raise _not_written(result)
    if not lever and not result.portions and not any(each.plan for each in levers):
        raise _nothing_fits(result, bool(levers))
    if lever or not result.portions:
        return with_lever(levers, result.file, lever or 1)
    if result.plan_text:
        return result.plan_text
    there = "Its text does not lend itself to a split; write the grams by hand."
    raise RecordError([Fault(Place(Path(result.file), 1, 1), "There is no split to write.", there)])


def _nothing_fits(result: AssignResult, by_hand: bool) -> RecordError:
    """``by_hand``: a way out is told that does not lend itself to being written."""
    what = "Nothing fits, so there is no split to write, and no change was found that helps."
    how = "Lower the doses that the plan itself gives, or the load, and ask again."
    if by_hand:
        what = "Nothing fits, so there is no split to write, and the way out cannot be written for you."
        how = "Ask without --write, change the plan by hand as it says, and ask again."
    return RecordError([Fault(Place(Path(result.file), 1, 1), what, how)])


def _not_written(result: AssignResult) -> RecordError:
    """Grams are not written past a harm: they would be weighed."""
    what = "Past a stop there is no split to write."
    how = "Mend what `check` tells first: `--lever 1` writes what would, where there is such a change."
    return RecordError([Fault(Place(Path(result.file), 1, 1), what, how)])


def plan_with_split(s: Situation, problem: Problem, answer: Answer) -> str:
    """The plan's text with the found grams as its doses; "" where its text does not lend itself to that."""
    if s.plan.doc is None:
        return ""
    index = {name: i for i, name in enumerate(problem.scents)}
    grams = {p: {n: float(answer.grams[i, k]) for n, i in index.items()} for k, p in enumerate(s.portions)}
    mixes = [[problem.scents[i] for i in mix.scents] for mix in answer.premixes if len(mix.scents) > 1]
    try:
        mixed = {name for mix in mixes for name in mix}
        split = changes.with_split(s.plan.doc, grams, s.book.usual.units, mixed)
        return changes.mixed_together(split, mixes).text
    except RecordError:
        return ""
