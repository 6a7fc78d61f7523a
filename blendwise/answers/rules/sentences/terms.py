"""The trade's words for rules, in one table read both ways: what a maker may say, and what is printed.

Each term has a letter (what part it plays in a sentence), a value, and its wordings, of which the first is the
one that is printed.  What oils, pours, colours and the like are called comes from the book (``lexicon``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Term:
    """``letter``: its part in a sentence; ``value``: what it stands for; ``said``: its wordings."""

    letter: str
    value: str
    said: tuple[str, ...]


def _terms(letter: str, **said: str) -> tuple[Term, ...]:
    """Terms of one letter; each value with its wordings, parted by commas."""
    return tuple(
        Term(letter, value.replace("_", " "), tuple(part.strip() for part in words.split(",")))
        for value, words in said.items()
    )


WHITE, PALE, DARK, BLACK = 80, 70, 45, 30
"""Planned lightness (L*) from which on, or up to which, a cup is called so: judgement."""

RELATIONS: Final = _terms(
    "R",
    at_most="at most, not more than, no more than, never more than, not over, never over, not above, never above,"
    " max, maximum, at the most, up to, no higher than, not higher than, no hotter than, not hotter than,"
    " no warmer than, never hotter than, and not a drop more, and no more, no stronger than, not stronger than,"
    " never stronger than, limit, limited to, cap, capped at, never exceed, must not exceed, not exceed, may not exceed, do not exceed",
    at_least="at least, not less than, no less than, never less than, never under, never below, not under,"
    " not below, no weaker than, not weaker than, min, minimum, not before, no lower than, not lower than,"
    " or more, never before, no sooner than",
    below="below, under, less than, cooler than, colder than, lower than, weaker than, before",
    above="above, over, more than, hotter than, warmer than, higher than, stronger than, past",
)
NEGATIONS: Final = _terms(
    "N",
    no="never, no, not, do not, don't, must not, mustn't, can't, cannot, may not, out of, nothing, none, avoid,"
    " shouldn't, should not, won't, isn't, aren't, neither",
)
PARTS: Final = (
    *_terms("O", only="only, nowhere but, always, nothing but"),
    *_terms("e", needs="needs, need, asks for, wants, calls for, requires"),
    *_terms(
        "w", with_="with, go with, goes with, mixed with, meet, meets, alongside, in company of, gets, get"
    ),
    *_terms("o", without="without"),
    *_terms("t", together="together, mixed, in all, all told"),
    *_terms("a", apart="apart, apart from, separate, away from, separate from"),
    *_terms("n", next_to="next to, touch, touches, touching, beside, against, border, borders"),
    *_terms("L", last="last, at the end, at the very end"),
    *_terms("k", when="when, if, where, while, once, whenever, in case"),
    *_terms("u", unless="unless, except, except for, but for, save"),
    *_terms("g", older="older than, past its, more than, over, after"),
    *_terms("g", within="within, younger than, not older than, no older than, never older than"),
    *_terms(
        "y",
        discard="is for the diffuser, goes out, is out, throw out, discard, bin, goes in the bin, too old",
    ),
    *_terms("&", and_="and, or, nor, plus"),
    *_terms("E", embed="in embeds, inside embeds, in an embed, in the embeds, inside an embed, into embeds"),
    *_terms(
        "T",
        cup="in one cup, in a cup, in the same cup, in any cup, in one portion, in a portion, in the same portion,"
        " in any portion, a cup, per cup, per portion, in each cup, in each portion, in one layer, in the same pot",
    ),
    *_terms("c", cup="portion, cup, layer, colour, part"),
    *_terms("s", oils="oils, scents, oils in it"),
)
COLOURS: Final = _terms(
    "W",
    white="white, anything white, whites, the white, white ones",
    pale="pale, anything pale, light, anything light, pastel, pale ones, light ones",
    dark="dark, anything dark, dark ones",
    black="black, anything black",
)
LIGHTNESS: Final = {
    "white": ("at least", WHITE),
    "pale": ("at least", PALE),
    "dark": ("at most", DARK),
    "black": ("at most", BLACK),
}
PLACES: Final = _terms(
    "P",
    outer="outer, outside, on the outside, outermost",
    inner="inner, core, the core, inside, middle, heart",
    top="top, top layer",
    bottom="bottom, bottom layer",
    first="first",
)
SORTS: Final = _terms(
    "X",
    fast="fast, the fast ones, quick, accelerant, accelerator, fast mover, quick mover",
    seizer="seizer, seizing, anything that seizes",
    slow="slow, slow mover, well-behaved",
    browner="browner, browning, anything that browns, discolouring, vanilla-rich",
    essential_oil="essential oil, essential",
    fragrance_oil="fragrance oil, fragrance",
    absolute="absolute",
    resinoid="resinoid",
    top_note="top note",
    middle_note="middle note",
    base_note="base note",
)
FLAGS: Final = (
    Term("F", "gel: force", ("gel forced", "I force gel", "gel is forced", "force gel", "forcing gel")),
    Term("F", "gel: avoid", ("gel avoided", "I avoid gel", "gel is avoided", "avoid gel")),
    Term("F", "purpose: is sale", ("for sale", "I sell it", "it is for sale", "I sell", "for selling")),
    Term("F", "purpose: is home", ("for home", "it is for home", "for the family", "at home")),
    Term("F", "embeds: is yes", ("there are embeds", "embeds are in", "embeds", "it has embeds")),
)
MEASURES: Final = tuple(
    Term("M", measure, tuple(part.strip() for part in said.split(",")))
    for measure, said in {
        "scent rate": "scent, all scent, total scent",
        "white rate": "white rate, white pigment, titanium",
        "colour rate": "colour rate, all colourants",
        "superfat": "superfat, super fat",
        "lye concentration": "lye, lye concentration, lye strength",
        "batter temperature": "batter, batter temperature, the batter",
        "room temperature": "room temperature, the room",
        "certificate": "certificate, papers",
        "portion superfat": "portion superfat",
        "limit used": "limit used",
        "scents in portion": "scents in a cup",
        "charcoal rate": "charcoal rate",
        "clay rate": "clay rate",
        "mica rate": "mica rate",
        "contrast": "contrast",
        "sugars": "sugar, sugars",
        "salt": "salt",
        "milk": "milk rate",
        "hard fats": "hard fats, hard oils",
        "liquid oils": "liquid oils, soft oils",
        "polyunsaturated": "polyunsaturated fat",
        "portions": "number of portions",
        "peak temperature": "peak temperature",
        "water in batter": "water in batter",
        "portion mass": "portion mass",
    }.items()
)
BASES: Final = tuple(
    Term("z", basis, tuple(part.strip() for part in said.split(",")))
    for basis, said in {
        "of portion oils": "of portion oils, of the portion oils, of the portion's oils, of a cup's oils,"
        " of the cup's oils, of cup oils, of its oils, of a portion's oils, of the cup, of a cup, of the portion",
        "of batch oils": "of batch oils, of the batch oils, of the batch's oils, of all oils, of the batch,"
        " of a batch's oils",
        "of finished bar": "of the finished bar, of finished bar, of the bar, of a bar",
        "of its scent": "of the portion's scent, of a cup's scent, of the cup's scent, of the scent, of its scent,"
        " of a portion's scent, of the blend, in a cup's scent, in the cup's scent, of the scent in a cup",
        "in batch": "in a batch, a batch, per batch, in the batch, in one batch, of a batch",
    }.items()
)
TERMS: Final = (
    *RELATIONS, *NEGATIONS, *PARTS, *COLOURS, *PLACES, *SORTS, *FLAGS, *MEASURES, *BASES
)  # fmt: skip

FILLERS: Final = frozenset(
    ["the", "a", "an", "of", "in", "into", "to", "on", "any", "anything", "again", "ever", "one", "ones", "is", "are", "be", "being", "it", "its", "goes", "go", "going", "put", "puts", "use", "uses", "used", "using", "keep", "keeps", "kept", "please", "must", "should", "shall", "may", "will", "does", "do", "did", "i", "you", "my", "we", "our", "that", "this", "these", "those", "then", "for", "as", "at", "from", "by", "than", "so", "all", "every", "each", "scent", "smell", "add", "adds", "added", "thing", "things", "stuff", "stay", "stays", "comes", "come", "getting", "blend", "blends", "mix", "mixes", "combine", "lie", "lies", "sit", "sits", "also", "just", "really", "absolutely", "too", "much", "both", "them", "they", "there", "has", "have", "had", "which", "inside", "something", "someone", "soap", "bar", "bars", "here", "pour", "poured", "pours", "portions"]
)
"""Words that carry nothing in a rule."""
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
    "half": 0.5, "a half": 0.5, "half a": 0.5, "a quarter": 0.25, "quarter": 0.25, "a third": 1 / 3,
    "one and a half": 1.5, "two and a half": 2.5, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0,
    "five": 5.0, "six": 6.0, "seven": 7.0, "eight": 8.0, "nine": 9.0, "ten": 10.0, "eleven": 11.0,
    "twelve": 12.0, "a": 1.0, "an": 1.0,
}  # fmt: skip


def printed(letter: str, value: str) -> str:
    """The wording of a term that is printed; its value where the table has none."""
    return next((t.said[0] for t in TERMS if t.letter == letter and t.value == value), value)
