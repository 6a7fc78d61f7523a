"""What the scale cannot weigh, at the place where it is weighed: stirred into oil, or on a finer scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Sheet, Weighed
from blendwise.answers.small_amounts import Small
from blendwise.show.pages.render import grams, mass, said

if TYPE_CHECKING:
    from markupsafe import Markup

FINER = "finer scale: {step}"
NO_WAY = "too little for this scale"
IN_IT = "{amount} in it"
CLINGS = 0.05  # of a mix, that stays in its glass: judgement


@dataclass(frozen=True, slots=True)
class Stock:
    """A mix of which an amount is weighed that is too small alone: g of ``what`` and of what carries it.

    ``taken``: by (into, what), g of the mix.
    """

    what: str
    grams: float
    carrier: str
    carried: float
    step: float
    taken: dict[tuple[str, str], float]

    @property
    def name(self) -> str:
        """What it is called where it is weighed."""
        return f"{self.what} mix"


def stocks(sheet: Sheet) -> list[Stock]:
    """The mixes to make first; cups of one colourant share one as long as it holds enough."""
    found: list[Stock] = []
    for each in sheet.small:
        if (way := _solution(each, sheet)) is None:
            continue
        made, take = float(way["grams"]), float(way["take"])
        for other in found:
            room = (1 - CLINGS) * (other.grams + other.carried) - sum(other.taken.values())
            if (other.what, other.carrier) == (each.what, way["oil"]) and take <= room:
                other.taken[each.into, each.what] = take
                break
        else:
            taken = {(each.into, each.what): take}
            found.append(Stock(each.what, made, str(way["oil"]), float(way["carrier"]), each.step, taken))
    return found


def _solution(each: Small, sheet: Sheet) -> dict[str, str | float] | None:
    """How it is stirred into oil; None where the first way is another, or it is wetted with water."""
    wet = any(
        cup.portion == each.into and dye.weighed.what == each.what and dye.carrier is not None
        for cup in sheet.portions
        for dye in cup.dyes
    )
    first = each.ways[0] if each.ways else None
    return dict(first.details) if first is not None and first.way == "solution" and not wet else None


def taken(each: Weighed, sheet: Sheet) -> tuple[Weighed, str, str] | None:
    """What is weighed in its place, of which mix, and how much of it that holds; None where it is no mix."""
    for stock in stocks(sheet):
        take = stock.taken.get((each.into, each.what))
        if take is not None:
            weighed = Weighed(
                each.into, each.kind, stock.name, round(take / stock.step) * stock.step, stock.step
            )
            return weighed, stock.name, IN_IT.format(amount=mass(each, sheet.units))
    return None


def finer(each: Weighed, sheet: Sheet) -> Markup:
    """That it wants a finer scale; "" where the scale serves, or where it is weighed as a mix."""
    found = next((it for it in sheet.small if (it.into, it.what) == (each.into, each.what)), None)
    if found is None or taken(each, sheet) is not None:
        return said("")
    ways = [how for how in found.ways if how.way != "solution"]
    if not ways:
        return said(NO_WAY)
    step = float(ways[0].details["step"])
    return said(FINER, step=grams(step, step, sheet.units))


def glasses(sheet: Sheet) -> Iterator[tuple[Stock, Weighed, Weighed]]:
    """Each mix with its two things to weigh."""
    for stock in stocks(sheet):
        part = Weighed(stock.name, "mix", stock.what, stock.grams, stock.step)
        yield stock, part, Weighed(stock.name, "mix", stock.carrier, stock.carried, stock.step)
