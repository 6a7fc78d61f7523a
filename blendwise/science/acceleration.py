"""Acceleration: how many times faster a portion thickens for the scents in it.

A scent's *factor* f is the time that the unscented control cup of the same batter took to thicken over
the time the scented cup took, at the dose of that note (its *reference dose*).  In a portion the factors
join by their excess, each in proportion to its dose:

    q = 1 + Σ max(0, f - 1) · dose / reference dose

The sum is the measure ``thickening``; a scent's part in it is here.  Thinning (f < 1) is never credited.
Seizing and ricing are gates, not rates, and have measures of their own.  The form is judgement; the words
and their factors belong to the rulebook and are arguments.

Formula: q = 1 + Σ max(0, f − 1) × dose ÷ reference dose, f the rulebook's factor of the word noted.
Source: the form is judgement; words and factors are the rulebook's (common practice).
Check: sums by hand; more scent never slows; the solver's rows and the measure are the same.
Limits: thinning is never credited; seizing and ricing are gates and not in q; a note from another recipe
    carries over as a ratio only.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, not_negative, positive


def excess_per_dose(factors: ArrayLike, reference_doses: ArrayLike) -> Floats:
    """max(0, f - 1) / reference dose (...): what one unit of dose adds to q; the solver's coefficient.

    ``factors``: infinite where not known; ``reference_doses``: the doses at which they were noted, same
    unit and basis as the doses.
    """
    f = not_negative("factor", factors, "a factor is a ratio of two times", endless=True)
    dose = positive("reference dose", reference_doses, "a note without a dose cannot be scaled to another")
    return np.asarray(np.maximum(f - 1, 0) / dose)
