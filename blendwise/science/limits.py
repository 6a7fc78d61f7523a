"""Limits of scent in the finished bar, from certificates and from published maxima.

Limits, shares and contents are fractions; masses in grams.  Scents lie along the last axis, constituents
and entries behind them.  A certificate's limit is the most of that oil in the finished product; "100 %" or
"unlimited" means no restriction from the standard, not a dose.  A missing certificate has no number here:
ask only with limits that are known.  This is arithmetic, not a safety assessment: local codes and a
qualified assessor decide.

Formula: use of the limits = Σ mass ÷ limit ÷ bar (the sum rule); a constituent = Σ mass × content ÷ bar;
    worst bar = mean × (1 + uneven), at most the strongest portion.
Source: the sum rule is derived: the exact worst case where only certificates are known; maxima from
    Regulation (EC) 1223/2009, Annex III.
Check: a worked blend by the sum rule; maxima exactly at, just under and just over their figure; additivity
    as a property.
Limits: certificates change by amendment; what is not on a sheet is not in a sum; arithmetic, not a safety
    assessment.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import ROUNDING, Floats, numbers


def checked_limits(limits: ArrayLike) -> Floats:
    """Limits as fractions of the finished bar, 0 ≤ limit ≤ 1; 0 is "not for this use"."""
    return numbers("a limit", limits, least=0, most=1)


def per_limit(limits: ArrayLike) -> Floats:
    """The coefficients aᵢ = 1 / limitᵢ of the use of the limits; infinite where the limit is zero."""
    found = checked_limits(limits)
    return np.asarray(np.divide(1.0, found, out=np.full(found.shape, np.inf), where=found > 0))


def worst_bar(mean: ArrayLike, uneven: ArrayLike, strongest: ArrayLike = np.inf) -> Floats:
    """Share, or use of a limit, in the worst cut bar: mean · (1 + uneven), at most the strongest portion's.

    ``uneven``: how far the worst bar of the pour may exceed the mean, a fraction (the pour's own figure);
    a bar cannot be stronger than a piece of the strongest portion alone.
    """
    average = numbers("the mean", mean, least=0)
    top = np.maximum(numbers("the strongest portion", strongest, least=0, endless=True), average)
    return np.minimum(average * (1 + numbers("the unevenness", uneven, least=0)), top)


def constituents_in_bar(masses: ArrayLike, contents: ArrayLike, bar: ArrayLike) -> Floats:
    """Fraction of the finished bar that each constituent makes up: Σ massᵢ · contentᵢₖ / bar.

    ``masses`` (…, scents) in g over **all** scents and embeds; ``contents`` (scents, constituents) as
    fractions of the scent, its range's top where a limit is at stake; ``bar`` (…) in g.
    """
    grams = numbers("the mass of a scent", masses, least=0)
    content = numbers("a constituent", contents, least=0, most=1)
    whole = numbers("the mass of the finished bar", bar, above=0)
    return np.asarray((grams[..., None] * content).sum(axis=-2)) / whole[..., None]


def use_of_maxima(shares: ArrayLike, members: ArrayLike, maxima: ArrayLike) -> Floats:
    """Share of each published maximum that is used, (…, entries); above 1 is too much.

    ``shares`` (…, constituents) fractions of the bar (of an oil itself for what a gram of it uses);
    ``members`` (constituents, entries) 1 where a constituent counts under an entry, as
    `restrictions.maxima_for` gives it; ``maxima`` (entries,).
    """
    found = numbers("the share of a constituent", shares, least=0, most=1 + ROUNDING)
    most = numbers("a published maximum", maxima, above=0, most=1)
    return np.asarray(found @ (np.asarray(members, dtype=np.float64) / most))
