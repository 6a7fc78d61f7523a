"""The blend after cure: what part each oil has in what is left, with two ends and whose word it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from blendwise.beliefs.learning.priors import word_value
from blendwise.beliefs.lessons import EIGHTY
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import STRENGTH_WORDS
from blendwise.science.fade import after_cure


@dataclass(frozen=True, slots=True)
class AfterCure:
    """One oil: its share of the scent as poured, the ends of its share after six weeks, and whose word."""

    oil: str
    poured: float
    least: float
    most: float
    evidence: str


def blend_after_cure(s: Situation) -> tuple[AfterCure, ...]:
    """Every oil of a blend of two and more, where it is known what is left of each; else none."""
    grams = s.x.sum(axis=1)
    used = np.flatnonzero(grams > 0)
    ends = [_left(s, int(i)) for i in used]
    known = [each for each in ends if each is not None]
    if len(used) < 2 or len(known) < len(used):
        return ()
    shares = grams[used] / grams.sum()
    least, most = after_cure(shares, *np.array(known).T)
    who = [s.traits[i].strength_evidence for i in used]
    names = [s.scents[i] for i in used]
    return tuple(map(AfterCure, names, shares.tolist(), least.tolist(), most.tolist(), who))


def _left(s: Situation, i: int) -> tuple[float, float] | None:
    """Ends of what is left of an oil: of own looks their 80 %, else as far as the word reaches."""
    word, record = s.traits[i].strength, s.scent_records[i]
    looked = s.believing.of(record.name)
    remains = looked.remains if looked else None
    if word is None:
        return None
    if remains is not None and remains.looks and remains.sd > 0:
        low, high = remains.mean - EIGHTY * remains.sd, remains.mean + EIGHTY * remains.sd
        return max(low, 0.0), min(max(high, 0.0), 1.0)
    said = record.six_weeks.left if record.six_weeks else None
    return (said.low, said.high) if said is not None else dict(_reaches(s.scales))[word]


def _reaches(scales: Scales) -> Iterator[tuple[str, tuple[float, float]]]:
    """Each word of strength with its ends: half way to its neighbours."""
    values = sorted((word_value(scales, word), word) for word in STRENGTH_WORDS)
    edges = [0.0, *((one[0] + other[0]) / 2 for one, other in pairwise(values)), 1.0]
    for (_, word), low, high in zip(values, edges[:-1], edges[1:], strict=True):
        yield word, (low, high)
