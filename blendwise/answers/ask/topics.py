"""Which call answers which question: by the oils named, by a plan, and which facts of it are told."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

WHY: Final = "why: "
"""What the name of a question begins with that is a symptom."""
NOT_OURS: Final = "not ours"
HEALTH: Final = "health"
PERSON: Final = re.compile(
    r"\b(?:she|wife|sister|daughter|friend|mother|mum|mom|customer|woman|women|ladies)\b[^.]{0,12}\bexpecting\b"
    r"|\b(?:lactat\w*|elderly|sore skin|dry skin|itch\w*|rash\w*|sunburn\w*"
    r"|wounds?|acne|rosacea|hypoallergenic)\b"
    r"|\b(?:safe|ok|okay|alright|fine|bad|harm\w*|give|suit\w*)\b[^.]{0,25}\bgrand(?:ma|mother|pa|father)\b"
    r"|\b(?:safe|ok|okay|alright|fine|bad|harm\w*|toxic|wash\w*|bath\w*|use|used|a?round|near|suit\w*|soaps?|oils?"
    r"|scents?|bars?)\b[^.]{0,25}\b(?:pets?|animals?|dogs?|cats?(?! ?(?:9|nine))|pupp(?:y|ies)|horses?)\b"
    r"|\b(?:pets?|animals?|dogs?|cats?(?! ?(?:9|nine))|pupp(?:y|ies)|horses?)\b[^.]{0,25}"
    r"\b(?:wash\w*|bath\w*|soap\w*|safe|scents?)\b",
    re.IGNORECASE,
)
"""Further words of a question of health, beside those that every command defers on."""
KIN: Final = re.compile(r"\bgrand(?:ma|mother|pa|father)s?\b", re.IGNORECASE)
"""Words of somebody that make it one of health where it is of soap at all: a tablecloth may be hers too."""
PAGES: Final = {"change next": "what to change next time"}
"""Question that another call answers where a plan is named → its symptom where none is."""


@dataclass(frozen=True, slots=True)
class Topic:
    """A question: its number, the call where oils are named, where a plan is, where neither.

    ``facts``: measures whose values answer it; ``minds``: further measures on which a finding belongs to it.
    ``of_oil``: it is asked of the oil that is named, even where the plan holds it.
    """

    number: int | None
    oils: str = ""
    plan: str = "check"
    without: str = ""
    of_oil: bool = False
    facts: tuple[str, ...] = ()
    minds: tuple[str, ...] = ()


TOPICS: Final[Mapping[str, Topic]] = {
    "browns": Topic(1, "pair", facts=("browning band",), minds=("cured lightness", "browning seen")),
    "no vanillin": Topic(
        2, "pair", of_oil=True, facts=("browning band",), minds=("vanillin", "browning seen", "together")
    ),
    "colours left": Topic(
        3,
        "pair",
        of_oil=True,
        facts=("browning band",),
        minds=("colour shift", "colour morphs", "colour stable in lye"),
    ),
    "part white": Topic(
        4,
        "pair",
        facts=("browning band",),
        minds=("bands apart", "cured lightness", "yellow cast", "pink cast"),
    ),
    "get on": Topic(5, "pair", minds=("noted together", "together", "limit used", "thickening")),
    "how strong": Topic(
        6, "pair", facts=("scent of batch oils", "scent rate", "limit used"), minds=("limit used in portion",)
    ),
    "certificate": Topic(
        7,
        "pair",
        without="said",
        facts=("limit used", "scent in bar"),
        minds=("certificate", "certificate age"),
    ),
    "citrus lasts": Topic(
        8, "pair", without="said", facts=("after six weeks",), minds=("fixatives", "citrus")
    ),
    "quick in swirl": Topic(
        9, "pair", facts=("minutes fluid", "minutes needed"), minds=("thickening", "seizes", "ricing")
    ),
    "keep from seizing": Topic(
        None, "pair", without="said", facts=("minutes fluid",), minds=("seizes", "thickening", "ricing")
    ),
    "stabiliser": Topic(10, "pair", facts=("browning band",), minds=("stabilised",)),
    HEALTH: Topic(11),
    "one name": Topic(12, "pair", without="said", facts=("scents in portion",), minds=("label names known",)),
    "which cup": Topic(13, "", "assign"),
    "half scented": Topic(
        14, "", facts=("scent rate",), minds=("times the load", "scent rate"), without="half"
    ),
    "mould volume": Topic(15, "", facts=("batter mass", "oils mass", "bar mass"), minds=("portion mass",)),
    "colour rate": Topic(
        16, "", facts=("grams",), minds=("colour rate", "white rate", "times the usual colour rate")
    ),
    "carrier superfat": Topic(
        17, "", facts=("portion superfat", "superfat as weighed"), minds=("superfat difference",)
    ),
    "water": Topic(18, "", facts=("lye concentration", "water"), minds=("river risk", "minutes fluid")),
    "temperature": Topic(
        19,
        "",
        facts=("batter temperature", "clear temperature"),
        minds=("above clear temperature", "peak temperature"),
    ),
    "order": Topic(20, "", facts=("scented at", "thickening"), minds=("minutes fluid",)),
    "gel": Topic(
        21,
        "",
        facts=("gel", "partial gel risk"),
        minds=(
            *("embeds soften", "heats and melts embeds", "gel suits the colour"),
            *("overheating risk", "river risk"),
        ),
    ),
    "time": Topic(
        22, "pair", facts=("fluid until", "minutes needed"), minds=("seizes", "minutes fluid", "thickening")
    ),
    "test cup": Topic(None, "said", "said", "said"),
    "when to cut": Topic(None, "", without="said", minds=("liquid oils", "hard fats", "salt")),
    "change next": Topic(35, "", "review", "why", minds=()),
    "label": Topic(38, "pair", "label"),
    "plan as a whole": Topic(None, ""),
    "oil as a whole": Topic(None, "scent", plan=""),
}
SYMPTOMS: Final[Mapping[str, int]] = {
    "it thickens too fast": 23,
    "it seized": 23,
    "it riced": 24,
    "one colour is thicker than the others": 25,
    "it is too thin and the colours mix": 26,
    "it separates": 27,
    "it heats, cracks or rises": 28,
    "will the colour stay": 29,
    "a dark ring or a pale core": 30,
    "brown creeps into the white": 31,
    "white veins": 32,
    "white powder on the faces": 32,
    "white dots": 32,
    "orange spots": 32,
    "the scent is gone": 33,
    "the scent is wrong": 33,
    "when can it be sold": 34,
    "same recipe, different result": 36,
    "a bigger mould": 37,
}
"""Symptom → the number of its question; the others have none."""


MADE: Final = ("will the colour stay", "brown creeps into the white", "a dark ring or a pale core")
"""Symptoms of bars that were made: judged by what was poured, where the plan was changed since."""
AGAIN: Final = "same recipe, different result"
QUICK: Final = ("it thickens too fast", "it seized")
"""Symptoms that are told with how quick each oil of the plan is."""
BESIDE: Final = (
    *MADE,
    *("one colour is thicker than the others", "it is too thin and the colours mix", "white veins"),
)
"""Symptoms that are told with what the plan says of its cups: their colours, their minutes."""


REACHED: Final[Mapping[str, str]] = {"when can it be sold": "sold", "a bigger mould": "resized"}
"""Symptom → the call that works out of a plan what its page can only describe."""


OF_ONE_CUP: Final = ("one colour is thicker than the others",)
"""Symptoms by which one cup differs from the rest: another's cause is none of its."""
WITHOUT_LOOKS: Final = frozenset(
    (
        *("mould volume", "colour rate", "carrier superfat", "water", "temperature", "certificate"),
        *("half scented", "which cup", "label", "test cup", "when to cut", "plan as a whole"),
    )
)
"""Questions whose answer tells nothing of own looks: the notebook is not read for them."""
WAYS_OF_ITS_OWN: Final = ("water", "temperature", "gel", "colour rate", "mould volume", "carrier superfat")
"""Questions that try settings of their own, or ask for figures: no lever is sought for them."""


def topic_of(question: str) -> Topic:
    """How a question is answered; a symptom by ``why``, whatever is named, but for what can be worked out."""
    if question.startswith(WHY):
        symptom = question.removeprefix(WHY)
        return Topic(SYMPTOMS.get(symptom), "why", REACHED.get(symptom, "why"), "why")
    return TOPICS[question]
