"""The whole notebook at once, for a page to look at: every question of the review, read once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from blendwise.answers.review.compute import Reading, review, review_rules, review_scent, review_variations
from blendwise.answers.review.over_time import Story, Weeks, stories, weeks
from blendwise.answers.review.result import ReviewResult
from blendwise.judge.rulebook.layers import Rulebook


@dataclass(frozen=True, slots=True)
class WholeReview:
    """Expected beside seen, the rules' records, the votes, each oil that any look speaks of; the colours
    through the weeks and how beliefs came about."""

    reviewed: ReviewResult
    rules: ReviewResult
    versions: ReviewResult
    oils: tuple[ReviewResult, ...]
    weeks: tuple[Weeks, ...] = ()
    stories: tuple[Story, ...] = ()


def whole_review(reading: Reading, rulebook: Rulebook, plan: str | None = None) -> WholeReview:
    """All of it; ``plan`` narrows everything but the oils to one plan or batch."""
    reviewed, oils = review(reading, rulebook, plan), tuple(_oils(reading))
    return WholeReview(
        reviewed,
        review_rules(reading, rulebook, plan),
        review_variations(reading, plan),
        oils,
        tuple(weeks(reading, [line.batch for line in reviewed.batches])),
        tuple(stories(reading, [belief for oil in oils for belief in oil.beliefs])),
    )


def _oils(reading: Reading) -> Iterator[ReviewResult]:
    for name in reading.book.scents:
        told = review_scent(reading, name)
        if told.looks:
            yield told
