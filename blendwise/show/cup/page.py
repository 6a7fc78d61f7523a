"""A test cup as a sheet to print, with the type and boxes of the bench sheet."""

from __future__ import annotations

from blendwise.answers.cup.result import CupResult
from blendwise.show.cup import words
from blendwise.show.pages.render import page
from blendwise.show.sheet.front import EYES, SKIN
from blendwise.show.sheet.words import LAW


def cup_page(result: CupResult) -> str:
    """The whole HTML file of a cup that may be poured."""
    from markupsafe import Markup

    return page(
        "cup.html",
        result.units,
        result=result,
        words=words,
        law=LAW,
        aid=Markup(f"{EYES} {SKIN}"),
        steps=list(words.steps(result)),
        skin=words.looking_only(result),
        heads=["minutes", *(words.LOOK.get(each.look, each.look) for each in result.looks[1:])],
    )
