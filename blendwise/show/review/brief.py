"""A review on one screen: what differed, folded; what the batches say; what to repeat and change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.review.result import ReviewResult
from blendwise.beliefs.expected import Compared
from blendwise.records.kinds.scales import Scales
from blendwise.show.blocks import Block, Line, Title
from blendwise.show.check.brief import MORE
from blendwise.show.numbers import counted
from blendwise.show.poured import poured_lines
from blendwise.show.review import words
from blendwise.show.review.blocks import review_blocks
from blendwise.show.text import joined

KINDS: Final = 4
"""Kinds of difference that are told; the others are counted."""
NAMES: Final = 1
EDITS: Final = 2
PACES: Final = 1


def review_brief(result: ReviewResult, scales: Scales, numbers: bool = False) -> list[Block]:
    """The review on the first screen; what is asked by an option of its own is told whole."""
    return review_blocks(result, scales, numbers) if result.asked != "review" else short_review(result)


def short_review(result: ReviewResult) -> list[Block]:
    """Of all batches, or of a plan's: what differed, what to take over, what to repeat and to change."""
    of = result.subject or "all batches"
    return [
        Title(f"Review of {of} on {result.today}; {MORE}", words.verdict(result)),
        *(line for batch in result.batches for line in poured_lines(batch.past, result.units, batch.batch)),
        *_differences(result.compared),
        *(Line("", f"By your batches: {words.proposal(each)}") for each in result.proposals[:EDITS]),
        *_adopting(result),
        *(Line("", words.upper(words.pace(each))) for each in result.pours[:PACES]),
        *([Line("Repeat", words.repeat(result.repeat))] if result.repeat is not None else []),
        *([Line("Change one thing", words.change(result.change))] if result.change is not None else []),
        *_aside(result),
        Line("", words.SHORT_CAUTION),
    ]


def _differences(compared: Sequence[Compared]) -> Iterator[Line]:
    """What came out otherwise, the commonest kind first, each with the first places where it did."""
    kinds: dict[str, list[Compared]] = {}
    for row in compared:
        if row.verdict not in ("as expected", ""):
            kinds.setdefault(words.differed(row), []).append(row)
    ordered = sorted(kinds.items(), key=lambda held: -len(held[1]))
    for kind, rows in ordered[:KINDS]:
        yield Line(kind, _places(rows))
    if ordered[KINDS:]:
        yield Line("", f"And {counted(len(ordered) - KINDS, 'more kind')} of difference")


def _places(rows: Sequence[Compared]) -> str:
    named = list(
        dict.fromkeys(f"{row.portion} of {row.batch} ({row.seen}, expected {row.expected})" for row in rows)
    )
    more = [counted(len(named) - NAMES, "more", "more")] if len(named) > NAMES else []
    return joined([*named[:NAMES], *more])


def _adopting(result: ReviewResult) -> Iterator[Line]:
    if result.proposals:
        left = len(result.proposals) - EDITS
        more = f"{counted(left, 'more edit')} with `--more`; " if left > 0 else ""
        yield Line("", f"{words.upper(more)}to take one: `{words.how_to_adopt(result.proposals[0])}`")


def _aside(result: ReviewResult) -> Iterator[Line]:
    if result.set_aside:
        first = result.set_aside[0]
        yield Line(
            "Set aside",
            f"{counted(len(result.set_aside), 'note')}; {first.message.rstrip('.')} ({first.file})",
        )
