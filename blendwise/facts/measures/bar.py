"""Measures of the finished bar: limits by certificate, published maxima, bans, label names, flash points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from blendwise.facts.build import flags, known, numbers
from blendwise.facts.columns import Bools, Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number
from blendwise.facts.measures.scent import missing
from blendwise.facts.scales import SCENT_NOTES
from blendwise.facts.situation import Situation
from blendwise.records.scent import Scent
from blendwise.science import restrictions
from blendwise.science.limits import per_limit


def limits(records: Sequence[Scent]) -> Floats:
    """Most of each oil in the bar by its certificate (fractions); NaN without one."""
    return np.array(
        [np.nan if r.limit_in_bar is None else r.limit_in_bar.most.low for r in records], dtype=float
    )


def _uses(s: Situation) -> Floats:
    """1 / limit a scent; 0 without a certificate (other rules speak of that), huge for a limit of zero."""
    found = limits(s.scent_records)
    return np.where(np.isnan(found), 0.0, np.minimum(per_limit(np.nan_to_num(found, nan=1.0)), 1e9))


def embeds_by_limit(s: Situation) -> float:
    """Σ grams / limit over the scents that embeds bring."""
    records = [s.book.scents[name] for name in s.embed_scents]
    grams = np.array(list(s.embed_scents.values()), dtype=float)
    found = limits(records)
    return float((grams * np.where(np.isnan(found), 0.0, 1 / np.nan_to_num(found, nan=1.0))).sum())


@affine("limit used", "batch", unit="% of what the certificates allow", dimension="FRACTION")
def limit_used(s: Situation) -> AffineFraction:
    """How much of what the certificates allow the whole bar uses, by the sum rule, embeds included.

    Above 100 % is too much.  Oils without a certificate are not in this sum: they have rules of their own.
    Formula: Σ (share in finished bar ÷ limit)
    """
    a = np.broadcast_to(_uses(s)[None, :, None], (1, *s.shape))
    return fraction(a, np.ones((1, *s.shape)), s.bar_constant, a0=embeds_by_limit(s))


@affine("limit used in portion", "portion", unit="% of what the certificates allow", dimension="FRACTION")
def limit_used_in_portion(s: Situation) -> AffineFraction:
    """The same for the portion by itself, as if a bar were cut from it alone.

    Formula: Σ grams ÷ limit ÷ finished mass of the portion
    """
    unit = s.unit_of_portion()
    return fraction(unit * _uses(s)[None, :, None], unit, s.portion_bar_constant)


@number(
    "limit used in worst bar",
    "batch",
    unit="% of what the certificates allow",
    dimension="FRACTION",
    form="afterwards",
)
def limit_used_in_worst_bar(s: Situation) -> Column:
    """The same in the worst cut bar: the mean raised by the pour's unevenness, at most the strongest portion's.

    Formula: min(mean × (1 + uneven), strongest portion)
    """
    mean = s.home("limit used")
    strongest = s.home("limit used in portion")
    assert isinstance(mean, Column)
    assert isinstance(strongest, Column)
    uneven = s.pour.uneven.high if s.pour and s.pour.uneven else 0.0
    worst = np.maximum(mean.low, np.minimum(mean.low * (1 + uneven), strongest.low.max(initial=0.0)))
    return known(worst)


@flag("portions are bars", "batch")
def portions_are_bars(s: Situation) -> Column:
    """Whether each cavity of the mould is filled from one portion, so that a portion is a bar by itself."""
    recipe = s.plan.recipe or s.book.usual.recipe
    cavities = bool(recipe and recipe.amount and recipe.amount.mould == "cavities")
    return flags([cavities and s.pour is not None and s.pour.touching == "none"])


@affine("share in bar", "scent", unit="% of finished bar", basis="of finished bar")
def share_in_bar(s: Situation) -> AffineFraction:
    """The oil's share of the finished bar, what embeds bring included.

    Formula: grams ÷ ((1 − loss)(oils + lye + water) + colour + additives + scent + embeds)
    """
    brought = np.array([s.embed_scents.get(name, 0.0) for name in s.scents], dtype=float)
    return fraction(s.unit_of_scent(), np.ones((len(s.scents), *s.shape)), s.bar_constant, a0=brought)


@affine("scent in bar", "batch", unit="% of finished bar", basis="of finished bar")
def scent_in_bar(s: Situation) -> AffineFraction:
    """All scent in the finished bar."""
    ones = np.ones((1, *s.shape))
    return fraction(ones, ones, s.bar_constant, a0=sum(s.embed_scents.values()))


@dataclass(frozen=True, slots=True)
class Maxima:
    """Published maxima that the oils touch: contents per scent (scents, entries) over the maximum."""

    names: tuple[str, ...]
    per_gram: Floats
    from_embeds: Floats


def maxima(s: Situation) -> Maxima:
    """What a gram of each oil uses of each published maximum, by the top of its sheet's ranges."""
    names = tuple(
        dict.fromkeys(n for r in _all_records(s) if r.allergen_sheet for n in r.allergen_sheet.names)
    )
    rows, members, most = _maxima_for(names)
    weights = members / most if len(rows) else np.zeros((len(names), 0))
    embed_grams = np.array(list(s.embed_scents.values()), dtype=float)
    embed_records = [s.book.scents[name] for name in s.embed_scents]
    return Maxima(
        tuple(row.substance for row in rows),
        _contents(s.scent_records, names) @ weights,
        embed_grams @ (_contents(embed_records, names) @ weights),
    )


@lru_cache(maxsize=256)
def _maxima_for(names: tuple[str, ...]) -> tuple[tuple[restrictions.Restriction, ...], Bools, Floats]:
    return restrictions.maxima_for(names)


def _all_records(s: Situation) -> list[Scent]:
    return [*s.scent_records, *(s.book.scents[name] for name in s.embed_scents)]


def _contents(records: Sequence[Scent], names: tuple[str, ...]) -> Floats:
    sheets = [r.allergen_sheet.names if r.allergen_sheet else {} for r in records]
    rows = [[sheet[n].high if n in sheet else 0.0 for n in names] for sheet in sheets]
    return np.array(rows, dtype=float).reshape(len(records), len(names))


@affine("published maximum used", "batch", unit="% of the maximum", dimension="FRACTION")
def published_maximum_used(s: Situation) -> AffineFraction:
    """How much of the published maximum of a constituent the bar uses, the worst constituent; all scents summed.

    Only maxima read in Regulation (EC) 1223/2009, Annex III, and contents on suppliers' sheets.
    Formula: max over constituents of Σ grams × content ÷ bar ÷ maximum
    """
    found = maxima(s)
    entries = max(1, len(found.names))
    per_gram = found.per_gram if found.names else np.zeros((len(s.scents), 1))
    a = np.broadcast_to(per_gram.T[:, :, None], (entries, *s.shape))
    a0 = found.from_embeds if found.names else 0.0
    return fraction(
        a, np.ones((entries, *s.shape)), s.bar_constant, a0=a0, home=np.zeros(entries, dtype=np.int64)
    )


@flag("banned constituent", "scent")
def banned_constituent(s: Situation) -> Column:
    """Whether its sheet names a constituent that is prohibited in cosmetics in the EU (Annex II)."""
    return flags([bool(bans_of(r)) for r in s.scent_records])


def bans_of(scent: Scent) -> list[str]:
    """The constituents on its sheet that are banned."""
    names = tuple(scent.allergen_sheet.names) if scent.allergen_sheet else ()
    return [name for name, _ in restrictions.bans_among(names)]


@flag("label names known", "batch")
def label_names_known(s: Situation) -> Column:
    """Whether every oil in the bar has a complete sheet, so that all names for the label can be told."""
    lost = [r.name for r in _all_records(s) if not (r.allergen_sheet and r.allergen_sheet.complete)]
    column = flags([not lost])
    return column


@number("lowest flash point", "batch", unit="°C", dimension="TEMPERATURE")
def lowest_flash_point(s: Situation) -> Column:
    """The lowest flash point among the oils: a mix is at least as flammable, and may be more."""
    points = [r.flash_point.low if r.flash_point else None for r in s.scent_records]
    lost = [m for m, p in zip(missing(s, "flash point"), points, strict=True) if p is None]
    found = [p for p in points if p is not None]
    value = min(found) if found and not lost else None
    return numbers([value], lost or [Missing("plan", "scents")], np.array([bool(points)]))


def _note_share(s: Situation, wanted: str) -> AffineFraction:
    notes = [r.scent_note for r in s.scent_records]
    sure = np.array([1.0 if note == wanted else 0.0 for note in notes])
    maybe = np.array([1.0 if note in (wanted, None) else 0.0 for note in notes])
    spread = np.ones((1, *s.shape))
    return fraction(sure[None, :, None] * spread, spread, 0.0, a_high=maybe[None, :, None] * spread)


def _missing_note(s: Situation) -> list[tuple[Missing, ...]]:
    return [(m,) for m in missing(s, "scent note")]


@affine("base notes", "batch", unit="% of the scent", missing=_missing_note)
def base_notes(s: Situation) -> AffineFraction:
    """Share of base notes in all scent poured.

    Formula: Σ grams of base notes ÷ Σ grams
    """
    return _note_share(s, SCENT_NOTES[0])


@affine("top notes", "batch", unit="% of the scent", missing=_missing_note)
def top_notes(s: Situation) -> AffineFraction:
    """Share of top notes in all scent poured.

    Formula: Σ grams of top notes ÷ Σ grams
    """
    return _note_share(s, SCENT_NOTES[2])


def _tag_share(s: Situation, tag: str, grain: str) -> AffineFraction:
    tagged = np.array([float(tag in r.tags) for r in s.scent_records], dtype=float)
    ones = np.ones((1, *s.shape)) if grain == "batch" else s.unit_of_portion()
    return fraction(tagged[None, :, None] * ones, ones, 0.0)


@affine("citrus", "portion", unit="% of the portion's scent")
def citrus(s: Situation) -> AffineFraction:
    """Share of oils tagged citrus in the portion's scent."""
    return _tag_share(s, "citrus", "portion")


@affine("fixatives", "portion", unit="% of the portion's scent")
def fixatives(s: Situation) -> AffineFraction:
    """Share of oils tagged fixative in the portion's scent."""
    return _tag_share(s, "fixative", "portion")


@affine("spice", "batch", unit="% of the scent")
def spice(s: Situation) -> AffineFraction:
    """Share of oils tagged spice in all scent poured."""
    return _tag_share(s, "spice", "batch")
