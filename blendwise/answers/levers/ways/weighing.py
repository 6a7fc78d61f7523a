"""Ways with what is weighed: together, each oil by itself, in more mixes, or on a finer scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from blendwise.answers.levers.case import Case, Way, mass_text, own_step
from blendwise.answers.plan_text import edits
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Dimension, parse_amount
from blendwise.records.book import BookFiles

MOST_PREMIXES: Final = 6
USUAL_PREMIXES: Final = 3
FINER: Final = (10, 100)
"""A scale of tenths in place of grams, of hundredths in place of tenths."""


def weigh_together(case: Case) -> Iterator[Way]:
    """Oils that go into the same portions, mixed before they are weighed."""
    s = case.s
    mixes = [[j for j in range(len(s.scents)) if j == i or _one_ratio(s, i, j)] for i in case.scents[:2]]
    if not s.plan.weigh_together:
        yield from (_together([s.scents[j] for j in mix]) for mix in mixes if len(mix) > 1)


def _together(mix: list[str]) -> Way:
    told = {"scents": ", ".join(mix)}
    return Way("weigh together", (None,), lambda doc, _: edits.mixed_together(doc, [mix]), lambda _: told)


def _one_ratio(s: Situation, i: int, j: int) -> bool:
    """Whether two oils stand in one ratio wherever either is: only then can a mix of them be divided."""
    cross = s.x[i] * s.x[j].sum() - s.x[j] * s.x[i].sum()
    return bool(np.allclose(cross, 0.0, atol=1e-6 * max(float(s.x[i].sum() * s.x[j].sum()), 1e-9)))


def more_premixes(case: Case) -> Iterator[Way]:
    """The blend divided into more mixes than the plan says."""
    now, oils = case.s.plan.premixes or USUAL_PREMIXES, int((case.s.scenting.blend > 0).sum())
    yield Way(
        "more premixes",
        tuple(range(now + 1, min(oils, MOST_PREMIXES) + 1)),
        lambda doc, number: edits.set_or_add(doc, ("premixes",), str(number)),
        lambda number: {"number": float(number)},
    )


def apart(case: Case) -> Iterator[Way]:
    """Every oil weighed by itself."""
    yield Way("apart", (None,), lambda doc, _: doc, lambda _: {})


def finer_scale(case: Case) -> Iterator[Way]:
    """A scale with finer steps: no line of the plan, so it is told and not written."""
    now, s = own_step(case.s), case.s
    yield Way(
        "finer scale",
        FINER,
        lambda doc, _: doc,
        lambda by: {"step": now / by},
        book=lambda book, by: with_step(book, mass_text(now / by, s)),
    )


def with_step(book: BookFiles, text: str) -> BookFiles:
    """The book as it would be with another scale for scents."""
    step = parse_amount(text, Dimension.MASS)
    return replace(book, usual=book.usual.model_copy(update={"scale_step": step}))
