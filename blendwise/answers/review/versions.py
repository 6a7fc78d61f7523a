"""Which version of a batch won, and where that is too close to call."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from blendwise.beliefs.lessons import EIGHTY
from blendwise.records.notes.batches import Batch

AS_PLANNED: Final = "as planned"


@dataclass(frozen=True, slots=True)
class Contest:
    """Votes between the versions of a plan over all its batches, most first; ``winner`` None if too close."""

    plan: str
    votes: Mapping[str, int]
    batches: int
    winner: str | None


def contests(batches: Iterable[Batch]) -> Iterator[Contest]:
    """One contest for each plan of which more than one version was poured or voted on."""
    by_plan: dict[str, list[Batch]] = {}
    for batch in batches:
        by_plan.setdefault(batch.plan, []).append(batch)
    for plan, group in by_plan.items():
        named = {name for batch in group for name in versions(batch)}
        if len(named) > 1:
            votes = _votes(group, named)
            yield Contest(plan, votes, len(group), _winner(votes))


def versions(batch: Batch) -> set[str]:
    """The versions that were poured in a batch or voted on."""
    voted = {name for look in batch.looks for name in look.votes}
    return {each or AS_PLANNED for each in batch.variations} | voted


def _votes(batches: Iterable[Batch], named: set[str]) -> dict[str, int]:
    """Votes, and a favourite counts as one vote; most first."""
    count = dict.fromkeys(sorted(named), 0)
    for batch in batches:
        for look in batch.looks:
            for name, votes in look.votes.items():
                count[name] += votes
            for name in look.favourites:
                if name in count and not look.votes:
                    count[name] += 1
    return dict(sorted(count.items(), key=lambda item: -item[1]))


def _winner(votes: Mapping[str, int]) -> str | None:
    """The first, if it leads the second by more than chance would in four cases of five.

    With votes of a and b between equals a - b has the standard deviation sqrt(a + b).
    """
    (first, most), (_, next_most) = list(votes.items())[:2]
    return first if most - next_most > EIGHTY * math.sqrt(most + next_most) else None
