"""What the scale cannot weigh, at the place where it is weighed: stirred into oil, or on a finer scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Sheet, Weighed
from blendwise.answers.small_amounts import WayToWeigh
from blendwise.show.pages.render import grams, name, said

if TYPE_CHECKING:
    from markupsafe import Markup

STIRRED = "as {take} of a mix: {made} stirred into {carrier} {oil}"
FINER = "too little for this scale: one of {step} steps"
NO_WAY = "too little for this scale: ask “check”"


def way(each: Weighed, sheet: Sheet, wetted: bool = False) -> Markup:
    """The first way to weigh it that the check tells of, in a few words; "" where the scale serves.

    ``wetted``: with water or glycerin, so that it is not stirred into oil.
    """
    found = next((it for it in sheet.small if (it.into, it.what) == (each.into, each.what)), None)
    if found is None:
        return said("")
    ways = [how for how in found.ways if not (wetted and how.way == "solution")]
    return _told(ways[0], found.step, sheet) if ways else said(NO_WAY)


def _told(how: WayToWeigh, step: float, sheet: Sheet) -> Markup:
    details = how.details
    if how.way != "solution":
        return said(FINER, step=grams(float(details["step"]), float(details["step"]), sheet.units))
    weighed = {key: grams(float(details[of]), step, sheet.units) for key, of in PARTS.items()}
    return said(STIRRED, oil=name(str(details["oil"])), **weighed)


PARTS = {"take": "take", "made": "grams", "carrier": "carrier"}
