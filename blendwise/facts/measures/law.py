"""Measures of what papers answer of the law: bans and maxima, names for the label, the age of our tables."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import numpy as np

from blendwise.beliefs.contents import Unread, contents_of
from blendwise.facts import papers
from blendwise.facts.columns import Column, Missing
from blendwise.facts.measure import flag, number
from blendwise.facts.measures.constituents import all_records
from blendwise.facts.plain_columns import flags, numbers
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science import labels, restrictions
from blendwise.science.law_tables import Amendment, age_in_days, announced_by, overtaken_by

SOURCE = "papers in scents.yaml; Regulation (EC) No 1223/2009, Annexes II and III, with the day of our tables"

STATEMENT = "supplier's statement on banned and limited substances"
CATEGORY = "certificate's category (bar soap is 9)"


def in_the_bar(s: Situation) -> list[Scent]:
    """The oils that are in any portion or any embed, each once."""
    poured = {name for name, here in zip(s.scents, np.asarray(s.presence.any(axis=1)), strict=True) if here}
    return [record for record in all_records(s) if record.name in poured or record.name in s.embed_scents]


@flag("law answered", "batch", form="afterwards")
def law_answered(s: Situation) -> Column:
    """Whether papers answer, of every oil in the bar, for the bans and maxima of the law.

    An allergen sheet does not, complete or not: it is complete for allergens only.  A dated certificate of
    category 9 answers for what the industry's standards limit, the supplier's statement for the rest.
    """
    records = in_the_bar(s)
    lost = tuple(missing for record in records for missing in unanswered(record, s.today))
    return flags([None if lost else True], [lost], np.array([bool(records)]))


def unanswered(scent: Scent, today: date) -> Iterator[Missing]:
    """The papers that an oil lacks, to answer for the bans and maxima of the law on a day."""
    limit = scent.limit_in_bar
    if limit is not None and papers.certified(scent, today) and not limit.categories:
        yield Missing(scent.name, CATEGORY)
    if not papers.stated(scent, today):
        yield Missing(scent.name, STATEMENT)


@flag("remembered as banned", "scent")
def remembered_as_banned(s: Situation) -> Column:
    """Whether a constituent is named that we remember as banned, from memory only: a reason to ask."""
    found = [_remembered(record) for record in s.scent_records]
    return _told([bool(names) for names in found], found)


def _remembered(scent: Scent) -> str:
    held = contents_of(scent)
    names = [*(part.name for part in held.parts), *(own.name for own in held.own)]
    rows = restrictions.remembered_among(names)
    return ", ".join(f"{name} ({row.entry}, from memory)" for name, row in rows)


@flag("names read", "scent")
def names_read(s: Situation) -> Column:
    """Whether our tables know every name on its sheet and in `browns by`; the unknown is not harmless.

    Each such name is told with the one most like it.  A name that comes with its CAS number is none of them.
    """
    found = [", ".join(map(_unread, unread_of(record))) for record in s.scent_records]
    return _told([not names for names in found], found)


def unread_of(scent: Scent) -> list[Unread]:
    """Names that stand for no one substance of our tables and come without a sound CAS number."""
    return [unread for unread in contents_of(scent).unread if unread.could_be or not unread.numbered]


def _unread(unread: Unread) -> str:
    if unread.could_be:
        return f'"{unread.spelling}" ({" or ".join(unread.could_be)}?)'
    return f'"{unread.spelling}"' + (f" (nearest: {unread.nearest})" if unread.nearest else "")


@flag("sheet names a substance twice", "scent")
def named_twice(s: Situation) -> Column:
    """Whether its sheet gives one substance under several names: they are summed."""
    found = [
        ", ".join(f"{' + '.join(part.spellings)} = {part.name}" for part in contents_of(record).twice)
        for record in s.scent_records
    ]
    return _told([bool(names) for names in found], found)


def _told(values: list[bool], evidence: list[str]) -> Column:
    return replace(flags(values), evidence={i: text for i, text in enumerate(evidence) if text})


@flag("label names known", "batch", form="afterwards")
def label_names_known(s: Situation) -> Column:
    """Whether every oil in the bar has a complete sheet of known names, so all label names can be told."""
    records = in_the_bar(s)
    told = [f"{record.name}: {why}" for record in records if (why := names_not_told(record))]
    return replace(flags([not told]), evidence={0: "; ".join(told)} if told else {})


def names_not_told(scent: Scent) -> str:
    """Why the label names of an oil cannot all be told; empty where they can."""
    sheet = scent.allergen_sheet
    if sheet is None:
        return "no sheet"
    if not sheet.complete:
        return "the sheet is not complete"
    if unread := unread_of(scent):
        return ", ".join(map(_unread, unread))
    parts = (part for part in contents_of(scent).parts if part.open)
    open_ = [part.name for part in parts if labels.label_names_for(part.name)]
    return f"how much {', '.join(open_)}" if open_ else ""


@number("law tables age", "batch", unit="days")
def law_tables_age(s: Situation) -> Column:
    """How old our tables of bans, maxima and label names are; drafts that were due by the day are told."""
    column = numbers([float(age_in_days(s.today))], [Missing("the tables", "day")])
    return _told_of(column, announced_by(s.today))


@number("amendments not in the tables", "batch")
def amendments_not_in_the_tables(s: Situation) -> Column:
    """How many amendments known to be law apply on the day and are not in our tables; no draft counts."""
    late = overtaken_by(s.today)
    return _told_of(numbers([float(len(late))], [Missing("the tables", "amendments")]), late)


def _told_of(column: Column, found: tuple[Amendment, ...]) -> Column:
    told = "; ".join(f"{a.text}, from {a.applies_from}: {a.concerns} ({a.standing})" for a in found)
    return replace(column, evidence={0: told} if told else {})
