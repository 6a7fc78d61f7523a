"""The doses: which scent goes into which portion, in grams, as the plan writes them or leaves them open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from blendwise.facts.assumed import Assumed, assumed
from blendwise.facts.columns import Bools, Floats
from blendwise.facts.situation.pot import Pot
from blendwise.facts.situation.problems import Problems
from blendwise.facts.situation.split import Split
from blendwise.quantity import Basis, Dimension
from blendwise.records.book import BookFiles
from blendwise.records.kinds.plan import Plan, Scents
from blendwise.records.reading.fields import Dose
from blendwise.science.mass import dose_grams

SPREAD = "spread evenly"
SAME_TOTAL = "same total"

DUST: Final = 1e-12
"""Part of all scent below which a dose is what rounding of sums left over, and none."""


@dataclass(frozen=True, slots=True)
class Scenting:
    """The blend and where it may go.  Arrays over (scents, portions), grams.

    ``blend``: shares by mass, summing to 1 over the scents of the blend (0 for a scent that only
    ``doses`` names).  ``total``: grams of blend for a fully scented batch.  ``allowed``: what ``never``,
    ``only`` and unscented portions leave.  ``written``: the maker's own doses, NaN where left open.
    """

    scents: tuple[str, ...]
    blend: Floats
    load: float  # g of blend per g of portion oils
    total: float
    same_total: bool
    allowed: Bools
    written: Floats
    x: Floats
    assumptions: tuple[Assumed, ...] = field(default=())


def make_doses(
    plan: Plan, pot: Pot, split: Split, book: BookFiles, problems: Problems, variation: str | None = None
) -> Scenting | None:
    """Resolve the plan's scents to grams (see ``Scenting``), or report why not."""
    if variation is not None and variation not in plan.variations:
        remedy = f"It has: {', '.join(plan.variations)}." if plan.variations else "It has none; name none."
        problems.add(plan, f'The plan has no variation "{variation}".', remedy, "variations")
        return None
    scents = _scent_names(plan, variation)
    for name in scents:
        if name not in book.scents:
            problems.unknown(plan.scents or plan, "blend", name, "scent", book.scents)
    if problems.found:
        return None
    blend = _blend(plan.scents, scents)
    load = _load(plan, pot, split, book)
    if load is None:
        remedy = "Write `load: 4 % of batch oils` or as much as you mean."
        problems.add(plan.scents or plan, "The plan does not say how much scent.", remedy)
        return None
    total = load * float(split.oils.sum())
    allowed = _allowed(plan, scents, split.names)
    dosing = (plan.scents.dosing if plan.scents else None) or book.usual.dosing or SAME_TOTAL
    same_total = dosing == SAME_TOTAL
    written = _written(plan, scents, blend * total, pot, split, variation)
    spread = _spread_same_total if same_total else _spread_same_dose
    x, notes = spread(scents, blend, load, written, allowed, split)
    without_dust = np.where(np.abs(x) < DUST * total, 0.0, x)
    return Scenting(scents, blend, load, total, same_total, allowed, written, without_dust, tuple(notes))


def _scent_names(plan: Plan, variation: str | None) -> tuple[str, ...]:
    names = list(plan.scents.blend) if plan.scents else []
    for doses in _dose_tables(plan, variation).values():
        names += list(doses)
    return tuple(dict.fromkeys(names))


def _dose_tables(plan: Plan, variation: str | None) -> dict[str, dict[str, Dose]]:
    tables = {portion: dict(doses) for portion, doses in plan.doses.items()}
    if variation is not None:
        for portion, doses in plan.variations[variation].doses.items():
            tables.setdefault(portion, {}).update(doses)
    return tables


def _blend(scents: Scents | None, names: tuple[str, ...]) -> Floats:
    parts = np.array([scents.blend[n].value if scents and n in scents.blend else 0.0 for n in names])
    return np.asarray(parts / parts.sum() if parts.sum() > 0 else parts)


def _load(plan: Plan, pot: Pot, split: Split, book: BookFiles) -> float | None:
    """Grams of blend per gram of portion oils; the usual load where the plan names none, else None."""
    amount = (plan.scents.stated_load if plan.scents else None) or book.usual.load
    if amount is None:
        return None if plan.scents and not plan.doses else 0.0
    oils = float(split.oils.sum())
    if amount.dimension is Dimension.MASS:
        return amount.value / oils
    if amount.basis is Basis.BATCH_BATTER:  # holds the scent itself, as a dose on batter does
        batter = float(split.pot_batter.sum())
        return float(dose_grams(amount.value, amount.basis, {amount.basis: batter})) / oils
    return amount.value


def _allowed(plan: Plan, scents: tuple[str, ...], portions: tuple[str, ...]) -> Bools:
    allowed = np.ones((len(scents), len(portions)), dtype=bool)
    for p, portion in enumerate(plan.portions):
        if portion.scented is False:
            allowed[:, p] = False
    for rule in plan.never:
        if rule.scent in scents:
            allowed[scents.index(rule.scent), [portions.index(p) for p in rule.in_]] = False
    for rule in plan.only:
        if rule.scent in scents:
            keep = np.isin(np.array(portions, dtype=str), np.array(rule.in_, dtype=str))
            allowed[scents.index(rule.scent), ~keep] = False
    return allowed


def _written(
    plan: Plan, scents: tuple[str, ...], totals: Floats, pot: Pot, split: Split, variation: str | None
) -> Floats:
    """The maker's own doses in grams; NaN where nothing is written."""
    written = np.full((len(scents), len(split.names)), np.nan)
    for portion, doses in _dose_tables(plan, variation).items():
        p = split.names.index(portion)
        for scent, amount in doses.items():
            s = scents.index(scent)
            written[s, p] = dose_mass(amount, float(totals[s]), p, pot, split)
    return written


def dose_mass(dose: Dose, total: float, p: int, pot: Pot, split: Split) -> float:
    """Grams of one written dose, of ``total`` g of its scent where it is a share of that."""
    amount = dose.amount
    if amount is None:
        return (dose.of_total or 0.0) * total
    if amount.dimension is Dimension.MASS:
        return amount.value
    weights = {
        Basis.BATCH_OILS: pot.oils_total,
        Basis.PORTION_OILS: float(split.oils[p]),
        Basis.BATCH_BATTER: pot.batter,
        Basis.PORTION_BATTER: float(split.batter[p]),
    }
    assert amount.basis is not None
    return float(dose_grams(amount.value, amount.basis, weights))


def respread(found: Scenting, written: Floats, split: Split) -> Floats:
    """Grams (scents, portions) with other doses ``written`` (NaN where open), the rest spread as before."""
    spread = _spread_same_total if found.same_total else _spread_same_dose
    return spread(found.scents, found.blend, found.load, written, found.allowed, split)[0]


def _spread_same_total(
    scents: tuple[str, ...], blend: Floats, load: float, written: Floats, allowed: Bools, split: Split
) -> tuple[Floats, list[Assumed]]:
    """What is left of every scent's total goes evenly, per gram of portion oils, where it may."""
    x = np.nan_to_num(written, nan=0.0)
    notes, spread = [], {}
    totals = blend * load * float(split.oils.sum())
    for s, scent in enumerate(scents):
        left = totals[s] - x[s].sum()
        places = allowed[s] & np.isnan(written[s])
        if left <= 1e-9 * max(totals[s], 1.0) or blend[s] == 0:
            continue
        if not places.any():
            notes.append(assumed("no portion for it", scent=scent, grams=float(left)))
            continue
        x[s, places] += left * split.oils[places] / split.oils[places].sum()
        spread[scent] = places
    return x, [*notes, *_spread_notes(spread, split)]


def _spread_same_dose(
    scents: tuple[str, ...], blend: Floats, load: float, written: Floats, allowed: Bools, split: Split
) -> tuple[Floats, list[Assumed]]:
    """Every scented portion carries the load; what its written doses leave open the blend's parts fill."""
    x = np.nan_to_num(written, nan=0.0)
    open_parts = np.where(allowed & np.isnan(written), blend[:, None], 0.0)
    sums = open_parts.sum(axis=0)
    left = np.maximum(load * split.oils - x.sum(axis=0), 0.0)
    x = x + np.divide(open_parts, sums, out=np.zeros_like(open_parts), where=sums > 0) * left
    spread = {scent: open_parts[s] > 0 for s, scent in enumerate(scents) if (open_parts[s] > 0).any()}
    return x, list(_spread_notes(spread, split))


def _spread_notes(spread: dict[str, Bools], split: Split) -> Iterator[Assumed]:
    """Which scents the plan leaves open, and where they are taken to go; one note a set of portions."""
    groups: dict[bytes, list[str]] = {}
    for scent, places in spread.items():
        groups.setdefault(places.tobytes(), []).append(scent)
    for key, names in groups.items():
        places = np.frombuffer(key, dtype=bool)
        where = tuple(name for name, here in zip(split.names, places, strict=True) if here)
        yield assumed(SPREAD, scents=tuple(names), portions=where)
