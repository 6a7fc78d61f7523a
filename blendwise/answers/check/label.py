"""Names that the list of ingredients must carry, from the oils' own sheets.  A help, not a safety assessment.

What is asked for is in ``science/labels.py``, with its source.  Contents count by the top of their ranges,
summed over all scents and embeds; an oil without a complete sheet leaves its names not known, never none.
"""

from __future__ import annotations

from datetime import date

import numpy as np

from blendwise.answers.check.result import Label, LabelLine
from blendwise.beliefs.contents import WHOLE_OILS, contents_of
from blendwise.facts.columns import Column, Floats
from blendwise.facts.measures.bar import embed_grams, embed_records
from blendwise.facts.measures.law import names_not_told
from blendwise.facts.situation.dried import dried_mass, dried_portions
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science import labels
from blendwise.science.law_tables import TABLES_OF


def label_of(s: Situation, on: date | None = None) -> Label:
    """Names above their threshold in the finished bar, due on a day (today) or later; the oils not told."""
    on = on or s.today
    records = [*s.scent_records, *embed_records(s)]
    substances, contents = contents_table(records)
    used, bars = _masses(s)
    entries, members = labels.entries_of(substances)
    grams = used[:, :, None] * (contents @ members)[None]  # (bars, oils, entries)
    shares = grams.sum(axis=1) / bars[:, None]
    above = labels.above_threshold(shares, labels.thresholds(entries)).any(axis=0)
    order = sorted(np.flatnonzero(above), key=lambda k: (-shares[:, k].max(), entries[k].name))
    lines = tuple(
        _line(entries[k], float(shares[:, k].max()), _carriers(records, grams[:, :, k]), on) for k in order
    )
    return Label(
        due=tuple(line for line in lines if line.due),
        later=tuple(line for line in lines if not line.due),
        not_known=_not_known(records, used),
        on=on,
        tables_of=TABLES_OF,
        names_none=_names_none(records, used),
    )


def _masses(s: Situation) -> tuple[Floats, Floats]:
    """Grams of each oil (bars, oils) and of the whole (bars,): one bar for all, or one a portion."""
    brought = embed_grams(s)
    flag = s.home("portions are bars")
    assert isinstance(flag, Column)
    if flag.low[0] == 1:
        used = np.hstack([s.x.T, np.zeros((len(s.portions), len(brought)))])
        return used, dried_portions(s)
    used = np.concatenate([s.x.sum(axis=1), brought])[None]
    return used, np.array([dried_mass(s)])


def contents_table(records: list[Scent]) -> tuple[tuple[str, ...], Floats]:
    """Substances named on any sheet, and what of each oil they are, (oils, substances)."""
    tables = [substances_in(record) for record in records]
    names = tuple(dict.fromkeys(name for table in tables for name in table))
    found = [[table.get(name, 0.0) for name in names] for table in tables]
    return names, np.array(found, dtype=np.float64).reshape(len(records), len(names))


def substances_in(scent: Scent) -> dict[str, float]:
    """What is in an oil by the top of its ranges, and the oil itself where it is an entry of the list."""
    found = contents_of(scent)
    tops = dict(found.tops)
    whole = scent.label_name or (scent.name.replace("-", " ") if scent.kind in WHOLE_OILS else "")
    for name in (whole, *(own.name for own in found.own if whole)):
        if name and labels.is_whole_oil_entry(name):
            return {**tops, name: 1.0}
    return tops


def _carriers(records: list[Scent], grams: Floats) -> tuple[str, ...]:
    """The oils that a name comes from, the most of it first."""
    total = grams.sum(axis=0)
    order = sorted(np.flatnonzero(total > 0), key=lambda i: -total[i])
    return tuple(dict.fromkeys(records[i].name for i in order))


def _line(entry: labels.LabelName, share: float, carriers: tuple[str, ...], on: date) -> LabelLine:
    return LabelLine(
        name=entry.name,
        entry=entry.entry,
        share=share,
        carriers=carriers,
        due=entry.in_force(on),
        placed_from=entry.placed_from,
        on_sale_from=entry.on_sale_from,
    )


def _not_known(records: list[Scent], used: Floats) -> tuple[str, ...]:
    """Oils in the bar whose names cannot all be told."""
    told = [not names_not_told(record) for record in records]
    lost = labels.names_not_known(used.sum(axis=0), told)
    return tuple(dict.fromkeys(r.name for r, gone in zip(records, lost, strict=True) if gone))


def _names_none(records: list[Scent], used: Floats) -> tuple[str, ...]:
    """Oils in the bar whose sheet calls itself complete and holds no name."""
    found = (r.name for r, grams in zip(records, used.sum(axis=0), strict=True) if grams > 0 and _is_bare(r))
    return tuple(dict.fromkeys(found))


def _is_bare(scent: Scent) -> bool:
    sheet = scent.allergen_sheet
    return sheet is not None and sheet.complete and not sheet.names
