"""The whole shelf in one bar: what the measures know of every oil, worked out once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from blendwise.answers.pair.plan import situation
from blendwise.answers.pair.pours import poured
from blendwise.answers.pair.question import Question
from blendwise.answers.shelf.terms import Few, Terms, few_at_a_time, terms_of
from blendwise.facts.columns import Bools, Floats
from blendwise.facts.measures.pairs import noted
from blendwise.facts.scales import NOTED
from blendwise.facts.situation.timeline import Timeline, timeline
from blendwise.facts.situation.worked_out import Situation

Ints = NDArray[np.intp]


class Shelf:
    """The whole shelf in one bar: what the measures know of every oil, worked out once."""

    def __init__(self, question: Question, names: Sequence[str] | None = None) -> None:
        book = question.book
        self.names = tuple(names if names is not None else book.scents)
        self.place = {name: i for i, name in enumerate(self.names)}
        even = tuple(1 / len(self.names) for _ in self.names)
        self.question = replace(question, oils=self.names, shares=even)
        self.base = situation(self.question, pour=question.pour)
        self._terms: dict[str, Terms] = {}

    @property
    def load(self) -> float:
        """The load as a fraction of the bar's oils."""
        return self.base.scenting.load

    @property
    def folder(self) -> Path:
        """The book's folder, for places as they are shown."""
        return self.question.book.folder

    @property
    def oils(self) -> float:
        """Grams of base oils in the bar."""
        return float(self.base.split.oils.sum())

    def terms(self, measure: str) -> Terms:
        """The coefficients of a fraction, one an oil."""
        if measure not in self._terms:
            self._terms[measure] = terms_of(self.base, lambda: self.few, measure)
        return self._terms[measure]

    @cached_property
    def few(self) -> tuple[Few, ...]:
        """The shelf in bars of a few oils at a time."""
        return few_at_a_time(self.question)

    @cached_property
    def spicy(self) -> Bools:
        """Oils (n,) that heat the batter: the one thing by which an oil moves a fact of the whole batch."""
        return np.array(["spice" in r.tags for r in self.base.scent_records], dtype=bool)

    @cached_property
    def seizing(self) -> Bools:
        """Oils (n,) that seize: a portion that holds one has no minutes."""
        return np.array([t.seizes == "yes" for t in self.base.traits], dtype=bool)

    @cached_property
    def bars(self) -> tuple[Situation, Situation]:
        """A bar of an oil without spice, and of one with it (the same where the shelf has but one sort)."""
        first = [np.flatnonzero(self.spicy == hot) for hot in (False, True)]
        names = [self.names[int(found[0])] if len(found) else self.names[0] for found in first]
        plain, hot = (self._bar(replace(self.question, oils=(name,), shares=(1.0,))) for name in names)
        return plain, hot

    def _bar(self, alone: Question) -> Situation:
        """A bar of one oil: one portion, or where a pour is asked the pour's own portions, all alike."""
        return poured(alone, alone.book.pours[alone.pour]) if alone.pour else situation(alone)

    @cached_property
    def clock(self) -> Timeline | None:
        """The pour with portions scented alike, brought to the one slot that leaves least time."""
        line = timeline(self.bars[0])
        if line is None:
            return None
        left = np.maximum(line.base[0] - line.scented_at, 0.0) / (line.needed_until - line.scented_at)
        slot = int(np.argmin(np.where(line.asks, left, np.inf)))
        return replace(
            line,
            scented_at=line.scented_at[[slot]],
            needed_until=line.needed_until[[slot]],
            kind=line.kind.of_slot(slot),
            harsh=line.harsh.of_slot(slot),
            asks=line.asks[[slot]],
        )

    @cached_property
    def noted_pairs(self) -> Mapping[tuple[int, int], int]:
        """Index into NOTED of every two oils of which the maker has said something, lower place first."""
        found: dict[tuple[int, int], int] = {}
        for i, record in enumerate(self.base.scent_records):
            for name in record.goes_with:
                if name in self.place and name != record.name:
                    j = self.place[name]
                    found[min(i, j), max(i, j)] = NOTED.index(noted(record, self.base.scent_records[j]))
        return found

    def noted_codes(self, one: Ints, other: Ints) -> Floats:
        """Index into NOTED of every pair (rows,)."""
        count = len(self.names)
        keys = np.array(sorted(i * count + j for i, j in self.noted_pairs), dtype=np.int64)
        said = np.array([self.noted_pairs[divmod(int(key), count)] for key in keys], dtype=float)
        asked = np.minimum(one, other) * count + np.maximum(one, other)
        codes = np.full(len(one), float(NOTED.index("unsaid")))
        if len(keys):
            at = np.minimum(np.searchsorted(keys, asked), len(keys) - 1)
            codes = np.where(keys[at] == asked, said[at], codes)
        return codes
