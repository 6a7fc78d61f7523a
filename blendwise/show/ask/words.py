"""The English of ``ask``: the questions that are known, what facts of a plan say, what is missing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import floor
from typing import Final

from blendwise.answers.ask.topics import WHY
from blendwise.quantity import Units
from blendwise.show.numbers import amount

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
    "keep from seizing": "How do I keep it from seizing?",
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
    "test cup": "How do I make a test cup?",
    "when to cut": "When can it leave the mould and be cut?",
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
    "Mix the stabiliser into the oil first and let it stand; only your own bar at six months proves "
    "that it holds"
)
CERTIFICATE: Final = (
    "A certificate's figure for soap (category 9) is the most in the finished bar, not of the oils; 100 % "
    "sets no bound, and is no dose"
)
CUT: Final = (
    "Cut it when it is firm and still gives under a gloved thumb: mostly one to three days, a gelled loaf "
    "after a night, much liquid oil up to a week, much salt or hard fat within hours. It still burns: gloves."
)
TEST_CUP: Final = (
    "100 g (3.5 oz) of your own batter with the oil at your usual dose, and a cup without it beside: look at "
    "the pot, at the cut, and at weeks 1, 2, 4 and 6. The command weighs it out; --keep writes it down."
)
KEEP_FROM_SEIZING: Final = (
    "Less of it, full water (no lye above 33 %), the oil let down in warm oil of the recipe, scented last, "
    "stirred by hand and poured at once (common practice)"
)
COOLER: Final = "A cooler batter too, but not below {clear}, where your fats cloud"
COOLER_AT: Final = "A cooler batter too, about {at}, as long as your fats stay clear"
STILL_SEIZES: Final = "{oil} may seize all the same: a test cup of it first, and a plan that bears it stiff"
ONE_PRODUCT: Final = (
    "Scents mingle through the cure: it is one product under one name, and its label names what all of "
    "them bring."
)


BY_SPOON: Final = re.compile(r"tsp|spoon|drop", re.IGNORECASE)
"""Amounts that a maker measures otherwise than by the scale; they stand beside the mass."""
WEIGH_TEN: Final = (
    "Weigh ten bars on the day of sale: the lightest, rounded down, less the {still} that it may still lose"
)
ON_A_LABEL: Final = (
    "It says what it is (soap), the net weight in g and oz, your name and address, batch code {code}, and "
    "what stands below{asks}"
)
WHICH_COUNTRY: Final = "; which of it is law hangs on where you sell: name the country in your question"
BEFORE_SALE: Final = (
    "Look for free lye first, from the third day; selling has rules of its own where you live"
)
FADES: Final[Mapping[str, str]] = {
    "strong": "{oil} lasts: strong after six weeks",
    "fair": "{oil} lasts fairly: still there after six weeks, weaker",
    "faint": "{oil} fades: faint after six weeks",
    "gone": "{oil} does not last: gone after six weeks",
}


PAGES: Final[Mapping[str, str]] = {
    "when can it be sold": "When can it be sold, and at what weight?",
    "a bigger mould": "Can I make it at another size?",
}


NOTHING_HERE: Final = "No rule has anything against it"
ELSEWHERE: Final = "No rule speaks of this point; of the plan as a whole: {verdict}"
MELTS: Final = ("heats and melts embeds", "room under the embeds", "embeds soften")
GEL_HOW: Final = (
    "Start warm, insulate or an oven at its lowest, until the corners have gelled; look every half hour"
)
COOL_HOW: Final = "Uncovered and cool, or in the fridge for 12 to 24 hours; it can be cut after 2 to 7 days"
NOT_YET: Final = (
    "Not yet: nobody here has seen {oil} at six weeks in white, and 0 % vanillin does not mean white: "
    "eugenol, citral and anthranilates brown or yellow it too, and an oil has a colour of its own "
    "(common practice)"
)
NOT_JUDGED: Final = (
    "Not by the figure alone: 0 % vanillin does not mean white, for other parts brown or yellow it too and "
    "an oil has a colour of its own (common practice); what you saw of {oil} stands below"
)
NO_FIGURE: Final = "Your shelf has no vanillin figure for {oil}: unknown is not none; ask its supplier"
BROWNERS: Final[Mapping[str, str]] = {
    "methyl anthranilate": "it yellows, and goes orange with an aldehyde",
    "citral": "it yellows",
    "eugenol": "it browns",
    "vanillin": "it browns",
    "ethyl vanillin": "it browns more than vanillin",
}
"""What a named browner does to white: common practice."""
FOR_WHITE: Final = (
    "To keep it white: no scent in it or one seen to stay pale, a white line thicker than 4 mm, or a "
    "middle colour between it and a browner; judge at six weeks"
)
PART_BINDS: Final = (
    "The certificates bind the bar as a whole; skin also meets that part by itself, so mind its dose"
)
NO_STABILISER: Final = (
    "You need none: no oil of this plan holds vanillin, and against another brown it does nothing"
)
NO_CUPS: Final = "Nothing of that can be worked out of this plan yet"
NO_LOAD: Final = "The plan states no load; name one under `scents:`, and ask again"
NO_POUR: Final = "Name the pour in the plan (`pour:`), and its minutes can be told"
NO_CARRIER: Final = "Your plan names no carrier oil (`mixed in:`), so none is counted"
WET_PARTS: Final = (2, 3)
"""Parts of oil by mass that wet one of a powder: common practice."""
WET_IT: Final = (
    f"Wet a powder in {WET_PARTS[0]} to {WET_PARTS[1]} parts of oil taken from the recipe (clay and white in "
    "water if you use water), "
    "and strain it"
)
WEIGH_A_SPOON: Final = (
    "By the spoon: nobody has weighed one of {colours}; write `grams per teaspoon:` into colourants.yaml"
)
MONTHS_ON: Final[Mapping[str, str]] = {
    "strong": "Months on {oil} is weaker but should still be there, as far as anybody can say at week six",
    "fair": "Three months on expect little of {oil}: what is fair at week six goes on fading",
    "faint": "Three months on expect nothing of {oil} that a buyer would notice",
    "gone": "Months on there is nothing left of {oil}",
}
"""What to expect past six weeks, by the word at week six: judgement."""
BATTER_ITSELF: Final = "no scent is the cause, the batter itself is too quick for this pour"
SEE_BELOW: Final = "mend what stands below"
NOTHING_POURED: Final = "No batch of it is noted, so there is nothing to look back on; before you pour: "
TO_HOLD: Final = "More of it does not last longer; 10 to 20 % of a note that lasts beside it may hold it"
CITRUS: Final = (
    "As a rule: cold-pressed citrus 2 to 8 weeks, folded longer, litsea and lemongrass 6 to 12 months "
    "(common practice)"
)
FOLDED: Final = (
    "{oil} is folded: longer than cold-pressed citrus (2 to 8 weeks); for how long no one agrees, so go by "
    "your own looks (common practice)"
)
NO_CITRUS: Final = "No oil of this plan is tagged citrus; of those that are in it"
NOT_IN_PLAN: Final = "{oil} is not in this plan: told of it alone"
STRENGTH: Final = (
    "Stronger lye also thickens sooner and gels less; how much sooner is not known, and the minutes here "
    "change only below 30 % and from 38 %"
)
LOOSENS: Final = (
    "What gains time: a slower scent or less of it, a cooler batter as long as the fats stay clear, fewer "
    "hard fats, a simpler pour"
)
HOLDS_HEAT: Final = (
    "A bigger mass holds more heat: start 5 to 10 °F (3 to 5 °C) cooler, no towels; every step takes longer"
)
WITHIN: Final = "Bring oils and lye within {apart} of each other before they meet (common practice)"
IN_TURN: Final = "scent one, pour it, then the next"
STIFF_LAST: Final = "all before you pour, as the cups alternate, the quickest last, and pour at once"
TOGETHER: Final = "scent them in this order, then pour them together, the first scented first"
STIFF_POURS: Final = (
    "A scent that seizes bears only one cup packed in as one colour, or a piped top; or leave that cup "
    "unscented"
)
SAID: Final[Mapping[str, str]] = {
    "stabiliser": (
        "It delays browning, it does not stop it. Half to the whole of the oil's mass is common. "
        + STABILISER
    ),
    "certificate": CERTIFICATE,
    "one name": ONE_PRODUCT,
    "when to cut": CUT,
    "test cup": TEST_CUP,
    "keep from seizing": KEEP_FROM_SEIZING,
    "citrus lasts": CITRUS,
}
"""What is true of every oil."""


def warmth(low: float | None, high: float | None, units: Units) -> str:
    """Between which temperatures a design can be poured; None where none is known to leave the time."""
    if low is None or high is None:
        return "No temperature is known at which the fats are clear and the time is enough"
    span = f"{amount(low, '°C', units)} to {amount(high, '°C', units)}"
    where = f"About {amount(low, '°C', units)}" if low == high else span
    return f"{where}: the fats are clear, and the time is enough"


def fades(oil: str, word: str | None) -> str:
    """What is believed of an oil's strength after six weeks."""
    said = FADES.get(word or "")
    return said.format(oil=oil) if said else f"How {oil} lasts is not known; a cup answers"


def spare(portion: str, minutes: float) -> str:
    """Minutes that the tightest cup has left, rounded down."""
    return (
        f"{'Yes' if minutes >= 0 else 'Just'}: {floor(minutes)} min to spare in the tightest cup ({portion})"
    )


def question(name: str) -> str:
    """A question as a maker would put it; a symptom as its page is called."""
    if name.startswith(WHY):
        return (
            PAGES.get(name.removeprefix(WHY)) or f"{name.removeprefix(WHY)}: what now, and why?".capitalize()
        )
    return QUESTIONS[name]
