"""Rules that only a finished split can be asked, and what a split that one of them objects to is kept from.

What is cut off is a box around the split: in the portions that the finding speaks of, one dose has to become
another by four fifths; where that is not enough an oil has to go from them, or two cups to part.  Nothing is
proven of what is cut off, so a search that cut anything says that it is the best of what was looked at.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import islice, product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from blendwise.assignment.problem.problem import LEVEL_WEIGHT, Alternative, EitherOr, Row, Source
from blendwise.assignment.problem.sources import source_of
from blendwise.facts.columns import Floats, Subject
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables
from blendwise.judge.findings.finding import Finding, Value
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule

MOVED: Final = 0.2
"""To what share of itself a dose has to fall, or from what to rise."""
TWO_CUPS: Final = 2
MOST_ENDS: Final = 80
"""Splits judged for whether a finding can go at all; of what is not looked at it is taken that it can."""
MOST_CUTS: Final = 6
"""Findings of one split that the next is kept from."""

Key = tuple[str, tuple[str, ...], Value]


def _key(finding: Finding) -> Key:
    return finding.rule, finding.subject, finding.value


class Afterwards:
    """The judge's word on a split, by the rules that could not be compiled."""

    def __init__(self, s: Situation, rules: Sequence[Rule], kept: NDArray[np.int64], least: float) -> None:
        self.s, self.rules, self.kept, self.least = s, {rule.name: rule for rule in rules}, kept, least
        self.ends_left = MOST_ENDS
        self.goes: dict[tuple[str, tuple[str, ...]], bool] = {}

    def __call__(self, grams: Floats, so_far: Sequence[EitherOr]) -> tuple[EitherOr, ...]:
        """The cuts that forbid these doses, beside those that the search keeps to already."""
        if not self.rules:
            return ()
        broken = (each for each in self._broken(grams) if _key(each) not in self.always)
        cuts = (self._cut(each, grams, so_far) for each in broken if self._can_go(each))
        return tuple(islice((cut for cut in cuts if cut is not None), MOST_CUTS))

    def weight(self, grams: Floats) -> float:
        """What speaks against these doses, a caution counting one."""
        return sum(LEVEL_WEIGHT[each.level] for each in self._broken(grams)) if self.rules else 0.0

    @cached_property
    def always(self) -> set[Key]:
        """What is said of every split with one figure: even, each oil alone in a cup, all in one cup."""
        whole = self.s.scenting.blend[self.kept] * self.s.scenting.total
        count, cups = len(self.kept), len(self.s.portions)
        tried = [np.outer(whole, self.s.split.oils / self.s.split.oils.sum())]
        for turn in range(cups):
            x = np.zeros((count, cups))
            x[np.arange(count), (np.arange(count) + turn) % cups] = whole
            tried.append(x)
        for cup in range(cups):
            tried.append(np.where(np.arange(cups) == cup, whole[:, None], 0.0))
        return set.intersection(*({_key(each) for each in self._broken(x)} for x in tried))

    def _can_go(self, finding: Finding) -> bool:
        """Whether some split is free of it: the portions spoken of with all, one, all but one or none of the
        oils in them.  What stands at all these ends stands between them too, and no split is kept from it.
        """
        key = finding.rule, finding.subject
        portions = [p for p, name in enumerate(self.s.portions) if name in finding.subject]
        if key not in self.goes:
            ends = list(self._ends(portions)) if portions else []
            self.ends_left -= len(ends)
            self.goes[key] = (
                not ends
                or self.ends_left < 0
                or any(key not in {_key(each)[:2] for each in self._broken(x, finding.rule)} for x in ends)
            )
        return self.goes[key]

    def _ends(self, portions: Sequence[int]) -> Iterator[Floats]:
        """Splits with none, all, one or all but one of the oils in one of the portions."""
        whole, oils = self.s.scenting.blend[self.kept] * self.s.scenting.total, self.s.split.oils
        count = len(whole)
        others = np.array([0.0 if p in portions else grams for p, grams in enumerate(oils)])
        others = others if others.sum() else oils
        away = np.outer(whole, others / others.sum())
        yield away
        choices = [np.ones(count, dtype=bool), *np.eye(count, dtype=bool), *~np.eye(count, dtype=bool)]
        for p in portions:
            for held in choices:
                x = away.copy()
                x[held] = 0.0
                x[held, p] = whole[held]
                yield x

    def _broken(self, grams: Floats, rule: str = "") -> list[Finding]:
        """What is broken, or is at the middle of judgement's doubt, as it is shown too."""
        x = np.where(self.s.scenting.blend[:, None] > 0, 0.0, self.s.x)
        x[self.kept] = grams
        asked = [self.rules[rule]] if rule else list(self.rules.values())
        found = judge(asked, tables(self.s.with_doses(x), {each.looks_at for each in asked}))
        return [e for e in found if "broken" in (e.status, e.middle) and e.level != "hint"]

    def _cut(self, finding: Finding, grams: Floats, so_far: Sequence[EitherOr]) -> EitherOr | None:
        portions = [p for p, name in enumerate(self.s.portions) if name in finding.subject]
        where = portions or list(range(len(self.s.portions)))
        subject = Subject(finding.looks_at, finding.subject)
        source = source_of(self.rules[finding.rule], subject)
        told = sum(each.source == source for each in so_far)
        if told > 1:
            return None
        ways = self._apart(where) if told else self._moved(grams, where, source)
        return EitherOr(f"{finding.rule}: {subject}", source, tuple(ways), finding.level)

    def _moved(self, grams: Floats, where: Sequence[int], source: Source) -> Iterator[Alternative]:
        """A dose that is another: none or less of it, or more."""
        for cell in product(range(len(self.kept)), where):
            now = float(grams[cell])
            if now > 0:
                yield self._row(grams, cell, 1.0, -now * MOVED, source)
            yield self._row(grams, cell, -1.0, max(now / MOVED, self.least), source)

    def _apart(self, where: Sequence[int]) -> Iterator[Alternative]:
        """An oil that is in none of these portions; of two, all of it in one and all others in the other."""
        oils = range(len(self.kept))
        for i, p in product(oils, where):
            others = [q for q in where if q != p] if len(where) == TWO_CUPS else []
            alone = [(j, p) for j in oils if j != i] if others else []
            yield Alternative(empty=(*((i, q) for q in others or [p]), *alone))

    def _row(
        self, grams: Floats, cell: tuple[int, int], sign: float, a0: float, source: Source
    ) -> Alternative:
        a = np.zeros(grams.shape)
        a[cell] = sign
        return Alternative((Row("", source, a, a0, scale=max(abs(a0), 1e-6)),))
