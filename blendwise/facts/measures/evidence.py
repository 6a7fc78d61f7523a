"""Measures of what is known, by whom, and how old it is."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from math import inf

import numpy as np

from blendwise.beliefs.contents import Content, contents_of
from blendwise.beliefs.traits import Traits
from blendwise.facts import papers
from blendwise.facts.columns import Column
from blendwise.facts.measure import flag, number, word
from blendwise.facts.measures.scent import missing
from blendwise.facts.plain_columns import flags, numbers, words
from blendwise.facts.registry import Use
from blendwise.facts.scales import EVIDENCE, SHEET
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science.labels import label_names_for

SOURCE = "scents.yaml and the notes"

BEHAVIOUR = "behaviour in soap"
# What another lot showed ranks one lower than what this bottle's did.
RANKED_AS = {"own batch of another lot": "own cup", "own cup of another lot": "supplier"}
DAYS_A_YEAR = 365.25
DESCRIBED_BY = ("acceleration", "vanillin", "browns_to", "ricing", "after_six_weeks")


@word("evidence", "scent", EVIDENCE)
def best_evidence(s: Situation) -> Column:
    """The best-ranked evidence of how the oil behaves: own batch over own cup over supplier over hearsay."""
    found = [_best(record, traits) for record, traits in zip(s.scent_records, s.traits, strict=True)]
    return words(found, EVIDENCE, missing(s, "evidence"))


def _best(scent: Scent, traits: Traits) -> str | None:
    said: list[str | None] = [scent.evidence, traits.speed.evidence, traits.browner.evidence]
    said += [part.evidence for part in (scent.acceleration, scent.browns_to) if part is not None]
    known = [RANKED_AS.get(word, word) for word in said if word]
    return max(known, key=EVIDENCE.index) if known else None


@flag("described", "scent")
def described(s: Situation) -> Column:
    """Whether anybody has written down how it behaves in soap (browning, acceleration, ricing or fade).

    Where nobody has, that is no fault of the oil's: it is not known.
    """
    known = [is_described(r) or _looked_at(s, r) or None for r in s.scent_records]
    return flags(known, missing(s, BEHAVIOUR))


def _looked_at(s: Situation, scent: Scent) -> bool:
    """Whether a look of one's own says anything of it."""
    lessons, learned = s.believing.lessons, s.believing.of(scent.name)
    seen = (learned.speed, learned.browning, learned.remains) if learned else ()
    return any(each and each.looks for each in seen) or bool(lessons and scent.name in lessons.grains)


def is_described(scent: Scent) -> bool:
    """Whether an oil's entry says how it browns, quickens, rices or lasts."""
    return any(getattr(scent, field) is not None for field in DESCRIBED_BY)


@flag("browning seen", "scent")
def browning_seen(s: Situation) -> Column:
    """Whether its colour in soap was seen, not only reckoned from the bottle's vanillin."""
    return flags([t.seen_browning for t in s.traits])


@flag("certificate", "scent", use=Use(fact="limit in bar", told_by=lambda r: r.limit_in_bar))
def certificate(s: Situation) -> Column:
    """Whether a certificate with a limit for soap is on file: named or dated, of category 9, not to come.

    A bare figure is no certificate, nor is one for another category, nor what hearsay says without a paper.
    """
    how = [papers.standing(r, s.today) for r in s.scent_records]
    told = {i: _why_not(r, why) for i, (r, why) in enumerate(zip(s.scent_records, how, strict=True))}
    column = flags([why == "good" for why in how])
    return replace(column, evidence={i: text for i, text in told.items() if text})


def _why_not(scent: Scent, standing: papers.Standing) -> str:
    """What is amiss with a limit on file, in the words of the entry."""
    limit = scent.limit_in_bar
    if limit is None or standing in ("good", "none"):
        return ""
    match standing:
        case "to come":
            return f"limit in bar: dated {limit.dated}, a day to come"
        case "another category":
            named = ", ".join(sorted(limit.categories))
            return f"limit in bar: for category {named}, and bar soap is category 9"
        case "hearsay":
            return "limit in bar: hearsay, without a paper that is named and dated"
    return f"limit in bar: {limit.most.text} without a certificate or a day"


@number("certificate amendment", "scent")
def certificate_amendment(s: Situation) -> Column:
    """The amendment of the industry's standards that its certificate goes by (not asked if it names none)."""
    found = [r.limit_in_bar.amendment if r.limit_in_bar else None for r in s.scent_records]
    asked = np.array([number is not None for number in found], dtype=bool)
    return numbers([float(number or 0) for number in found], missing(s, "certificate's amendment"), asked)


@number("certificate age", "scent", unit="years", lowest=-inf)
def certificate_age(s: Situation) -> Column:
    """Years since the date on its certificate."""
    dates = [r.limit_in_bar.dated if r.limit_in_bar else None for r in s.scent_records]
    return numbers([_years(day, s.today) for day in dates], missing(s, "certificate's date"))


@number("bottle age", "scent", unit="years", lowest=-inf)
def bottle_age(s: Situation) -> Column:
    """Years since the bottle was bought."""
    return numbers([_years(r.bought, s.today) for r in s.scent_records], missing(s, "day bought"))


def _years(day: datetime.date | None, today: datetime.date) -> float | None:
    return None if day is None else years_since(day, today)


def years_since(day: datetime.date, today: datetime.date) -> float:
    """Years from one day to another."""
    return (today - day).days / DAYS_A_YEAR


@word("allergen sheet", "scent", SHEET, use=Use(fact="allergen sheet", told_by=lambda r: r.allergen_sheet))
def allergen_sheet(s: Situation) -> Column:
    """Whether the supplier's sheet of constituents is on file: none, partial or complete."""
    return words([_sheet(r) for r in s.scent_records], SHEET)


def _sheet(scent: Scent) -> str:
    sheet = scent.allergen_sheet
    if sheet is None:
        return "none"
    return "complete" if sheet.complete else "partial"


@flag("sheet contradicts vanillin", "scent")
def sheet_contradicts(s: Situation) -> Column:
    """Whether the sheet's vanillin differs from what `vanillin:` says; the higher counts."""
    return flags([_contradicts(r) for r in s.scent_records])


def _contradicts(scent: Scent) -> bool:
    on_sheet = contents_of(scent).on_sheet_of("Vanillin")
    if on_sheet is None or scent.vanillin is None:
        return False
    return on_sheet.low > scent.vanillin.high or on_sheet.high < scent.vanillin.low


@flag("sheet contradicts entry", "scent")
def sheet_against_entry(s: Situation) -> Column:
    """Whether sheet and entry differ on a constituent other than vanillin; the higher counts.

    A complete sheet differs too where it does not name one that has to be named and the entry states.
    """
    said = ["; ".join(_differing(record)) for record in s.scent_records]
    return replace(flags([bool(each) for each in said]), evidence={i: t for i, t in enumerate(said) if t})


def _differing(scent: Scent) -> Iterator[str]:
    """Each constituent with both figures."""
    found = contents_of(scent)
    if scent.allergen_sheet is None:
        return
    for own in found.stated:
        sheet = found.on_sheet_of(own.name)
        if own.open or (sheet is not None and (sheet.open or own.name == "Vanillin")):
            continue
        if sheet is not None and (sheet.low > own.high or sheet.high < own.low):
            yield f"{own.name}: {_share(own)} stated, {_share(sheet)} on the sheet"
        elif sheet is None and own.low > 0 and scent.allergen_sheet.complete and label_names_for(own.name):
            yield f"{own.name}: {_share(own)} stated, not on a sheet that calls itself complete"


def _share(part: Content) -> str:
    low, high = 100 * part.low, 100 * part.high
    return f"{high:.3g} %" if low == high else f"{low:.3g} to {high:.3g} %"


@flag("another lot than last time", "scent")
def another_lot(s: Situation) -> Column:
    """Whether the bottle's lot differs from the lot of the last noted batch (no where neither is known)."""
    return flags([_another(s, r) for r in s.scent_records])


def _another(s: Situation, scent: Scent) -> bool | None:
    last = s.last_lots.get(scent.name)
    if last is None:
        return False
    return None if scent.lot is None else scent.lot != last
