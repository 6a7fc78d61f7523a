"""The trade's words for rules: ``terms.txt``, one table read both ways, and the figures behind its words.

What a maker may say and what is printed stand there; what oils, pours, colours and the like are called comes
from the book (``lexicon``).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import Final

TABLE: Final = Path(__file__).with_name("terms.txt")
FILLER, VERB, BINDING = "filler", "verb", "binding"
_HEAD: Final = re.compile(r"\[(.+?)\]")


@dataclass(frozen=True, slots=True)
class Term:
    """``letter``: its part in a sentence; ``value``: what it stands for; ``said``: its wordings."""

    letter: str
    value: str
    said: tuple[str, ...]


def read_table(table: Path) -> Iterator[Term]:
    """Every line of a table of wordings."""
    letter = ""
    for line in re.sub(r"\n +", " ", table.read_text("utf-8")).splitlines():
        if head := _HEAD.match(line):
            letter = head[1]
        elif " = " in line and not line.startswith("#"):
            value, _, said = line.partition(" = ")
            yield Term(letter, value, tuple(dict.fromkeys(_written_out(said))))


def _written_out(said: str) -> Iterator[str]:
    """The wordings of a line: "(of|in) the cup" stands for both, "(the |)cup" for it with and without."""
    for part in said.split(","):
        if "(" not in part:
            yield part.strip()
            continue
        choices = [each.split("|") for each in re.split(r"\(([^()]*)\)", part)[1::2]]
        plain = re.split(r"\([^()]*\)", part)
        for chosen in product(*choices):
            yield " ".join("".join(f"{a}{b}" for a, b in zip(plain, (*chosen, ""), strict=True)).split())


_ALL: Final = tuple(read_table(TABLE))
TERMS: Final = tuple(term for term in _ALL if term.letter not in (FILLER, VERB, BINDING))


def _inflected(verb: str) -> Iterator[str]:
    """The forms of a regular verb: "use" → uses, used, using."""
    stem = verb.removesuffix("e") if verb.endswith("e") else verb
    stem = stem[:-1] + "i" if re.search(r"[^aeiou]y$", stem) else stem
    doubled = verb + verb[-1] if re.search(r"(?:^|[^aeiou])[aeiou][bdgmnpt]$", verb) else stem
    yield from (verb, f"{stem}es" if re.search(r"(?:s|sh|ch|x|o|i)$", stem) else f"{verb}s")
    yield from (f"{doubled}ed", f"{doubled.removesuffix('i')}{'y' if stem.endswith('i') else ''}ing")


FILLERS: Final = frozenset(
    form
    for term in _ALL
    if term.letter in (FILLER, VERB)
    for word in term.said
    for form in ((word,) if term.letter == FILLER else _inflected(word))
)
"""Words that carry nothing in a rule."""
_BINDING: Final = frozenset(word for term in _ALL if term.letter == BINDING for word in term.said)


def is_adverb(word: str) -> bool:
    """Whether a word is an adverb that bounds nothing, wherever it stands: "seriously", "also"."""
    return word in _LIGHT or (word.endswith("ly") and len(word) > 5 and word not in _BINDING)


_LIGHT: Final = frozenset({"also", "please", "simply", "kindly"})


FLAGS: Final = tuple(term for term in TERMS if term.letter == "F")
MEASURES: Final = tuple(term for term in TERMS if term.letter == "M")

WHITE, PALE, DARK, BLACK = 80, 70, 45, 30
"""Planned lightness (L*) from which on, or up to which, a cup is called so: judgement."""
LIGHTNESS: Final = {
    "white": ("at least", WHITE),
    "pale": ("at least", PALE),
    "dark": ("at most", DARK),
    "black": ("at most", BLACK),
}
BROWN: Final = "brown"
"""A cup that the plan lets become brown, or darker; the word of the browning bands."""
SMALL: Final = ("rather", "better", "prefer", "preferably")
"""Words that make a sentence a hint."""
LEVELS: Final = ("stop", "conflict", "caution", "hint")
SEASONS: Final = {
    "spring": ("March", "April", "May"),
    "summer": ("June", "July", "August"),
    "autumn": ("September", "October", "November"),
    "fall": ("September", "October", "November"),
    "winter": ("December", "January", "February"),
}
"""Season → months, as the northern half of the world has them; the reading says so."""
NUMBERS: Final = {
    "half": 0.5, "a half": 0.5, "half a": 0.5, "a quarter": 0.25, "quarter": 0.25, "one quarter": 0.25,
    "a third": 1 / 3, "one third": 1 / 3, "third": 1 / 3, "two thirds": 2 / 3, "three quarters": 0.75,
    "a fifth": 0.2, "one fifth": 0.2, "fifth": 0.2, "half an": 0.5,
    "one and a half": 1.5, "two and a half": 2.5, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0,
    "five": 5.0, "six": 6.0, "seven": 7.0, "eight": 8.0, "nine": 9.0, "ten": 10.0, "eleven": 11.0,
    "twelve": 12.0, "thirteen": 13.0, "fourteen": 14.0, "fifteen": 15.0, "sixteen": 16.0, "eighteen": 18.0,
    "twenty": 20.0, "twenty five": 25.0, "thirty": 30.0, "thirty five": 35.0, "forty": 40.0, "fifty": 50.0,
    "sixty": 60.0, "ninety": 90.0, "ninety five": 95.0, "a hundred": 100.0, "one hundred": 100.0,
    "a tenth": 0.1, "one tenth": 0.1, "two fifths": 0.4, "a": 1.0, "an": 1.0,
}  # fmt: skip
NUMBERS.update(
    {
        f"{ten}{joint}{one}": NUMBERS[ten] + NUMBERS[one]
        for ten in ("twenty", "thirty", "forty", "fifty", "sixty", "ninety")
        for one in ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
        for joint in (" ", "-")
    }
)


def printed(letter: str, value: str) -> str:
    """The wording of a term that is printed; its value where the table has none."""
    return next((t.said[0] for t in TERMS if t.letter == letter and t.value == value), value)
