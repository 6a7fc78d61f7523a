"""The English of ``ask``: the questions that are known, what facts of a plan say, what is missing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from blendwise.answers.ask.topics import WHY

QUESTIONS: Final[Mapping[str, str]] = {
    "browns": "Will it turn my soap brown, and how brown?",
    "no vanillin": "It says no vanillin: is it safe for white?",
    "colours left": "Which colours can I still use with it?",
    "part white": "Can I keep part of the bar white?",
    "get on": "Do these oils get on?",
    "how strong": "How strong can I go?",
    "certificate": "My certificate says so much: what do I do with it?",
    "citrus lasts": "Will the scent last?",
    "quick in swirl": "Can I use it in this pour, or is it too quick?",
    "stabiliser": "Vanilla stabiliser: how much, and will it hold?",
    "health": "Is it fine for somebody who is sensitive, pregnant or ill?",
    "one name": "Can I sell a two-scent bar under one name?",
    "which cup": "How much of each oil goes in each cup?",
    "half scented": "If only part is scented, do I double it?",
    "mould volume": "How much batter fills this mould?",
    "colour rate": "How much colour goes in each cup?",
    "carrier superfat": "Does the carrier oil change my superfat?",
    "water": "How much water for this design?",
    "temperature": "What temperature?",
    "order": "In what order do I scent and pour?",
    "gel": "Should I gel?",
    "time": "Have I time for this pour?",
    "change next": "What do I change next time?",
    "label": "What must the label say?",
    "plan as a whole": "Is this plan all right?",
    "oil as a whole": "What do I know about this oil?",
}
FACTS: Final[Mapping[str, str]] = {
    "browning band": "Would turn: {each}",
    "scent of batch oils": "All scent together is {v}",
    "scent rate": "Scent of each: {each}",
    "limit used": "The bar would hold {v}",
    "scent in bar": "Scent is {v}",
    "after six weeks": "After six weeks: {each}",
    "minutes fluid": "Pourable after its scenting: {each}",
    "minutes needed": "The pour needs: {each}",
    "fluid until": "Too thick to pour, in minutes from emulsion: {each}",
    "scented at": "Scent in this order, at these minutes: {each}",
    "thickening": "Times as fast as unscented batter: {each}",
    "scents in portion": "Scents in each: {each}",
    "batter mass": "{v} of batter in all",
    "oils mass": "{v} of oils",
    "bar mass": "A cured bar weighs about {v}",
    "grams": "Weigh: {each}",
    "portion superfat": "Superfat of each cup: {each}",
    "superfat as weighed": "Superfat of the whole pot by the lye as weighed, before the cups: {v}",
    "lye concentration": "Your lye is {v} strong",
    "water": "It takes {v} of water",
    "batter temperature": "You plan to split the batter at {v}",
    "clear temperature": "Below {v} your fats would cloud and look like trace",
    "gel": "You plan: {v} gel",
    "partial gel risk": "Risk that only the middle gels: {v}",
}
"""Measure → what its value says; {v} stands for the value, {each} for every subject with its own."""
ALONE: Final = ("fluid until", "scented at", "thickening")
"""Values whose sentence says the unit itself."""
DEADLINES: Final = ("fluid until", "scented at", "minutes fluid")
"""Minutes that are told rounded down, so that nobody comes too late."""
LACKS: Final[Mapping[str, str]] = {
    "oil": "Name the oil as your shelf has it",
    "plan": "Name the plan after the question",
    "oil or plan": "Name the oil in the question, or a plan after it",
}
UNSURE: Final = "Not sure what you mean; the nearest questions are these"
ELSE: Final = "If you meant something else:"
PICK: Final = "Choose with `--pick 2`."
DECLINED: Final = "That is no question that Blendwise can answer."
ABOUT: Final = (
    "It knows scents, colours, cups, pours, lye, labels and what goes wrong with soap; "
    "`blendwise why` lists what can go wrong."
)
STABILISER: Final = (
    "A stabiliser delays browning and does not cure it. Half to the whole of the oil's mass is common; "
    "mix it into the oil first, and only your own bar at six months proves it."
)
CERTIFICATE: Final = (
    "A certificate's figure for soap (category 9) is the most in the finished bar, not of the oils; 100 % "
    "only means that it sets no bound, and is no dose."
)
ONE_PRODUCT: Final = (
    "Scents mingle through the cure: it is one product under one name, and its label names what all of "
    "them bring."
)


def question(name: str) -> str:
    """A question as a maker would put it; a symptom as its page is called."""
    if name.startswith(WHY):
        return f"{name.removeprefix(WHY)}: what now, and why?".capitalize()
    return QUESTIONS[name]
