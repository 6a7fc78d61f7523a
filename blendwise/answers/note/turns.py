"""What one look changes in what is believed, oil by oil: each trait's word before it and after."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from blendwise.answers.note.result import Turn
from blendwise.beliefs.changes import changes_of
from blendwise.beliefs.lessons import Learned, Lessons
from blendwise.records.book import BookFiles

MOVED: Final = 0.05
"""Standard deviations that a belief moved to be told of, though its word stays (judgement)."""


def turns(book: BookFiles, before: Lessons, after: Lessons) -> tuple[Turn, ...]:
    """Every trait of an oil of which a look moved the belief: its word, or what stands behind it."""
    return tuple(
        turn
        for oil, learned in after.oils.items()
        if oil in book.scents and learned != before.oils.get(oil)
        for turn in _turns(book, oil, before.oils.get(oil), learned)
    )


def _turns(book: BookFiles, oil: str, before: Learned | None, after: Learned | None) -> Iterator[Turn]:
    scent, scales = book.scents[oil], book.scales
    earlier = {each.trait: each for each in changes_of(scent, before, scales)}
    for now in changes_of(scent, after, scales):
        was = earlier.get(now.trait)
        mean, word = (now.prior_mean, now.was) if was is None else (was.mean, was.now)
        if word != now.now or abs(now.mean - mean) > MOVED * now.sd:
            yield Turn(oil, now.trait, word, now.now)
