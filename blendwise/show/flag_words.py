"""What a yes or a no of each yes/no measure says in plain words.

A finding on such a measure has no number: "market-find: no certificate on file" says it all.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from blendwise.facts.measures.named import strangers
from blendwise.show.text import joined

SIDES = ("one ", "other ", "lighter ", "darker ")

FLAGS: Mapping[str, tuple[str, str]] = {
    "additive belongs with the oils": ("it is no oil of the recipe", "it is an oil or a fat"),
    "additive known": ("nobody has written down what it is", "it is known what it is"),
    "against the plan": ("the plan allows this dose", "the plan itself keeps this scent out"),
    "another lot than last time": ("the same lot as in your last note", "another lot than in your last note"),
    "banned constituent": ("its papers say that nothing banned is in it", "a banned constituent is named"),
    "browning seen": ("its colour in soap was never seen, only reckoned", "its colour in soap was seen"),
    "certificate": ("no certificate for soap on file", "a certificate for soap is on file"),
    "colour bleeds": ("its colours stay where they are", "one of its colours bleeds"),
    "colour fades in light": ("its colours hold in light", "one of its colours fades in light"),
    "colour morphs": ("its colours keep their name", "one of its colours turns to another in lye"),
    "colour stable in lye": ("one of its colours changes in lye", "its colours hold in lye"),
    "colour thickens": ("its colours leave the batter as it is", "its colours thicken the batter"),
    "coloured": ("it holds no colourant", "it holds a colourant"),
    "described": ("nobody has described how it behaves in soap", "its behaviour in soap is described"),
    "embed scents banned": (
        "papers say that the embeds bring nothing banned",
        "a banned constituent is named of the embeds",
    ),
    "embed scents certified": (
        "a scent in the embeds has no certificate",
        "the embeds' scents have certificates",
    ),
    "embed scents for skin": ("a scent in the embeds is not for skin", "the embeds' scents are for skin"),
    "embeds": ("nothing is embedded", "pieces of soap are embedded"),
    "for skin": ("not sold for use on skin", "sold for use on skin"),
    "heats and melts embeds": ("the embeds keep their shape", "its heat is estimated to soften the embeds"),
    "label names known": ("not all names for the label can be told", "all names for the label can be told"),
    "law answered": (
        "no paper answers for all bans and maxima of the law",
        "papers answer for the bans and maxima of the law",
    ),
    "lye looks like KOH": (
        "the lye fits sodium hydroxide",
        "the lye looks like a figure for potassium hydroxide",
    ),
    "lye looks like an acid unsaid": (
        "no acid is missing from the recipe by its lye",
        "the lye looks like one for a recipe with an acid",
    ),
    "poured": ("it goes into no cup", "it goes into a cup"),
    "words against each other": (
        "what is written of its colour agrees",
        "what is written of its colour contradicts itself",
    ),
    "strength smelled by you": (
        "what is left of it at six weeks you have not smelled yourself",
        "what is left of it at six weeks you have smelled yourself",
    ),
    "names read": ("a name on its papers is not known", "every name on its papers is known"),
    "sheet names a substance twice": (
        "its sheet names every substance once",
        "its sheet gives one substance under several names",
    ),
    "on top": ("it is not on top", "it is on top"),
    "own cast": ("the oil has no colour of its own", "the oil has a colour of its own"),
    "deep own cast": ("the oil has no deep colour of its own", "the oil has a deep colour of its own"),
    "cut from a block": ("no block is cut", "its block is cut"),
    "portions are bars": ("bars hold several portions", "every portion is a bar by itself"),
    "purity stated": ("the purity of the lye is not written down", "the purity of the lye is written down"),
    "remembered as banned": (
        "nothing is named that is remembered as banned",
        "a constituent is named that is remembered as banned",
    ),
    "fits a premix": ("it goes with no other oil", "it could be weighed with another oil"),
    "scale step stated": (
        "the step of the scent scale is not written down",
        "the step of the scent scale is written down",
    ),
    "scented": ("it is unscented", "it is scented"),
    "seizes": ("it does not seize", "it turns batter solid within a minute"),
    "shaped like food": ("it is not shaped like food", "it is shaped like food"),
    "sheet contradicts entry": (
        "its sheet and its entry agree",
        "its sheet and its entry differ on a constituent",
    ),
    "sheet contradicts vanillin": (
        "its sheet and its stated vanillin agree",
        "its sheet and its stated vanillin differ",
    ),
    "stabilised": ("no vanilla stabiliser in it", "a vanilla stabiliser is added"),
    "stick blend portions": ("portions are stirred by hand", "portions are stick blended"),
    "thin lines": ("the pour draws no thin lines", "the pour draws thin lines"),
    "together": ("the two stand apart", "the two stand in one portion"),
    "touching": ("the two do not touch", "the two touch"),
}


def plainly(measure: str, value: str) -> str | None:
    """What a yes or no says; None for a measure that is not of this kind."""
    side = next((s for s in SIDES if measure.startswith(s) and measure.removeprefix(s) in FLAGS), "")
    phrases = FLAGS.get(measure.removeprefix(side))
    if phrases is None or value not in ("yes", "no"):
        return None
    said = phrases[value == "yes"]
    return f"{said} (the {side.strip()})" if side else said


PLAIN: Final[Mapping[str, str]] = {
    "acceleration": "how it quickens the batter",
    "amendments not in the tables": "changes of the law that are not counted",
    "bands apart": "how much browner it is than its neighbour",
    "blend total met": "share of the blend that is placed",
    "browning band": "the brown that it turns",
    "browning load": "browning substance",
    "browning power": "how strongly it browns",
    "chroma": "strength of the colour",
    "clear temperature": "the warmth below which the fats cloud",
    "above clear temperature": "how far it is above where the fats cloud",
    "colour shift": "change of the colour",
    "contrast": "difference of the two colours",
    "cured lightness": "lightness after cure",
    "evidence": "how well it is known",
    "fluid until": "the minute at which it is thick",
    "gel suits the colour": "whether gel suits the colour",
    "guard used": "part of the most without a certificate",
    "guard used in bar": "part of the most without certificates, in the bar",
    "hues apart": "how far the two hues lie apart",
    "law tables age": "age of the lists of the law",
    "layer below": "thickness of the layer below",
    "least thickening": "the least that it thickens",
    "lightness difference": "how much lighter it is than its neighbour",
    "limit used": "part of what the certificates allow",
    "limit used in portion": "part of what the certificates allow, in the cup alone",
    "limit used in worst bar": "part of what the certificates allow, in the worst bar",
    "lye to need": "lye beside what the oils need",
    "minutes fluid": "minutes it can be poured",
    "most thickening": "the most that it thickens",
    "peak temperature": "the heat of the middle",
    "planned band": "the brown that you plan at most",
    "planned contrast": "planned difference of the two colours",
    "planned lightness": "planned lightness",
    "published maximum used": "part of the published maximum",
    "published maximum used in portion": "part of the published maximum, in the cup alone",
    "quickening": "how much faster batter thickens with it",
    "quickening seen at": "the dose at which that was seen",
    "quickness the pour bears": "the quickness that the pour bears",
    "river risk": "risk of white veins",
    "scale step stated": "whether the finest weight of the scale is known",
    "short by": "what the bottle lacks",
    "steps of the scale": "times the finest weight of the scale",
    "superfat error of the lye scale": "superfat that the lye scale may be off by",
    "thickening": "how many times as fast it thickens",
    "thickness that carries": "thickness that carries the next layer",
    "times the load": "times as strong as planned",
    "unscented minutes": "minutes that unscented batter can be poured",
    "volatility": "how fast it evaporates",
}
"""Measure → its plain name; a measure that is not here is called as it is."""


NAMED: Final[Mapping[str, str]] = {
    "dose of": "{}",
    "share of": "{}",
    "batch dose of": "{} in the batch",
    "grams of": "{} in the batch",
    "portions with": "cups with {}",
    "scents in batch of": "number of scents from {}",
    "scents in portion of": "number of scents in a cup from {}",
    "portions coloured with": "cups coloured with {}",
    "scented after": "scented after a cup with {}",
    "oil share of": "{}",
    "additive rate of": "{}",
    "colour rate of": "{}",
}
"""Beginning of a measure of named things → what a maker calls it, the names in it."""


def plain_name(measure: str) -> str:
    """What a maker would call it: "the brown that it turns of the darker", "lime and cedar in the batch"."""
    for side in SIDES:
        if measure.startswith(side):
            rest = measure.removeprefix(side)
            return f"{PLAIN.get(rest, rest)} of the {side.strip()}"
    return PLAIN.get(measure, called(measure))


def called(measure: str) -> str:
    """A measure as it is called, the names in it told as names are."""
    named = strangers(measure)
    if named is None:
        return measure
    pattern, names = named
    return NAMED[pattern.partition(" [")[0]].format(joined(names))
