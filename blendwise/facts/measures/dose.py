"""Measures of a dose: one scent in one portion."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np

from blendwise.beliefs.contents import contents_of
from blendwise.facts.columns import Column, Floats
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number
from blendwise.facts.plain_columns import flags, known
from blendwise.facts.registry import Use
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science.plants import is_strong

SOURCE = "the plan's doses, blend and load, in grams"

ASSUMED_STEP = 1.0  # g, where the maker's scale is not stated
GUARD = 0.03  # of portion oils, at home without a certificate: our own guard, no publication
GUARD_STRONG = 0.005  # the same for spice, mint and almond
# Names that are so by what is in them, besides those of plants (from memory).
STRONG_WORDS = ("menthol", "eugenol", "cinnamal", "benzaldehyde")
STRONG_CONTENT = 0.10  # of the oil: with this much of one of these on its sheet it is strong: our judgement
STRONG_CONSTITUENTS = frozenset(
    {"Cinnamal", "Cinnamyl Alcohol", "Eugenol", "Isoeugenol", "Methyl Salicylate", "Menthol", "Carvone",
     "Benzaldehyde", "Carvacrol", "Thymol"}
)  # fmt: skip


def cells(s: Situation) -> Floats:
    """(doses, scents, portions): 1 where the cell is the dose's own; doses run scent by scent."""
    scents, portions = s.shape
    return np.eye(scents * portions).reshape(scents * portions, scents, portions)


def over_portions(values: Floats, s: Situation) -> Floats:
    """A value per portion, repeated for every scent: shape (doses,)."""
    return np.tile(values, s.shape[0])


def scale_step(s: Situation) -> float:
    """Grams of one step of the scent scale; 1 g where it is not stated."""
    step = s.book.usual.scale_step
    return step.value if step is not None else ASSUMED_STEP


@affine("dose", "dose", unit="% of portion oils", basis="of portion oils")
def dose(s: Situation) -> AffineFraction:
    """The scent on the oils of its portion.

    Formula: grams ÷ portion oils
    """
    return fraction(cells(s), d0=over_portions(s.split.oils, s))


@affine("dose in grams", "dose", unit="g", dimension="MASS", use=Use(of_size=True))
def dose_in_grams(s: Situation) -> AffineFraction:
    """The scent in its portion, in grams.

    Formula: grams, as the plan writes them or as its blend and load spread them
    """
    return fraction(cells(s))


@affine("steps of the scale", "dose", unit="steps", dimension="NUMBER", use=Use(of_size=True))
def steps(s: Situation) -> AffineFraction:
    """How many steps of the scent scale the weighing takes; ten keep half a step within 5 %.

    Oils that are weighed together (a premix) count as one weighing.
    Formula: grams weighed ÷ step (1 g where the scale is not stated)
    """
    count = s.shape[0]
    together = np.array([[float(s.weighed_together(i, j)) for j in range(count)] for i in range(count)])
    together = together.reshape(count, count)
    portion = np.eye(s.shape[1])
    weighed = together[:, None, :, None] * portion[None, :, None, :]
    return fraction(weighed.reshape(count * s.shape[1], *s.shape), d0=scale_step(s))


@flag("fits a premix", "dose", form="afterwards")
def fits_a_premix(s: Situation) -> Column:
    """Whether it keeps one ratio to another oil in every cup, and is not yet weighed together with it."""
    each, total = s.x, s.x.sum(axis=1, keepdims=True)
    parts = each / np.where(total > 0, total, 1.0)
    alike = np.isclose(parts[:, None, :], parts[None, :, :], rtol=1e-3, atol=1e-9).all(axis=2)
    count = range(len(each))
    apart = np.array([[not s.weighed_together(i, j) for j in count] for i in count], dtype=bool)
    others = alike & apart.reshape(alike.shape) & (total > 0) & (total > 0).T
    return flags(np.repeat(others.any(axis=1), s.shape[1]))


@flag("scale step stated", "batch")
def step_stated(s: Situation) -> Column:
    """Whether usual.yaml says how fine the scent scale weighs."""
    return flags([s.book.usual.scale_step is not None])


@affine("guard used", "dose", unit="× the guard", dimension="NUMBER")
def guard_used(s: Situation) -> AffineFraction:
    """The dose over our own guard for oils without a certificate.

    The guard is 3 % of portion oils, 0.5 % for spice, mint and almond by tag, name or sheet; it is no limit.

    Formula: grams ÷ (guard × portion oils)
    """
    guards = np.array([guard_of(r) for r in s.scent_records], dtype=float)
    return fraction(cells(s), d0=np.repeat(guards, s.shape[1]) * over_portions(s.split.oils, s))


def guard_of(scent: Scent) -> float:
    """Our guard for an oil without a certificate, of portion oils: the low one for spice, mint and almond."""
    names = f"{scent.name} {scent.label_name or ''}".casefold()
    words = {*re.findall(r"[^\W\d_]+", names), *scent.tags}
    held = [part for part in contents_of(scent).parts if not part.open]
    strong = any(part.high >= STRONG_CONTENT and part.name in STRONG_CONSTITUENTS for part in held)
    return GUARD_STRONG if strong or is_strong(words, STRONG_WORDS) else GUARD


@affine("scent rate", "portion", unit="% of portion oils", basis="of portion oils")
def scent_rate(s: Situation) -> AffineFraction:
    """All scent in the portion, on its oils.

    Formula: Σ grams ÷ portion oils
    """
    return fraction(s.unit_of_portion().copy(), d0=s.split.oils)


@affine("times the load", "portion", unit="× the load", dimension="NUMBER")
def times_the_load(s: Situation) -> AffineFraction:
    """All scent in the portion over what an even spread of the load would give it.

    Formula: Σ grams ÷ (load × portion oils)
    """
    return fraction(s.unit_of_portion().copy(), d0=s.scenting.load * s.split.oils)


@affine("scent of batch oils", "batch", unit="% of batch oils", basis="of batch oils")
def scent_of_batch_oils(s: Situation) -> AffineFraction:
    """All scent in the batch, on all its oils.

    Formula: Σ grams ÷ oils
    """
    return fraction(np.ones((1, *s.shape)), d0=s.pot.oils_total)


@affine(
    "scent of portion batter", "portion", unit="% of portion batter", basis="of portion batter", highest=1.0
)
def scent_of_portion_batter(s: Situation) -> AffineFraction:
    """All scent in the portion, on its batter as poured: the local share, scent included.

    Formula: Σ grams ÷ (portion mass + Σ grams)
    """
    unit = s.unit_of_portion()
    return fraction(unit.copy(), unit, s.split.batter)


@flag("scented", "portion", form="presence")
def scented(s: Situation) -> Column:
    """Whether the portion holds any scent."""
    return flags(np.asarray(s.presence.any(axis=0)))


@number("scents in portion", "portion", form="afterwards")
def scents_in_portion(s: Situation) -> Column:
    """How many scents the portion holds."""
    return known(s.presence.sum(axis=0).astype(float))


@number("scents in batch", "batch", form="afterwards")
def scents_in_batch(s: Situation) -> Column:
    """How many scents the batch holds, in whichever portions."""
    return known(np.asarray([float(s.presence.any(axis=1).sum())]))


@flag("against the plan", "dose")
def against_the_plan(s: Situation) -> Column:
    """Whether `never`, `only` or `scented: no` keeps this scent out of this portion."""
    return flags(~s.scenting.allowed.ravel())


@flag("poured", "scent", form="afterwards")
def poured(s: Situation) -> Column:
    """Whether any of an oil of the blend goes into a portion (not asked of an oil outside the blend)."""
    asked = s.scenting.blend * s.scenting.total > 0
    return replace(flags(np.asarray(s.presence.any(axis=1))), asked=asked)


@affine("blend total met", "scent", unit="× what the blend asks", dimension="NUMBER")
def blend_total_met(s: Situation) -> AffineFraction:
    """Grams poured over what the blend asks of this oil (not asked for an oil outside the blend).

    Formula: Σ over portions of dose ÷ (blend share × total)
    """
    asked = s.scenting.blend * s.scenting.total if s.scenting.same_total else np.zeros(len(s.scents))
    return fraction(s.unit_of_scent() * (asked > 0)[:, None, None], d0=asked)
