"""A question in a maker's own words, weighed against the wordings that are known.

Each feature weighs the more the fewer questions use it.  A wording is a sparse vector; what is asked is
compared with the nearest wordings of each question and with all of them together (cosines, in NumPy).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from blendwise.answers.ask.lexicon import Lexicon

NEAREST: Final = (0.3, 0.15)
"""Parts of the score that the nearest and the second nearest wording have; the whole question the rest."""
UNKNOWN: Final = 0.35
"""How much what no wording has counts against a match, of what a known feature would."""


@dataclass(frozen=True, slots=True)
class Match:
    """A question that is known, and how near what was asked comes to it (0 to 1)."""

    question: str
    score: float


Counted = tuple[list[str], list[int], list[int], list[float]]
"""The features of all wordings: names; how many each wording has; wording by wording, which and how much."""


def counted_features(lexicon: Lexicon) -> Counted:
    """The features of every wording, worked out."""
    held = [lexicon.features(lexicon.words(text)) for _, text in lexicon.wordings]
    names = dict.fromkeys(name for found in held for name in found)
    place = {name: number for number, name in enumerate(names)}
    column = [place[name] for found in held for name in found]
    return list(names), [len(found) for found in held], column, [v for found in held for v in found.values()]


class Wordings:
    """Every wording of a lexicon, ready to be compared with."""

    def __init__(self, lexicon: Lexicon, counted: Counted | None = None) -> None:
        self.lexicon = lexicon
        names, many, column, value = counted or counted_features(lexicon)
        self.questions = list(dict.fromkeys(question for question, _ in lexicon.wordings))
        place = {question: number for number, question in enumerate(self.questions)}
        self.owner = np.array([place[question] for question, _ in lexicon.wordings])
        self.columns = {name: number for number, name in enumerate(names)}
        self.row = np.repeat(np.arange(len(many)), many)
        self.column = np.array(column, dtype=int)
        self._weigh(np.array(value))
        self.unheard = float(np.log(1 + len(self.questions)))

    def _weigh(self, values: NDArray[np.float64]) -> None:
        """Rarity by question, then every wording and every question brought to length 1."""
        owners, shape = self.owner[self.row], (len(self.questions), len(self.columns))
        met = np.zeros(shape, dtype=bool)
        met[owners, self.column] = True
        self.rarity = np.log(1 + len(self.questions) / met.sum(axis=0))
        weighed = values * self.rarity[self.column]
        self.value = weighed / np.sqrt(np.bincount(self.row, weighed**2))[self.row]
        parts = self.value / np.bincount(self.owner)[owners]
        whole = np.bincount(owners * shape[1] + self.column, parts, minlength=met.size).reshape(shape)
        self.whole = whole / np.sqrt((whole**2).sum(axis=1, keepdims=True))

    def match(self, asked: Sequence[str]) -> list[Match]:
        """Every question, the nearest first (ties: in the order of the file)."""
        vector, length = self._vector(asked)
        if not length:
            return [Match(question, 0.0) for question in self.questions]
        near = np.bincount(self.row, self.value * vector[self.column], minlength=len(self.owner)) / length
        first, second = NEAREST
        scores = (1 - first - second) * (self.whole @ vector) / length
        for question in range(len(self.questions)):
            own = np.sort(near[self.owner == question])[::-1]
            scores[question] += first * own[0] + second * own[min(1, len(own) - 1)]
        order = np.argsort(-scores, kind="stable")
        return [Match(self.questions[at], float(scores[at])) for at in order]

    def strange(self, asked: Sequence[str]) -> bool:
        """Whether a question seems to be of another subject."""
        return self.lexicon.strange(asked, self.columns)

    def _vector(self, asked: Sequence[str]) -> tuple[NDArray[np.float64], float]:
        """What is asked over the known features, and its length with those that nobody knows."""
        vector, beyond = np.zeros(len(self.columns)), 0.0
        for name, value in self.lexicon.features(asked).items():
            column = self.columns.get(name)
            if column is None:
                beyond += UNKNOWN * (value * self.unheard) ** 2
            else:
                vector[column] = value * self.rarity[column]
        return vector, float(np.sqrt((vector**2).sum() + beyond))
