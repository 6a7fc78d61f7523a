"""What a plan's own batches say of selling, and a plan at another size: questions that want figures."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import Sold
from blendwise.quantity import Dimension, QuantityError, Units, format_number, parse_amount
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.records.as_of import AsOf
from blendwise.science.cure import CURE_DAYS

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.answers.assign.result import AssignResult
    from blendwise.records.notes.batches import Batch

BARS: Final = re.compile(r"(\d{1,4})\s*bars?", re.IGNORECASE)
TIMES: Final = {"double": 2.0, "doubled": 2.0, "twice": 2.0, "triple": 3.0, "half": 0.5, "halve": 0.5}
"""Words that name a size as a multiple of the plan's own."""
SIDES: Final = re.compile(r"\d\s*(?:x|×|by)\s*\d", re.IGNORECASE)


def sold(book: Door, plan: str | Path, on: AsOf) -> Sold:
    """From when the plan's last batch is called cured, and what a bar of it may be sold as.

    Nothing poured yet counts as poured today.  ``net``: g by the last bar weighed, less what it will lose.
    """
    batch = last_batch(book, plan, on)
    poured = on.today if batch is None else date.fromisoformat(batch.poured)
    looks = [look for look in batch.looks if look.mass] if batch else []
    mass = looks[-1].mass if looks else None
    draft = book.label(plan, on=on, weights=f"{mass:g} g" if mass else "")
    first, last = (poured + timedelta(days=days) for days in CURE_DAYS)
    return Sold(
        batch=batch.key if batch else "",
        poured=poured,
        first=first,
        last=last,
        weighed=mass,
        weighed_on=date.fromisoformat(looks[-1].on) if looks else None,
        still=draft.weight.still_to_lose,
        net=draft.weight.net,
        net_ounces=draft.weight.net_ounces,
    )


def last_batch(book: Door, plan: str | Path, on: AsOf) -> Batch | None:
    """The plan's last batch that is noted; None where none is."""
    from blendwise.records.notes.batches import batches_of
    from blendwise.records.notes.notebook import read_notebook

    name = book.plan(plan).plan
    batches, _ = batches_of(read_notebook(book.folder), book.folder, on.today)
    return next((batch for batch in reversed(batches) if batch.plan == name), None)


def resized(
    book: Door, plan: str | Path, amounts: Sequence[str], asked: str, on: AsOf
) -> tuple[AssignResult, tuple[str, str]] | None:
    """The plan at the size that is named (bars, oils, a mould's sides, twice), with the option that says so.

    None where no size is named; RecordError or QuantityError where the plan cannot be written anew.
    """
    for amount in amounts:
        if bars := BARS.fullmatch(amount.strip()):
            return book.assign(plan, on=on, bars=int(bars[1])), ("--bars", bars[1])
        if SIDES.search(amount):
            return book.assign(plan, on=on, mould=amount), ("--mould", amount)
        if _is_mass(amount):
            return book.assign(plan, on=on, oils=amount), ("--oils", amount)
    said = re.findall(r"[a-z]+", asked.casefold())
    times = next((TIMES[word] for word in said if word in TIMES), None)
    if times is None:
        return None
    oils = quantity(times * book.situation(plan, on).pot.oils_total, book.files.usual.units)
    return book.assign(plan, on=on, oils=oils), ("--oils", oils)


def quantity(grams: float, units: Units) -> str:
    """A mass as a maker would type it, in the book's own unit."""
    if units.mass == "oz":
        return f"{format_number(round(grams / GRAMS_PER_OUNCE, 1))} oz"
    return f"{format_number(round(grams))} g"


def _is_mass(text: str) -> bool:
    try:
        return "ppo" not in text.casefold() and parse_amount(text, Dimension.MASS).value > 0
    except QuantityError:
        return False
