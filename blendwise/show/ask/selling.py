"""What a label must say, and from when and at what weight a batch may be sold, in five lines."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.answers.ask.result import Sold
from blendwise.answers.label.result import LabelDraft
from blendwise.quantity import Units
from blendwise.show.ask import words as say
from blendwise.show.blocks import Line
from blendwise.show.label import words as label
from blendwise.show.numbers import amount, grams
from blendwise.show.pair.words import day
from blendwise.show.text import joined
from blendwise.show.words import TAGS


def of_label(draft: LabelDraft) -> Iterator[Line]:
    """Ingredients in their order, allergens due, what is to be weighed and asked; nothing past a harm."""
    if draft.harm:
        yield Line(TAGS["stop"], label.OPEN["harm"])
        return
    us = draft.units.mass == "oz"
    names = [(each.name_us if us else each.name) + ("" if each.known else " (?)") for each in draft.as_put_in]
    yield Line("", f"Ingredients, as put in: {joined(names)}")
    for each in sorted(draft.markets, key=lambda each: (each.market == "US") != us)[:2]:
        yield Line("", f"{each.market}: {label.due(each)}")
    net = draft.weight
    weighed = (
        label.NET.format(grams=net.net, ounces=net.net_ounces)
        if net.net is not None and net.net_ounces is not None
        else label.OPEN["weight"]
    )
    yield Line("", f"{weighed.rstrip('.')}; batch code {draft.batch_code}")
    lacking = draft.names.not_known
    yield Line("", f"Allergens not known of {joined(lacking)}" if lacking else label.OPEN["assessor"])


def of_sold(found: Sold, units: Units) -> Iterator[Line]:
    """From when, then the weight that may be printed, or how to come by it."""
    when = f"poured {day(found.poured)}" if found.batch else "if poured today"
    days = f"{day(found.first)} to {day(found.last)}"
    yield Line("", f"Cured from {days} ({when}, four to six weeks), once a week changes a bar by under 1 %")
    if found.net is not None and found.weighed is not None and found.weighed_on is not None:
        bar = f"Your bar weighed {grams(found.weighed, units)} on {day(found.weighed_on)}"
        yield Line("", f"{bar} and may still lose {amount(found.still, '%')}")
        ounces = f"{found.net_ounces or 0.0:g} oz ({found.net:g} g)"
        net = ounces if units.mass == "oz" else f"{found.net:g} g"
        yield Line("", f"Label it {net} at most, by that one bar; weigh ten on the day and take the lightest")
    else:
        yield Line("", say.WEIGH_TEN.format(still=amount(found.still, "%")))
    yield Line("", say.BEFORE_SALE)
