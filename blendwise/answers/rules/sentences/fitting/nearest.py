"""The example most like a sentence that is not read, in the maker's own names and units."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Final

from blendwise.answers.rules.sentences.fitting.table import SHAPES
from blendwise.answers.rules.sentences.lexicon import Lexicon, Token, key_of, tokens
from blendwise.quantity.prose import theirs
from blendwise.records.book import BookFiles

MORE: Final = Path(__file__).with_name("examples.txt")
OILS: Final = ("clove-leaf", "tonka-milk", "benzoin", "litsea", "lime", "citrus")
COLOURS: Final = ("ultramarine-blue", "charcoal")
BASES: Final = ("coconut",)
"""Names in the examples, which are of the demo's book."""
NAMED: Final = "XCBVDQ"
"""Letters of what has a name of its own: that both name one is likeness enough."""
SAME, ALIKE, EXTRA = 2.0, 1.0, 0.4
"""What a part is worth: of one meaning in both, of one kind, and one that only the example has."""


@lru_cache(maxsize=1)
def examples() -> tuple[tuple[str, str], ...]:
    """(shape, sentence) of every example."""
    lines = (
        line.partition(": ") for line in MORE.read_text("utf-8").splitlines() if not line.startswith("#")
    )
    return (
        *((shape.name, shape.example) for shape in SHAPES),
        *((shape, said) for shape, _, said in lines if said),
    )


def nearest_to(known: Sequence[Token], book: BookFiles, lexicon: Lexicon) -> tuple[str, str]:
    """The shape and the example most like a sentence's known parts, its own names in it."""
    mine = _parts(known)
    named = [value for part in known if "X" in part.letter for value in part.values if value in book.scents]
    own = ((shape, of_the_book(said, book, named)) for shape, said in examples())
    return max(own, key=lambda each: _likeness(mine, _parts(tokens(each[1], lexicon))))


def _parts(parts: Iterable[Token]) -> Counter[tuple[str, str]]:
    found = Counter((part.letter[0], part.value) for part in parts if part.letter[0] not in "&?cs")
    return Counter(
        {(letter, "" if letter in NAMED else value): count for (letter, value), count in found.items()}
    )


def _likeness(mine: Counter[tuple[str, str]], other: Counter[tuple[str, str]]) -> float:
    same = mine & other
    letters = [Counter({letter: n for (letter, _), n in (side - same).items()}) for side in (mine, other)]
    alike = letters[0] & letters[1]
    return SAME * same.total() + ALIKE * alike.total() - EXTRA * (letters[1] - alike).total()


def of_the_book(example: str, book: BookFiles, named: Sequence[str] = ()) -> str:
    """An example in names (those ``named`` first) and units of the book, where its own are strange there."""
    tags = {tag for scent in book.scents.values() for tag in scent.tags or ()}
    if not {"citrus", "folded"} <= tags:
        example = example.removesuffix(" unless folded")
    has = {*book.scents, *tags, *book.colourants, *book.oils}
    for names, own in ((OILS, book.scents), (COLOURS, book.colourants), (BASES, book.oils)):
        first = iter([name for name in dict.fromkeys(named) if names is OILS and name not in example])
        left = iter([name for name in own if name not in example and name not in named and key_of(name)])
        for name in (each for each in names if each in example):
            example = example.replace(name, next(first, name if name in has else next(left, name)))
    return theirs(example, book.usual.units)
