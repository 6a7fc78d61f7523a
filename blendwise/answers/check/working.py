"""Every fact of a plan, in the order in which a maker with a pencil would come to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from blendwise.answers.check.result import Fact
from blendwise.facts.columns import AnyColumn, Column, SetColumn, Table, Word
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import vocabulary
from blendwise.quantity import Basis

THEMES = (
    "plan",
    "lye",
    "additives",
    "embeds",
    "named",
    "places",
    "making",
    "dose",
    "bar",
    "constituents",
    "law",
    "scent",
    "evidence",
    "browning",
    "colour",
    "clock",
    "heat",
    "pairs",
)
SIDES = ("one", "other", "lighter", "darker")
OILS, COLOURS = "base oil", "colourant"
RECIPE = "the plan's recipe; saponification values in oils.yaml"


def facts_of(s: Situation, found: Mapping[str, Table]) -> Iterator[Fact]:
    """What is weighed, then every fact at its home grain, as the judge reads it."""
    yield from _oils(s)
    yield from _colourants(s)
    words = sorted(_own_words(), key=lambda word: THEMES.index(word.theme))
    for grain, table in found.items():
        for row in range(len(table)):
            for word in words:
                if word.grain == grain:
                    yield from _fact(table, word, row)


def _own_words() -> list[Word]:
    """The vocabulary without its sided readings."""
    return [word for word in vocabulary().values() if word.name.split(" ", 1)[0] not in SIDES]


def _fact(table: Table, word: Word, row: int) -> Iterator[Fact]:
    column = table.column(word.name)
    if column.asked is not None and not column.asked[row]:
        return
    low, high = _ends(column, row)
    least, most = _outer(column, row)
    settled = low == high and low is not None
    yield Fact(
        table.grain,
        str(table.subjects[row]),
        word.name,
        low,
        high,
        word.unit,
        word.basis or _basis_of(word.unit),
        column.evidence.get(row, ""),
        () if settled else tuple(column.missing.get(row, ())),
        word.formula,
        word.source,
        word.theme,
        least,
        most,
    )


def _outer(column: AnyColumn, row: int) -> tuple[float | str | None, float | str | None]:
    """The ends of judgement's doubt, where it doubts this row."""
    if isinstance(column, SetColumn) or not column.widened:
        return None, None
    least, most = (float(end[row]) for end in column.outer)
    same = (least, most) == (float(column.low[row]), float(column.high[row]))
    return (None, None) if same else (_end(column, least), _end(column, most))


def _basis_of(unit: str) -> str:
    """What a share is a share of, as its unit says ("% of oils": "of oils")."""
    _, of, what = unit.partition(" of ")
    return f"of {what}" if of else Basis.WHOLE.value


def _ends(column: AnyColumn, row: int) -> tuple[float | str | None, float | str | None]:
    if isinstance(column, SetColumn):
        text = ", ".join(w for w, has in zip(column.words, column.has[row], strict=True) if has) or "none"
        return text, text
    return _end(column, float(column.low[row])), _end(column, float(column.high[row]))


def _end(column: Column, value: float) -> float | str | None:
    if not np.isfinite(value):
        return None
    return column.scale[int(value)] if column.scale else value


def _oils(s: Situation) -> Iterator[Fact]:
    """Each base oil: what is weighed, and how much NaOH it needs."""
    pot = s.pot
    per_gram = pot.need_per_gram["named"]
    for i, name in enumerate(pot.oils):
        record, grams = s.book.oils[name], float(pot.masses[i])
        value = record.lot_saponification or record.saponification
        yield _weighed(OILS, name, "grams", grams, "g", "share × oils mass", RECIPE)
        yield _weighed(OILS, name, "saponification", value.mid, "mg KOH per g", "", RECIPE)
        formula = "grams × saponification ÷ 1000 × 39.9971 ÷ 56.1056"
        yield _weighed(OILS, name, "NaOH needed", grams * float(per_gram[i]), "g", formula, RECIPE)
        if pot.held[i] > 0:
            yield _weighed(OILS, name, "held back", float(pot.held[i]), "g", "", RECIPE)


def _colourants(s: Situation) -> Iterator[Fact]:
    """Grams of each colourant in each portion."""
    split = s.split
    for c, p in zip(*np.nonzero(split.colour > 0), strict=True):
        subject = f"{split.colourants[c]} in {split.names[p]}"
        formula = "rate × portion oils, or as the plan weighs it"
        yield _weighed(COLOURS, subject, "grams", float(split.colour[c, p]), "g", formula, "the plan")


def _weighed(
    grain: str, subject: str, measure: str, value: float, unit: str, formula: str, source: str
) -> Fact:
    return Fact(grain, subject, measure, value, value, unit, formula=formula, source=source, theme="plan")
