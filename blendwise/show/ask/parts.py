"""The lines that answer a question by a split, a review or an oil."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from blendwise.answers.ask.result import AskResult, Resized
from blendwise.show.ask import words as say
from blendwise.show.ask.own_notes import colours_seen
from blendwise.show.blocks import Block, Line, Rows, Title
from blendwise.show.check.brief import SAFETY
from blendwise.show.numbers import grams
from blendwise.show.text import joined, sentence

if TYPE_CHECKING:
    from blendwise.answers.assign.result import AssignResult
    from blendwise.answers.review.result import ReviewResult
    from blendwise.answers.scents.result import ScentResult

Lines = Iterator[Line]


def of_assign(result: AskResult, found: AssignResult) -> Lines:
    """The grams of each cup in a line, after the verdict; at another size what that size takes."""
    from blendwise.show.assign.brief import assign_brief

    if result.resized is not None:
        yield from _bigger(result.resized, result)
    blocks = assign_brief(found)
    rows = [block for block in blocks if isinstance(block, Rows)]
    told = [block for block in blocks if block not in rows]
    lines = [line for line in _lines([*told[:1], *rows, *told[1:]]) if line.text != SAFETY]
    yield from _as_planned(result)
    yield from (lines if result.resized is None or found.portions else lines[1:])


def _as_planned(result: AskResult) -> Lines:
    """The grams as the plan stands, where it has no split that fits."""
    told = [
        f"{cup} {joined([_weighed(oil, mass, result) for oil, mass in oils.items() if mass])}"
        for cup, oils in result.planned.items()
        if any(oils.values())
    ]
    if told:
        yield Line("", f"As planned, which does not fit: {'; '.join(told)}")


def _weighed(oil: str, mass: float, result: AskResult) -> str:
    return f"{oil} {grams(on_scale(mass, result.scale), result.units)}"


def on_scale(mass: float, step: float | None) -> float:
    """A mass as the scale shows it: its nearest step, the least one for less."""
    return max(round(mass / step), 1) * step if step else mass


MUCH = 1.5
"""How many times as big a batch is told to hold more heat and to take longer: judgement."""


def _bigger(size: Resized, result: AskResult) -> Lines:
    """Oils, lye and water at that size, and the bottles that are too small for it."""
    units = result.units
    oils, lye, water = (grams(each, units) for each in (size.oils, size.lye, size.water))
    yield Line("", f"× {size.times:.3g} by weight: {oils} of oils, {lye} of lye, {water} of water")
    if size.times > MUCH:
        yield Line("", say.HOLDS_HEAT)
    for name, (needed, held) in size.short.items():
        more = grams(needed - held, units)
        yield Line(
            "", f"It takes {grams(needed, units)} of {name} and you have {grams(held, units)}: {more} more"
        )


def of_review(result: AskResult, found: ReviewResult) -> Lines:
    """What to change, by what was seen, before what to repeat and what differed."""
    from blendwise.show.review.brief import short_review

    lines = list(_lines(short_review(found)))
    first = [line for line in lines if line.tag == "Change one thing"]
    good = [line for line in lines if line.tag == "Repeat"]
    seen = list(colours_seen(result.looks))
    yield from [*first, *seen, *good, *(line for line in lines[:-1] if line not in (*first, *good))]


def of_scent(result: AskResult, found: ScentResult) -> Lines:
    """The oil in short."""
    from blendwise.show.scents.brief import scent_brief

    return _lines(scent_brief(found))


def _lines(blocks: Sequence[Block]) -> Iterator[Line]:
    """A short answer in lines: its verdict, then each line, a table of grams in one."""
    for block in blocks:
        if isinstance(block, Title):
            yield Line("", block.verdict)
        elif isinstance(block, Line):
            yield block
        elif isinstance(block, Rows):
            yield Line("", " ".join(sentence(line) for line in block.lines))
