"""Measures of constituents: published maxima, bans, names for the label, and oils that only embeds bring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from blendwise.facts.columns import Bools, Column, Floats, Missing
from blendwise.facts.forms import AffineFraction
from blendwise.facts.measure import affine, flag
from blendwise.facts.measures.bar import embed_grams, embed_records, of_dried_bar, of_dried_portion
from blendwise.facts.plain_columns import flags
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import format_number
from blendwise.records.kinds.scent import Scent
from blendwise.science import restrictions
from blendwise.science.limits import use_of_maxima

SOURCE = "allergen sheets in scents.yaml; Regulation (EC) No 1223/2009, Annexes II and III"


@dataclass(frozen=True, slots=True)
class Maxima:
    """Published maxima that the oils touch, ``rows``; what a gram of each scent uses of each of them.

    ``per_gram``: (scents, rows), content over maximum.  ``from_embeds``: (rows,), of all embeds together.
    """

    rows: tuple[restrictions.Restriction, ...]
    per_gram: Floats
    from_embeds: Floats


def maxima(s: Situation) -> Maxima:
    """What a gram of each oil uses of each published maximum, by the top of its sheet's ranges."""
    sheets = [r.allergen_sheet.names for r in all_records(s) if r.allergen_sheet]
    names = tuple(dict.fromkeys(name for sheet in sheets for name in sheet))
    rows, members, most = _maxima_for(names)
    own, brought = (
        use_of_maxima(contents_of(records, names), members, most) if rows else np.zeros((len(records), 0))
        for records in (s.scent_records, embed_records(s))
    )
    return Maxima(rows, own, embed_grams(s) @ brought)


@lru_cache(maxsize=256)
def _maxima_for(names: tuple[str, ...]) -> tuple[tuple[restrictions.Restriction, ...], Bools, Floats]:
    return restrictions.maxima_for(names)


def all_records(s: Situation) -> list[Scent]:
    """Every oil of the blend and of the embeds, each once."""
    return list({r.name: r for r in (*s.scent_records, *embed_records(s))}.values())


def contents_of(records: Sequence[Scent], names: tuple[str, ...]) -> Floats:
    """Contents (records, names) by the top of the ranges on the sheets; 0 where a sheet says nothing."""
    sheets = [r.allergen_sheet.names if r.allergen_sheet else {} for r in records]
    rows = [[sheet[n].high if n in sheet else 0.0 for n in names] for sheet in sheets]
    return np.array(rows, dtype=float).reshape(len(records), len(names))


def _worst_maximum(s: Situation) -> dict[int, str]:
    """Which constituent stands nearest to its published maximum in the bar, what that is, and its source."""
    found = maxima(s)
    if not found.rows:
        return {}
    used = s.x.sum(axis=1) @ found.per_gram + found.from_embeds
    return {0: _named(found.rows[int(used.argmax())])} if used.max() > 0 else {}


def _worst_maximum_in_portion(s: Situation) -> dict[int, str]:
    found = maxima(s)
    if not found.rows:
        return {}
    used = s.x.T @ found.per_gram
    return {p: _named(found.rows[int(row.argmax())]) for p, row in enumerate(used) if row.max() > 0}


def _named(row: restrictions.Restriction) -> str:
    assert row.most is not None
    most = format_number(100 * row.most)
    return (
        f"{row.substance}, at most {most} % of the finished bar ({row.authority} {row.entry}; {row.source})"
    )


@affine(
    "published maximum used",
    "batch",
    unit="% of the maximum",
    dimension="FRACTION",
    evidence=_worst_maximum,
)
def published_maximum_used(s: Situation) -> AffineFraction:
    """How much of a constituent's published maximum the bar uses, the worst constituent, all scents summed.

    Only maxima read in Regulation (EC) 1223/2009, Annex III, and contents on suppliers' sheets.
    Formula: greatest over constituents of Σ grams × content ÷ dried mass ÷ maximum
    """
    found = maxima(s)
    entries = max(1, len(found.rows))
    per_gram = found.per_gram if found.rows else np.zeros((len(s.scents), 1))
    a = np.broadcast_to(per_gram.T[:, :, None], (entries, *s.shape))
    a0 = found.from_embeds if found.rows else 0.0
    return of_dried_bar(s, a, a0, np.zeros(entries, dtype=np.int64))


@affine(
    "published maximum used in portion",
    "portion",
    unit="% of the maximum",
    dimension="FRACTION",
    evidence=_worst_maximum_in_portion,
)
def published_maximum_used_in_portion(s: Situation) -> AffineFraction:
    """How much of a constituent's published maximum the portion would use by itself, the worst constituent.

    Formula: greatest over constituents of Σ grams × content ÷ dried mass of the portion ÷ maximum
    """
    found = maxima(s)
    per_gram = found.per_gram if found.rows else np.zeros((len(s.scents), 1))
    entries, portions = per_gram.shape[1], len(s.portions)
    unit = np.repeat(s.unit_of_portion(), entries, axis=0)
    a = unit * np.tile(per_gram.T, (portions, 1))[:, :, None]
    return of_dried_portion(s, a, entries, np.repeat(np.arange(portions, dtype=np.int64), entries))


@flag("banned constituent", "scent")
def banned_constituent(s: Situation) -> Column:
    """Whether its sheet names a constituent that is prohibited in cosmetics in the EU (Annex II)."""
    return flags([bool(bans_of(r)) for r in s.scent_records])


def bans_of(scent: Scent) -> list[str]:
    """The constituents on its sheet that are banned."""
    names = tuple(scent.allergen_sheet.names) if scent.allergen_sheet else ()
    return [name for name, _ in restrictions.bans_among(names)]


def _poured(s: Situation) -> Bools:
    """Whether each scent is in any portion (scents,)."""
    return np.asarray(s.presence.any(axis=1))


def _only_in_embeds(s: Situation) -> list[Scent]:
    """Oils that come with embeds and with no portion: the rules on scents do not see them."""
    return [r for r in embed_records(s) if r.name not in s.scents]


@flag("embed scents for skin", "batch")
def embed_scents_for_skin(s: Situation) -> Column:
    """Whether every oil that only embeds bring is sold for use on skin (not asked where there is none)."""
    records = _only_in_embeds(s)
    said = [r.for_skin for r in records]
    found = False if False in said else None if None in said else True
    lost = tuple(Missing(r.name, "for skin") for r in records if r.for_skin is None)
    return flags([found], [lost], np.array([bool(records)]))


@flag("embed scents certified", "batch")
def embed_scents_certified(s: Situation) -> Column:
    """Whether every oil that only embeds bring has a limit on file (not asked where there is none)."""
    records = _only_in_embeds(s)
    return flags([all(r.limit_in_bar is not None for r in records)], None, np.array([bool(records)]))


@flag("embed scents banned", "batch")
def embed_scents_banned(s: Situation) -> Column:
    """Whether an oil that only embeds bring holds a constituent that is prohibited in the EU (Annex II)."""
    records = _only_in_embeds(s)
    return flags([any(bans_of(r) for r in records)], None, np.array([bool(records)]))


@flag("label names known", "batch", form="afterwards")
def label_names_known(s: Situation) -> Column:
    """Whether every oil in the bar has a complete sheet, so that all names for the label can be told."""
    there = {name for name, here in zip(s.scents, _poured(s), strict=True) if here}
    there |= set(s.embed_scents)
    records = [r for r in all_records(s) if r.name in there]
    return flags([all(r.allergen_sheet and r.allergen_sheet.complete for r in records)])
