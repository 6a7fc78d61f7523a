"""The shelf as a picture: how much of each oil may go beside the asked one, those that go well first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from blendwise.answers.shelf.result import ShelfResult, ShelfRow
from blendwise.quantity import Units
from blendwise.show.charts import measured
from blendwise.show.numbers import amount, in_units
from blendwise.show.pages.answer import Figure
from blendwise.show.pages.render import said
from blendwise.show.pair.advice import rule_in_words
from blendwise.show.pair.words import NO_DOSE, of_oils
from blendwise.show.shelf.brief import WORDS

if TYPE_CHECKING:
    from markupsafe import Markup

OF_OILS = "% of batch oils"
LOAD_AXIS = 0.10  # of oils: beyond it nobody doses, so the chart ends there
HEADING = "How much of the two together"
READ = "Solid: the most of the two together at the ratio asked; dashed upright: the {load} asked for. {no}."


def figures(result: ShelfResult) -> Iterator[Figure]:
    """A bar an oil of those of which a bound is known, under the words of its verdict."""
    bounded = [row for row in result.rows if row.most]
    if not bounded:
        return
    top = min(1.1 * max(result.load, *(row.most or 0.0 for row in bounded)), LOAD_AXIS)
    end, unit = in_units(top, OF_OILS, result.units)
    head = said(
        "<div class='turn heads'><div class=who>oil</div><div class=face><span class=small>{unit}</span>"
        "{axis}</div><div>up to</div></div>",
        unit=unit,
        axis=measured.axis(end, f"load, {unit}"),
    )
    groups = [(told, [row for row in bounded if row.word == word]) for word, told in WORDS.items()]
    parts = (_group(told, rows, result, top) for told, rows in groups if rows)
    load = amount(result.load, OF_OILS, result.units)
    yield Figure(
        HEADING,
        said("<div class='clock chart'>{head}{rows}</div>", head=head, rows=said("").join(parts)),
        READ.format(load=load, no=NO_DOSE[:1].upper() + NO_DOSE[1:]),
    )


def _group(told: str, rows: Sequence[ShelfRow], result: ShelfResult, top: float) -> Markup:
    ordered = sorted(rows, key=lambda row: -(row.most or 0.0))
    made = (_row(row, result.load, top, result.units) for row in ordered)
    return said("<h3>{told}</h3>{rows}", told=told, rows=said("").join(made))


def _row(row: ShelfRow, load: float, top: float, units: Units) -> Markup:
    most = row.most or 0.0
    stopped = f", {rule_in_words(row.stopped_by)}" if row.stopped_by else ""
    told = f"{of_oils(most, units)}{stopped}"
    noted = f"noted {row.noted}" if row.noted != "unsaid" else ""
    return said(
        "<div class=turn><div class=who><strong><bdi>{name}</bdi></strong> "
        "<span class='small soft'>{noted}</span></div><div class=face>{bar}</div>"
        "<div class=small>{told}</div></div>",
        name=row.name,
        noted=noted,
        bar=measured.limit(top, most, most, load, f"{row.name}: up to {told}"),
        told=told,
    )
