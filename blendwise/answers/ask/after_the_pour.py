"""What a plan's own batches say of selling, and a plan at another size: questions that want figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from blendwise.answers.ask.own_looks import last_batch, noted
from blendwise.answers.ask.result import Sold
from blendwise.records.as_of import AsOf
from blendwise.science.cure import CURE_DAYS

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.records.notes.batches import Batch

FRESH: Final = 3
"""Days after the pour up to which a bar is weighed fresh: judgement."""


def sold(book: Door, plan: str | Path, on: AsOf) -> Sold:
    """From when the plan's last batch is called cured, and what a bar of it may be sold as.

    Nothing poured yet counts as poured today.  ``net``: g by the last bar weighed, less what it will lose
    from that day on.
    """
    batch = last_batch(book, plan, on)
    poured = on.today if batch is None else date.fromisoformat(batch.poured)
    looks = [look for look in batch.looks if look.mass] if batch else []
    mass = looks[-1].mass if looks else None
    weighed_on = date.fromisoformat(looks[-1].on) if looks else None
    draft = book.label(plan, on=on, weights=f"{mass:g} g" if mass else "", weighed_on=weighed_on)
    first, last = (poured + timedelta(days=days) for days in CURE_DAYS)
    fresh = weighed_on is not None and weighed_on < first
    found = Sold(
        batch=batch.key if batch else "",
        poured=poured,
        first=first,
        last=last,
        weighed=mass,
        weighed_on=weighed_on,
        still=draft.weight.still_to_lose,
        net=draft.weight.net,
        net_ounces=draft.weight.net_ounces,
        today=on.today,
        fresh=fresh,
        cure_loss=book.situation(plan, on).cure_loss,
        likely=mass * (1 - book.situation(plan, on).cure_loss) if mass and fresh else None,
    )
    planned = None if mass else _planned(book, plan, on)
    return replace(found, planned=planned, **_lost(noted(book, on)))


def _planned(book: Door, plan: str | Path, on: AsOf) -> float | None:
    """What a cured bar of a plan is reckoned to weigh, in g."""
    facts = book.check(plan, on=on, working=True).working
    return next((f.low for f in facts if f.measure == "bar mass" and isinstance(f.low, float)), None)


def _lost(batches: Sequence[Batch]) -> dict[str, Any]:
    """What the bars of the last batch lost that was weighed fresh and again once it was cured."""
    for batch in reversed(batches):
        weighed = [(batch.days(look), look.mass) for look in batch.looks if look.mass]
        fresh = [each for each in weighed if each[0] <= FRESH]
        cured = [each for each in weighed if each[0] >= CURE_DAYS[0]]
        if fresh and cured and not batch.is_cup and cured[-1][1] < fresh[0][1]:
            days = cured[-1][0] - fresh[0][0]
            return {"lost": 1 - cured[-1][1] / fresh[0][1], "lost_days": days, "lost_by": batch.key}
    return {}


def example_bars(book: Door, found: Sold) -> str:
    """An example of weighed bars in the book's unit: never more than what may be printed now."""
    if book.files.usual.units.mass == "oz":
        return f"{found.net_ounces or 4.5:g} oz, …"
    return f"{found.net or 112:g} g, …"
