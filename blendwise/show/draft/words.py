"""The English of ``draft``: what each question asks, what is said after an answer, what comes next."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from blendwise.answers.draft.questions import Question
from blendwise.answers.draft.remarks import Remark
from blendwise.judge.findings.finding import Finding
from blendwise.quantity import Units
from blendwise.show.numbers import counted, grams
from blendwise.show.text import quoted, sentence
from blendwise.show.words import headline

ASKED: Final[Mapping[str, str]] = {
    "for": "For sale or for home",
    "oils": "Base oils, such as olive 45 %, coconut 25 %",
    "amount": "How much: 1100 g of oils, loaf 25 x 9 x 6.5 cm, or 6 cavities of 95 mL",
    "bars": "How many bars it is cut into (nothing if you do not know yet)",
    "lye": "Lye as a share of lye and water, and superfat, such as 31 %, 5 %",
    "batter": "Temperature of the batter at the split",
    "gel": "Gel: avoid, leave or force",
    "pour": "How it is poured",
    "portion": "Name of the next portion (nothing when there are no more)",
    "share": "Share of {subject}: such as 35 %, 2 parts, 300 g or the rest",
    "colours": "Colours of {subject}, such as titanium-dioxide 1 % (nothing for none)",
    "becomes": "How dark {subject} may turn over the weeks",
    "scent": "Next oil of the blend (nothing when there are no more)",
    "parts": "Parts of {subject} in the blend, by mass",
    "load": "All scent together, such as 3 % of batch oils",
    "dosing": "Where not all is scented: same total in the bar, or same dose in each scented portion",
    "never": "Oils to keep out of portions, such as tonka-milk in milk (nothing for none)",
}
FIRST_PORTION: Final = "Name of the first portion"
LISTED: Final = "? lists them"
KEPT_AS_YOU_GO: Final = "What you answer is kept as you go."
EXPLAINED: Final[Mapping[str, str]] = {
    "oils": "Every oil of the recipe with its share; usual takes the recipe of usual.yaml.",
    "amount": "A mass of oils, or a mould: 1100, 20x8x6, loaf 25 x 9 x 6.5 cm, 6 cavities of 95 mL.",
    "bars": "A whole number, such as 10.",
    "lye": "Two figures, such as 33% 5%: lye as a share of lye and water, then superfat.",
    "batter": "How warm the batter is when you divide it, such as 33 °C or 91 °F.",
    "portion": "Each part of the batter with its own colour or scent; call it as you like, such as milk.",
    "share": "35 %, half, 2 parts, 300 g, or the rest.",
    "parts": "How much of the blend it is beside the others: 2 and 1 are two parts to one.",
    "load": "All scent of the batch on its oils, such as 3 % or 0.5 oz ppo.",
    "never": "An oil, in, a portion; more behind a comma: tonka-milk in milk, lime in soil.",
}
LOOK: Final = "Look it over:"
ASSIGN: Final = "Which portion takes which oil:"
TEXT = "The plan"
RESUMED: Final = "An unfinished draft is taken up again, with {count}; --anew begins again."
KEPT: Final = "What you have answered is kept: the same command goes on from there."


IN_OUNCES: Final[Mapping[str, str]] = {
    "1100": "38",
    "1100 g": "38 oz",
    "20x8x6": "8x4x2.5",
    "25 x 9 x 6.5 cm": "10 x 3.5 x 2.5 in",
    "95 mL": "3.2 fl oz",
    "300 g": "10 oz",
}
"""The sizes in what is asked, and those that stand in a book of ounces; never converted, only examples."""
_SIZES: Final = re.compile("|".join(sorted(map(re.escape, IN_OUNCES), key=len, reverse=True)))


def in_own_sizes(text: str, units: Units) -> str:
    """What is asked, with the examples of a book of ounces."""
    return _SIZES.sub(lambda size: IN_OUNCES[size[0]], text) if units.mass == "oz" else text


def prompt(question: Question) -> str:
    """What is asked, without the default."""
    asked = FIRST_PORTION if question.key == "portion 1 name" else ASKED[question.kind]
    listed = f" ({LISTED})" if question.words else ""
    return asked.format(subject=quoted(question.subject)) + listed


def explained(question: Question) -> str:
    """What a question means, and what may be answered."""
    told = EXPLAINED.get(question.kind, "")
    return " ".join(part for part in (told, words(question)) if part) or ASKED[question.kind]


def taken_as(typed: str, kept: str) -> str:
    """That an answer was taken as something else; nothing where it was not."""
    same = plain_spelling(kept) == plain_spelling(typed)
    return "" if same or not kept else f"{quoted(typed)} is taken as {kept}."


def plain_spelling(text: str) -> str:
    """A text without blanks, for comparing."""
    return "".join(text.split()).casefold()


def words(question: Question) -> str:
    """What may be answered, in a line."""
    return ", ".join(question.words)


def remark(said: Remark, units: Units) -> list[str]:
    """What is said after an answer, a line each."""
    d = said.details
    match said.kind:
        case "pot":
            parts = ("oils", "naoh", "water", "batter")
            oils, naoh, water, batter = (grams(float(d[key]), units) for key in parts)
            lye = f"{naoh} of sodium hydroxide, {water} of water"
            return [f"That is {oils} of oils, {lye}: {batter} of batter."]
        case "pour":
            minutes = f"{d['least']:g} to {d['most']:g} minutes"
            bears = f"bears a scent that is {d['bears']} at most"
            return [f"It wants {d['batter']} batter, takes {minutes}, and {bears}."]
        case "portion":
            return [f"{quoted(str(d['name']))} is {grams(float(d['batter']), units)} of batter."]
    return [_finding(finding, units) for finding in said.findings]


def _finding(finding: Finding, units: Units) -> str:
    return sentence(f"{finding.level.capitalize()} so far: {headline(finding, units)}")


def resumed(answers: int) -> str:
    """That a draft goes on."""
    return RESUMED.format(count=counted(answers, "answer"))


def written(file: str) -> str:
    """Where the plan is, or that it was only shown."""
    return f"Written to {file}." if file else "Nothing was written."
