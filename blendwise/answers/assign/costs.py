"""What goes with a split: its cost, what the shelf lacks, the pot scented whole, and what it waits on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from blendwise.answers.assign.result import Cost, PotScented, WaitsOn
from blendwise.answers.check.result import CheckResult
from blendwise.facts.situation.timeline import timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.science import clock


def cost_of(s: Situation) -> Cost | None:
    """What the scents cost at the situation's doses; None where no oil has a price."""
    grams = s.x.sum(axis=1)
    used = [(record, float(g)) for record, g in zip(s.scent_records, grams, strict=True) if g > 0]
    priced = [(record, g) for record, g in used if record.price is not None]
    if not priced:
        return None
    batch = sum(g * record.price.per_gram for record, g in priced if record.price is not None)
    recipe = s.plan.recipe or s.book.usual.recipe
    bars = recipe.amount.bars if recipe and recipe.amount else None
    lacking = {r.name: g - r.on_hand.value for r, g in used if r.on_hand is not None and g > r.on_hand.value}
    return Cost(
        batch,
        batch / bars if bars else None,
        tuple(record.name for record, _ in used if record.price is None),
        lacking,
        s.book.usual.currency or "",
    )


def pot_scented(s: Situation, premixes: int) -> PotScented | None:
    """The pot scented whole, where every portion holds the one and only premix at nearly one rate."""
    line = timeline(s)
    if line is None or not line.wants_fluid or premixes != 1 or not s.presence.any(axis=0).all():
        return None
    rates = s.x.sum(axis=0) / s.split.oils
    if np.ptp(rates) > 0.1 * rates.mean():
        return None
    worst = float(np.max(s.home("thickening").high))  # type: ignore[union-attr]
    if not np.isfinite(worst):
        return None
    whole = float(clock.fluid_until(line.base[0], 0.0, max(worst, 1.0)))
    return PotScented(
        len(s.portions) - 1, whole, float(line.fluid_until[0].min()), float(line.needed_until.max())
    )


def waits_on(check: CheckResult | None) -> tuple[WaitsOn, ...]:
    """The facts on which a stop or a conflict of the split hangs."""
    return () if check is None else tuple(_waits(check))


def _waits(check: CheckResult) -> Iterator[WaitsOn]:
    rules: dict[tuple[str, str], list[str]] = {}
    for finding in check.findings:
        if finding.status == "undecided" and finding.level in ("stop", "conflict"):
            for missing in finding.missing:
                rules.setdefault((missing.subject, missing.fact), []).append(finding.rule)
    for (subject, fact), names in rules.items():
        yield WaitsOn(subject, fact, tuple(dict.fromkeys(names)))
