"""Two ways side by side: part of a pot scented at one dose or with all of the scent; a plan at other lyes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import HalfScented, Warmed, Watered
from blendwise.answers.check.result import CheckResult, Fact
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door

LYES: Final = (0.28, 0.30, 0.33)
"""Strengths of lye that makers choose between: common practice."""
WARMTHS: Final = {"C": (27.0, 32.0, 38.0, 43.0, 49.0), "F": (80.0, 90.0, 100.0, 110.0, 120.0)}
"""Temperatures of the batter that makers choose between, in the unit they use: common practice."""
RATE, TIMES = "scent rate", "times the load"


def half_scented(check: CheckResult, portions: Sequence[str]) -> HalfScented | None:
    """Both ways for the portions that are named, else for those that hold scent; None where none is known.

    same dose: each scented portion takes the load.  same total: load ÷ share of the oils that are scented.
    """
    oils = {row.portion: row.oils for row in check.grams}
    scented = [name for name in portions if name in oils] or [
        row.portion for row in check.grams if row.scent_total
    ]
    whole = math.fsum(oils.values())
    load = _load(check)
    if not whole or not scented or load is None:
        return None
    return _both(math.fsum(oils[name] for name in scented) / whole, load)


def half_of_usual(book: Door) -> HalfScented | None:
    """Half of a pot at the book's usual load; None where it has none."""
    load = book.files.usual.load
    return None if load is None else _both(0.5, load.mid)


def _both(share: float, load: float) -> HalfScented:
    return HalfScented(share, load, load, load / share, MOST_USUAL_DOSE)


def _load(check: CheckResult) -> float | None:
    """The load as planned: a portion's rate by how many times the load it is."""
    rates, times = (_by_subject(check.working, measure) for measure in (RATE, TIMES))
    return next((rate / times[name] for name, rate in rates.items() if times.get(name)), None)


def _by_subject(facts: Sequence[Fact], measure: str) -> dict[str, float]:
    return {
        fact.subject: fact.low for fact in facts if fact.measure == measure and isinstance(fact.low, float)
    }


def watered(book: Door, plan: str | Path, on: AsOf) -> tuple[Watered, ...]:
    """The plan at other strengths of lye; none where it does not state one that could be changed."""
    return tuple(_watered(book, plan, on))


def _watered(book: Door, plan: str | Path, on: AsOf) -> Iterator[Watered]:
    from blendwise.answers.plan_text.edits import set_or_add
    from blendwise.answers.plan_text.scaling import with_own_recipe
    from blendwise.quantity import format_number
    from blendwise.records.book import plan_of

    situation = book.situation(plan, on)
    try:
        doc = with_own_recipe(situation)
        stated = doc.root.plain["recipe"].get("lye", {})
        if any(key in stated for key in ("NaOH", "water", "water to lye", "water of oils")):
            return
        for lye in LYES:
            text = set_or_add(doc, ("recipe", "lye", "concentration"), f"{format_number(100 * lye)} %")
            check = book.check(plan_of(text, book.files), on=on, working=True)
            yield _at(lye, check.working)
    except RecordError:
        return


def warmed(book: Door, plan: str | Path, on: AsOf) -> tuple[Warmed, ...]:
    """The plan with its batter at other temperatures."""
    return tuple(_warmed(book, plan, on))


def _warmed(book: Door, plan: str | Path, on: AsOf) -> Iterator[Warmed]:
    from blendwise.answers.plan_text.edits import set_or_add
    from blendwise.answers.plan_text.scaling import with_own_recipe
    from blendwise.quantity import Dimension, format_number, parse_amount
    from blendwise.records.book import plan_of

    unit = book.files.usual.units.temperature
    try:
        doc = with_own_recipe(book.situation(plan, on))
        for at in WARMTHS[unit]:
            said = f"{format_number(at)} °{unit}"
            text = set_or_add(doc, ("process", "batter at split"), said)
            check = book.check(plan_of(text, book.files), on=on, working=True)
            yield Warmed(parse_amount(said, Dimension.TEMPERATURE).value, *_tightest(check.working))
    except RecordError:
        return


def _tightest(facts: Sequence[Fact]) -> tuple[float | None, float | None]:
    """Minutes fluid and minutes needed of the cup that has the fewest to spare."""
    fluid, needed = _by_subject(facts, "minutes fluid"), _by_subject(facts, "minutes needed")
    spare = {name: minutes - needed.get(name, 0.0) for name, minutes in fluid.items()}
    tightest = min(spare, key=lambda name: spare[name], default="")
    return fluid.get(tightest), needed.get(tightest)


def _at(lye: float, facts: Sequence[Fact]) -> Watered:
    fluid, needed = _tightest(facts)
    risks = [fact.high for fact in facts if fact.measure == "river risk" and isinstance(fact.high, str)]
    worst = max(risks, key=("low", "some", "high").index) if risks else None
    return Watered(lye, fluid, needed, worst)
