"""The coefficients of a fraction over a whole shelf, one an oil, and its value for many blends at once.

A fraction of the batch or of its one portion has one coefficient an oil.  A fraction of a single oil (its
dose, its share of the bar) has one for the oil itself and one for each of the others; it is read from
situations of a few oils at a time, since a table of every oil against every other would fill the memory.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from blendwise.answers.pair.plan import situation
from blendwise.answers.pair.question import Question
from blendwise.facts.columns import Column, Floats, Missing
from blendwise.facts.forms import AffineFraction
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation

AT_A_TIME: Final = 48
Ints = NDArray[np.intp]
Gaps = Callable[[int], tuple[Missing, ...]]


@dataclass(frozen=True, eq=False)
class Terms:
    """(Σ a·x + a0) / (Σ d·x + d0), the greatest over entries.

    ``a``, ``a_high``, ``d``: (entries, oils); ``a0``, ``d0``: (entries,) for a fraction of the whole.  Where
    ``each`` is set the fraction is one of each oil: one entry, ``a`` and ``d`` of the oil's own dose,
    ``others`` (a, d) of the other oils' doses, and ``a0``, ``d0`` (oils,).  ``doubt``: (a_least, a_most) as
    far as judgement doubts ``a`` and ``a_high``, of a fraction of the whole.
    """

    a: Floats
    a_high: Floats
    d: Floats
    a0: Floats
    d0: Floats
    others: tuple[Floats, Floats] | None = None
    doubt: tuple[Floats, Floats] | None = None

    @property
    def each(self) -> bool:
        """Whether it is a fraction of each oil, not of the whole."""
        return self.others is not None

    def column(self, index: Ints, grams: Floats, gaps: Gaps | None = None) -> Column:
        """The column for blends ``index`` at ``grams``, both (rows, oils); flat over oils where ``each``."""
        if self.each:
            return self._of_each(index, grams)
        found = self._of_whole(index, grams, gaps)
        if self.doubt is None:
            return found
        outer = replace(self, a=self.doubt[0], a_high=self.doubt[1], doubt=None)
        wide = outer._of_whole(index, grams, None)
        return replace(found, least=np.minimum(wide.low, found.low), most=np.maximum(wide.high, found.high))

    def _of_whole(self, index: Ints, grams: Floats, gaps: Gaps | None) -> Column:
        low = high = np.full(len(index), -np.inf)
        asked = np.zeros(len(index), dtype=bool)
        for entry in range(len(self.a)):
            below = (self.d[entry][index] * grams).sum(axis=1) + self.d0[entry]
            ends = [(part[entry][index] * grams).sum(axis=1) + self.a0[entry] for part in self._ends(entry)]
            there = below > 0
            divided = [np.divide(end, below, out=np.full(len(index), -np.inf), where=there) for end in ends]
            low, high = np.maximum(low, divided[0]), np.maximum(high, divided[-1])
            asked |= there
        missing = {int(r): gaps(int(r)) for r in np.flatnonzero(high > low)} if gaps is not None else {}
        return Column(np.where(asked, low, 0.0), np.where(asked, high, 0.0), asked=asked, missing=missing)

    def _ends(self, entry: int) -> list[Floats]:
        """Once where nothing is open, so that both ends are the same number to the last digit."""
        closed = bool((self.a[entry] == self.a_high[entry]).all())
        return [self.a] if closed else [self.a, self.a_high]

    def _of_each(self, index: Ints, grams: Floats) -> Column:
        assert self.others is not None
        rest = grams.sum(axis=1, keepdims=True) - grams
        other_a, other_d = (part[index] * rest for part in self.others)
        below = self.d[0][index] * grams + other_d + self.d0[index]
        ends = [part[0][index] * grams + other_a + self.a0[index] for part in self._ends(0)]
        asked = below > 0
        low, high = (
            np.divide(end, below, out=np.zeros(below.shape), where=asked) for end in (ends[0], ends[-1])
        )
        return Column(low.ravel(), high.ravel(), asked=asked.ravel())

    def along(
        self, index: Ints, shares: Floats, oils: float, limit: float, *, upper: bool, harsh: bool = False
    ) -> Floats:
        """The load at which the value meets a limit, (rows,) or (rows, oils), in closed form.

        ``upper``: the greatest load with value ≤ limit, 0 where even the least is too much, ∞ where none is;
        else the least load with value ≥ limit.  Open terms count by their infinite end, what judgement doubts
        by its kind end, or by its ``harsh`` one.
        """
        return (
            self._along_each(index, shares, oils, limit, upper)
            if self.each
            else self._along(index, shares, oils, limit, harsh)
        )

    def _counted(self, entry: int, harsh: bool) -> Floats:
        """The coefficients that count against a bound from above."""
        if self.doubt is None:
            return np.asarray(self.a_high[entry])
        least, most = (end[entry] for end in self.doubt)
        known = self.a[entry] == self.a_high[entry]
        return np.asarray(most if harsh else np.where(known, least, self.a_high[entry]))

    def _along(self, index: Ints, shares: Floats, oils: float, limit: float, harsh: bool) -> Floats:
        found = np.full(len(index), np.inf)
        for entry in range(len(self.a)):
            worst = self._counted(entry, harsh)
            slope = ((worst[index] - limit * self.d[entry][index]) * shares).sum(axis=1) * oils
            found = np.minimum(found, _edge(slope, self.a0[entry] - limit * self.d0[entry]))
        return found

    def _along_each(self, index: Ints, shares: Floats, oils: float, limit: float, upper: bool) -> Floats:
        assert self.others is not None
        rest = shares.sum(axis=1, keepdims=True) - shares
        part_a, part_d = (part[index] * rest for part in self.others)
        slope = (
            self.a_high[0][index] * shares + part_a - limit * (self.d[0][index] * shares + part_d)
        ) * oils
        offset = self.a0[index] - limit * self.d0[index]
        return (
            _edge(slope, offset)
            if upper
            else np.divide(-offset, slope, out=np.zeros(slope.shape), where=slope > 0)
        )


def _edge(slope: Floats, offset: Floats | float) -> Floats:
    """The greatest load with load · slope + offset ≤ 0: 0 where there is none, ∞ where all do."""
    shape = np.broadcast(slope, offset).shape
    edge = np.divide(-np.broadcast_to(offset, shape), slope, out=np.full(shape, np.inf), where=slope > 0)
    return np.asarray(np.where(np.asarray(offset) > 0, 0.0, np.maximum(edge, 0.0)))


@dataclass(frozen=True, eq=False)
class Few:
    """Some oils of a shelf in a bar of their own: the first ``count`` of them are meant, the rest fill up."""

    count: int
    bar: Situation


def few_at_a_time(question: Question) -> tuple[Few, ...]:
    """The question's oils in bars of a few; never one by itself where there are others."""
    names = question.oils
    return tuple(_few(question, names[k : k + AT_A_TIME]) for k in range(0, len(names), AT_A_TIME))


def _few(question: Question, names: tuple[str, ...]) -> Few:
    held = names if len(names) > 1 else tuple(dict.fromkeys((*names, *question.oils[:2])))
    few = replace(question, oils=held, shares=tuple(1 / len(held) for _ in held))
    return Few(len(names), situation(few, pour=question.pour))


def terms_of(base: Situation, few: Callable[[], Sequence[Few]], measure: str) -> Terms:
    """The coefficients of a fraction over the shelf in ``base``, whose only portion holds every oil.

    ``few``: the shelf in bars of a few oils, asked for only where the fraction is one of each oil.
    """
    if REGISTRY[measure].word.grain in ("batch", "portion"):
        form = base.fraction(measure)
        outer = form.outer
        doubt = (outer.a[:, :, 0], outer.a_high[:, :, 0]) if form.is_doubted else None
        whole = Terms(form.a[:, :, 0], form.a_high[:, :, 0], form.d[:, :, 0], form.a0, form.d0)
        return replace(whole, doubt=doubt)
    parts = [_each(part, measure) for part in few()]
    a, a_high, d, a0, d0, other_a, other_d = (np.concatenate(part) for part in zip(*parts, strict=True))
    return Terms(a[None], a_high[None], d[None], a0, d0, (other_a, other_d))


def _each(few: Few, measure: str) -> tuple[Floats, ...]:
    """(own a, own a_high, own d, a0, d0, others' a, others' d) of a few oils, each (oils,)."""
    form: AffineFraction = few.bar.fraction(measure)
    own = [np.diagonal(part[:, :, 0]) for part in (form.a, form.a_high, form.d)]
    others = [_off_diagonal(part[:, :, 0], measure) for part in (form.a, form.d)]
    return tuple(part[: few.count] for part in (*own, form.a0, form.d0, *others))


def _off_diagonal(square: Floats, measure: str) -> Floats:
    """What each of the other oils adds, the same for all of them (ValueError where it is not)."""
    count = len(square)
    if count == 1:
        return np.zeros(1)
    off = square[~np.eye(count, dtype=bool)].reshape(count, count - 1)
    if not (off == off[:, :1]).all():
        raise ValueError(f"{measure!r} tells the other oils apart")
    return np.asarray(off[:, 0])
