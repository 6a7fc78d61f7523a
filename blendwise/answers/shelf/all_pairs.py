"""Every two oils of a book, judged in blocks: arrays for those who want to look along the whole shelf."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from blendwise.answers.pair.question import Question
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blend_judge import Bench
from blendwise.answers.shelf.blends import Blends
from blendwise.answers.shelf.compute import WORDS
from blendwise.facts.columns import Floats
from blendwise.judge.findings.finding import LEVELS
from blendwise.judge.rulebook.layers import Rulebook

if TYPE_CHECKING:
    import pandas as pd

AT_A_TIME: Final = 1 << 15
CAUTION: Final = LEVELS.index("caution")
Places = NDArray[np.int32]


@dataclass(frozen=True, eq=False)
class PairBlock:
    """Some of the pairs of a shelf, arrays of shape (pairs,).

    ``one``, ``other``: places in ``names``; ``word``: place in ``WORDS`` (goes … does not go); ``rule``:
    place in ``rules`` of the rule that weighs most, −1 for none; ``most``: the greatest load under all stops
    and conflicts, a fraction of oils, ∞ where none bounds it; ``stop``: the rule that does, −1 for none.
    """

    names: tuple[str, ...]
    rules: tuple[str, ...]
    one: Places
    other: Places
    word: NDArray[np.int8]
    rule: NDArray[np.int16]
    most: Floats
    stop: NDArray[np.int16]

    def __len__(self) -> int:
        return len(self.one)

    def to_frame(self) -> pd.DataFrame:
        """A row a pair, in words."""
        import pandas as pd

        names, rules = np.array(self.names), np.array([*self.rules, ""])
        return pd.DataFrame(
            {
                "one": names[self.one],
                "other": names[self.other],
                "word": np.array(WORDS)[self.word],
                "rule": rules[self.rule],
                "most": np.where(np.isfinite(self.most), self.most, np.nan),
                "stopped_by": rules[self.stop],
            }
        )


def all_pairs(question: Question, rulebook: Rulebook, at_a_time: int = AT_A_TIME) -> Iterator[PairBlock]:
    """Every two oils of the book at the question's load and ratio (equal parts unless two shares are given).

    ``question.oils`` does not matter.  Blocks of at most ``at_a_time`` pairs, so that memory does not grow
    with their number.
    """
    shelf = Shelf(question)
    bench = Bench(shelf, rulebook.rules)
    rules = tuple(rule.name for rule in bench.rules)
    shares = question.shares if len(question.shares) == 2 else (0.5, 0.5)
    for one, other in _pairs(len(shelf.names), at_a_time):
        yield _block(bench, rules, one, other, shares)


def _pairs(count: int, at_a_time: int) -> Iterator[tuple[Places, Places]]:
    """Every two places, each once, in blocks of whole rows as far as they fit."""
    total = count * (count - 1) // 2
    for start in range(0, total, at_a_time):
        yield pairs_at(np.arange(start, min(start + at_a_time, total), dtype=np.int64), count)


def pairs_at(numbers: NDArray[np.int64], count: int) -> tuple[Places, Places]:
    """The two places of every numbered pair of a shelf of ``count`` oils, pairs counted row by row from 0.

    The row of a number is the root of r · (2 · count − r − 1) / 2 ≤ number, put right by one where the
    square root lost its last digit.
    """
    half = count - 0.5
    row = np.floor(half - np.sqrt(np.maximum(half * half - 2.0 * numbers, 0.0))).astype(np.int64)
    row -= _begins(row, count) > numbers
    row += _begins(row + 1, count) <= numbers
    return row.astype(np.int32), (numbers - _begins(row, count) + row + 1).astype(np.int32)


def _begins(row: NDArray[np.int64], count: int) -> NDArray[np.int64]:
    return row * (2 * count - row - 1) // 2


def _block(
    bench: Bench, rules: tuple[str, ...], one: Places, other: Places, shares: tuple[float, ...]
) -> PairBlock:
    index = np.stack([one, other], axis=1).astype(np.intp)
    blends = Blends(bench.shelf, index, np.broadcast_to(np.asarray(shares, dtype=float), index.shape))
    found = bench.judge(blends)
    darker = bench.judge(blends, bench.of_browning)
    most, stop = bench.most(blends)
    word = np.select(
        [
            (found.broken > CAUTION) & (np.maximum(darker.broken, darker.undecided) > CAUTION),
            found.broken > CAUTION,
            found.undecided > CAUTION,
            found.cautions > 0,
        ],
        [
            WORDS.index("does not go"),
            WORDS.index("where it may brown"),
            WORDS.index("not known"),
            WORDS.index("with care"),
        ],
        default=WORDS.index("goes"),
    )
    return PairBlock(bench.shelf.names, rules, one, other, word.astype(np.int8), found.rule, most, stop)


__all__ = ["PairBlock", "all_pairs"]
