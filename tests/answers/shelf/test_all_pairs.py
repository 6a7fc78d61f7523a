"""Every two oils, once each, in blocks."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blendwise.answers.pair.question import ask
from blendwise.answers.shelf.all_pairs import _pairs, all_pairs, pairs_at
from blendwise.answers.shelf.compute import WORDS
from blendwise.api import Book
from blendwise.records.as_of import AsOf
from tests.answers.pair.conftest import TODAY


@settings(deadline=None)
@given(st.integers(0, 60), st.integers(1, 700))
def test_every_two_places_once_whatever_the_block(count: int, at_a_time: int) -> None:
    """The blocks hold exactly the pairs of the shelf, in order, none twice."""
    found = [
        (int(a), int(b)) for one, other in _pairs(count, at_a_time) for a, b in zip(one, other, strict=True)
    ]
    assert list(combinations(range(count), 2)) == found


@pytest.mark.parametrize("count", [3_000, 50_000])
def test_the_roots_hold_on_a_large_shelf(count: int) -> None:
    """Far out, where a square root loses digits, the pairs at the ends of rows are still the right ones."""
    rows = np.array([0, 1, count // 2, count - 3, count - 2], dtype=np.int64)
    first = rows * (2 * count - rows - 1) // 2
    last = first + (count - 2 - rows)
    for numbers, others in ((first, rows + 1), (last, np.full(5, count - 1))):
        one, other = pairs_at(numbers, count)
        assert rows.tolist() == one.tolist()
        assert others.tolist() == other.tolist()


def test_blocks_do_not_change_the_answer(book: Book) -> None:
    """One block or many: the same words, rules and loads."""
    asked = ask(book.files, ["lime"], today=TODAY)
    whole = next(iter(all_pairs(asked, book.rulebook, 1 << 20)))
    parts = list(all_pairs(asked, book.rulebook, 100))
    assert 780 == len(whole) == sum(map(len, parts))
    for name in ("one", "other", "word", "rule", "most", "stop"):
        assert np.array_equal(getattr(whole, name), np.concatenate([getattr(part, name) for part in parts]))


def test_the_door_gives_frames_in_words(book: Book) -> None:
    """A row a pair, by name, with the rule that weighs most and the greatest load."""
    frame = next(iter(book.pairs(on=AsOf(TODAY)))).to_frame()
    assert ["one", "other", "word", "rule", "most", "stopped_by"] == list(frame.columns)
    assert set(frame.word) <= set(WORDS)
    row = frame[(frame.one == "tonka-milk") & (frame.other == "lime")].iloc[0]
    assert ("where it may brown", "browning-shows-in-light") == (row.word, row.rule)
    assert 0 < row.most < 0.04
