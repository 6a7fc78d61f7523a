"""A plan with oils at the doses that a question names, and the most of an oil that breaks no limit there."""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import Dosed, Named
from blendwise.answers.check.result import CheckResult
from blendwise.answers.plan_text import edits
from blendwise.answers.plan_text.scaling import with_own_recipe
from blendwise.answers.refusals import NotAskable
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Basis, Dimension, QuantityError, format_number, parse_amount
from blendwise.records.as_of import AsOf
from blendwise.records.book import plan_of
from blendwise.records.place import RecordError

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.records.kinds.plan import Plan

OF_DOSE: Final = ("limit used", "limit used in portion", "guard used", "guard used in bar")
"""Measures by which a dose is too much for skin."""
TRIES, DIGITS, FINE = 4, 9, 0.01
"""How often a most is sought; digits of what is written; step (g) where the book names no scale."""

Grams = Mapping[str, float]


def dose_grams(text: str, oils: float, now: float) -> float | None:
    """A dose as typed in grams, for a pot of so many grams of oils that holds ``now`` of it.

    A rate without a basis is of the oils: so makers mean it.  None where it is no dose.
    """
    more = text.startswith("+ ")
    if text.startswith("x "):
        return now * float(text.removeprefix("x ")) if now else None
    try:
        amount = parse_amount(
            text.removeprefix("+ "),
            Dimension.FRACTION,
            Dimension.MASS,
            bases=(Basis.BATCH_OILS, Basis.OILS),
            default_basis=Basis.BATCH_OILS,
        )
    except QuantityError:
        return None
    grams = amount.value * (oils if amount.dimension is Dimension.FRACTION else 1.0)
    return grams + (now if more else 0.0)


def dosed(book: Door, plan: str | Path, named: Named, on: AsOf) -> tuple[CheckResult, Dosed] | None:
    """The check of the plan with the doses that are named, and what they come to; None where it has none of
    the oils, or they cannot be read as doses."""
    s = book.situation(plan, on)
    wanted = _wanted(s, named)
    if not wanted:
        return None
    was = _held(s)
    oils = s.pot.oils_total
    told = tuple(text for _, text in named.doses)
    try:
        found = book.check(with_grams(s, was | wanted), on=on, working=True)
    except (RecordError, QuantityError, NotAskable):
        return book.check(plan, on=on, working=True), Dosed(told, wanted, was, oils, beyond=True)
    one = next(iter(wanted)) if len(wanted) == 1 else ""
    most = _most(book, s, one, wanted[one], found, on) if one else None
    return found, Dosed(told, wanted, was, oils, most=most)


def _held(s: Situation) -> dict[str, float]:
    return dict(zip(s.scents, (float(each) for each in s.x.sum(axis=1)), strict=True))


def _wanted(s: Situation, named: Named) -> dict[str, float]:
    """Grams of each oil that is named with its dose; all in proportion where all scent is meant."""
    held, wanted = _held(s), dict[str, float]()
    for oil, text in named.doses:
        now = held.get(oil, 0.0) if oil else math.fsum(held.values())
        grams = dose_grams(text, s.pot.oils_total, now)
        if grams is None or (oil and oil not in held) or not (oil or now):
            return {}
        wanted |= {oil: grams} if oil else {name: mass * grams / now for name, mass in held.items()}
    return wanted


def with_grams(s: Situation, grams: Grams) -> Plan:
    """The plan with so much of each oil in all; RecordError where nobody could write it so.

    Its blend and load are rewritten, and own doses that it states in the same proportion.
    """
    doc = with_own_recipe(s)
    held = {name: mass for name, mass in grams.items() if mass > 0}
    load = f"{format_number(100 * math.fsum(held.values()) / s.pot.oils_total, DIGITS)} % of batch oils"
    values: dict[tuple[str | int, ...], str] = {
        ("scents", "blend", name): format_number(mass, DIGITS) for name, mass in held.items()
    }
    doc = edits.set_all(doc, values | {("scents", "load"): load})
    was = _held(s)
    own: dict[tuple[str | int, ...], str] = {
        ("doses", portion, name): f"{format_number(x * grams[name] / was[name], DIGITS)} g"
        for portion, row in s.plan.doses.items()
        for name in row
        if (x := float(s.x[s.scents.index(name), s.portions.index(portion)])) > 0 and was[name]
    }
    return plan_of(edits.set_all(doc, own), s.book)


def breaks(check: CheckResult) -> bool:
    """Whether a limit for skin is broken, or hangs on what nobody knows."""
    stops = (f for f in check.findings if f.level == "stop" and f.stands and f.kind_of_stop == "harm")
    return any(f.protects in ("limits", "ban") or f.measure in OF_DOSE for f in stops)


def _used(check: CheckResult) -> float | None:
    """Of what the certificates allow in the bar, at the harsh end."""
    values = [f.high for f in check.working if f.measure == "limit used" and f.grain == "batch"]
    return values[0] if values and isinstance(values[0], float) and math.isfinite(values[0]) else None


def _most(book: Door, s: Situation, oil: str, grams: float, found: CheckResult, on: AsOf) -> float | None:
    """The most of one oil, the others as planned, by which no limit breaks: g, up to what is usual in all.

    The part of a limit that is used grows nearly as the dose does: between a dose that holds and one that
    does not, where a line meets the limit is tried, a few times.  None where no dose is known to hold.
    """
    held = _held(s)
    step = s.book.usual.scale_step.value if s.book.usual.scale_step else FINE

    def at(mass: float) -> CheckResult:
        return book.check(with_grams(s, held | {oil: mass}), on=on, working=True)

    least = held[oil] or step
    good, bad = (grams, found), (grams, found)
    usual = MOST_USUAL_DOSE * s.pot.oils_total - math.fsum(m for name, m in held.items() if name != oil)
    if breaks(found):
        good = (least, at(least))
    else:
        bad = (max(usual, grams), at(max(usual, grams)))
    if breaks(good[1]):
        return None
    if not breaks(bad[1]):  # no limit binds: what is usual does
        return math.floor(max(usual, least) / step + 1e-9) * step
    for _ in range(TRIES):
        guess = math.floor(_between(good, bad) / step + 1e-9) * step
        if guess <= good[0]:
            break
        check = at(guess)
        good, bad = (good, (guess, check)) if breaks(check) else ((guess, check), bad)
    return good[0]


def _between(good: tuple[float, CheckResult], bad: tuple[float, CheckResult]) -> float:
    """Where a line from a dose that holds to one that does not meets what the certificates allow."""
    low, high = _used(good[1]), _used(bad[1])
    part = (1 - low) / (high - low) if low is not None and high is not None and high > max(low, 1) else 0.5
    return good[0] + min(max(part, 0.0), 1.0) * (bad[0] - good[0])
