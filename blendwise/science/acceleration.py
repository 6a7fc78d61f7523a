"""Acceleration: how many times faster a portion thickens for the scents in it.

A scent's *factor* f is the time that the unscented control cup of the same batter took to thicken over
the time the scented cup took, at the dose of that note (its *reference dose*).  In a portion the factors
join by their excess, each in proportion to its dose:

    q = 1 + Σ max(0, f - 1) · dose / reference dose

Thinning (f < 1) is never credited.  Seizing and ricing are gates, not rates: a portion that meets one
is refused or warned whatever its minutes.  The form is judgement; the words and their factors belong to
the rulebook and are arguments.

Formula: q = 1 + Σ max(0, f − 1) × dose ÷ reference dose, f = minutes of the unscented cup ÷ minutes of the
    scented one.
Source: the form is judgement; words and factors are the rulebook's (common practice).
Check: sums by hand; more scent never slows; the solver's coefficients are the same.
Limits: thinning is never credited; seizing and ricing are gates and not in q; a note from another recipe
    carries over as a ratio only.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Bools, Floats, Ints, not_negative, numbers, positive

GRADES = ("thins", "none", "slight", "moderate", "fast", "seizes")
RICING = ("none", "slight", "bad")
# Minutes from scent contact to thick trace in a cup test: seizes below the first, none above the last.
# Common practice of note keeping, bands by judgement; a time on an edge counts as the faster grade,
# except that one minute is still "fast".
GRADE_MINUTES = (1.0, 4.0, 10.0, 20.0)


def factor_from_cups(control_minutes: ArrayLike, scented_minutes: ArrayLike) -> Floats:
    """f from the minutes to thick of the unscented control cup and of the scented cup, same day (...)."""
    why = "a cup that takes no time to thicken gives no rate; note that it seizes"
    control = positive("minutes of the control cup", control_minutes, why)
    return np.asarray(control / positive("minutes of the scented cup", scented_minutes, why))


def grade_from_minutes(minutes: ArrayLike) -> Ints:
    """Index into GRADES (1 "none" to 5 "seizes") for minutes to thick trace in a cup test (...).

    Comparable only within one maker's standard recipe; prefer :func:`factor_from_cups`.
    """
    taken = positive("minutes to thick", minutes, "a cup cannot thicken before the scent is in")
    quicker = sum((taken <= edge).astype(np.intp) for edge in GRADE_MINUTES[1:])
    return np.asarray(1 + quicker + (taken < GRADE_MINUTES[0]), dtype=np.intp)


def factors_of(words: Sequence[str | None], table: Mapping[str, float]) -> tuple[Floats, Floats]:
    """Lowest and highest factor (each (n,)) of n words; ``table``: the rulebook's factor of each word.

    Not known (None) may be anything from 1 up; "seizes" has no factor in any table and stands as
    infinite, so that a rate never softens the gate.  ValueError names a word outside the table.
    """
    strange = [word for word in words if word not in table and word not in (None, "seizes")]
    if strange:
        raise ValueError(f'"{strange[0]}" has no factor in the rulebook; it has: {", ".join(table)}')
    low = [1.0 if word is None else _factor(word, table) for word in words]
    high = [np.inf if word is None else _factor(word, table) for word in words]
    return np.asarray(low, dtype=np.float64), np.asarray(high, dtype=np.float64)


def _factor(word: str, table: Mapping[str, float]) -> float:
    return np.inf if word == "seizes" else table[word]


def excess_per_dose(factors: ArrayLike, reference_doses: ArrayLike) -> Floats:
    """max(0, f - 1) / reference dose (...): what one unit of dose adds to q; the solver's coefficient.

    ``reference_doses``: the doses at which the factors were noted, same unit and basis as the doses.
    """
    f = positive("factor", factors, "a factor is a ratio of two times", endless=True)
    dose = positive("reference dose", reference_doses, "a note without a dose cannot be scaled to another")
    return np.asarray(np.maximum(f - 1, 0) / dose)


def quickening(factors: ArrayLike, doses: ArrayLike, reference_doses: ArrayLike) -> Floats:
    """q of portions: 1 + Σ max(0, f - 1) · dose / reference dose over the last axis; at least 1.

    All of shape (..., n), broadcast, n scents.  Infinite factors (not known, seizes) count only where
    the scent is dosed.
    """
    amount = not_negative("dose", doses, "a scent is weighed in, never out")
    rate = excess_per_dose(factors, reference_doses)
    added = np.where(amount > 0, amount, 1.0) * rate
    return np.asarray(1 + np.where(amount > 0, added, 0.0).sum(axis=-1))


def seizes(grades: ArrayLike, doses: ArrayLike) -> Bools:
    """Gate: portions (...) that hold any of a scent whose grade (..., n; index into GRADES) is "seizes"."""
    return np.asarray(_worst(grades, doses) == GRADES.index("seizes"))


def worst_ricing(ricing: ArrayLike, doses: ArrayLike) -> Ints:
    """Gate: index into RICING (...) of the worst ricer (..., n) that is dosed at all; 0 if none is."""
    return np.maximum(_worst(ricing, doses), 0)


def _worst(index: ArrayLike, doses: ArrayLike) -> Ints:
    dosed = numbers("dose", doses) > 0
    return np.asarray(np.where(dosed, np.asarray(index, dtype=np.intp), -1).max(axis=-1, initial=-1))
