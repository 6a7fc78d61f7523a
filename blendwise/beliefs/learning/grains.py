"""Whether an oil rices, by looks at the bottle on the shelf: a gate, told by the worst that was seen.

A portion without grains clears every oil in it.  One with grains speaks of an oil only where that oil was
alone in it: of several nobody knows which it was.  What another lot did is the other lot's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from blendwise.beliefs.learning.evidence import portions_of
from blendwise.beliefs.lessons import Grains
from blendwise.records.kinds.scent import RICING_WORDS, RicingWord
from blendwise.records.notes.batches import Batch

NONE: Final = RICING_WORDS[0]


def grains_of(batches: Sequence[Batch], lots: Mapping[str, str]) -> dict[str, Grains]:
    """Oil → the worst that was seen of it.  ``lots``: of the bottles on the shelf, "" where not known."""
    held: dict[str, list[tuple[RicingWord, bool]]] = {}
    for oil, word, is_cup in _looks(batches, lots):
        held.setdefault(oil, []).append((word, is_cup))
    return {oil: _worst(seen) for oil, seen in held.items()}


def _looks(batches: Sequence[Batch], lots: Mapping[str, str]) -> Iterator[tuple[str, RicingWord, bool]]:
    for portion in portions_of(batches):
        words = [seen.ricing for _, seen in portion.seen if seen.ricing]
        for oil, lot in portion.grams:
            for word in RICING_WORDS:
                if word in words and lots.get(oil) == lot and (word == NONE or len(portion.grams) == 1):
                    yield oil, word, portion.batch.is_cup


def _worst(seen: Sequence[tuple[RicingWord, bool]]) -> Grains:
    """The worst word; a batch's where any batch said it."""
    word = max((word for word, _ in seen), key=RICING_WORDS.index)
    in_a_batch = any(not is_cup for each, is_cup in seen if each == word)
    return Grains(word, "own batch" if in_a_batch else "own cup")
