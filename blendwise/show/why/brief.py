"""A symptom on one screen: safety, what to do now, the likeliest causes, when to stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.why.result import Day, LikelyCause, SimplerPour, WhyResult
from blendwise.quantity.prose import theirs
from blendwise.show.blocks import Block, Line, Rows, Title
from blendwise.show.check.brief import MORE, SAFETY
from blendwise.show.numbers import counted
from blendwise.show.pair.words import day
from blendwise.show.poured import poured_lines
from blendwise.show.text import joined, sentence
from blendwise.show.why import words as say
from blendwise.show.why.blocks import deferred_blocks

CAUSES: Final = 3
"""Causes that are told; the others are counted."""
POURS: Final = 4
NOTHING: Final = "None"


def why_brief(result: WhyResult) -> list[Block]:
    """The answer on the first screen; safety stands before everything else."""
    if result.deferred is not None:
        return deferred_blocks(result.deferred, result.asked)
    symptom = result.symptom
    assert symptom is not None
    return [
        Title(f"{say.title(symptom.symptom, result.plan, result.within)}; {MORE}", say.verdict(result)),
        Line(say.SAFETY, symptom.safety),
        *poured_lines(result.past, result.units),
        Rows(
            (),
            (),
            tuple(f"{number}. {theirs(step, result.units)}" for number, step in enumerate(symptom.now, 1)),
        ),
        *_pours(result.pours),
        *cause_lines(result),
        *day_lines(result.days),
        *([] if symptom.stop.startswith(NOTHING) else [Line(say.STOP, symptom.stop)]),
        *([Line("", say.also(result.also_near))] if result.also_near else []),
        Line("", SAFETY),
    ]


def _pours(pours: Sequence[SimplerPour]) -> Iterator[Line]:
    if pours:
        more = [counted(len(pours) - POURS, "more", "more")] if len(pours) > POURS else []
        names = joined([*(pour.pour for pour in pours[:POURS]), *more])
        yield Line("", f"Pours that bear thicker batter: {names}")


def cause_lines(result: WhyResult) -> Iterator[Line]:
    """The first causes with how to tell each and what to do next time; what the plan denies is left out."""
    held = [each for each in result.causes if each.standing not in ("against", "absent")] or result.causes
    for each in held[:CAUSES]:
        tag, text = say.STANDINGS[each.standing] if result.plan else "", _cause(each, result)
        yield Line(tag, text if tag else text[:1].upper() + text[1:])
    left = len(result.causes) - len(held[:CAUSES])
    if left:
        yield Line("", f"And {counted(left, 'more cause')}")


def _cause(each: LikelyCause, result: WhyResult) -> str:
    on = say.where(each) if result.plan and each.standing == "for" else ""
    parts = [f"{each.cause}{on}", each.tell_apart, f"Next time: {each.next_time}"]
    return " ".join(sentence(theirs(part, result.units)) for part in parts)


def day_lines(days: Sequence[Day]) -> Iterator[Line]:
    """The looks still to come of the batch that was poured."""
    if days:
        yield Line("", f"Look again on {joined([day(each.on) for each in days])}")
