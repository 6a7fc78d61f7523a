"""What a label must say, and from when and at what weight a batch may be sold, in five lines."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from math import floor
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import AskResult, Sold
from blendwise.quantity import Units
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.show.ask import words as say
from blendwise.show.ask.cups import about_grams
from blendwise.show.blocks import Line
from blendwise.show.label import words as label
from blendwise.show.numbers import amount, counted, grams
from blendwise.show.pair.words import day
from blendwise.show.text import joined
from blendwise.show.words import TAGS

if TYPE_CHECKING:
    from blendwise.answers.label.result import LabelDraft


def of_label(result: AskResult, draft: LabelDraft) -> Iterator[Line]:
    """Ingredients in their order, allergens due, what is to be weighed and asked; nothing past a harm."""
    if draft.harm:
        yield Line(TAGS["stop"], label.OPEN["harm"])
        return
    us = draft.units.mass == "oz"
    where = [market for market, words in COUNTRIES.items() if re.search(words, result.asked)]
    asks = "" if where else say.WHICH_COUNTRY
    yield Line("", say.ON_A_LABEL.format(code=draft.batch_code, asks=asks))
    names = [(each.name_us if us else each.name) + ("" if each.known else " (?)") for each in draft.as_put_in]
    yield Line("", f"Ingredients, as put in: {joined(names)}")
    markets = sorted(draft.markets, key=lambda each: (each.market == "US") != us)
    for each in [each for each in markets if each.market in where] or markets[:2]:
        yield Line("", f"{each.market}: {label.due(each)}")
    net = draft.weight
    weighed = (
        label.NET.format(grams=net.net, ounces=net.net_ounces)
        if net.net is not None and net.net_ounces is not None
        else label.still_open("weight", result.units)
    )
    yield Line("", weighed.rstrip("."))
    lacking = draft.names.not_known
    yield Line("", f"Allergens not known of {joined(lacking)}" if lacking else label.OPEN["assessor"])


COUNTRIES: Final = {
    "US": r"\b(?:US|U\.S\.|USA|usa|[Aa]merica\w*|[Ss]tates)\b",
    "EU": r"\b(?:EU|[Ee]urope\w*|[Gg]erman\w*|[Ff]rance|[Ii]taly|[Ss]pain|[Aa]ustria|[Ii]reland|[Pp]oland)\b",
    "UK": r"\b(?:UK|uk|[Bb]ritain|[Bb]ritish|[Ee]ngland|[Ss]cotland|[Ww]ales)\b",
}
"""Market → words of a question that name it."""


def of_sold(found: Sold, units: Units) -> Iterator[Line]:
    """From when, then the weight that may be printed, or how to come by it."""
    when = f"poured {day(found.poured)}" if found.batch else "if poured today"
    if found.today >= found.last:
        yield Line("", f"Cured: ready since {day(found.last)} ({when}, six weeks)")
    else:
        days = f"{day(found.first)} to {day(found.last)}"
        yield Line("", f"Sell it from {days}: cured then ({when}, four to six weeks)")
    if found.net is not None and found.weighed is not None and found.weighed_on is not None:
        yield from _weight(found, units, found.weighed, found.weighed_on)
    else:
        if found.planned is not None:
            bar = f"A cured bar of this plan is reckoned at {about_grams(found.planned, units)}"
            yield Line("", f"{bar}, a guess by the mould and your cure loss: not for the label")
        elif found.cure_loss:
            lost = amount(found.cure_loss, "%")
            yield Line("", f"A bar loses about {lost} of its fresh weight by then, by your book")
        yield Line("", say.WEIGH_TEN.format(still=amount(found.still, "%")))
    yield Line("", say.BEFORE_SALE)


def _weight(found: Sold, units: Units, weighed: float, on: date) -> Iterator[Line]:
    """The weight by the last bar: a guess while it is fresh, with all of its cure to come."""
    bar = f"Your bar weighed {grams(weighed, units)} on {day(on)}"
    still = f"may still lose {amount(found.still, '%')} until it is dry"
    net = _net(found, units)
    if not found.fresh:
        yield Line("", f"{bar} and {still}")
        yield Line("", f"Label it {net} at most, by that one bar; weigh ten on the day and take the lightest")
        return
    most = grams(weighed * (1 - found.still), units)
    likely = f"; your usual cure loss would leave {grams(found.likely, units)}" if found.likely else ""
    lost = f"{still}, which leaves {most}{likely}"
    yield Line("", f"{bar}, still fresh: with its cure to come it {lost}{_as_before(found)}")
    yield Line("", f"Plan on {net}, not more; print no weight until ten bars are weighed on the day of sale")


def _as_before(found: Sold) -> str:
    """What bars of one's own lost, where they were weighed fresh and cured."""
    if found.lost is None:
        return ""
    return f" (yours of {found.lost_by} lost {amount(found.lost, '%')} in {counted(found.lost_days, 'day')})"


def _net(found: Sold, units: Units) -> str:
    """The net weight; in ounces with the grams of those very ounces, so that the two agree."""
    if units.mass != "oz":
        return f"{found.net:g} g"
    ounces = found.net_ounces or 0.0
    return f"{ounces:g} oz ({floor(ounces * GRAMS_PER_OUNCE)} g)"
